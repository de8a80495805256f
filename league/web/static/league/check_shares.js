// What a PEGSHEET/2 shares out besides the pegs: who fishes which section, and the end pegs. Part of check_draw.js, which hands its random numbers in; read that one first.
globalThis.drawShares = (() => {
  "use strict";

  const ATTEMPTS = 1000;
  const MOST_BEHIND = 10; // end pegs; further behind is as sure of one as can be
  const byNumber = (one, other) => one.no - other.no;
  const toPlace = (entry) => entry.section === "-";
  const whose = (entry) => entry.team || entry.no;

  // Every way to put members into sections with room, in the order of the sections.
  function* ways(room, members) {
    if (!members) yield [];
    for (let n = 0; members && n < room.length; n += 1) {
      if (!room[n]) continue;
      const less = room.map((left, m) => left - (m === n));
      for (const rest of ways(less, members - 1)) yield [n, ...rest];
    }
  }

  // The ways with the fewest earlier visits: whoever fished a section least goes there.
  const fairest = (team, every, visits, room) => {
    const counts = team.map((entry) => visits.get(entry.no) || room.map(() => 0));
    const able = every.filter((way) => way.every((n, member) => !team[member].needs || room[n]));
    const costs = able.map((way) => way.reduce((sum, n, member) => sum + counts[member][n], 0));
    const least = costs.reduce((one, other) => Math.min(one, other), Infinity);
    return able.filter((_, place) => costs[place] === least);
  };

  // Where each goes so that all costs together are least: one comes in after another, and those
  // who are in may be moved on. Sums stay under 2 ** 53, where a number is exact.
  const cheapest = (costs, room) => {
    const at = [];
    for (const cost of costs) {
      const far = [...cost];
      const by = new Map();
      for (let changed = true; changed; ) {
        changed = false;
        at.forEach((here, who) => {
          for (let to = 0; to < room.length; to += 1) {
            const through = far[here] + (costs[who][to] - costs[who][here]);
            if (through < far[to]) {
              far[to] = through;
              by.set(to, who);
              changed = true;
            }
          }
        });
      }
      let end = -1;
      room.forEach((left, n) => {
        if (left && (end < 0 || far[n] < far[end])) end = n;
      });
      if (far[end] === Infinity) {
        throw new Error("no sharing of sections has enough accessible pegs");
      }
      room[end] -= 1;
      while (by.has(end)) {
        const who = by.get(end);
        [at[who], end] = [end, at[who]];
      }
      at.push(end);
    }
    return at;
  };

  // Anglers without teams: the fewest earlier visits in all, then the least sum of words. Every
  // section stands twice: its places with easy access, and its others.
  const shareAnglers = async (sheet, anglers, letters, below) => {
    const places = letters.map(() => 0);
    for (let n = 0; n < anglers.length; n += 1) {
      const open = places.filter((count, m) => count < sheet.pegs.get(letters[m]).length);
      if (!open.length) throw new Error("there are more anglers than pegs");
      const fewest = Math.min(...open);
      places[places.findIndex(
        (count, m) => count === fewest && count < sheet.pegs.get(letters[m]).length,
      )] += 1;
    }
    const easy = letters.map((letter, n) => Math.min(sheet.accessible.get(letter).length, places[n]));
    const costs = [];
    for (const entry of anglers) {
      const cost = [];
      for (const count of sheet.visits.get(entry.no) || letters.map(() => 0)) {
        cost.push(count * 2 ** 32 * anglers.length + (await below(2 ** 32)));
      }
      costs.push([...cost, ...cost.map((each) => (entry.needs ? Infinity : each))]);
    }
    const at = cheapest(costs, [...easy, ...places.map((count, n) => count - easy[n])]);
    return new Map(anglers.map((entry, n) => [entry.no, letters[at[n] % letters.length]]));
  };

  // The sections of those whose section is drawn, by entry number; null where none is.
  const lineUps = async (sheet, seed, numbers) => {
    const teams = new Map();
    for (const entry of [...sheet.entries.values()].filter(toPlace).sort(byNumber)) {
      teams.set(entry.team, [...(teams.get(entry.team) || []), entry]);
    }
    if (!teams.size) return null;
    const letters = [...sheet.pegs.keys()];
    if (teams.size === 1 && teams.has("")) {
      return shareAnglers(sheet, teams.get(""), letters, numbers(seed, "anglers", 64));
    }
    const room = letters.map((letter) => sheet.accessible.get(letter).length);
    const sizes = [...teams.values()].map((team) => team.length);
    if (Math.max(letters.length, ...sizes) > 8) { // 40,320 ways at most
      throw new Error("line-ups are drawn for 8 members and 8 sections at most");
    }
    const most = Math.ceil(Math.max(...sizes) / letters.length); // of a team in a section
    const every = new Map(sizes.map((n) => [n, null]));
    for (const n of every.keys()) every.set(n, [...ways(letters.map(() => most), n)]);
    const fair = new Map();
    for (const [code, team] of teams) {
      fair.set(code, fairest(team, every.get(team.length), sheet.visits, room));
    }
    const needing = [...teams.values()].filter((team) => team.some((entry) => entry.needs));
    const contested = needing.length > 1;
    for (let attempt = 1; attempt <= (contested ? ATTEMPTS : 1); attempt += 1) {
      const chosen = new Map();
      const left = [...room];
      for (const [code, team] of teams) {
        const label = contested ? `team/${code}/${attempt}` : `team/${code}`;
        const way = fair.get(code)[await numbers(seed, label, 1)(fair.get(code).length)];
        team.forEach((entry, member) => {
          chosen.set(entry.no, letters[way[member]]);
          left[way[member]] -= entry.needs;
        });
      }
      if (left.every((n) => n >= 0)) return chosen;
    }
    throw new Error("no line-up has enough accessible pegs");
  };

  // End pegs are given one after another along the bank, before the others are drawn. Nobody has a
  // second before everybody has one; one fewer before today doubles the tickets.
  const endPegs = async (draw, letters, others, seed, attempt, numbers) => {
    const { sheet, entries, unsafe } = draw;
    const given = new Map();
    if (!sheet.ends.length) return given;
    const below = numbers(seed, `ends/${attempt}`, sheet.ends.length);
    const fixed = new Map(
      [...sheet.fixed].filter(
        ([no, peg]) => !unsafe.has(peg) && letters.includes(entries.get(no).section),
      ),
    );
    const gone = new Set([...unsafe, ...fixed.values()]);
    for (const peg of sheet.ends) {
      const letter = letters.find((each) => sheet.pegs.get(each).includes(peg));
      if (!letter || gone.has(peg)) continue;
      const here = [...entries.values()].filter(
        ({ no, section }) => section === letter && !fixed.has(no) && !given.has(no),
      );
      const taken = new Set([...gone, ...given.values()]);
      const easy = sheet.accessible.get(letter).filter((each) => !taken.has(each));
      const spare =
        !easy.includes(peg) || easy.length > here.filter((entry) => entry.needs).length;
      let able = here.filter((entry) => (entry.needs ? easy.includes(peg) : spare));
      if (!able.length) continue;
      const today = new Map();
      for (const [no, held] of new Map([...others, ...fixed, ...given])) {
        const who = whose(entries.get(no));
        if (sheet.ends.includes(held)) today.set(who, (today.get(who) || 0) + 1);
      }
      const count = (entry) => today.get(whose(entry)) || 0;
      const fewest = Math.min(...able.map(count));
      able = able.filter((entry) => count(entry) === fewest).sort(byNumber);
      const had = able.map((entry) => sheet.had.get(whose(entry)) || 0);
      const behind = had.map((n) => Math.min(Math.max(...had) - n, MOST_BEHIND));
      const tickets = able.flatMap((entry, n) => Array(2 ** behind[n]).fill(entry.no));
      given.set(tickets[await below(tickets.length)], peg);
    }
    return given;
  };

  // Puts those whose section was drawn into it.
  const place = (draw, sections) => {
    draw.entries = new Map(draw.sheet.entries);
    draw.sections = sections || new Map();
    for (const [no, section] of draw.sections) {
      draw.entries.set(no, { ...draw.entries.get(no), section });
    }
  };

  // What came out of a real bag; where sections were to be drawn, the pegs say which.
  const take = (draw, pegs) => {
    const letterOf = (peg) => [...draw.sheet.pegs].find(([, ours]) => ours.includes(peg))[0];
    const waiting = [...draw.sheet.entries.values()].filter(toPlace);
    place(draw, new Map(waiting.map(({ no }) => [no, letterOf(pegs.get(no))])));
    draw.pegs = pegs;
  };

  // A peg given by hand leaves the bag; nobody else moves.
  const give = (draw, entry, peg, bag) => {
    const left = bag.get(entry.section) || [];
    if (!draw.pegs.size || draw.pegs.has(entry.no) || !left.includes(peg)) {
      throw new Error(`peg ${peg} was not in the bag for entry ${entry.no}`);
    }
    draw.entries.set(entry.no, entry);
    draw.pegs.set(entry.no, peg);
  };

  return { endPegs, give, lineUps, place, take, toPlace, whose };
})();
