// Colours: paper, dusk, or as the phone says. Loaded in the head without waiting, so that the page
// is never painted in the wrong colours first. The choice stays on this device and is sent nowhere.
(() => {
  "use strict";
  const KEPT_AS = "colours";
  const root = document.documentElement;

  const kept = () => {
    try {
      return localStorage.getItem(KEPT_AS) || "";
    } catch {
      return ""; // a browser may forbid keeping anything
    }
  };

  const keep = (theme) => {
    try {
      if (theme) localStorage.setItem(KEPT_AS, theme);
      else localStorage.removeItem(KEPT_AS);
    } catch {
      // the choice still holds for this page
    }
  };

  const show = (theme) => {
    if (theme === "paper" || theme === "dusk") root.dataset.theme = theme;
    else delete root.dataset.theme;
  };

  show(kept());

  document.addEventListener("DOMContentLoaded", () => {
    const panel = document.getElementById("colours");
    if (!panel) return;
    const buttons = [...panel.querySelectorAll("button")];
    const mark = () => {
      for (const button of buttons) {
        button.setAttribute("aria-pressed", String(button.value === (root.dataset.theme || "")));
      }
    };
    for (const button of buttons) {
      button.addEventListener("click", () => {
        keep(button.value);
        show(button.value);
        mark();
      });
    }
    // another page of the site, open beside this one
    window.addEventListener("storage", (event) => {
      if (event.key !== KEPT_AS) return;
      show(event.newValue);
      mark();
    });
    mark();
    panel.hidden = false;
  });
})();
