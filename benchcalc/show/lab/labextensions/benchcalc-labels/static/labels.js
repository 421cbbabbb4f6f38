// Tells a screen reader what each slider moves and where it stands, and what each picture shows.
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
