// Weights on the phone: drams or grams, said and written as the site says and writes them, and what
// the rule makes of a net over the limit. Nothing here places anybody or gives a point.
(() => {
  "use strict";
  const UNITS = {
    "lb-oz": { whole: "lb", part: "oz", size: 256, least: 16 }, // drams
    kg: { whole: "kg", part: "g", size: 1000, least: 1 }, // grams
  };
  const sum = (nets) => nets.reduce((total, net) => total + net, 0);

  const written = (amount, unit) => {
    const { size } = UNITS[unit];
    const whole = Math.floor(amount / size);
    const rest = amount % size;
    if (unit === "kg") return `${whole}.${String(rest).padStart(3, "0")}`;
    const drams = rest % 16;
    return drams ? `${whole}-${Math.floor(rest / 16)}-${drams}` : `${whole}-${rest / 16}`;
  };
  const spoken = (amount, unit) => {
    if (unit === "kg") return `${written(amount, unit)} kg`;
    const drams = amount % 16;
    const said = `${Math.floor(amount / 256)} lb ${Math.floor((amount % 256) / 16)} oz`;
    return drams ? `${said} ${drams} dr` : said;
  };
  const shortly = (amount, unit) =>
    amount % UNITS[unit].size ? spoken(amount, unit) : `${amount / UNITS[unit].size} ${UNITS[unit].whole}`;

  // What counts of one net; null where the angler is out.
  const OVER = {
    cap: (net, limit) => Math.min(net, limit),
    "cap with tolerance": (net, limit, tolerance) => (net <= limit + tolerance ? Math.min(net, limit) : 0),
    "twice the excess": (net, limit) => Math.max(0, net - 2 * Math.max(0, net - limit)),
    "net out": (net, limit) => (net <= limit ? net : 0),
    "angler out": (net, limit) => (net <= limit ? net : null),
  };
  const counted = (net, rules) =>
    rules.limit === null ? net : OVER[rules.over](net, rules.limit, rules.tolerance);

  const STATUS = { blank: "blank", "not weighed": "did not weigh", absent: "absent", withdrew: "withdrew" };
  const said = (figure, unit) => {
    if (figure.status === "weighed") return spoken(sum(figure.nets), unit);
    const status = STATUS[figure.status] || figure.status;
    return figure.nets.length ? `${spoken(sum(figure.nets), unit)}, then ${status}` : status;
  };
  const same = (one, other) =>
    one.status === other.status && one.nets.length === other.nets.length &&
    one.nets.every((net, place) => net === other.nets[place]);

  globalThis.Weights = { UNITS, sum, written, spoken, shortly, counted, said, same };
})();
