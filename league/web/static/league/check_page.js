// The panel on a draw's page: fetch its record once, work it out here, say whether it agrees.
(() => {
  "use strict";
  const panel = document.querySelector("[data-record]");
  if (!panel || typeof checkDraw !== "function") return;
  const button = panel.querySelector("button");
  const say = (verdict, words) => {
    panel.querySelector("[data-verdict]").textContent = verdict;
    panel.querySelector("[data-words]").textContent = words;
  };
  let record = null;

  const workOut = async () => {
    button.disabled = true;
    say("Working it out …", "");
    try {
      record = record || (await (await fetch(panel.dataset.record)).json());
    } catch {
      say("No signal.", "The record could not be fetched. Nothing was checked; try again.");
      button.disabled = false;
      return;
    }
    const { out, differs } = await checkDraw(record);
    const pegs = Object.keys(out.events?.at(-1)?.pegs || {}).length;
    if (differs.length) say("It does not agree.", differs.join(" "));
    else say("Your browser agrees.", `Worked out here: all ${pegs} pegs come out as published.`);
    button.disabled = false;
    button.textContent = "Work it out again";
  };

  button.addEventListener("click", workOut);
  panel.hidden = false;
})();
