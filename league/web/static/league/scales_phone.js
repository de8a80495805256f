// The scales on the phone: from a key pressed to a weight kept, to the next peg. Everything is kept
// on the phone first; the site hears of it when there is signal.
(() => {
  "use strict";
  const screen = document.getElementById("screen");
  if (!screen || !globalThis.idb) return;
  const about = { ...screen.dataset, match: Number(screen.dataset.match), files: screen.dataset.files.split(" ") };
  const { match } = about;
  const pill = document.getElementById("pill");
  const UNKNOWN = { usual: { middle: 3.95, spread: 1.2, scatter: 0.7 }, forms: {} };
  const FIRST_WAIT = 2000;
  const LONGEST_WAIT = 60000;
  const LOOK_EVERY = 30000;

  let registration = null;
  let registered = false;
  let ready = null;
  let saved = "";
  let shownAt = "";

  // ---- what this phone knows, put together: the site's figures and its own on top
  const stopOf = (peg, mine) => {
    const corrected = new Set(mine.map((entry) => entry.corrects).filter(Boolean));
    const known = new Set(peg.figures.map((figure) => figure.key));
    const own = mine.filter((entry) => entry.state !== "refused" && !known.has(entry.key))
      .map((entry) => ({ ...entry, mine: true, by: "", at: entry.read_at, waiting: entry.state === "waiting" }));
    const figures = [...peg.figures, ...own].filter((figure) => !corrected.has(figure.key) );
    const ours = figures.filter((figure) => figure.mine).pop() || null;
    return {
      ...peg, figures, mine: ours, figure: ours || figures[0] || null,
      inQuestion: figures.some((figure) => !Weights.same(figure, figures[0])),
      checked: figures.length > 1 && figures.every((figure) => Weights.same(figure, figures[0])),
    };
  };
  const load = async () => {
    const [phone, kept, entries] = await Promise.all([Queue.phone(match), Queue.walk(match), Queue.entries(match)]);
    const view = {
      phone, entries, walk: kept && kept.data, past: (kept && kept.past) || UNKNOWN, ready,
      waiting: entries.filter((entry) => entry.state === "waiting").length,
      sent: entries.filter((entry) => entry.state === "sent").length,
      refused: entries.filter((entry) => entry.state === "refused" && !entry.putAway),
      problem: phone.problem, sentAt: phone.sentAt, buzz: phone.buzz !== false,
      waitingWorker: Boolean(registration && registration.waiting), saved,
    };
    if (view.walk) {
      view.unit = view.walk.unit;
      // A peg that was drawn again while this phone was away: its own entries stay with the angler.
      view.stops = view.walk.pegs.map((peg) => stopOf(peg, entries.filter((entry) => entry.entry === peg.entry)));
      for (const stop of view.stops) stop.said = stop.figures.map((figure) => Weights.said(figure, view.unit));
      view.order = view.walk.order.map((entry) => view.stops.find((stop) => stop.entry === entry)).filter(Boolean);
      view.after = (stop) => {
        const place = view.order.findIndex((each) => each.entry === stop.entry);
        return [...view.order.slice(place + 1), ...view.order.slice(0, Math.max(place, 0))].find((each) => !each.figure) || null;
      };
    }
    return view;
  };

  // ---- which screen
  const put = (nodes, title) => {
    screen.replaceChildren(...nodes);
    document.title = title;
    screen.focus({ preventScroll: true });
    scrollTo(0, 0);
  };
  const show = async ({ quietly = false } = {}) => {
    const view = await load();
    Screens.pill(pill, view);
    const at = location.hash;
    if (!view.walk) return undefined;
    const wanted = /^#peg=(\d+)$/.exec(at);
    const stop = wanted && view.stops.find((each) => each.entry === Number(wanted[1]));
    // A peg under somebody's fingers is never drawn anew by news from outside; its strip is.
    const drawn = screen.querySelector("figure.walk");
    if (quietly && stop && drawn) drawn.replaceChildren(Draw.strip(view.stops, stop));
    if (quietly && (stop ? shownAt !== "weighed" : shownAt === "other")) return undefined;
    shownAt = stop && stop.figures.length ? "weighed" : "";
    if (!stop) return quietly && screen.contains(document.activeElement) && document.activeElement !== screen ? undefined : put(Screens.walk(view, acts), `${view.walk.title}: the scales`);
    if (stop.figures.length) return put(Screens.weighed(view, stop, { again: (key, why) => keys(stop, { corrects: key, note: why }) }), `Peg ${stop.peg}, weighed`);
    return keys(stop, {});
  };
  const go = (to) => {
    if (location.hash === to) return show();
    location.hash = to; // the listener shows it
    return undefined;
  };

  // ---- one weight
  const keys = async (stop, draft, open = {}) => {
    const view = await load();
    shownAt = "other";
    const words = draft.corrects ? `${draft.note}: enter it again` : stop.figures.length ? "Weighed by the other pair" : "";
    put(Screens.pad(view, stop, { ...open, remark: words, saved }, (read) => check(stop, { ...draft, ...read, agreed: [] })), `Peg ${stop.peg}, ${stop.name}`);
    saved = "";
  };
  const today = (view, stop) => {
    const seen = view.stops.filter((each) => each.entry !== stop.entry && each.figure && each.figure.status === "weighed")
      .map((each) => Guard.ounces(Weights.sum(each.figure.nets), view.unit)).filter((weight) => weight > 0);
    return Guard.today(view.past.usual, seen, view.past.forms[stop.entry] || 0);
  };
  const check = async (stop, draft) => {
    const view = await load();
    const doubt = draft.status === "weighed"
      ? Guard.doubtsAbout(draft.nets, view.walk.net, view.unit, today(view, stop)).find(({ key }) => !draft.agreed.includes(key))
      : null;
    if (!doubt) return keep(view, stop, draft);
    const back = (opens) => keys(stop, { corrects: draft.corrects, note: draft.note }, { nets: draft.nets, opens });
    shownAt = "other";
    return put(Screens.ask(view, stop, draft.nets, doubt, {
      twoNets: () => back("new"),
      back: () => back(String(doubt.net)),
      take: () => check(stop, { ...draft, nets: doubt.offer, agreed: [...draft.agreed, `far-${Weights.sum(doubt.offer)}`] }),
      accept: () => check(stop, { ...draft, agreed: [...draft.agreed, doubt.key] }),
    }), doubt.headline);
  };
  const keep = async (view, stop, draft) => {
    try {
      await Queue.save(match, {
        entry: stop.entry, peg: stop.peg, status: draft.status, nets: draft.nets, corrects: draft.corrects || null, note: draft.note || "",
      });
    } catch (error) {
      shownAt = "other";
      return put(Screens.full(view, stop, draft, error, {
        retry: () => keep(view, stop, draft),
        back: () => keys(stop, { corrects: draft.corrects, note: draft.note }, { nets: draft.nets }),
      }), "Not saved");
    }
    saved = `Peg ${stop.peg}: ${Weights.said(draft, view.unit)}. Saved on this phone.`;
    if (view.buzz && navigator.vibrate) navigator.vibrate(30);
    soon(0);
    if (registration && registration.sync) registration.sync.register(`send:${match}`).catch(() => {});
    // Asked for once there is something to keep; some browsers ask the person and never answer.
    if (navigator.storage && navigator.storage.persist) navigator.storage.persist().catch(() => {});
    const next = view.after(stop);
    return go(next ? `#peg=${next.entry}` : "#walk");
  };

  // ---- sending: after each weight, when signal comes back, when the page is looked at, and by itself
  let timer = null;
  let failed = 0;
  let ticking = false;
  const soon = (wait) => {
    clearTimeout(timer);
    timer = setTimeout(tick, wait);
  };
  const tick = async () => {
    if (ticking) return;
    ticking = true;
    try {
      const done = await Queue.send(match);
      failed = done ? 0 : failed + 1;
      // Whatever turned out to be missing goes at once.
      if (done && (await Queue.refresh(match)) === "missing") await Queue.send(match);
    } catch {
      failed += 1;
    } finally {
      ticking = false;
    }
    const wait = failed ? Math.min(LONGEST_WAIT, FIRST_WAIT * 2 ** (failed - 1)) : LOOK_EVERY;
    soon(wait * (0.75 + Math.random() / 2));
  };
  const again = () => { failed = 0; soon(0); };

  // ---- let in by the secret in the link, or by a sign-in
  const post = async (path, body, more = {}) => {
    const answer = await fetch(path, {
      method: "POST", body: JSON.stringify(body), cache: "no-store", redirect: "error", credentials: "omit", ...more,
      headers: { "Content-Type": "application/json", ...more.headers },
    });
    return { status: answer.status, found: Queue.json(await answer.text()) };
  };
  const letIn = async () => {
    const secret = (/^#pass=([\w-]+)$/.exec(location.hash) || [])[1];
    const kept = await Queue.phone(match);
    const stale = !kept.token || (kept.problem && kept.problem.kind === "pass");
    if (!secret && !stale) return "";
    let answer;
    try {
      answer = secret
        ? await post(about.enter, { secret, token: kept.token })
        : await post(about.enterSignedIn, { token: kept.token }, {
            credentials: "same-origin",
            headers: { "X-CSRFToken": (/(?:^|; )(?:__Host-)?csrftoken=([^;]+)/.exec(document.cookie) || [])[1] || "" },
          });
    } catch {
      return "There is no signal here. Let this phone in where there is some; after that it needs none.";
    }
    if (!answer.found || !answer.found.token) {
      return (answer.found && answer.found.words) || "This sign-in does not work the scales of this match.";
    }
    await Queue.changePhone(match, { ...answer.found, problem: null });
    // The secret has done its work and is not left in the address for a picture of the screen.
    if (secret) history.replaceState(null, "", about.page);
    return "";
  };
  const begin = async () => {
    const view = await load();
    Screens.pill(pill, view);
    if (!view.walk) put(Screens.noPass(view, acts, ""), "The scales");
    const words = await letIn();
    if (words && !view.walk) return put(Screens.noPass(view, acts, words), "The scales");
    if (!(await Queue.walk(match))) await Queue.refresh(match);
    if (!(await Queue.walk(match))) {
      return put(Screens.noPass(view, acts, "Who is on which peg has not come yet. Try again where there is signal."), "The scales");
    }
    again();
    await show();
    return registered ? checkReady() : undefined;
  };

  const acts = {
    signIn: `${about.signIn}?next=${encodeURIComponent(about.page)}`,
    letIn: begin,
    sendNow: again,
    putAway: async (key) => {
      const db = await Queue.open();
      await db.put("entries", { ...(await db.get("entries", key)), putAway: true });
      return show();
    },
    toggleBuzz: async () => {
      await Queue.changePhone(match, { buzz: (await Queue.phone(match)).buzz === false });
      return show();
    },
    update: () => registration.waiting.postMessage("take over"),
    export: async () => {
      const file = new Blob([JSON.stringify(await Queue.entries(match), null, 1)], { type: "application/json" });
      const link = Draw.el("a", { href: URL.createObjectURL(file), download: `scales-${match}.json` });
      link.click();
      setTimeout(() => URL.revokeObjectURL(link.href), 1000);
    },
  };

  const keepAwake = () => {
    if (document.visibilityState === "visible" && navigator.wakeLock) navigator.wakeLock.request("screen").catch(() => {});
  };
  const checkReady = async () => {
    ready = await Ready.test(about);
    if (!location.hash.startsWith("#peg")) await show({ quietly: true });
  };

  addEventListener("hashchange", () => { if (location.hash.startsWith("#pass=")) begin(); else show(); });
  addEventListener("online", again);
  document.addEventListener("visibilitychange", () => { keepAwake(); if (document.visibilityState === "visible") again(); });
  document.addEventListener("click", keepAwake, { once: true });
  addEventListener("beforeunload", (event) => {
    if (!pill.classList.contains("clear") && !Ready.canKeepThePage()) event.preventDefault();
  });
  Queue.onChange((changed) => { if (changed === match) show({ quietly: true }); });

  (async () => {
    await begin();
    try {
      registration = await Ready.startWorker(about);
      if (registration) {
        registration.addEventListener("updatefound", () => {
          const coming = registration.installing;
          if (coming) coming.addEventListener("statechange", checkReady);
        });
        const hadOne = Boolean(navigator.serviceWorker.controller);
        navigator.serviceWorker.addEventListener("controllerchange", () => { if (hadOne) location.reload(); else checkReady(); });
      }
    } catch {
      // the self-test says what does not work
    }
    registered = true;
    await checkReady();
  })();
})();
