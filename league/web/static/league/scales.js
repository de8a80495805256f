// The keys at the scales. The form works without them: they fill in its boxes and choose its status,
// and what is sent is the form. Adding up what was read is all that is worked out here; what counts
// of a net over the limit, the server says.
(() => {
  "use strict";
  const start = (form) => {
    const IS_KG = form.dataset.unit === "kg";
    const UNITS = IS_KG
      ? { whole: "kg", part: "g", size: 1000, least: 1 } // in grams
      : { whole: "lb", part: "oz", size: 256, least: 16 }; // in drams
    const MOST_FIGURES = 3;
    const LIMIT = form.dataset.limit ? Number(form.dataset.limit) : null;
    const find = (selector) => form.querySelector(selector);
    const plain = find(".plain");
    const pad = find(".pad");
    const save = find("[data-save]");
    const boxes = () => [...form.querySelectorAll("input[name=nets]")];

    // ---- what has been read: a net is {whole, part}, both as typed; an empty part is not read yet
    const READING = IS_KG ? /^(\d{1,3})[.,](\d{1,3})$/ : /^(\d{1,3})-(\d{1,2})$/;
    const parse = (typed) => {
      const text = typed.trim();
      if (/^\d{1,3}$/.test(text)) return { whole: text, part: IS_KG ? "000" : "0" };
      const found = READING.exec(text);
      if (!found || (!IS_KG && Number(found[2]) > 15)) return null;
      return { whole: found[1], part: IS_KG ? found[2].padEnd(3, "0") : String(Number(found[2])) };
    };
    const isEmpty = (net) => net.whole === "" && net.part === "";
    const isRead = (net) => net.part !== "" && (!IS_KG || net.part.length === 3);
    const amount = (net) => Number(net.whole) * UNITS.size + Number(net.part) * UNITS.least;
    const written = (net) =>
      IS_KG ? `${net.whole || 0}.${net.part}` : `${net.whole || 0}-${net.part}`;
    const spoken = (sum) => {
      const whole = Math.floor(sum / UNITS.size);
      const part = (sum % UNITS.size) / UNITS.least;
      return IS_KG ? `${whole}.${String(part).padStart(3, "0")} kg` : `${whole} lb ${part} oz`;
    };
    const shortly = (sum) => (sum % UNITS.size ? spoken(sum) : `${sum / UNITS.size} ${UNITS.whole}`);

    const typed = boxes().map((box) => box.value).filter((value) => value.trim() !== "");
    const nets = typed.map(parse);
    if (nets.includes(null)) return; // something the keys cannot show: the boxes stay
    if (!nets.length || form.dataset.opens === "new") nets.push({ whole: "", part: "" });
    const opens = Number(form.dataset.opens);
    const state = {
      here: opens >= 1 && opens <= nets.length ? opens - 1 : nets.length - 1,
      slot: "whole",
      // the next figure pressed begins the reading anew
      anew: true,
      status: find("input[name=status]:checked")?.value || "weighed",
    };

    // ---- what the keys do
    const net = () => nets[state.here];
    const goTo = (slot) => {
      state.slot = slot;
      state.anew = true;
    };
    const press = {
      digit(figure) {
        const longest = state.slot === "part" && !IS_KG ? 2 : MOST_FIGURES;
        const before = state.anew ? "" : net()[state.slot];
        let after = before + figure;
        // from a keyboard: 1 then 2 is twelve ounces, but 1 then 8 begins again at 8
        if (state.slot === "part" && !IS_KG && Number(after) > 15) after = figure;
        if (after.length > longest) return;
        net()[state.slot] = state.slot === "whole" ? String(Number(after)) : after;
        if (state.slot === "part" && !IS_KG) net().part = String(Number(after));
        if (net().whole === "") net().whole = "0";
        state.anew = false;
      },
      ounce(ounces) {
        net().part = ounces;
        if (net().whole === "") net().whole = "0";
        state.anew = true;
      },
      rub() {
        if (state.slot === "part" && net().part === "") return goTo("whole");
        const before = net()[state.slot];
        net()[state.slot] = state.anew && state.slot === "whole" ? "" : before.slice(0, -1);
        if (state.slot === "whole" && net().whole === "") net().part = "";
        state.anew = false;
      },
      net(number) {
        if (isEmpty(net()) && number !== state.here) {
          nets.splice(state.here, 1);
          if (number > state.here) number -= 1;
        }
        if (number >= nets.length) nets.push({ whole: "", part: "" });
        state.here = Math.min(number, nets.length - 1);
        goTo("whole");
      },
      status(status) {
        state.status = state.status === status ? "weighed" : status;
      },
    };

    // ---- what is shown
    const show = () => {
      const weighed = state.status === "weighed";
      const read = nets.filter((each) => !isEmpty(each));
      const sum = read.filter(isRead).reduce((total, each) => total + amount(each), 0);
      const whole = read.reduce((total, each) => total + amount(each), 0);
      const over = LIMIT === null ? -1 : nets.findIndex((each) => amount(each) > LIMIT);
      const ready = !weighed || (read.length > 0 && read.every(isRead) && sum > 0);

      const list = find(".nets");
      list.replaceChildren(
        ...nets.map((each, place) => {
          const button = document.createElement("button");
          button.type = "button";
          button.dataset.net = place;
          if (place === state.here) button.className = "here";
          button.setAttribute("aria-pressed", String(place === state.here));
          const label = document.createElement("small");
          label.textContent = `Net ${place + 1}`;
          const figure = isEmpty(each) ? "–" : isRead(each) ? written(each) : `${each.whole} ${UNITS.whole}`;
          button.append(label, figure);
          return button;
        }),
      );
      if (!isEmpty(nets[nets.length - 1])) {
        const add = document.createElement("button");
        add.type = "button";
        add.className = "add";
        add.dataset.net = nets.length;
        add.textContent = `+ net ${nets.length + 1}`;
        list.append(add);
      }

      for (const slot of form.querySelectorAll(".slot")) {
        const value = net()[slot.dataset.slot];
        slot.querySelector("b").textContent = value === "" ? "–" : value;
        slot.classList.toggle("empty", value === "");
        slot.classList.toggle("here", slot.dataset.slot === state.slot);
        slot.setAttribute("aria-pressed", String(slot.dataset.slot === state.slot));
      }
      for (const board of form.querySelectorAll("[data-board]")) {
        board.hidden = !weighed || board.dataset.board !== state.slot;
      }
      for (const key of form.querySelectorAll("[data-ounce]")) {
        const down = net().part === key.dataset.ounce;
        key.classList.toggle("down", down);
        key.setAttribute("aria-pressed", String(down));
      }
      for (const key of form.querySelectorAll("[data-status]")) {
        const down = key.dataset.status === state.status;
        key.classList.toggle("down", down);
        key.setAttribute("aria-pressed", String(down));
      }
      for (const part of [list, find(".reading"), find(".pad .sofar")]) part.hidden = !weighed;
      const instead = find(".instead");
      instead.hidden = weighed;
      instead.textContent = weighed ? "" : find(`[data-status="${state.status}"]`).textContent;
      // the keys for a fish or none at all; once something is read the room goes to the save key
      find(".other").hidden = weighed && read.length > 0;
      find("[data-on]").classList.toggle("nextkey", !ready);
      save.hidden = !ready;

      const left = LIMIT === null ? "" : LIMIT - amount(net());
      find("[data-left]").textContent =
        LIMIT === null ? "" : left < 0 ? `Over ${form.dataset.limitSaid} in this net` : `${shortly(left)} left in this net`;
      find("[data-total]").textContent = IS_KG || isRead(net()) || isEmpty(net()) ? spoken(whole) : shortly(whole);
      save.querySelector("span").textContent =
        over >= 0 && weighed
          ? `Net ${over + 1} is over ${form.dataset.limitSaid}: what counts?`
          : `Agreed: save ${weighed ? spoken(sum) : instead.textContent.toLowerCase()}`;
    };

    const fill = () => {
      for (const choice of form.querySelectorAll("input[name=status]")) {
        choice.checked = choice.value === state.status;
      }
      const read = state.status === "weighed" ? nets.filter((each) => !isEmpty(each)) : [];
      while (boxes().length < read.length) {
        const box = document.createElement("input");
        box.type = "hidden";
        box.name = "nets";
        plain.append(box);
      }
      boxes().forEach((box, place) => {
        box.value = place < read.length ? written(read[place]) : "";
      });
    };

    form.addEventListener("click", (event) => {
      const key = event.target.closest("button");
      if (!key || key === save) return;
      const { digit, ounce, status, slot, net: number } = key.dataset;
      if (digit !== undefined) press.digit(digit);
      else if (ounce !== undefined) press.ounce(ounce);
      else if (status !== undefined) press.status(status);
      else if (number !== undefined) press.net(Number(number));
      else if (slot !== undefined) goTo(slot);
      else if ("rub" in key.dataset) press.rub();
      else if ("on" in key.dataset) goTo("part");
      else if ("back" in key.dataset) goTo("whole");
      else return;
      show();
      if (number !== undefined) find(`[data-net="${state.here}"]`)?.focus();
    });

    // A keyboard in the clubhouse: figures, then - or . or Tab for the second part, + for the next
    // net, Enter to save.
    const gone = new AbortController();
    document.addEventListener("keydown", (event) => {
      if (!form.isConnected) return gone.abort();
      if (event.ctrlKey || event.altKey || event.metaKey) return;
      if (event.target.closest("input, textarea, select")) return;
      const onAKey = event.target.closest("button, a");
      if (/^\d$/.test(event.key) && state.status === "weighed") press.digit(event.key);
      else if (event.key === "Backspace") press.rub();
      else if (["-", ".", ",", " "].includes(event.key) && !(onAKey && event.key === " ")) goTo("part");
      else if (event.key === "+" && isRead(net())) press.net(nets.length);
      else if (event.key === "Enter" && !onAKey && !save.hidden) return save.click();
      else return;
      event.preventDefault();
      show();
    }, { signal: gone.signal });

    form.addEventListener("submit", fill);
    plain.hidden = true;
    pad.hidden = false;
    form.classList.add("with-keys");
    show();
    return {
      status: () => state.status,
      nets: () => (state.status === "weighed" ? nets.filter((each) => !isEmpty(each)).map(amount) : []),
    };
  };

  globalThis.ScalesPad = { start };
  const form = document.querySelector("form.weigh");
  if (form) start(form);
})();
