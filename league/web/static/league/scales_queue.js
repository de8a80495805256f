// What is on this phone: its pass, its walk, and every entry made on it, in IndexedDB. The page and
// the worker both load this. Nothing is ever deleted before the site has answered for it.
(() => {
  "use strict";
  const KEEP = 30 * 24 * 60 * 60 * 1000; // sent entries stay so long after the result
  const BATCH = 50;
  const PATIENCE = 8000; // ms: with one bar of signal a post is given up and sent again later
  const STRICT = { durability: "strict" };

  let opened = null;
  const open = () => {
    opened = opened || idb.openDB("drawbag-scales", 1, {
      // Only ever added to: a page of the release before may still be open.
      upgrade(db) {
        db.createObjectStore("phones", { keyPath: "match" });
        db.createObjectStore("walks", { keyPath: "match" });
        db.createObjectStore("entries", { keyPath: "key" }).createIndex("match", "match");
      },
      terminated() { opened = null; },
    }).catch((error) => { opened = null; throw error; });
    return opened;
  };

  // crypto.randomUUID is missing on plain http; the random numbers behind it are not.
  const newKey = () => {
    if (crypto.randomUUID) return crypto.randomUUID();
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    bytes[6] = (bytes[6] & 15) | 64;
    bytes[8] = (bytes[8] & 63) | 128;
    const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
    return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
  };

  const channel = "BroadcastChannel" in globalThis ? new BroadcastChannel("drawbag-scales") : null;
  const listeners = new Set();
  const tell = (match) => {
    for (const listener of listeners) listener(match);
    if (channel) channel.postMessage(match);
  };
  if (channel) channel.onmessage = ({ data }) => { for (const listener of listeners) listener(data); };
  const onChange = (listener) => { listeners.add(listener); };

  const phone = async (match) =>
    (await (await open()).get("phones", match)) || { match, token: "", name: "", seq: 0, problem: null, sentAt: 0 };
  const changePhone = async (match, change) => {
    const tx = (await open()).transaction("phones", "readwrite", STRICT);
    const kept = (await tx.store.get(match)) || (await phoneless(match));
    await tx.store.put(Object.assign(kept, change));
    await tx.done;
    return kept;
  };
  const phoneless = async (match) => ({ match, token: "", name: "", seq: 0, problem: null, sentAt: 0 });
  const walk = async (match) => (await open()).get("walks", match);
  const entries = async (match) => {
    const found = await (await open()).getAllFromIndex("entries", "match", match);
    return found.sort((one, other) => one.seq - other.seq);
  };

  // One transaction: the entry and the phone's count, or neither.
  const save = async (match, draft) => {
    const tx = (await open()).transaction(["phones", "entries"], "readwrite", STRICT);
    const kept = (await tx.objectStore("phones").get(match)) || (await phoneless(match));
    kept.seq += 1;
    const entry = {
      corrects: null, note: "", ...draft, key: newKey(), match, seq: kept.seq, read_at: Date.now(), state: "waiting",
    };
    await Promise.all([tx.objectStore("phones").put(kept), tx.objectStore("entries").add(entry), tx.done]);
    tell(match);
    return entry;
  };

  // Answers from the site; only these change what an entry is.
  const settle = async (match, answers) => {
    const tx = (await open()).transaction("entries", "readwrite", STRICT);
    let settled = 0;
    for (const answer of answers) {
      const entry = await tx.store.get(answer.key);
      const state = { created: "sent", duplicate: "sent", rejected: "refused" }[answer.result];
      if (!entry || entry.state !== "waiting" || !state) continue;
      Object.assign(entry, { state, sentAt: Date.now(), found: answer.found || entry.found, words: answer.words || "" });
      await tx.store.put(entry);
      settled += 1;
    }
    await tx.done;
    return settled;
  };

  const ask = async (path, token, options = {}) => {
    const stop = new AbortController();
    const timer = setTimeout(() => stop.abort(), PATIENCE);
    try {
      const answer = await fetch(path, {
        credentials: "omit", redirect: "error", cache: "no-store", signal: stop.signal, ...options,
        headers: { Authorization: `Bearer ${token}`, ...options.headers },
      });
      const text = await answer.text(); // inside the time limit too
      return { status: answer.status, text, etag: answer.headers.get("ETag") };
    } finally {
      clearTimeout(timer);
    }
  };
  const json = (text) => {
    try {
      const found = JSON.parse(text);
      return found && typeof found === "object" ? found : null;
    } catch {
      return null;
    }
  };

  const NO_SIGNAL = "signal";
  // What an answer other than the awaited one means; null where it is the awaited one.
  const problemOf = ({ status, text }) => {
    const found = json(text);
    if (found && status === 200) return null;
    if (!found && status < 500) {
      return { kind: "network", words: "This network answers in place of the site. Sign in to it, or use mobile data." };
    }
    const kind = status === 401 || status === 403 ? "pass" : "site";
    return { kind, words: (found && found.words) || "The site has a fault just now. The weights stay on this phone." };
  };
  const problem = async (match, found) => {
    const before = (await phone(match)).problem;
    const since = before && before.kind === found.kind ? before.since : Date.now();
    await changePhone(match, { problem: { ...found, since } });
    tell(match);
    return false;
  };

  const sendOne = async (match) => {
    const all = await entries(match);
    const waiting = all.filter((entry) => entry.state === "waiting");
    if (!waiting.length) return null;
    const kept = await phone(match);
    if (!kept.token) return problem(match, { kind: "pass", words: "This phone has no pass. Scan the code for this match." });
    const batch = waiting.slice(0, BATCH);
    const body = JSON.stringify({
      entries: batch.map(({ key, seq, entry, peg, status, nets, note, corrects, read_at }) =>
        ({ key, seq, entry, peg, status, nets, note, corrects, read_at })),
      clock: Date.now(), waiting: waiting.length, last_seq: kept.seq,
    });
    let answer;
    try {
      answer = await ask(`/scales/${match}/send/`, kept.token,
        { method: "POST", body, headers: { "Content-Type": "application/json" } });
    } catch {
      return problem(match, { kind: NO_SIGNAL, words: "" });
    }
    const wrong = problemOf(answer);
    if (wrong) return problem(match, wrong);
    const answers = json(answer.text).answers;
    const settled = Array.isArray(answers) ? await settle(match, answers) : 0;
    if (!settled) {
      return problem(match, { kind: "network", words: "Something answered in place of the site. Try another network." });
    }
    await changePhone(match, { problem: null, sentAt: Date.now() });
    tell(match);
    return true;
  };

  // One sender at a time over all tabs and the worker; where there are no locks, the site's keys do.
  const alone = (match, work) =>
    globalThis.navigator.locks ? navigator.locks.request(`drawbag-scales-${match}`, work) : work();
  const send = (match) => alone(match, async () => {
    let done;
    do done = await sendOne(match); while (done);
    return done === null;
  });

  // Who is where and what the others have weighed; a phone without signal keeps what it has.
  const refresh = async (match) => {
    const kept = await phone(match);
    if (!kept.token) return false;
    const before = await walk(match);
    let answer;
    try {
      answer = await ask(`/scales/${match}/walk.json`, kept.token,
        { headers: before && before.etag ? { "If-None-Match": before.etag } : {} });
      if (answer.status === 304) {
        await (await open()).put("walks", { ...before, at: Date.now() });
        return await sendAgainWhatIsMissing(match);
      }
      const wrong = problemOf(answer);
      if (wrong) return wrong.kind === "pass" ? problem(match, wrong) : false;
      let past = before && before.past;
      if (!past) {
        const asked = await ask(`/scales/${match}/past.json`, kept.token);
        past = problemOf(asked) ? null : json(asked.text);
      }
      await (await open()).put("walks", { match, etag: answer.etag, data: json(answer.text), past, at: Date.now() });
    } catch {
      return false;
    }
    return sendAgainWhatIsMissing(match);
  };

  // A site put back from a copy has fewer of this phone's entries than it answered for: all go again,
  // once for every count, since some may stand there under an earlier pass.
  const sendAgainWhatIsMissing = async (match) => {
    const { data } = await walk(match);
    const tx = (await open()).transaction(["phones", "entries"], "readwrite", STRICT);
    const store = tx.objectStore("entries");
    const kept = await tx.objectStore("phones").get(match);
    const sent = (await store.index("match").getAll(match)).filter((entry) => entry.state === "sent");
    const over = ["published", "final"].includes(data.stage);
    const count = `${data.kept}/${sent.length}`;
    const missing = data.kept < sent.length && kept.sentAgain !== count;
    if (missing) await tx.objectStore("phones").put({ ...kept, sentAgain: count });
    for (const entry of sent) {
      if (missing) await store.put({ ...entry, state: "waiting" });
      else if (over && Date.now() - entry.sentAt > KEEP) await store.delete(entry.key);
    }
    await tx.done;
    tell(match);
    return missing ? "missing" : "known";
  };

  const matches = async () => (await open()).getAllKeys("phones");

  globalThis.Queue = { open, phone, changePhone, walk, entries, save, send, refresh, matches, onChange, json, ask };
})();
