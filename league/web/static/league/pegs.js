// The bank is drawn while it is being said. Without this script a button does the same.
"use strict";
(() => {
  const WAIT = 350; // ms after the last key

  for (const form of document.querySelectorAll("form[data-look]")) {
    const box = form.querySelector("[data-pegs]");
    const said = form.querySelector("[data-said]");
    const button = form.querySelector("button[name=look]");
    if (!box || !said) continue;
    if (button) button.hidden = true;
    let timer = 0;
    let asked = 0;

    const look = async () => {
      const mine = (asked += 1);
      if (!box.value.trim()) {
        said.replaceChildren();
        return;
      }
      const typed = new FormData();
      typed.append("pegs", box.value);
      for (const name of ["csrfmiddlewaretoken", "key"]) {
        const field = form.querySelector(`[name=${name}]`);
        if (field) typed.append(name, field.value);
      }
      try {
        const answer = await fetch(form.dataset.look, { method: "POST", body: typed, redirect: "error" });
        const drawn = answer.ok ? await answer.text() : "";
        if (mine === asked) {
          said.replaceChildren(document.createRange().createContextualFragment(drawn));
        }
      } catch {
        if (button) button.hidden = false; // no signal: the button asks again, the slow way
      }
    };

    box.addEventListener("input", () => {
      clearTimeout(timer);
      timer = setTimeout(look, WAIT);
    });
  }
})();
