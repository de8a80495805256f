// Whether this phone would go on without signal: tried, not assumed, and said in words.
(() => {
  "use strict";
  const within = (work, ms) => Promise.race([work, new Promise((_, no) => { setTimeout(no, ms, new Error("too slow")); })]);

  const canKeepThePage = () => globalThis.isSecureContext && "serviceWorker" in navigator && "caches" in globalThis;

  // The page that registers the worker was loaded past it: keep its document too, or the first
  // reload without signal fails.
  const startWorker = async ({ worker, scope, page }) => {
    if (!canKeepThePage()) return null;
    const registration = await navigator.serviceWorker.register(worker, { scope, updateViaCache: "none" });
    await navigator.serviceWorker.ready;
    const pages = await caches.open("drawbag-scales-pages");
    if (!(await pages.match(page))) {
      const fetched = await fetch(page, { credentials: "omit", cache: "no-store" });
      if (fetched.ok && fetched.headers.get("X-Drawbag-Page") === "scales") await pages.put(page, fetched);
    }
    return registration;
  };

  const CHECKS = [
    ["This page opens without signal", async ({ page, files }) => {
      if (!canKeepThePage()) throw new Error("Not over plain http: leave this page open, and do not reload it.");
      if (!navigator.serviceWorker.controller) throw new Error("Reload this page once while there is signal.");
      if (!(await caches.match(page))) throw new Error("Reload this page once while there is signal.");
      for (const file of files) if (!(await caches.match(file))) throw new Error("Part of it is missing: reload while there is signal.");
    }],
    ["Weights are kept on this phone", async ({ match }) => {
      const mark = Date.now();
      await Queue.changePhone(match, { tried: mark });
      if ((await Queue.phone(match)).tried !== mark) throw new Error("This browser forgets: a private window cannot keep weights.");
    }],
    ["Who is on which peg", async ({ match }) => {
      const kept = await Queue.walk(match);
      if (!kept) throw new Error("Not here yet: it comes with signal.");
      return `as of ${Draw.clock(kept.at)}`;
    }],
    ["This phone may send", async ({ match }) => {
      const kept = await Queue.phone(match);
      if (!kept.token) throw new Error("It has no pass: scan the code for this match.");
      if (kept.problem && kept.problem.kind === "pass") throw new Error(kept.problem.words);
      return kept.expires ? `until ${new Date(kept.expires).toLocaleString("en-GB", { weekday: "short", hour: "2-digit", minute: "2-digit" })}` : "";
    }],
  ];

  const test = (about) => Promise.all(CHECKS.map(async ([what, check]) => {
    try {
      return { what, good: true, words: (await within(check(about), 5000)) || "" };
    } catch (error) {
      return { what, good: false, words: error.message };
    }
  }));

  globalThis.Ready = { startWorker, canKeepThePage, test };
})();
