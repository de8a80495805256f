#!/usr/bin/env python3
"""
Work a draw out again from its published record, and say whether the record tells the truth.

    python3 check_draw.py RECORD.json [--json]

Needs Python 3.9 or later and nothing else; reads one file, writes none, and asks nobody. It ends
with 0 where everything comes out as published and with 1 where something differs.

Before entries closed a secret was locked away: only the end of a chain of SHA-256s made from it
was published. The sheet was frozen, numbers were called on the bank, and only then the secret was
opened. All of that is in the texts; every peg follows from them.
"""

# ruff: noqa: T201, B905  it is a command, and prints; Python 3.9 has no strict zip
import collections
import itertools
import json
import re
import sys
from hashlib import sha256

ENTRY = r"\d+\|[A-Z0-9]{0,8}\|([A-Z0-9]{1,8}|-)\|[01]"  # number, team, section, needs easy access
SHEET = r"PEGSHEET/[12]|match=\S+|section=[A-Z0-9]{1,8}\|(\d+\.)+\|(\d+\.)*"
SHEET += rf"|entry={ENTRY}|fixed=\d+\|\d+\.|adjacent=\d+\.\d+\.|callers=(\d+\.)*"
SHEET += r"|visits=\d+\|(\d+\.)+|ends=(\d+\.)+|had=\d+\|\d+\."  # what a PEGSHEET/2 shares out
EVENT = r"PEGDRAW/1|match=\S+|event=\d+|(prev|sheet|reveal)=[0-9a-f]{64}|call=\d+\|(\d{1,4}|-)\."
EVENT += rf"|late={ENTRY}|redraw=[A-Z0-9]{{1,8}}|unsafe=\d+"


def fingerprint(text):
    return sha256(text.encode("ascii")).hexdigest()


def numbers(seed, label):
    """Random numbers from SHA-256 of "seed:label:1", "seed:label:2" ...: returns below(k)."""
    hashes = (fingerprint(f"{seed}:{label}:{counter}") for counter in itertools.count(1))
    words = (int(digits[:8], 16) for digits in hashes)

    def below(k):
        if k < 1:
            raise ValueError("there are more anglers than pegs")
        limit = 2**32 - 2**32 % k  # words from here on would favour small remainders
        return next(word for word in words if word < limit) % k if k > 1 else 0

    return below


def lines(text, first, known):
    """The values of a text by their names."""
    if not isinstance(text, str) or not text.startswith(first + "\n") or text[-1] != "\n":
        raise ValueError(f"the text does not start with {first} and end with a line feed")
    values = {}
    for line in text[:-1].split("\n"):
        if not re.fullmatch(known, line, re.ASCII):
            raise ValueError(f"the text has a line that cannot be read: {line!r}")
        name, _, value = line.partition("=")
        values.setdefault(name, []).append(value)
    return values


def whole(text):
    return [int(number) for number in re.findall(r"\d+", text)]


class Entry:
    def __init__(self, value):
        no, self.team, self.section, needs = value.split("|")
        self.no, self.needs, self.whose = int(no), needs == "1", self.team or int(no)

    def in_section(self, section):
        return Entry(f"{self.no}|{self.team}|{section}|{int(self.needs)}")


class Sheet:
    """What was frozen before any number was called."""

    def __init__(self, text):
        shares = str(text).startswith("PEGSHEET/2")
        said = lines(text, "PEGSHEET/2" if shares else "PEGSHEET/1", SHEET)
        self.match, self.sha256 = said["match"][0], fingerprint(text)
        sections = [value.split("|") for value in said.get("section", [])]
        self.pegs = {letter: whole(pegs) for letter, pegs, _ in sections}
        self.accessible = {letter: whole(pegs) for letter, _, pegs in sections}
        entries = [Entry(value) for value in said.get("entry", [])]
        self.entries = {entry.no: entry for entry in entries}
        self.fixed = dict(whole(value) for value in said.get("fixed", []))
        self.pairs = sorted(sorted(whole(value)) for value in said.get("adjacent", []))
        self.callers = sorted(whole(said.get("callers", [""])[0]))
        self.visits = {whole(value)[0]: whole(value)[1:] for value in said.get("visits", [])}
        self.ends = sorted(whole(said.get("ends", [""])[0]))
        self.had = collections.Counter()
        for no, count in map(whole, said.get("had", [])):
            self.had[self.entries[no].whose] += count
        if shares != bool({"visits", "ends", "had"} & set(said) or any(map(to_place, entries))):
            raise ValueError("a PEGSHEET/2, and no other, shares sections or end pegs")
        pegs = [peg for section in self.pegs.values() for peg in section]
        if len(set(pegs)) < len(pegs) or len(self.entries) < len(entries):
            raise ValueError("a peg or an entry is there twice")
        if any(peg not in self.pegs[self.entries[no].section] for no, peg in self.fixed.items()):
            raise ValueError("a fixed peg is not in its angler's section")


def to_place(entry):
    return entry.section == "-"


def ways(room, members):
    """Every way to put members into sections with room, in the order of the sections."""
    if not members:
        yield ()
    for n, left in enumerate(room if members else []):
        if left:
            for rest in ways([*room[:n], left - 1, *room[n + 1 :]], members - 1):
                yield (n, *rest)


def cheapest(costs, room):
    """Where each goes so that all costs together are least: one comes in after another."""
    at = []
    for cost in costs:
        far, by, changed = list(cost), {}, True
        while changed:  # those who are in may be moved on to let this one in
            changed = False
            for who, here in enumerate(at):
                for to in range(len(room)):
                    through = far[here] + costs[who][to] - costs[who][here]
                    if through < far[to]:
                        far[to], by[to], changed = through, who, True
        end = min((n for n, left in enumerate(room) if left), key=lambda n: far[n])
        if far[end] == float("inf"):
            raise ValueError("no sharing of sections has enough accessible pegs")
        room[end] -= 1
        while end in by:
            at[by[end]], end = end, at[by[end]]
        at.append(end)
    return at


def clashes(pairs, pegs, entries):
    """The pairs of neighbouring pegs that one team has both of."""
    team_on = {peg: entries[no].team for no, peg in pegs.items()}
    return [[a, b] for a, b in pairs if team_on.get(a) and team_on[a] == team_on.get(b)]


class Draw:
    """Who is on which peg, as one event after another leaves it."""

    def __init__(self, sheet):
        self.sheet, self.entries, self.pegs, self.unsafe = sheet, dict(sheet.entries), {}, set()
        self.sections = {}

    def fixed(self):
        return {no: peg for no, peg in self.sheet.fixed.items() if peg not in self.unsafe}

    def bag(self):
        gone = self.unsafe | set(self.pegs.values())
        return {s: sorted(set(pegs) - gone) for s, pegs in self.sheet.pegs.items()}

    def after(self, said, seed):
        """Do what an event says; return its attempt and clashes, where it had attempts."""
        if not self.pegs and {"late", "unsafe", "redraw"} & set(said):
            raise ValueError("it changes a draw, and none is finished before it")
        if "late" in said:
            entry = Entry(said["late"][0])
            if entry.no in self.entries:
                raise ValueError(f"late entry {entry.no} was entered before")
            self.entries[entry.no] = entry
            self.choose(entry, seed)
        elif "unsafe" in said:
            self.unsafe.add(int(said["unsafe"][0]))
            for no in [no for no, peg in self.pegs.items() if peg in self.unsafe]:
                del self.pegs[no]
                self.choose(self.entries[no], seed)
        else:
            if "redraw" not in said and any(map(to_place, self.sheet.entries.values())):
                self.line_ups(seed)
            self.pegs, attempt, left, ends = self.attempts(
                said.get("redraw", self.sheet.pegs), seed
            )
            return attempt, left, ends
        return None, [], {}

    def line_ups(self, seed):
        """Draw which member of a team fishes which section: one of the fairest ways each."""
        letters, teams = list(self.sheet.pegs), {}
        for entry in sorted(filter(to_place, self.sheet.entries.values()), key=lambda e: e.no):
            teams.setdefault(entry.team, []).append(entry)
        if set(teams) == {""}:
            return self.place(self.share_anglers(teams[""], letters, seed))
        most = -(-max(map(len, teams.values())) // len(letters))  # of a team in a section
        room = [len(self.sheet.accessible[letter]) for letter in letters]
        if max(len(letters), *map(len, teams.values())) > 8:  # 40,320 ways at most
            raise ValueError("line-ups are drawn for 8 members and 8 sections at most")
        every = {n: list(ways([most] * len(letters), n)) for n in set(map(len, teams.values()))}
        fairest = {code: self.fairest(team, every[len(team)], room) for code, team in teams.items()}
        contested = sum(any(entry.needs for entry in team) for team in teams.values()) > 1
        for attempt in range(1, 1001 if contested else 2):
            chosen, left = {}, list(room)
            for code, team in teams.items():
                below = numbers(seed, f"team/{code}/{attempt}" if contested else f"team/{code}")
                for entry, n in zip(team, fairest[code][below(len(fairest[code]))]):
                    chosen[entry.no], left[n] = letters[n], left[n] - entry.needs
            if min(left) >= 0:
                return self.place(chosen)
        raise ValueError("no line-up has enough accessible pegs")

    def share_anglers(self, anglers, letters, seed):
        """Anglers without teams: the fewest earlier visits in all, then the least sum of words."""
        pegs, places = [len(self.sheet.pegs[letter]) for letter in letters], [0] * len(letters)
        for _ in anglers:
            room = [n for n, count in enumerate(places) if count < pegs[n]]
            places[min(room, key=lambda n: places[n])] += 1
        below, visit, none = numbers(seed, "anglers"), 2**32 * len(anglers), [0] * len(letters)
        costs = [
            [count * visit + below(2**32) for count in self.sheet.visits.get(entry.no, none)]
            for entry in anglers
        ]
        # Every section twice: its places with easy access, and its others.
        easy = [min(len(self.sheet.accessible[s]), count) for s, count in zip(letters, places)]
        room = easy + [count - n for count, n in zip(places, easy)]
        costs = [
            cost + ([float("inf")] * len(cost) if entry.needs else cost)
            for entry, cost in zip(anglers, costs)
        ]
        at = cheapest(costs, room)
        return {entry.no: letters[n % len(letters)] for entry, n in zip(anglers, at)}

    def fairest(self, team, every, room):
        """The ways with the fewest earlier visits: whoever fished a section least goes there."""
        visits = [self.sheet.visits.get(entry.no, [0] * len(room)) for entry in team]
        needing = [n for n, entry in enumerate(team) if entry.needs]
        every = [way for way in every if all(room[way[n]] for n in needing)]
        costs = [sum(before[n] for before, n in zip(visits, way)) for way in every]
        least = min(costs, default=0)
        return [way for way, cost in zip(every, costs) if cost == least]

    def place(self, sections):
        """Put those whose section was drawn into it."""
        self.entries, self.sections = dict(self.sheet.entries), sections
        for no, section in sections.items():
            self.entries[no] = self.entries[no].in_section(section)

    def choose(self, entry, seed):
        """One angler chooses among the pegs still in the bag; nobody else moves."""
        left = self.bag()[entry.section]
        if entry.needs:
            left = [peg for peg in left if peg in self.sheet.accessible[entry.section]]
        self.pegs[entry.no] = left[numbers(seed, f"{entry.section}/late")(len(left))]

    def take(self, pegs):
        """What came out of a real bag; where sections were to be drawn, the pegs say which."""
        letters = {peg: s for s, ours in self.sheet.pegs.items() for peg in ours}
        self.place(
            {e.no: letters[pegs[e.no]] for e in filter(to_place, self.sheet.entries.values())}
        )
        self.pegs = pegs

    def give(self, entry, peg):
        """A peg given by hand leaves the bag; nobody else moves."""
        if not self.pegs or entry.no in self.pegs or peg not in self.bag().get(entry.section, []):
            raise ValueError(f"peg {peg} was not in the bag for entry {entry.no}")
        self.entries[entry.no], self.pegs[entry.no] = entry, peg

    def end_pegs(self, letters, others, seed, attempt):
        """
        Give the end pegs one after another along the bank, before the others are drawn.

        Nobody has a second before everybody has one; one fewer before today doubles the tickets.
        """
        below, given, sheet = numbers(seed, f"ends/{attempt}"), {}, self.sheet
        fixed = {n: p for n, p in self.fixed().items() if self.entries[n].section in letters}
        gone = self.unsafe | set(fixed.values())
        for peg in [peg for peg in sheet.ends if peg not in gone]:
            letter = next((s for s in letters if peg in sheet.pegs[s]), None)
            here = [e for e in self.entries.values() if e.section == letter]
            here = [e for e in here if e.no not in fixed and e.no not in given]
            easy = set(sheet.accessible.get(letter, ())) - gone - set(given.values())
            spare = peg not in easy or len(easy) > sum(entry.needs for entry in here)
            able = [e for e in here if (peg in easy if e.needs else spare)]
            if not able:
                continue
            held = {**others, **fixed, **given}.items()
            today = [self.entries[no].whose for no, held_peg in held if held_peg in sheet.ends]
            fewest = min(today.count(entry.whose) for entry in able)
            able = sorted((e for e in able if today.count(e.whose) == fewest), key=lambda e: e.no)
            had = [sheet.had[entry.whose] for entry in able]
            tickets = [e.no for e, n in zip(able, had) for _ in range(2 ** min(max(had) - n, 10))]
            given[tickets[below(len(tickets))]] = peg
        return given

    def section(self, letter, seed, label, given, _=None):
        """Those who need an accessible peg first, then the others from all pegs left."""
        below = numbers(seed, label)
        here = [e for e in self.entries.values() if e.section == letter]
        fixed = {**self.fixed(), **given}
        drawn = {e.no: fixed[e.no] for e in here if e.no in fixed}
        gone = self.unsafe | set(drawn.values())
        left = sorted(set(self.sheet.pegs[letter]) - gone)
        accessible = sorted(set(self.sheet.accessible[letter]) - gone)
        for entry in sorted(here, key=lambda e: (not e.needs, e.no)):
            if entry.no not in drawn:
                choice = accessible if entry.needs else left
                peg = drawn[entry.no] = choice.pop(below(len(choice)))
                if entry.needs:
                    left.remove(peg)
        return drawn

    def attempts(self, letters, seed):
        """Draw sections until no team has neighbours; after 1000 attempts the best stands."""
        pairs, pegs_of = self.sheet.pairs, {s: set(self.sheet.pegs[s]) for s in letters}
        inside = {s: [p for p in pairs if set(p) <= pegs_of[s]] for s in letters}
        pairs = [p for p in pairs if set(p) & set().union(*pegs_of.values())]
        members = [(e.team, e.section) for e in map(self.entries.get, self.sheet.entries) if e.team]
        nested = len(set(members)) < len(members)  # a team has two in one section
        own = [p for group in inside.values() for p in group] if nested else []
        once = self.by_itself if nested else self.section
        others = {n: peg for n, peg in self.pegs.items() if self.entries[n].section not in letters}
        tried = []
        for attempt in range(1, 1001):
            pegs, ends = dict(others), self.end_pegs(letters, others, seed, attempt)
            for letter in letters:
                pegs.update(once(letter, seed, f"{letter}/{attempt}", ends, inside[letter]))
            tried.append((pegs, attempt, clashes(pairs, pegs, self.entries), ends))
            if all(pair in own for pair in tried[-1][2]):
                return tried[-1]
        return min(tried, key=lambda each: len(each[2]))

    def by_itself(self, letter, seed, label, given, pairs):
        """With two or more team-mates in a section, it is drawn until they are no neighbours."""
        tried = []
        for again in range(1, 1001):
            tried.append(self.section(letter, seed, f"{label}.{again}", given))
            if not clashes(pairs, tried[-1], self.entries):
                return tried[-1]
        return min(tried, key=lambda drawn: len(clashes(pairs, drawn, self.entries)))


def check_text(said, sheet, listed, prev, commitment):
    """Yield what is wrong with an event before any peg is drawn."""
    number, link = int(said["event"][0]), said["reveal"][0]
    if said["match"][0] != sheet.match:
        yield f"it is of match {said['match'][0]}, the sheet of {sheet.match}"
    if number != listed:
        yield f"its text says that it is event {number}"
    if said["sheet"][0] != sheet.sha256:
        yield f"it was made for another sheet: the SHA-256 of this one is {sheet.sha256}"
    if said["prev"][0] != prev:
        yield f"prev is not {prev}, the seed or commitment before it"
    for _ in range(min(number, 1000)):
        link = fingerprint("PEGCHAIN/1:" + link)
    if link != commitment:
        yield "what was revealed does not lead to the commitment: it is not the locked secret"
    if sorted(whole(call)[0] for call in said.get("call", [])) != sheet.callers:
        yield f"its calls are not one from each caller of the sheet, {sheet.callers}"


def compare(said, out):
    """Yield where the record says something else than came out."""
    for key in ("kind", "seed", "attempt"):
        if said.get(key) is not None and said[key] != out[key]:
            yield f"{key} is {said[key]} in the record, and comes out as {out[key]}"
    for no, peg in (said.get("pegs") or {}).items():
        if peg != out["pegs"].get(no):
            came = out["pegs"].get(no)
            yield f"entry {no} is on peg {peg} in the record, and comes out on {came}"
    if said.get("pegs") and out["kind"] == "draw":
        for no in out["pegs"].keys() - said["pegs"].keys():
            yield f"entry {no} is missing in the record, and comes out on peg {out['pegs'][no]}"
    for what in ("sections", "ends"):
        for no, value in (said.get(what) or {}).items():
            if value != (came := out[what].get(no)):
                yield f"{what}: entry {no} has {value} in the record, and comes out with {came}"
    for letter, bag in (said.get("bag") or {}).items():
        if bag != out["bag"].get(letter):
            yield f"bag {letter} is {bag} in the record, and comes out as {out['bag'].get(letter)}"


def check(record):
    """The record as it comes out, and a list of what differs, in words."""
    try:
        return work_out(record)
    except (AttributeError, LookupError, TypeError, ValueError) as error:
        return {}, [f"The record cannot be worked out: {error}."]


def work_out(record):
    if not isinstance(record, dict) or record.get("record") != "PEGDRAW/1":
        raise ValueError('it does not say "record": "PEGDRAW/1"')
    out, differs, last, prev = {**record, "events": []}, [], 0, record.get("commitment")
    sheet = Sheet(record.get("sheet"))
    draw = Draw(sheet)
    if record.get("match", sheet.match) != sheet.match:
        differs.append(f"The record is of match {record['match']}, the sheet of {sheet.match}.")
    given = list(record.get("given", []))
    for event in [*record.get("events", []), None]:
        while given and (event is None or given[0]["after"] < event["event"]):
            by_hand = given.pop(0)
            try:
                draw.give(Entry(by_hand["entry"]), int(by_hand["peg"]))
            except (LookupError, ValueError) as error:
                differs.append(f"Given by hand after event {by_hand['after']}: {error}.")
        if event is None:
            break
        name = f"Event {event['event']}"
        came = {k: event[k] for k in ("event", "kind", "text", "why", "by") if k in event}
        out["events"].append(came)
        if event["event"] <= last:
            differs.append(f"{name} does not come after event {last}.")
        last = event["event"]
        if event.get("text") is None:
            if event.get("kind") == "hand":
                draw.take({int(no): int(peg) for no, peg in event["pegs"].items()})
                came.update(pegs=event["pegs"], bag=event.get("bag"))
            elif event.get("kind") != "abandoned":
                differs.append(f"{name} has no text: nothing shows where its pegs come from.")
            continue
        try:
            said = lines(event["text"], "PEGDRAW/1", EVENT)
            change = [key for key in ("late", "redraw", "unsafe") if key in said]
            once = ["match", "event", "prev", "sheet", "reveal", *change]
            if len(change) > 1 or any(len(said.get(key, [])) != 1 for key in once):
                raise ValueError("the text lacks a line, or has one twice")
            for wrong in check_text(said, sheet, last, prev, record.get("commitment")):
                differs.append(f"{name}: {wrong}.")
            prev = fingerprint(event["text"])
            attempt, left, ends = draw.after(said, prev)
        except (LookupError, ValueError) as error:
            differs.append(f"{name} cannot be worked out: {error}.")
            break
        came.update(kind=change[0] if change else "draw", seed=prev, attempt=attempt)
        came["pegs"] = {str(no): str(peg) for no, peg in sorted(draw.pegs.items())}
        came["bag"] = {s: [str(peg) for peg in bag] for s, bag in draw.bag().items()}
        came["sections"] = {str(no): section for no, section in draw.sections.items()}
        came["ends"] = {str(no): str(peg) for no, peg in sorted(ends.items())}
        came["clashes"] = [[str(peg) for peg in pair] for pair in left]
        differs += [f"{name}: {wrong}." for wrong in compare(event, came)]
    return out, differs


def tell(out):
    names, peg_names = out.get("names") or {}, out.get("peg_names") or {}
    for given in out.get("given", []):
        who = names.get(given["entry"].split("|")[0], given["entry"])
        print(f"Peg {peg_names.get(given['peg'], given['peg'])} given by hand to {who},", end=" ")
        print(f"after event {given['after']}, by {given.get('by')}, {given.get('at')}: ", end="")
        print(f"{given.get('why')} It follows from nothing published.")
    for event in out.get("events", []):
        print(f"Event {event['event']}: {event['kind']} {event.get('why') or ''}".rstrip())
        if event["kind"] == "hand":
            print("  drawn by hand from a bag: these pegs follow from nothing published")
        for no, peg in sorted(event.get("pegs", {}).items(), key=lambda item: int(item[1])):
            print(f"  peg {peg_names.get(peg, peg):>4}  {names.get(no, 'entry ' + no)}")


def main(arguments):
    paths = [argument for argument in arguments if argument != "--json"]
    if len(paths) != 1 or paths[0].startswith("-"):
        print("Usage: check_draw.py RECORD.json [--json]", file=sys.stderr)
        return 2
    try:
        with open(paths[0], encoding="utf-8-sig") as file:
            out, differs = check(json.load(file))
    except (OSError, ValueError) as error:
        print(f"{paths[0]} cannot be read: {getattr(error, 'strerror', error)}.", file=sys.stderr)
        return 1
    if "--json" in arguments:
        print(json.dumps({**out, "differs": differs}, indent=1, ensure_ascii=False))
    else:
        tell(out)
        print("It differs." if differs else "Everything comes out as published.")
    for wrong in differs:
        print("DIFFERS:", wrong, file=sys.stderr)
    return 1 if differs else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
