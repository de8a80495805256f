// The worker's work: the page and its files from the cache where there is no signal, and the queue
// sent when the browser hears of signal and the page is shut. Where it may look is its scope alone.
(() => {
  "use strict";
  const { cacheName, shell } = self.SCALES;
  const PAGES = "drawbag-scales-pages";
  const LATER = "drawbag-scales-files"; // files of a release this worker does not know
  const PATIENCE = 3000; // ms for a page with one bar of signal, then the kept one

  self.addEventListener("install", (event) => {
    // "reload": past the browser's own cache, which may hold a stale copy of a file under this name.
    event.waitUntil(caches.open(cacheName).then((cache) =>
      cache.addAll(shell.map((url) => new Request(url, { cache: "reload" })))));
  });
  self.addEventListener("activate", (event) => {
    event.waitUntil((async () => {
      for (const name of await caches.keys()) {
        if (name.startsWith("drawbag-scales-v") && name !== cacheName) await caches.delete(name);
      }
      await self.clients.claim();
    })());
  });
  // Only when somebody says so: a new release never changes a page under a scalesman's hands.
  self.addEventListener("message", (event) => {
    if (event.data === "take over") event.waitUntil(self.skipWaiting());
  });

  const file = async (request) => {
    const kept = await caches.match(request);
    if (kept) return kept;
    const fetched = await fetch(request);
    if (fetched.ok) await (await caches.open(LATER)).put(request, fetched.clone());
    return fetched;
  };
  const page = async (event, phonePage) => {
    const path = new URL(event.request.url).pathname;
    const stop = new AbortController();
    const timer = setTimeout(() => stop.abort(), PATIENCE);
    try {
      const fetched = await fetch(event.request, { signal: stop.signal });
      const isOurs = fetched.ok && fetched.headers.get("X-Drawbag-Page") === "scales";
      if (path !== phonePage) {
        if (fetched.status < 500) return fetched;
      } else if (isOurs) {
        await (await caches.open(PAGES)).put(phonePage, fetched.clone());
        return fetched;
      } else {
        const kept = await caches.match(phonePage);
        return kept || fetched;
      }
    } catch {
      // no signal, or too little of it
    } finally {
      clearTimeout(timer);
    }
    if (path !== phonePage && (await caches.match(phonePage))) return Response.redirect(phonePage);
    return (await caches.match(phonePage)) || Response.error();
  };

  self.addEventListener("fetch", (event) => {
    const url = new URL(event.request.url);
    if (event.request.method !== "GET" || url.origin !== self.location.origin) return;
    if (url.pathname.startsWith(self.SCALES.files)) event.respondWith(file(event.request));
    else if (event.request.mode === "navigate") {
      const match = /^\/scales\/(\d+)\//.exec(url.pathname);
      if (match) event.respondWith(page(event, `/scales/${match[1]}/phone/`));
    }
  });
  // An extra where there is one; the page sends by itself everywhere.
  self.addEventListener("sync", (event) => {
    const [what, match] = event.tag.split(":");
    if (what === "send") {
      event.waitUntil(Queue.send(Number(match)).then((done) => {
        if (!done) throw new Error("Some weights could not be sent.");
      }));
    }
  });
})();
