// What the phone draws: elements without inline style or script, the peg's plate and the walk's strip.
(() => {
  "use strict";
  const SVG = "http://www.w3.org/2000/svg";

  const el = (tag, attributes = {}, ...children) => {
    const made = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes)) {
      if (name.startsWith("on")) made.addEventListener(name.slice(2), value);
      else if (value !== null && value !== undefined && value !== false) made.setAttribute(name, value === true ? "" : value);
    }
    made.append(...children.filter((child) => child !== null && child !== undefined));
    return made;
  };
  const svg = (tag, attributes = {}, ...children) => {
    const made = document.createElementNS(SVG, tag);
    for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
    made.append(...children);
    return made;
  };

  const HEIGHT = 40;
  const BASE = 54;
  const BAR = 0.66;
  const SHOWN = 13; // pegs of the walk round this one

  // What stands at a peg: bar, dashed bar for what is still to send, or a sign in place of a weight.
  const mark = (stop, x, slot, top, now) => {
    const figure = stop.figure;
    if (now) {
      return svg("svg", { x: `${x}%`, y: BASE, overflow: "visible" },
        svg("path", { class: "b-aerial", d: "M0 0V-8" }),
        svg("rect", { class: "b-tip win", x: -2.75, y: -22, width: 5.5, height: 15, rx: 2.75 }));
    }
    const at = { x: `${x}%`, y: BASE, overflow: "visible" };
    if (!figure) return svg("svg", at, svg("path", { class: "b-wait", d: "M0 0V-6" }));
    if (figure.status === "blank") return svg("svg", at, svg("path", { class: "b-blank", d: "M0 0V-10" }));
    if (figure.status === "not weighed") return svg("svg", at, svg("path", { class: "b-dnw", d: "M0 0V-10M-4 -10H4" }));
    if (figure.status === "absent") return svg("svg", at, svg("circle", { class: "b-absent", cy: -6, r: 3 }));
    const height = Math.max(2, (HEIGHT * Weights.sum(figure.nets)) / top);
    return svg("rect", {
      class: `b-bar ${figure.waiting ? "unsent" : ""}`,
      x: `${x - (slot * BAR) / 2}%`, width: `${slot * BAR}%`, y: BASE - height, height,
    });
  };

  // The pegs round *now* in the order of the bank, with a gap where pegs are left out and a stake
  // between two sections. Positions are in per cent, so the drawing stretches and its letters do not.
  const strip = (stops, now) => {
    const bank = [...stops].sort((one, other) => one.place - other.place);
    const here = bank.findIndex((stop) => stop.entry === now.entry);
    const from = Math.max(0, Math.min(here - Math.floor(SHOWN / 2), bank.length - SHOWN));
    const shown = bank.slice(from, from + SHOWN);
    const starts = [];
    let across = 0;
    shown.forEach((stop, place) => {
      const before = shown[place - 1];
      if (before) {
        across += Math.min(stop.place - before.place - 1, 2) * 0.85;
        if (before.section !== stop.section) across += 0.55;
      }
      starts.push(across);
      across += 1;
    });
    const slot = 100 / across;
    const top = Math.max(1, ...shown.map((stop) => (stop.figure ? Weights.sum(stop.figure.nets) : 0)));
    const drawn = svg("svg", { class: "bank-svg", width: "100%", height: 74, role: "img", "aria-labelledby": "walk-t walk-d" });
    const title = svg("title", { id: "walk-t" });
    title.textContent = `Peg ${now.peg} of pegs ${shown[0].peg} to ${shown[shown.length - 1].peg}`;
    const description = svg("desc", { id: "walk-d" });
    description.textContent = "Bars: weighed. Dashed bars: on this phone, still to send. Ticks: still to weigh. Float: this peg.";
    drawn.append(title, description);
    shown.forEach((stop, place) => {
      const x = (starts[place] + 0.5) * slot;
      const before = shown[place - 1];
      const joined = before && stop.place - before.place === 1;
      const left = joined ? (starts[place - 1] + 1) * slot : starts[place] * slot;
      drawn.append(svg("line", { class: "b-base", x1: `${left}%`, x2: `${(starts[place] + 1) * slot}%`, y1: BASE, y2: BASE }));
      if (before && before.section !== stop.section) {
        const stake = ((starts[place - 1] + 1 + starts[place]) / 2) * slot;
        drawn.append(svg("line", { class: "b-stake", x1: `${stake}%`, x2: `${stake}%`, y1: 10, y2: 74 }));
      }
      drawn.append(mark(stop, x, slot, top, stop.entry === now.entry));
      const number = svg("text", { class: `b-peg key ${stop.entry === now.entry ? "on" : ""}`, x: `${x}%`, y: 70, "text-anchor": "middle" });
      number.textContent = stop.peg;
      drawn.append(number);
    });
    return drawn;
  };

  // The strip, the plate and who is on the peg, from the page's own template.
  const who = (stops, stop, ...remarks) => {
    const made = document.getElementById("who").content.cloneNode(true);
    made.querySelector("figure").append(strip(stops, stop));
    const plate = made.querySelector(".pegplate");
    plate.setAttribute("aria-label", `Section ${stop.section}, peg ${stop.peg}`);
    plate.querySelector(".l").textContent = stop.section;
    plate.querySelector(".p").textContent = stop.peg;
    made.querySelector("h1").textContent = stop.name;
    const lines = [stop.team, ...remarks].filter(Boolean).flatMap((line) => [line, el("br")]);
    made.querySelector("p").append(...lines.slice(0, -1));
    return [...made.children];
  };

  const clock = (at) => new Date(at).toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  const many = (count, one, more = `${one}s`) => `${count} ${count === 1 ? one : more}`;

  globalThis.Draw = { el, who, strip, clock, many };
})();
