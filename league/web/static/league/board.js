// Asks for what is new on the board, and only while somebody looks: a 304 where nothing has come in.
(() => {
  "use strict";
  const board = document.getElementById("board");
  const EVERY = 5000;
  const LONGEST = 60000;
  let etag = "";
  let failed = 0;
  const ask = async () => {
    if (document.visibilityState !== "visible") return;
    try {
      const answer = await fetch(board.dataset.now, {
        cache: "no-store", headers: etag ? { "If-None-Match": etag } : {},
      });
      failed = 0;
      if (answer.status !== 200) return;
      etag = answer.headers.get("ETag") || "";
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      board.replaceChildren(...page.body.childNodes);
    } catch {
      failed += 1;
    }
  };
  const again = async () => {
    await ask();
    setTimeout(again, Math.min(LONGEST, EVERY * 2 ** failed));
  };
  document.addEventListener("visibilitychange", ask);
  again();
})();
