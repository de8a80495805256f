// The panel on a draw's page: fetch its record once, work it out here, say whether it agrees.
(() => {
  "use strict";
  const MOST = 12; // differences told one by one
  const panel = document.querySelector("[data-record]");
  if (!panel || typeof checkDraw !== "function") return;
  const button = panel.querySelector("button");
  const say = (verdict, words) => {
    panel.querySelector("[data-verdict]").textContent = verdict;
    panel.querySelector("[data-words]").textContent = words;
  };
  const list = panel.querySelector("[data-differs]");
  const tell = (differs) => {
    const lines = differs.slice(0, MOST).map((words) => {
      const line = document.createElement("li");
      line.textContent = words;
      return line;
    });
    list.replaceChildren(...lines);
    list.hidden = !differs.length;
  };
  let record = null;
  const fetched = async () => {
    const answer = await fetch(panel.dataset.record);
    if (!answer.ok) throw new Error(String(answer.status));
    return answer.json();
  };
  // Asked for at once: with the record here the check needs no signal any more.
  const early = fetched().catch(() => null);

  const workOut = async () => {
    button.disabled = true;
    say("Working it out …", "");
    try {
      record = record || (await early) || (await fetched());
    } catch {
      say("No signal.", "The record could not be fetched. Nothing was checked; try again.");
      button.disabled = false;
      return;
    }
    const { out, differs } = await checkDraw(record);
    const pegs = Object.keys(out.events?.at(-1)?.pegs || {}).length;
    tell(differs);
    if (differs.length) {
      const more = differs.length > MOST ? ` These are the first ${MOST} of ${differs.length}.` : "";
      say(
        "It does not agree.",
        `Worked out here, the record says something else than comes out.${more} Keep the record’s file and ask the match secretary; nobody’s peg changes by itself.`,
      );
    } else say("Your browser agrees.", `Worked out here: all ${pegs} pegs come out as published.`);
    button.disabled = false;
    button.textContent = "Work it out again";
  };

  button.addEventListener("click", workOut);
  panel.hidden = false;
})();
