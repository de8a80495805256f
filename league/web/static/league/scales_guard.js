// The guard on the phone: the same questions as the site asks, without signal. It mirrors the rules
// on the site (league/rules/usual.py, slips.py, doubts.py), and the tests hold the two together on
// the same figures. A change there is a change here.
(() => {
  "use strict";
  const { UNITS, sum, written, spoken, shortly, counted } = globalThis.Weights;
  const GRAMS_IN_DRAM = 45359237 / 25600000;
  const GRAMS_IN_OUNCE = GRAMS_IN_DRAM * 16;
  const ADDED = 4;
  const MEDIAN_NOISE = 1.57;
  const FAR = 2.5;
  const LIKELY = 0.3;
  const WORTH_OFFERING = 0.1;
  const BLANKS = 0.02;
  const MOST_MEANT = 400;
  const OUNCES_IN_KILO = 35.274;
  const RATES = {
    swapped: 0.004, "one box": 0.002, "lost figure": 0.004, "extra figure": 0.003, twice: 0.002, "other unit": 0.002,
  };
  const ALL_RATES = Object.values(RATES).reduce((total, rate) => total + rate, 0);

  const onScale = (ounces) => Math.log(ounces + ADDED);
  const ounces = (amount, unit) => (unit === "kg" ? amount / GRAMS_IN_OUNCE : amount / 16);
  const median = (values) => {
    const sorted = [...values].sort((a, b) => a - b);
    const middle = sorted.length >> 1;
    return sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
  };
  // halves to the even, as Python rounds
  const round = (value) => {
    const floor = Math.floor(value);
    const rest = value - floor;
    if (rest !== 0.5) return Math.round(value);
    return floor % 2 ? floor + 1 : floor;
  };

  const today = (usual, seen, form = 0) => {
    const within = usual.scatter ** 2;
    const between = usual.spread ** 2;
    if (!seen.length) return { middle: usual.middle + form, spread: Math.sqrt(within + between) };
    const noise = (MEDIAN_NOISE * within) / seen.length;
    const share = between / (between + noise);
    const middle = usual.middle + share * (median(seen.map(onScale)) - usual.middle);
    return { middle: middle + form, spread: Math.sqrt(within + (between * noise) / (between + noise)) };
  };
  const offBy = (day, weight) => (onScale(weight) - day.middle) / day.spread;

  // Student's t with five degrees of freedom; gamma(3) / gamma(2.5) = 2 / 1.32934038817914
  const T5 = 2 / (Math.sqrt(5 * Math.PI) * 1.329340388179137);
  const density = (weight, day) => {
    if (weight === 0) return BLANKS;
    const width = day.spread * Math.sqrt(0.6);
    const off = (onScale(weight) - day.middle) / width;
    return (T5 * (1 + (off * off) / 5) ** -3) / (width * (weight + ADDED));
  };

  const figures = (whole, weight) => {
    const found = [];
    const typed = String(whole);
    const longer = new Set();
    for (let place = 0; place <= typed.length; place += 1) {
      for (const figure of "0123456789") longer.add(Number(typed.slice(0, place) + figure + typed.slice(place)));
    }
    for (const meant of [...longer].sort((a, b) => a - b)) {
      const length = String(meant).length;
      if (length === typed.length + 1 && meant < MOST_MEANT) found.push(["lost figure", weight(meant), 1 / length]);
    }
    if (typed.length > 1) {
      const shorter = new Set([...typed].map((_, place) => Number(typed.slice(0, place) + typed.slice(place + 1))));
      for (const meant of [...shorter].sort((a, b) => a - b)) found.push(["extra figure", weight(meant), 0.15]);
    }
    return found;
  };
  const poundsSlips = (net) => {
    const found = [];
    const pounds = Math.floor(net / 256);
    const count = Math.floor((net % 256) / 16);
    const drams = net % 16;
    const weight = (lb, oz) => (lb * 16 + oz) * 16 + drams;
    if (pounds < 16 && pounds !== count) found.push(["swapped", weight(count, pounds), 1]);
    if (pounds === 0) for (let each = 0; each < 16; each += 1) found.push(["one box", weight(count, each), 1]);
    found.push(...figures(pounds, (lb) => weight(lb, count)));
    if (net && net % 32 === 0) found.push(["twice", net / 2, 1]);
    for (const off of [-0.004, 0, 0.004]) {
      const read = round(OUNCES_IN_KILO * (pounds + count / 100 + off)) * 16;
      if (read >= 0) found.push(["other unit", read, 1 / 3]);
    }
    return found;
  };
  const kiloSlips = (net) => {
    const kilos = Math.floor(net / 1000);
    const grams = net % 1000;
    const found = figures(kilos, (kg) => kg * 1000 + grams);
    if (net && net % 2 === 0) found.push(["twice", net / 2, 1]);
    for (const size of [1, 10, 100]) {
      if (grams % size === 0 && grams / size < 16 && kilos <= 999) {
        found.push(["other unit", round((kilos * 16 + grams / size) * 16 * GRAMS_IN_DRAM), 1 / 3]);
      }
    }
    return found;
  };

  // How likely a net is a slip today, and what was then most likely meant.
  const guess = (net, unit, day, beside = 0) => {
    const kinds = new Map();
    for (const [kind, meant, chance] of unit === "kg" ? kiloSlips(net) : poundsSlips(net)) {
      const of = kinds.get(kind) || kinds.set(kind, new Map()).get(kind);
      of.set(meant, (of.get(meant) || 0) + RATES[kind] * density(ounces(beside + meant, unit), day) * chance);
    }
    const total = sum([...kinds.values()].flatMap((of) => [...of.values()]));
    if (!total) return { chance: 0, kind: "", meant: null };
    const right = (1 - ALL_RATES) * density(ounces(beside + net, unit), day);
    const best = (entries, value) => entries.reduce((most, each) => (value(each) > value(most) ? each : most));
    const [kind, of] = best([...kinds], ([, each]) => sum([...each.values()]));
    const [meant] = best([...of], ([, each]) => each);
    return { chance: total / (total + right), kind, meant };
  };

  const roundFigure = (usual, unit) => {
    if (unit === "kg") return `${((Math.max(usual, 0) * GRAMS_IN_OUNCE) / 1000).toFixed(1)} kg`;
    if (usual < 32) return `${Math.max(round(usual), 1)} oz`;
    return shortly(round(usual / 16) * 256, unit);
  };

  const over = (number, net, rules, unit) => {
    const counts = counted(net, rules);
    let rule;
    let accept;
    let then;
    if (counts === null) {
      rule = "the angler is disqualified";
      accept = `It read ${spoken(net, unit)}`;
      then = "The result will show the angler as disqualified";
    } else if (!counts) {
      rule = "the whole net does not count";
      accept = "Count nothing of it";
      then = `The sheet will show ${written(net, unit)} read, none counted`;
    } else {
      rule = `${shortly(counts, unit)} counts, the rest does not`;
      accept = `Count ${spoken(counts, unit)}`;
      then = `The sheet will show ${written(net, unit)} read, ${written(counts, unit)} counted`;
    }
    return {
      key: `over-${number}-${net}`, net: number, kind: "over",
      headline: `This net is over ${shortly(rules.limit, unit)}`,
      words: `${spoken(net, unit)} is ${shortly(net - rules.limit, unit)} over the limit for one net. ` +
        `The rule here: ${rule}. The fish go back either way.`,
      accept, then, offer: [], offered: "",
    };
  };
  const twins = (nets, unit) =>
    nets.flatMap((net, place) => {
      const first = nets.indexOf(net) + 1;
      const second = place + 1;
      if (!net || first === second) return [];
      return [{
        key: `same-${first}-${second}-${net}`, net: second, kind: "same",
        headline: `Net ${first} and net ${second} read the same`,
        words: `Both read ${spoken(net, unit)}. Is it two nets, or one net entered twice?`,
        accept: "Two nets: count both",
        then: `The sheet will show ${written(net, unit)} for each`,
        offer: nets.filter((_, other) => other !== place), offered: "One net, entered twice",
      }];
    });
  const far = (nets, unit, day) => {
    const total = sum(nets);
    const off = offBy(day, ounces(total, unit));
    const guesses = nets.map((net) => guess(net, unit, day, total - net));
    const place = guesses.reduce((most, each, at) => (each.chance > guesses[most].chance ? at : most), 0);
    const slip = guesses[place];
    if (Math.abs(off) <= FAR && slip.chance <= LIKELY) return [];
    const offers = slip.chance > WORTH_OFFERING && slip.meant;
    const meant = offers ? spoken(slip.meant, unit) : "";
    return [{
      key: `far-${total}`, net: place + 1, kind: "far",
      headline: `${shortly(total, unit)} is a long way ${off > 0 ? "over" : "under"} the usual`,
      words: `About ${roundFigure(Math.exp(day.middle) - ADDED, unit)} is usual at this peg today. ` +
        "Read the scales again before the fish go back.",
      accept: `It is right: ${spoken(total, unit)}`,
      then: "It is saved as it was read",
      offer: offers ? nets.map((net, at) => (at === place ? slip.meant : net)) : [],
      offered: offers ? (nets.length > 1 ? `Net ${place + 1} was ${meant}` : `It was ${meant}`) : "",
    }];
  };

  // Everything worth asking about nets, in drams or grams; without a day nothing is compared.
  const doubtsAbout = (nets, rules, unit, day = null) => [
    ...nets.flatMap((net, place) => (rules.limit !== null && net > rules.limit ? [over(place + 1, net, rules, unit)] : [])),
    ...twins(nets, unit),
    ...(day && nets.some((net) => net) ? far(nets, unit, day) : []),
  ];

  globalThis.Guard = { today, offBy, guess, ounces, doubtsAbout, units: UNITS };
})();
