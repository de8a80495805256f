// Turns the next card without a fresh page, so that nothing flickers on a projector. Without this
// script every card is a plain link. Without signal the cards stay as they are, and it says so: the
// pegs were drawn once, on the server, and turning a card again changes nothing.
(() => {
  "use strict";
  const PATIENCE = 8000; // ms: longer than this is no signal
  const say = (words) => {
    const said = document.querySelector(".hall [data-said]");
    if (said) said.textContent = words;
  };

  const show = async (address, asked) => {
    const answer = await fetch(address, { ...asked, signal: AbortSignal.timeout(PATIENCE) });
    if (!answer.ok) throw new Error(String(answer.status));
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const hall = page.querySelector(".hall");
    if (!hall) throw new Error("no cards");
    document.querySelector(".hall").replaceWith(document.adoptNode(hall));
  };

  let turning = false;
  // Turning again a card that is turned changes nothing, so a lost answer costs one more press.
  const turn = async (address, asked) => {
    if (turning) return; // two presses turn one card
    turning = true;
    say("");
    try {
      await show(address, asked);
      document.querySelector(".hall .turns :is(button, a)")?.focus();
    } catch {
      say("No signal. The pegs are drawn and stay as they are; press again.");
    }
    turning = false;
  };

  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[data-turn]");
    if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    turn(link.href, { headers: { Accept: "text/html" } }).then(() => {
      if (document.querySelector(".hall a.next")) history.replaceState(null, "", link.href);
    });
  });

  // On the bank: how far the cards are turned is kept, so that any device can go on.
  document.addEventListener("submit", (event) => {
    const form = event.target.closest("form[data-turn]");
    if (!form) return;
    event.preventDefault();
    const body = new FormData(form, event.submitter);
    turn(form.action, { method: "POST", body, headers: { "X-Sent-By": "fetch" } });
  });

  // Everybody else's screen follows by itself, as long as it is looked at.
  setInterval(() => {
    const link = document.querySelector(".hall a.only[data-turn]");
    if (!link || turning || document.hidden) return;
    show(link.href, { headers: { Accept: "text/html" } }).catch(() => {});
  }, 5000);

  // Numbers called are sent in the background, so that without signal they stay in their boxes.
  const form = document.querySelector("form[data-calls]");
  form?.addEventListener("submit", async (event) => {
    event.preventDefault();
    const button = form.querySelector("button");
    const said = form.querySelector("[data-said]");
    button.disabled = true;
    said.textContent = "Sending …";
    try {
      const answer = await fetch(form.action, {
        method: "POST",
        body: new FormData(form),
        headers: { "X-Sent-By": "fetch" }, // asks where to go, so that what is said there is not lost
        signal: AbortSignal.timeout(PATIENCE),
      });
      const text = await answer.text();
      if (answer.ok && answer.headers.get("Content-Type") === "application/json") {
        location.assign(JSON.parse(text).to);
        return;
      }
      const page = new DOMParser().parseFromString(text, "text/html");
      const main = page.querySelector("#main");
      if (!main || answer.status >= 500) throw new Error(String(answer.status));
      const fresh = document.adoptNode(page.querySelector("form[data-calls]"));
      form.replaceChildren(...fresh.childNodes);
      form.querySelector("[role=alert]")?.scrollIntoView();
    } catch {
      said.textContent =
        "No signal. The numbers are still in their boxes; press again. Nothing is drawn twice.";
    }
    button.disabled = false;
  });
})();
