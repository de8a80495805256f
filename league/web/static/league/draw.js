// Turns the next card without a fresh page, so that nothing flickers on a projector. Without this
// script every card is a plain link; without an answer the link is followed as usual.
(() => {
  "use strict";
  const turn = async (link) => {
    const answer = await fetch(link.href, { headers: { Accept: "text/html" } });
    if (!answer.ok) throw new Error(String(answer.status));
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const hall = page.querySelector(".hall");
    if (!hall) throw new Error("no cards");
    document.querySelector(".hall").replaceWith(document.adoptNode(hall));
    history.replaceState(null, "", link.href);
    (document.querySelector(".hall [data-turn]") || document.querySelector(".hall .turn a"))?.focus();
  };

  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[data-turn]");
    if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    turn(link).catch(() => location.assign(link.href));
  });
})();
