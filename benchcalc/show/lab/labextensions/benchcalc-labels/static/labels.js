// Tells a screen reader what each slider moves and where it stands, and what each picture shows; takes a link to
// another page on to the heading that it names.
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

  const plugin = {
    id: "benchcalc-labels:plugin",
    autoStart: true,
    activate: function (app) {
      let waiting = false;
      const look = function () {
        waiting = false;
        nameSliders();
        namePictures(app);
      };
      const soon = function () {
        if (waiting) return;
        waiting = true;
        setTimeout(look, 150); // a dragged slider is named once it rests for a moment
      };
      new MutationObserver(soon).observe(document.body, { childList: true, subtree: true, characterData: true });
      soon();
      followHeadings(app);
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
