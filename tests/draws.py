"""A small draw for the tests, and made-up ones of every kind for two programs to agree upon."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from hashlib import sha256
from random import Random

from league.files.draw import Abandoned, Listed, Record
from league.rules import draw
from league.rules.errors import DrawError

LINKS = draw.chain("0" * 64)

# Two sections of three; entry 2 needs accessible peg 2, entry 6 was given peg 13 before the draw.
SHEET = draw.Sheet(
    match="round-3",
    sections=(draw.Section("A", (1, 2, 3, 4), (2, 4)), draw.Section("B", (11, 12, 13, 14))),
    entries=(
        draw.Entry(1, "RED", "A"),
        draw.Entry(2, "BLU", "A", needs=True),
        draw.Entry(3, "GRN", "A"),
        draw.Entry(4, "RED", "B"),
        draw.Entry(5, "BLU", "B"),
        draw.Entry(6, "", "B"),
    ),
    adjacent=((4, 11),),
    callers=(1, 5),
    fixed=((6, 13),),
)


def event(
    number: int = 1,
    prev: str = LINKS[5],
    change: draw.Change | None = None,
    calls: Iterable[draw.Call] = ((1, 7), (5, 0)),
    sheet: draw.Sheet = SHEET,
) -> draw.Event:
    """An event with nothing special about it."""
    return draw.make_event(
        sheet, number=number, prev=prev, calls=calls, reveal=LINKS[5 - number], change=change
    )


FIRST = event()


def _hopeless(
    sections: tuple[draw.Section, ...],
    pairs: tuple[tuple[int, int], ...],
    members: Iterable[str],
) -> Record:
    entries = tuple(draw.Entry(no, "RED", letter) for no, letter in enumerate(members, 1))
    sheet = draw.Sheet("hopeless", sections, entries, pairs)
    return Record(sheet, LINKS[5], (event(sheet=sheet, calls=()),))


# No attempt keeps team-mates apart: next door, or inside one section, which is another way.
HOPELESS = [
    _hopeless((draw.Section("A", (1, 2)), draw.Section("B", (3,))), ((2, 3),), "AAB"),
    _hopeless((draw.Section("A", (1,)), draw.Section("B", (2,))), ((1, 2),), "AB"),
    _hopeless((draw.Section("A", (1, 2, 3)),), ((1, 2), (2, 3)), "AAA"),
    _hopeless((draw.Section("A", (1, 2, 3, 4)),), ((1, 2), (2, 3), (3, 4)), "AAA"),
]

TEAMS = ("RED", "BLU", "GRN", "TAN", "OAK", "ELM")


def random_sheet(chance: Random) -> draw.Sheet:
    """A sheet that can be drawn, small enough for clashes, fixed and accessible pegs to matter."""
    teams = TEAMS[: chance.randint(2, 6)]
    per_section = chance.choice((1, 1, 2))
    peg = chance.randint(1, 30)
    sections: list[draw.Section] = []
    entries: list[draw.Entry] = []
    fixed: list[tuple[int, int]] = []
    adjacent: list[tuple[int, int]] = []
    for letter in "ABCD"[: chance.randint(1, 4)]:
        anglers = len(teams) * per_section
        pegs = [peg + n for n in range(anglers + chance.randint(1, 4))]
        accessible = sorted(chance.sample(pegs, chance.randint(0, 3)))
        if sections and chance.random() < 0.8:
            adjacent.append((peg - 1, peg))
        if per_section > 1:
            adjacent += [(one, one + 1) for one in pegs[:-1] if chance.random() < 0.6]
        peg = pegs[-1] + 1
        sections.append(draw.Section(letter, tuple(pegs), tuple(accessible)))
        needing = chance.randint(0, len(accessible))
        for n, team in enumerate(list(teams) * per_section):
            code = "" if chance.random() < 0.1 else team
            entries.append(draw.Entry(0, code, letter, needs=n < needing))
    chance.shuffle(entries)
    entries = [replace(entry, no=no) for no, entry in enumerate(entries, 1)]
    if chance.random() < 0.4:
        entry = chance.choice(entries)
        section = next(each for each in sections if each.letter == entry.section)
        if not entry.needs:
            fixed.append((entry.no, chance.choice(section.pegs)))
    callers = sorted(chance.sample([entry.no for entry in entries], chance.randint(0, 2)))
    sheet = draw.Sheet(
        f"match-{chance.randint(1, 99)}",
        tuple(sections),
        tuple(entries),
        tuple(adjacent),
        tuple(callers),
        tuple(fixed),
    )
    return random_sheet(chance) if draw.faults(sheet) else sheet


def sharing_sheet(chance: Random) -> draw.Sheet:
    """A sheet that shares end pegs by tickets, and mostly who of a team fishes which section."""
    sheet = random_sheet(chance)
    ends = {peg for each in sheet.sections for peg in (each.pegs[0], each.pegs[-1])}
    owners = {entry.team or f"entry {entry.no}": entry.no for entry in sheet.entries}
    if chance.random() < 0.7:
        had = [(no, chance.randint(1, 4)) for no in owners.values() if chance.random() < 0.6]
        sheet = replace(sheet, ends=tuple(sorted(ends)), had=tuple(sorted(had)))
    if chance.random() < 0.7 or not sheet.ends:
        counts = range(len(sheet.sections))
        entries = tuple(
            replace(
                entry,
                team=entry.team or "LONE",
                section=draw.TO_DRAW,
                needs=entry.needs and chance.random() < 0.3,
            )
            for entry in sheet.entries
        )
        visits = [
            (entry.no, tuple(chance.randint(0, 2) for _ in counts))
            for entry in entries
            if chance.random() < 0.7
        ]
        visits = visits if chance.random() < 0.6 else []
        sheet = replace(sheet, entries=entries, fixed=(), visits=tuple(visits))
    try:
        draw.rehearse(sheet)
    except DrawError:
        return sharing_sheet(chance)
    return sharing_sheet(chance) if draw.faults(sheet) else sheet


def alone_sheet(chance: Random) -> draw.Sheet:
    """A sheet whose anglers have no team, and are shared among the sections all the same."""
    sheet = random_sheet(chance)
    entries = tuple(
        replace(entry, team="", section=draw.TO_DRAW, needs=entry.needs and chance.random() < 0.6)
        for entry in sheet.entries
    )
    visits = tuple(
        (entry.no, tuple(chance.randint(0, 2) for _ in sheet.sections))
        for entry in entries
        if chance.random() < 0.7
    )
    ends = sorted({peg for each in sheet.sections for peg in (each.pegs[0], each.pegs[-1])})
    sheet = replace(
        sheet,
        entries=entries,
        fixed=(),
        adjacent=(),
        visits=visits if chance.random() < 0.8 else (),
        ends=tuple(ends) if chance.random() < 0.4 else (),
    )
    try:
        draw.rehearse(sheet)
    except DrawError:
        return alone_sheet(chance)
    return sheet


def alone_record(number: int) -> Record:
    """A draw that shares sections among anglers without teams, with later events like any other."""
    return _record(number, alone_sheet)


def sharing_record(number: int) -> Record:
    """A draw that shares sections or end pegs, with later events like any other."""
    return _record(number, sharing_sheet)


def random_record(number: int) -> Record:
    """A draw with up to four later events, some of them abandoned, one in ten by hand."""
    return _record(number, random_sheet)


def _record(number: int, make: Callable[[Random], draw.Sheet]) -> Record:
    chance = Random(number)
    sheet = make(chance)
    links = draw.chain(sha256(b"%d" % number).hexdigest())
    listed: list[Listed] = []
    record = Record(sheet, links[5])
    for event_number in range(1, chance.randint(1, 5) + 1):
        event = _event(chance, record, links, event_number)
        listed.append(event)
        found = replace(record, events=tuple(listed))
        try:
            found.outcomes()
        except DrawError:  # no peg left, or nothing drawn yet: such an event is never finished
            listed[-1] = Abandoned(event_number, "The bag was empty.")
            found = replace(record, events=tuple(listed))
        record = found if make is random_sheet else _given_by_hand(chance, found)
    return replace(record, names={no: f"Angler {no}" for no in sheet.by_no})


def _given_by_hand(chance: Random, record: Record) -> Record:
    """Now and then somebody is given a peg by hand between two events."""
    outcomes = record.outcomes()
    free = [(s, peg) for s, pegs in outcomes[-1].bag.items() for peg in pegs] if outcomes else []
    if not free or chance.random() < 0.6:
        return record
    letter, peg = chance.choice(free)
    after = record.events[-1].number
    entry = draw.Entry(200 + after, chance.choice(TEAMS), letter)
    given = draw.Given(after, entry, peg, "Len Cudworthy", "2026-11-29 08:40", "Came late.")
    return replace(record, given=(*record.given, given))


def _event(chance: Random, record: Record, links: list[str], number: int) -> Listed:
    if chance.random() < 0.15:
        return Abandoned(number, "The signal went.")
    sheet = record.sheet
    finished = record.finished
    prev = next((event.seed for event in reversed(finished) if event.seed), links[5])
    calls = [
        (no, None if chance.random() < 0.2 else chance.randint(0, 9999)) for no in sheet.callers
    ]
    section = chance.choice(sheet.sections)
    change: draw.Change | None = None
    if finished:
        late = draw.Entry(100 + number, chance.choice(TEAMS), section.letter, chance.random() < 0.2)
        change = chance.choice(
            [
                draw.Late(late),
                draw.Redraw(section.letter),
                draw.Unsafe(chance.choice(section.pegs)),
            ]
        )
    event = draw.make_event(
        sheet, number=number, prev=prev, calls=calls, reveal=links[5 - number], change=change
    )
    if finished or chance.random() < 0.9:
        return event
    return draw.ByHand(number, draw.run(sheet, event).pegs, "Len Cudworthy")
