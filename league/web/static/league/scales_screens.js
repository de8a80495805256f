// The screens of the scales on the phone. Each is made anew from what the phone knows; none keeps
// anything. What a button does is given in *act*.
(() => {
  "use strict";
  const { el, who, clock, many } = Draw;
  const button = (words, small, onclick, more = {}) =>
    el("button", { type: "button", class: "do", onclick, ...more }, words, small ? el("small", {}, small) : null);
  const stop = (headline, ...words) =>
    el("div", { class: "stop", role: "alert" }, el("h2", {}, headline), ...words.map((each) => el("p", {}, each)));
  const link = (to, words, small, name = "next") =>
    el("a", { class: name, href: to }, words, small ? el("small", {}, small) : null);
  const toPeg = (each) => `#peg=${each.entry}`;

  // ---- the strip that never lies: how many weights are on this phone alone
  const pill = (node, view) => {
    const { waiting, problem, sentAt, sent } = view;
    node.hidden = !view.walk && !waiting;
    node.classList.toggle("clear", waiting === 0);
    const since = problem ? clock(problem.since) : "";
    let words = "They go by themselves.";
    if (!waiting) words = sent ? `Last sent ${clock(sentAt)}.` : "Nothing weighed on this phone yet.";
    else if (problem && problem.kind === "signal") words = `No signal since ${since}. They go by themselves.`;
    else if (problem) words = problem.words;
    if (waiting && !Ready.canKeepThePage()) words += " Keep this page open until they are sent.";
    const headline = waiting
      ? `${many(waiting, "weight")} on this phone still to send`
      : sent ? "All weights sent" : "Nothing to send";
    const text = node.querySelector("p");
    if (text && text.dataset.said === headline + words) return;
    node.replaceChildren(
      el("span", { class: "count", "aria-hidden": "true" }, String(waiting)),
      el("p", { "data-said": headline + words }, el("b", {}, headline), el("span", {}, words)),
    );
  };

  // ---- not let in yet
  const noPass = (view, act, words) => [
    el("h1", {}, "The scales"),
    words ? stop("Not let in", words) : el("p", {}, "Letting this phone in …"),
    ...(words
      ? [el("p", {}, "Scan the code on the weigh sheet, or ask the match secretary for a link. Who works the scales and has a sign-in needs neither."),
         link(act.signIn, "Sign in", "", "do"), button("Try again", "", act.letIn)]
      : []),
  ];

  // ---- the walk
  const state = (each) => {
    if (each.inQuestion) return `Two weights: ${[...new Set(each.said)].join(" or ")}`;
    if (!each.figure) return "Still to weigh";
    return `${each.said[each.said.length - 1]}${each.figure.waiting ? ", on this phone" : ""}${each.checked ? ", weighed twice" : ""}`;
  };
  const row = (each) =>
    el("li", {}, el("b", { class: "n" }, each.peg),
      el("span", { class: "name" }, el("a", { href: toPeg(each) }, each.name), el("small", {}, state(each))));
  const checkRow = ({ what, good, words }) =>
    el("li", {}, el("b", {}, good ? "Yes: " : "No: "), what, words ? el("small", {}, words) : null);

  const refused = (view, act) => {
    const list = view.refused.map((entry) =>
      el("li", {}, el("b", {}, `Peg ${entry.peg}, ${Weights.said(entry, view.unit)}. `), entry.words, " ",
        button("Put away", "", () => act.putAway(entry.key))));
    return list.length ? [el("section", { class: "state" }, el("h2", {}, "Not taken by the site"),
      el("p", {}, "Each is still on this phone. Enter it again where it belongs, then put it away."), el("ul", { class: "rows" }, ...list))] : [];
  };
  const questions = (view) => {
    const open = view.stops.filter((each) => each.inQuestion);
    return open.length ? [el("section", { class: "state" }, el("h2", {}, "In question"), el("ul", { class: "rows" }, ...open.map((each) =>
      el("li", {}, el("a", { href: toPeg(each) }, `Peg ${each.peg}, ${each.name}`), ` ${state(each)}`))),
      el("p", {}, "Both are kept. The match secretary says which stands."))] : [];
  };

  const walk = (view, act) => {
    const weighed = view.order.filter((each) => each.figure).length;
    const next = view.order.find((each) => !each.figure);
    const all = view.order.length;
    return [
      el("h1", {}, weighed === all ? "Every peg is weighed" : `${weighed} of ${all} pegs weighed`),
      el("p", {}, `${view.walk.title}, ${view.walk.water}. ${view.walk.walk}.`),
      view.saved ? el("p", { class: "saved", role: "status" }, view.saved) : null,
      next ? link(toPeg(next), `Weigh peg ${next.peg}`, next.name) : null,
      ...refused(view, act), ...questions(view),
      el("section", { "aria-labelledby": "pegs-h" }, el("h2", { id: "pegs-h" }, "The walk"), el("ol", { class: "pegs" }, ...view.order.map(row))),
      el("section", { class: "state", "aria-labelledby": "ready-h" },
        el("h2", { id: "ready-h" }, view.ready && view.ready.every((each) => each.good) ? "Ready for no signal" : "Before you go where there is no signal"),
        el("ul", { class: "rows checks" }, ...(view.ready || []).map(checkRow)),
        view.waitingWorker && !view.waiting ? button("Use the new version", "A newer version of this page is here", act.update) : null,
        view.waitingWorker && view.waiting ? el("p", {}, "A newer version of this page is here. It can be used once everything is sent.") : null),
      el("div", { class: "answers" },
        button("Send now", many(view.waiting, "weight") + " on this phone", act.sendNow),
        button("Keep a copy as a file", `All ${many(view.entries.length, "entry", "entries")} made on this phone`, act.export),
        button(view.buzz ? "Buzz when saved: on" : "Buzz when saved: off", "", act.toggleBuzz)),
      el("p", { class: "sofar" }, el("span", {}, "When the phone dies, the pencil goes on: the paper sheet has this order.")),
      el("p", { class: "sofar" }, el("span", {}, "Keep fish out of the water no longer than the weighing takes. Mind the bank in the dusk, and no scales in the open while there is thunder about. The venue’s rules, local codes and the law come first.")),
    ].filter(Boolean);
  };

  // ---- one peg
  const place = (view, each) => {
    const number = view.order.findIndex(({ entry }) => entry === each.entry) + 1;
    return number ? el("a", { class: "onwalk", href: "#walk" }, `${number} of ${view.order.length} on your walk`) : el("a", { class: "onwalk", href: "#walk" }, "Not on your walk");
  };
  const top = (view, each, ...remarks) => who(view.stops, each, ...remarks, place(view, each));

  // The form of the keys, filled with nets where the pad comes back from a question.
  const pad = (view, each, { nets = [], opens = "", remark = "", saved = "" }, onsave) => {
    const made = document.getElementById(`weigh-${view.unit}`).content.cloneNode(true);
    const form = made.querySelector("form");
    const { limit, said } = view.walk.net;
    if (limit !== null) Object.assign(form.dataset, { limit, limitSaid: said });
    form.dataset.opens = opens;
    const plain = form.querySelector(".plain");
    plain.querySelector("[name=nets]").remove();
    for (const net of nets.length ? nets : [null]) plain.append(el("input", { name: "nets", type: "hidden", value: net === null ? "" : Weights.written(net, view.unit) }));
    const next = view.after(each);
    form.querySelector("[data-save] small").textContent = next ? `then peg ${next.peg}, ${next.name}` : "the last peg on the walk";
    const keys = ScalesPad.start(form);
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      onsave({ status: keys.status(), nets: keys.nets() });
    });
    return [...top(view, each, remark), saved ? el("p", { class: "saved", role: "status" }, saved) : null, form].filter(Boolean);
  };

  const ask = (view, each, nets, doubt, act) => [
    ...top(view, each, `Net ${doubt.net}, reading ${Weights.spoken(nets[doubt.net - 1], view.unit)}`),
    stop(doubt.headline, doubt.words),
    el("div", { class: "answers" },
      doubt.kind === "over" ? button("It was two nets", `Enter the second as net ${nets.length + 1}`, act.twoNets) : null,
      doubt.offer.length ? button(doubt.offered, "Saved so", act.take) : null,
      doubt.kind === "same" ? null : button("It was typed wrong", "Back to the keys", act.back),
      button(doubt.accept, doubt.then, act.accept),
      doubt.kind === "same" ? button("Back to the keys", "", act.back) : null),
    el("p", { class: "sofar" }, el("span", {}, "Nothing is saved until you choose.")),
  ];

  const weighed = (view, each, act) => {
    const rows = each.figures.map((figure) => el("li", {},
      el("b", {}, Weights.said(figure, view.unit)),
      figure.nets.length > 1 ? ` in ${many(figure.nets.length, "net")}` : "",
      el("small", {}, `${figure.mine ? "This phone" : figure.by}, ${clock(figure.at)}${figure.waiting ? ", still to send" : ""}`)));
    const next = view.after(each);
    return [
      ...top(view, each),
      each.inQuestion ? stop(`Peg ${each.peg} has two weights`, "Both are kept. The match secretary says which stands; look at the paper sheet.") : null,
      el("section", { class: "state", "aria-label": "What was read" }, el("ul", { class: "rows" }, ...rows), each.checked ? el("p", {}, "Weighed twice with the same figure.") : null),
      el("div", { class: "answers" },
        ...(each.mine
          ? [button("It was typed wrong", "Enter it again; the first entry stays on record", () => act.again(each.mine.key, "Typed wrong")),
             button("Weighed again", "The new figure counts; the first stays on record", () => act.again(each.mine.key, "Weighed again"))]
          : [button("Weigh it too", "Kept beside the other pair’s figure", () => act.again(null, ""))])),
      next ? link(toPeg(next), `Peg ${next.peg}, ${next.name}`, "the next without a weight") : link("#walk", "Every peg is weighed", "to the walk"),
    ].filter(Boolean);
  };

  const full = (view, each, draft, error, act) => [
    ...top(view, each, Weights.said(draft, view.unit)),
    stop("Not saved: this phone has no room", "Write the weight on the paper sheet. Then make room on the phone, or use another, and try again.", String(error && error.message ? error.message : error)),
    el("div", { class: "answers" }, button("Try again", "Nothing is lost yet", act.retry), button("Back to the keys", "", act.back)),
  ];

  globalThis.Screens = { pill, noPass, walk, pad, ask, weighed, full };
})();
