// Enter goes to the next peg's box, and from the last it saves. Without this Enter saves at once.
(() => {
  "use strict";
  const form = document.querySelector("form.typed");
  const boxes = [...form.querySelectorAll("input.box")];
  form.addEventListener("keydown", (event) => {
    const place = boxes.indexOf(event.target);
    if (event.key !== "Enter" || place < 0 || place === boxes.length - 1) return;
    event.preventDefault();
    boxes[place + 1].focus();
    boxes[place + 1].select();
  });
  const wrong = form.querySelector("[aria-invalid]");
  if (wrong) wrong.focus();
})();
