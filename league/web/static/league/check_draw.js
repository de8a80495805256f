// Works a draw out again from its published record, in the visitor's own browser and on nothing
// but the record: no library, no request. SHA-256 comes from the browser (WebCrypto).
//
//   const { out, differs } = await checkDraw(record);
//
// `out` is the record as it comes out here; `differs` says in words where the record says
// something else, and is empty where everything comes out as published. What a sheet shares out
// besides the pegs is in check_shares.js, which comes first.
(() => {
  "use strict";

  const { endPegs, lineUps, place, take, give, toPlace, whose } = globalThis.drawShares;
  const ENTRY = "\\d+\\|[A-Z0-9]{0,8}\\|(?:[A-Z0-9]{1,8}|-)\\|[01]"; // number, team, section, needs
  const SHEET = new RegExp(
    "^(?:PEGSHEET/[12]|visits=\\d+\\|(?:\\d+\\.)+|ends=(?:\\d+\\.)+|had=\\d+\\|\\d+\\.|match=\\S+|section=[A-Z0-9]{1,8}\\|(?:\\d+\\.)+\\|(?:\\d+\\.)*" +
      `|entry=${ENTRY}|fixed=\\d+\\|\\d+\\.|adjacent=\\d+\\.\\d+\\.|callers=(?:\\d+\\.)*)$`,
  );
  const EVENT = new RegExp(
    "^(?:PEGDRAW/1|match=\\S+|event=\\d+|(?:prev|sheet|reveal)=[0-9a-f]{64}" +
      `|call=\\d+\\|(?:\\d{1,4}|-)\\.|late=${ENTRY}|redraw=[A-Z0-9]{1,8}|unsafe=\\d+)$`,
  );
  const ATTEMPTS = 1000;
  const WORDS = 2 ** 32;

  const bytes = new TextEncoder();
  const digest = async (text) =>
    new DataView(await crypto.subtle.digest("SHA-256", bytes.encode(text)));
  const fingerprint = async (text) => {
    const view = await digest(text);
    return Array.from({ length: 32 }, (_, n) =>
      view.getUint8(n).toString(16).padStart(2, "0"),
    ).join("");
  };

  // Random numbers from SHA-256 of "seed:label:1", "seed:label:2" ...: below(k) is 0 to k - 1.
  // A browser hashes many at once sooner than one after another, so `expected` are asked for ahead.
  const numbers = (seed, label, expected) => {
    let asked = 0;
    let ready = [];
    const more = (count) => {
      const from = asked + 1;
      asked += count;
      ready = Array.from({ length: count }, (_, n) => digest(`${seed}:${label}:${from + n}`));
    };
    more(expected);
    const word = async () => {
      if (!ready.length) more(8);
      return (await ready.shift()).getUint32(0);
    };
    return async (k) => {
      if (k < 1) throw new Error("there are more anglers than pegs");
      if (k === 1) return 0;
      const limit = WORDS - (WORDS % k); // words from here on would favour small remainders
      for (;;) {
        const drawn = await word();
        if (drawn < limit) return drawn % k;
      }
    };
  };

  const linesOf = (text, first, known) => {
    if (typeof text !== "string" || !text.startsWith(`${first}\n`) || !text.endsWith("\n")) {
      throw new Error(`the text does not start with ${first} and end with a line feed`);
    }
    const values = {};
    for (const line of text.slice(0, -1).split("\n")) {
      if (!known.test(line)) throw new Error(`the text has a line that cannot be read: ${line}`);
      const at = line.indexOf("=");
      if (at < 0) continue;
      (values[line.slice(0, at)] ||= []).push(line.slice(at + 1));
    }
    return values;
  };
  const whole = (text) => (text.match(/\d+/g) || []).map(Number);
  const entryOf = (value) => {
    const [no, team, section, needs] = value.split("|");
    return { no: Number(no), team, section, needs: needs === "1" };
  };
  const ascending = (pegs) => [...pegs].sort((one, other) => one - other);

  // What was frozen before any number was called.
  const readSheet = async (text) => {
    const sharing = String(text).startsWith("PEGSHEET/2");
    const said = linesOf(text, sharing ? "PEGSHEET/2" : "PEGSHEET/1", SHEET);
    const sections = (said.section || []).map((value) => value.split("|"));
    const entries = (said.entry || []).map(entryOf);
    const sheet = {
      match: said.match[0],
      sha256: await fingerprint(text),
      pegs: new Map(sections.map(([letter, pegs]) => [letter, whole(pegs)])),
      accessible: new Map(sections.map(([letter, , pegs]) => [letter, whole(pegs)])),
      entries: new Map(entries.map((entry) => [entry.no, entry])),
      fixed: new Map((said.fixed || []).map(whole)),
      pairs: (said.adjacent || [])
        .map((value) => ascending(whole(value)))
        .sort((one, other) => one[0] - other[0] || one[1] - other[1]),
      callers: ascending(whole((said.callers || [""])[0])),
      visits: new Map((said.visits || []).map(whole).map(([no, ...counts]) => [no, counts])),
      ends: ascending(whole((said.ends || [""])[0])),
      had: new Map(),
    };
    for (const [no, count] of (said.had || []).map(whole)) {
      const who = whose(sheet.entries.get(no));
      sheet.had.set(who, (sheet.had.get(who) || 0) + count);
    }
    if (sharing !== (["visits", "ends", "had"].some((key) => key in said) || entries.some(toPlace))) {
      throw new Error("a PEGSHEET/2, and no other, shares sections or end pegs");
    }
    const pegs = [...sheet.pegs.values()].flat();
    if (new Set(pegs).size < pegs.length || sheet.entries.size < entries.length) {
      throw new Error("a peg or an entry is there twice");
    }
    for (const [no, peg] of sheet.fixed) {
      if (!sheet.pegs.get(sheet.entries.get(no)?.section)?.includes(peg)) {
        throw new Error("a fixed peg is not in its angler's section");
      }
    }
    return sheet;
  };

  // The pairs of neighbouring pegs that one team has both of.
  const clashes = (pairs, pegs, entries) => {
    const teamOn = new Map([...pegs].map(([no, peg]) => [peg, entries.get(no).team]));
    return pairs.filter(
      ([one, other]) => teamOn.get(one) && teamOn.get(one) === teamOn.get(other),
    );
  };

  const bagOf = (draw) => {
    const gone = new Set([...draw.unsafe, ...draw.pegs.values()]);
    return new Map(
      [...draw.sheet.pegs].map(([letter, pegs]) => [
        letter,
        ascending(pegs.filter((peg) => !gone.has(peg))),
      ]),
    );
  };

  // One angler chooses among the pegs still in the bag; nobody else moves.
  const choose = async (draw, entry, seed) => {
    let left = bagOf(draw).get(entry.section);
    if (!left) throw new Error(`section ${entry.section} is not on the sheet`);
    if (entry.needs) {
      left = left.filter((peg) => draw.sheet.accessible.get(entry.section).includes(peg));
    }
    const below = numbers(seed, `${entry.section}/late`, 1);
    draw.pegs.set(entry.no, left[await below(left.length)]);
  };

  // Those who need an accessible peg first, then the others from all pegs left.
  const drawSection = async (draw, letter, seed, label, given) => {
    const { sheet, unsafe } = draw;
    const here = [...draw.entries.values()].filter((entry) => entry.section === letter);
    const drawn = new Map();
    for (const { no } of here) {
      if (given.has(no)) drawn.set(no, given.get(no));
      if (sheet.fixed.has(no) && !unsafe.has(sheet.fixed.get(no))) {
        drawn.set(no, sheet.fixed.get(no));
      }
    }
    const gone = new Set([...unsafe, ...drawn.values()]);
    const left = ascending(sheet.pegs.get(letter).filter((peg) => !gone.has(peg)));
    const accessible = ascending(sheet.accessible.get(letter).filter((peg) => !gone.has(peg)));
    const below = numbers(seed, label, here.length);
    const inTurn = here
      .filter((entry) => !drawn.has(entry.no))
      .sort((one, other) => other.needs - one.needs || one.no - other.no);
    for (const entry of inTurn) {
      const choice = entry.needs ? accessible : left;
      const [peg] = choice.splice(await below(choice.length), 1);
      drawn.set(entry.no, peg);
      if (entry.needs) left.splice(left.indexOf(peg), 1);
    }
    return drawn;
  };

  // With two or more team-mates in a section, it is drawn until they are no neighbours.
  const drawByItself = async (draw, letter, seed, label, given, pairs) => {
    let best = null;
    for (let again = 1; again <= ATTEMPTS; again += 1) {
      const drawn = await drawSection(draw, letter, seed, `${label}.${again}`, given);
      const left = clashes(pairs, drawn, draw.entries).length;
      if (!best || left < best.left) best = { left, drawn };
      if (!left) break;
    }
    return best.drawn;
  };

  // Sections are drawn until no team has neighbours; after 1000 attempts the best stands.
  const drawSections = async (draw, letters, seed) => {
    const { sheet, entries } = draw;
    const moving = new Set(letters.flatMap((letter) => sheet.pegs.get(letter)));
    const pairs = sheet.pairs.filter((pair) => pair.some((peg) => moving.has(peg)));
    const inside = new Map(
      letters.map((letter) => {
        const pegs = new Set(sheet.pegs.get(letter));
        return [letter, sheet.pairs.filter((pair) => pair.every((peg) => pegs.has(peg)))];
      }),
    );
    const members = [...sheet.entries.keys()].map((no) => entries.get(no)).filter((e) => e.team);
    const nested = new Set(members.map((e) => `${e.team}|${e.section}`)).size < members.length;
    const own = new Set(nested ? [...inside.values()].flat() : []);
    const border = pairs.filter((pair) => !own.has(pair));
    const others = [...draw.pegs].filter(([no]) => !letters.includes(entries.get(no).section));
    let best = null;
    for (let attempt = 1; attempt <= ATTEMPTS; attempt += 1) {
      const pegs = new Map(others);
      const ends = await endPegs(draw, letters, others, seed, attempt, numbers);
      for (const letter of letters) {
        const label = `${letter}/${attempt}`;
        const drawn = nested // a team has two in one section
          ? await drawByItself(draw, letter, seed, label, ends, inside.get(letter))
          : await drawSection(draw, letter, seed, label, ends);
        for (const [no, peg] of drawn) pegs.set(no, peg);
      }
      const left = clashes(pairs, pegs, entries);
      if (!clashes(border, pegs, entries).length) return { pegs, attempt, left, ends };
      if (!best || left.length < best.left.length) best = { pegs, attempt, left, ends };
    }
    return best;
  };

  // Does what an event says; the attempt is null where one angler chose alone.
  const follow = async (draw, said, seed) => {
    if (!draw.pegs.size && (said.late || said.unsafe || said.redraw)) {
      throw new Error("it changes a draw, and none is finished before it");
    }
    if (said.late) {
      const entry = entryOf(said.late[0]);
      if (draw.entries.has(entry.no)) throw new Error(`late entry ${entry.no} was entered before`);
      draw.entries.set(entry.no, entry);
      await choose(draw, entry, seed);
      return { attempt: null, left: [], ends: new Map() };
    }
    if (said.unsafe) {
      draw.unsafe.add(Number(said.unsafe[0]));
      for (const [no, peg] of [...draw.pegs]) {
        if (!draw.unsafe.has(peg)) continue;
        draw.pegs.delete(no);
        await choose(draw, draw.entries.get(no), seed);
      }
      return { attempt: null, left: [], ends: new Map() };
    }
    const letters = said.redraw || [...draw.sheet.pegs.keys()];
    if (!letters.every((letter) => draw.sheet.pegs.has(letter))) {
      throw new Error(`section ${letters[0]} is not on the sheet`);
    }
    if (!said.redraw && [...draw.sheet.entries.values()].some(toPlace)) {
      place(draw, await lineUps(draw.sheet, seed, numbers));
    }
    const { pegs, ...how } = await drawSections(draw, letters, seed);
    draw.pegs = pegs;
    return how;
  };

  // What is wrong with an event before any peg is drawn.
  const checkText = async (said, sheet, listed, prev, commitment) => {
    const wrong = [];
    const number = Number(said.event[0]);
    if (said.match[0] !== sheet.match) {
      wrong.push(`it is of match ${said.match[0]}, the sheet of ${sheet.match}`);
    }
    if (number !== listed) wrong.push(`its text says that it is event ${number}`);
    if (said.sheet[0] !== sheet.sha256) {
      wrong.push(`it was made for another sheet: the SHA-256 of this one is ${sheet.sha256}`);
    }
    if (said.prev[0] !== prev) wrong.push(`prev is not ${prev}, the seed or commitment before it`);
    let link = said.reveal[0];
    for (let n = 0; n < Math.min(number, 1000); n += 1) {
      link = await fingerprint(`PEGCHAIN/1:${link}`);
    }
    if (link !== commitment) {
      wrong.push("what was revealed does not lead to the commitment: it is not the locked secret");
    }
    const callers = ascending((said.call || []).map((call) => whole(call)[0]));
    if (String(callers) !== String(sheet.callers)) {
      wrong.push(`its calls are not one from each caller of the sheet, ${sheet.callers.join(", ")}`);
    }
    return wrong;
  };

  // Where the record says something else than came out.
  const compare = (said, came) => {
    const wrong = [];
    for (const key of ["kind", "seed", "attempt"]) {
      if (said[key] != null && said[key] !== came[key]) {
        wrong.push(`${key} is ${said[key]} in the record, and comes out as ${came[key]}`);
      }
    }
    for (const [no, peg] of Object.entries(said.pegs || {})) {
      if (peg !== came.pegs[no]) {
        wrong.push(`entry ${no} is on peg ${peg} in the record, and comes out on ${came.pegs[no]}`);
      }
    }
    if (said.pegs && Object.keys(said.pegs).length && came.kind === "draw") {
      for (const [no, peg] of Object.entries(came.pegs)) {
        if (!(no in said.pegs)) {
          wrong.push(`entry ${no} is missing in the record, and comes out on peg ${peg}`);
        }
      }
    }
    for (const what of ["sections", "ends"]) {
      for (const [no, value] of Object.entries(said[what] || {})) {
        if (value === came[what][no]) continue;
        wrong.push(
          `${what}: entry ${no} has ${value} in the record, and comes out with ${came[what][no]}`,
        );
      }
    }
    for (const [letter, bag] of Object.entries(said.bag || {})) {
      if (String(bag) !== String(came.bag[letter])) {
        wrong.push(`bag ${letter} is ${bag} in the record, and comes out as ${came.bag[letter]}`);
      }
    }
    return wrong;
  };

  const texts = (pegs) => pegs.map(String);
  const readEvent = (text) => {
    const said = linesOf(text, "PEGDRAW/1", EVENT);
    const change = ["late", "redraw", "unsafe"].filter((key) => key in said);
    const once = ["match", "event", "prev", "sheet", "reveal", ...change];
    if (change.length > 1 || once.some((key) => (said[key] || []).length !== 1)) {
      throw new Error("the text lacks a line, or has one twice");
    }
    return { said, kind: change[0] || "draw" };
  };

  const workOut = async (record) => {
    if (record.record !== "PEGDRAW/1") throw new Error('it does not say "record": "PEGDRAW/1"');
    const out = { ...record, events: [] };
    const differs = [];
    const sheet = await readSheet(record.sheet);
    const draw = { sheet, entries: new Map(sheet.entries), pegs: new Map(), unsafe: new Set() };
    draw.sections = new Map();
    const given = [...(record.given || [])];
    const giveUntil = (number) => {
      while (given.length && given[0].after < number) {
        const { after, entry, peg } = given.shift();
        try {
          give(draw, entryOf(entry), Number(peg), bagOf(draw));
        } catch (error) {
          differs.push(`Given by hand after event ${after}: ${error.message}.`);
        }
      }
    };
    let last = 0;
    let prev = record.commitment;
    if ((record.match ?? sheet.match) !== sheet.match) {
      differs.push(`The record is of match ${record.match}, the sheet of ${sheet.match}.`);
    }
    for (const event of record.events || []) {
      giveUntil(event.event);
      const name = `Event ${event.event}`;
      const { text, why, by } = event;
      const came = { event: event.event, kind: event.kind, text, why, by };
      out.events.push(came);
      if (!(event.event > last)) differs.push(`${name} does not come after event ${last}.`);
      last = event.event;
      if (text == null) {
        if (event.kind === "hand") {
          take(draw, new Map(Object.entries(event.pegs).map((drawn) => drawn.map(Number))));
          Object.assign(came, { pegs: event.pegs, bag: event.bag });
        } else if (event.kind !== "abandoned") {
          differs.push(`${name} has no text: nothing shows where its pegs come from.`);
        }
        continue;
      }
      try {
        const { said, kind } = readEvent(text);
        const wrong = await checkText(said, sheet, last, prev, record.commitment);
        differs.push(...wrong.map((words) => `${name}: ${words}.`));
        prev = await fingerprint(text);
        const { attempt, left, ends } = await follow(draw, said, prev);
        Object.assign(came, {
          kind,
          seed: prev,
          attempt,
          pegs: Object.fromEntries([...draw.pegs].map(texts)),
          bag: Object.fromEntries([...bagOf(draw)].map(([letter, bag]) => [letter, texts(bag)])),
          clashes: left.map(texts),
          sections: Object.fromEntries(draw.sections),
          ends: Object.fromEntries([...ends].map(texts)),
        });
      } catch (error) {
        differs.push(`${name} cannot be worked out: ${error.message}.`);
        break;
      }
      differs.push(...compare(event, came).map((words) => `${name}: ${words}.`));
    }
    giveUntil(Infinity);
    return { out, differs };
  };

  globalThis.checkDraw = async (record) => {
    if (!globalThis.crypto?.subtle) {
      // Browsers keep WebCrypto from pages that are not sent over HTTPS.
      return {
        out: {},
        differs: ["This page cannot hash here: open it over https://, or use check_draw.py."],
      };
    }
    try {
      return await workOut(record);
    } catch (error) {
      return { out: {}, differs: [`The record cannot be worked out: ${error.message}.`] };
    }
  };
})();
