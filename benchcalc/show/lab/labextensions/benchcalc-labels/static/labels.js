// Tells a screen reader what each slider moves and where it stands, and what each picture shows; takes a link to
// another page on to the heading that it names; says what to run where a cell was run before the first one;
// stays where the reader is when all cells run.
//
// The handle of a slider has no name of its own and says its bare number; the visible label and the read-out with its
// digits stand beside it. A stored picture has its words in its output, not on the image. Both are put where they
// are looked for. Written by hand as the container that JupyterLab asks for; nothing is fetched.
(function () {
  "use strict";

  function put(element, name, text) {
    if (text && element.getAttribute(name) !== text) element.setAttribute(name, text);
  }

  function nameSliders() {
    for (const box of document.querySelectorAll(".widget-slider")) {
      const handle = box.querySelector('[role="slider"]');
      const label = box.querySelector(".widget-label");
      const readout = box.querySelector(".widget-readout");
      if (!handle) continue;
      if (label) put(handle, "aria-label", label.textContent.trim());
      if (readout) put(handle, "aria-valuetext", readout.textContent.trim());
    }
  }

  // The words of each stored picture, by the model of its output.
  function namePictures(app) {
    const panel = app.shell.currentWidget;
    const cells = panel && panel.content && panel.content.widgets;
    if (!cells) return;
    for (const cell of cells) {
      const outputs = cell.outputArea && cell.outputArea.model;
      if (!outputs) continue;
      for (let i = 0; i < outputs.length && i < cell.outputArea.widgets.length; i++) {
        const words = outputs.get(i).data["text/plain"];
        if (!words) continue;
        for (const image of cell.outputArea.widgets[i].node.querySelectorAll(".jp-RenderedImage img"))
          put(image, "alt", [].concat(words).join(""));
      }
    }
  }

  // Before the first cell has run nothing of benchcalc is there that could say so: a sentence above Python's own words.
  const EARLY =
    "This cell came too early: it needs what the first cell of this page makes. " +
    "Choose Run, then Run All Above Selected Cell, and run this cell again.";

  function isOurs(panel) {
    const cells = (panel && panel.content && panel.content.widgets) || [];
    return cells.some((cell) => cell.model && /from benchcalc\.pages import/.test(cell.model.sharedModel.source));
  }

  function sayWhatComesFirst(app) {
    const panel = app.shell.currentWidget;
    if (!isOurs(panel)) return;
    for (const cell of panel.content.widgets) {
      const outputs = cell.outputArea && cell.outputArea.model;
      if (!outputs) continue;
      for (let i = 0; i < outputs.length && i < cell.outputArea.widgets.length; i++) {
        const output = outputs.get(i);
        if (output.type !== "error" || output.toJSON().ename !== "NameError") continue;
        const shown = cell.outputArea.widgets[i].node.querySelector(".jp-OutputArea-output");
        if (!shown || shown.querySelector("[role=alert]")) continue;
        const words = document.createElement("p");
        words.setAttribute("role", "alert");
        words.textContent = EARLY;
        shown.prepend(words);
      }
    }
  }

  // A page that is opened by a link is asked for the link's heading before its cells stand, and stays at its top: the
  // heading is asked for again once they do.
  function followHeadings(app) {
    document.addEventListener(
      "click",
      function (event) {
        const link = event.target.closest && event.target.closest("a[href*='.ipynb']");
        if (!link) return;
        const address = new URL(link.href, location.href);
        const page = decodeURIComponent(address.pathname.split("/").pop());
        if (address.hash.length > 1) goOn(app, page, address.hash, 40);
      },
      true
    );
  }

  function goOn(app, page, heading, tries) {
    const panel = app.shell.currentWidget;
    const outer = panel && panel.node.querySelector(".jp-WindowedPanel-outer");
    const there = outer && panel.context && panel.context.isReady && panel.context.path.split("/").pop() === page;
    if (there && outer.scrollTop > 0) {
      const reached = outer.scrollTop; // pictures above may still push it away; whoever scrolls himself is left alone
      setTimeout(() => outer.scrollTop === reached && panel.setFragment(heading), 1500);
      return;
    }
    if (there) panel.setFragment(heading);
    if (tries) setTimeout(goOn, 500, app, page, heading, tries - 1); // twenty seconds: a page with many pictures
  }

  // Run All leaves a long page at its foot: it goes back to where the reader was, unless he moves on himself.
  const RUNS_ALL = ["notebook:run-all-cells", "notebook:restart-run-all"];

  function stayWhereTheReaderIs(app) {
    app.commands.commandExecuted.connect(function (_, run) {
      const panel = app.shell.currentWidget;
      const outer = RUNS_ALL.includes(run.id) && isOurs(panel) && panel.node.querySelector(".jp-WindowedPanel-outer");
      if (!outer) return;
      const book = panel.content;
      const top = outer.scrollTop;
      const edge = outer.getBoundingClientRect().top;
      const inView = book.widgets.findIndex((c) => c.isAttached && c.node.getBoundingClientRect().bottom > edge);
      let moved = false;
      for (const how of ["wheel", "pointerdown", "keydown"])
        outer.addEventListener(how, () => (moved = true), { once: true, passive: true });
      const back = function () {
        if (moved || book.isDisposed) return;
        book.activeCellIndex = Math.max(inView, 0);
        book.deselectAll();
        outer.scrollTop = top;
      };
      for (const wait of [100, 300, 700]) setTimeout(back, wait); // the page scrolls in steps, as its cells take their height
      run.result.then(() => setTimeout(back, 100), back);
    });
  }

  const plugin = {
    id: "benchcalc-labels:plugin",
    autoStart: true,
    activate: function (app) {
      let waiting = false;
      const look = function () {
        waiting = false;
        nameSliders();
        namePictures(app);
        sayWhatComesFirst(app);
      };
      const soon = function () {
        if (waiting) return;
        waiting = true;
        setTimeout(look, 150); // a dragged slider is named once it rests for a moment
      };
      new MutationObserver(soon).observe(document.body, { childList: true, subtree: true, characterData: true });
      soon();
      followHeadings(app);
      stayWhereTheReaderIs(app);
    },
  };

  window._JUPYTERLAB = window._JUPYTERLAB || {};
  window._JUPYTERLAB["benchcalc-labels"] = {
    init: function () {},
    get: function () {
      return Promise.resolve(function () {
        return { __esModule: true, default: plugin };
      });
    },
  };
})();
