"""What a draw shares out besides the pegs: sections among members or anglers, and end pegs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from league.rules.draw_chain import Stream
from league.rules.draw_engine import Bag, Pegs
from league.rules.draw_sheet import TO_DRAW, Entry, Sheet, listed
from league.rules.rotation import LineUp, draw_line_ups, ticket
from league.rules.rotation_anglers import even_places, share_anglers

# A team behind by more end pegs than this is as sure of one as it can be.
MOST_BEHIND = 10
# So many members share so many sections at most: anybody's checker lists their 40,320 ways in a
# moment, and more it does not.
MOST_MEMBERS = 8


@dataclass(frozen=True, slots=True)
class Ways:
    """How a team's sections were shared: one way of so many that are equally fair."""

    team: str
    way: int  # counts from 1
    of: int
    shared: bool  # what its members fished before was counted


@dataclass(frozen=True, slots=True)
class Least:
    """How anglers without teams were shared: how many are where each had fished least."""

    anglers: int
    of: int
    shared: bool  # what they fished before was counted


@dataclass(frozen=True, slots=True)
class Placed:
    """The sheet with every section known, and how the line-ups came about."""

    sheet: Sheet
    sections: Mapping[int, str] = field(default_factory=dict)
    ways: tuple[Ways, ...] = ()
    attempt: int | None = None
    alone: Least | None = None


def place(sheet: Sheet, seed: str) -> Placed:
    """
    Draw which member of each team fishes which section; without any to draw, nothing happens.

    Every team has a stream of its own. Members are taken by entry number, and the ways to share
    stand in the order of the sections, member by member.
    """
    teams = _teams(sheet)
    if not teams:
        return _place_alone(sheet, seed)
    letters = [section.letter for section in sheet.sections]
    visits = dict(sheet.visits)
    none = (0,) * len(letters)
    drawn = draw_line_ups(
        seed,
        letters,
        [
            LineUp(
                code,
                len(members),
                tuple(visits.get(entry.no, none) for entry in members),
                frozenset(n for n, entry in enumerate(members) if entry.needs),
            )
            for code, members in teams.items()
        ],
        accessible={section.letter: len(section.accessible) for section in sheet.sections},
        per_section=members_a_section(sheet),
    )
    section_of = {
        entry.no: letter
        for code, members in teams.items()
        for entry, letter in zip(members, drawn.sections[code], strict=True)
    }
    ways = tuple(
        Ways(code, way + 1, of, any(any(visits.get(e.no, ())) for e in teams[code]))
        for code, (way, of) in drawn.ways.items()
    )
    return Placed(with_sections(sheet, section_of), section_of, ways, drawn.attempt)


def _place_alone(sheet: Sheet, seed: str) -> Placed:
    """Draw which angler without a team fishes which section, all of them in one sharing."""
    anglers = sheet.to_place
    if not anglers:
        return Placed(sheet)
    visits = dict(sheet.visits)
    rows = [visits.get(entry.no, (0,) * len(sheet.sections)) for entry in anglers]
    chosen = share_anglers(
        rows,
        even_places(len(anglers), [len(section.pegs) for section in sheet.sections]),
        Stream(seed, "anglers").below,
        needing={n for n, entry in enumerate(anglers) if entry.needs},
        easy=[len(section.accessible) for section in sheet.sections],
    )
    section_of = {
        entry.no: sheet.sections[n].letter for entry, n in zip(anglers, chosen, strict=True)
    }
    least = sum(row[n] == min(row) for row, n in zip(rows, chosen, strict=True))
    alone = Least(least, len(anglers), any(map(any, rows)))
    return Placed(with_sections(sheet, section_of), section_of, alone=alone)


def with_sections(sheet: Sheet, section_of: Mapping[int, str]) -> Sheet:
    """The sheet with the sections of these entries filled in."""
    entries = tuple(
        replace(entry, section=section_of.get(entry.no, entry.section)) for entry in sheet.entries
    )
    return replace(sheet, entries=entries)


def members_a_section(sheet: Sheet) -> int:
    """How many members a team has in a section at most: as few as take the largest team."""
    largest = max((len(members) for members in _teams(sheet).values()), default=0)
    return -(-largest // max(len(sheet.sections), 1))


@dataclass(frozen=True, slots=True)
class EndPegs:
    """
    The end pegs of the sections drawn, and who may be given them.

    *had* counts by team, or by angler where there is no team, before this draw; *standing* are the
    pegs of those who are not drawn now.
    """

    pegs: tuple[int, ...]
    entries: Mapping[int, Entry]
    had: Mapping[str, int]
    standing: Pegs

    def give(self, bags: tuple[Bag, ...], seed: str, attempt: int) -> Pegs:
        """
        Give the end pegs one after another along the bank, each to the holder of a ticket.

        An end peg fewer than the most doubles the tickets. Nobody gets a second before everybody
        who could have one has a first, and nobody who needs an accessible peg goes without.
        """
        below = Stream(seed, f"ends/{attempt}").below
        given: Pegs = {}
        today = self._held(bags)
        for peg in sorted(self.pegs):
            bag = next((bag for bag in bags if peg in bag.pegs), None)
            able = list(_able(bag, peg, given)) if bag else []
            if not able:
                continue
            fewest = min(today[self._whose(no)] for no in able)
            able = [no for no in able if today[self._whose(no)] == fewest]
            most = max(self.had[self._whose(no)] for no in able)
            tickets = {no: 2 ** min(most - self.had[self._whose(no)], MOST_BEHIND) for no in able}
            lucky = ticket(tickets, below)
            given[lucky] = peg
            today[self._whose(lucky)] += 1
        return given

    def _held(self, bags: tuple[Bag, ...]) -> Counter[str]:
        """The end pegs of today that are not to be given any more, by whose they are."""
        pegs = dict(self.standing)
        for bag in bags:
            pegs |= bag.fixed
        return Counter(self._whose(no) for no, peg in pegs.items() if peg in self.pegs)

    def _whose(self, no: int) -> str:
        return whose(self.entries[no])


def end_pegs_had(sheet: Sheet) -> Counter[str]:
    """How many end pegs each team, or angler alone, has had before this draw."""
    had: Counter[str] = Counter()
    for no, count in sheet.had:
        had[whose(sheet.by_no[no])] += count
    return had


def whose(entry: Entry) -> str:
    """Who is counted for an entry's end peg: its team, or the angler where there is none."""
    return entry.team or f"entry {entry.no}"


def faults(sheet: Sheet, teams: Mapping[str, str]) -> Iterator[str]:
    """
    What makes a sheet that shares things out impossible to draw, in words.

    *teams* are the shown names of the team codes.
    """
    if not sheet.shares:
        return
    yield from _of_visits(sheet)
    pegs = {peg for section in sheet.sections for peg in section.pegs}
    for peg in sorted(set(sheet.ends) - pegs):
        yield f"End peg {peg} is on the sheet nowhere else."
    for peg, times in sorted(Counter(sheet.ends).items()):
        if times > 1:
            yield f"End peg {peg} is on the sheet twice."
    for no, times in sorted(Counter(no for no, _ in sheet.had).items()):
        if no not in sheet.by_no or times > 1:
            yield f"The end pegs had are said {'twice' if times > 1 else 'for nobody'}: entry {no}."
    yield from _of_teams(sheet, teams)


def _of_visits(sheet: Sheet) -> Iterator[str]:
    waiting = {entry.no for entry in sheet.to_place}
    for no, counts in sheet.visits:
        if no not in waiting:
            yield f"Entry {no} has a section, so what it fished before cannot be counted."
        if len(counts) != len(sheet.sections):
            yield f"Entry {no} fished {len(counts)} sections; the sheet has {len(sheet.sections)}."
    for no, times in sorted(Counter(no for no, _ in sheet.visits).items()):
        if times > 1:
            yield f"What entry {no} fished before is on the sheet twice."


def _of_teams(sheet: Sheet, names: Mapping[str, str]) -> Iterator[str]:
    teams = _teams(sheet)
    fixed = dict(sheet.fixed)
    for entry in sheet.to_place:
        if teams and not entry.team:
            yield f"Entry {entry.no} has no team to share sections with. Choose a section."
        if entry.no in fixed:
            yield f"Entry {entry.no} has a fixed peg, so its section cannot be drawn. Choose it."
    for code in sorted(teams):
        if len(teams[code]) > MOST_MEMBERS:
            yield (
                f"{names.get(code, code)} has {len(teams[code])} members, and the draw shares "
                f"sections among {MOST_MEMBERS} at most. Choose the sections by hand."
            )
    placed = [entry.no for entry in sheet.entries if entry.section != TO_DRAW]
    if sheet.to_place and placed:
        yield (
            f"Who fishes which section is drawn for the others, and entry {listed(placed)} has one "
            "already. Choose every section, or none."
        )
    if teams and len(sheet.sections) > MOST_MEMBERS:
        yield (
            f"There are {len(sheet.sections)} sections, and it is drawn who fishes which in "
            f"{MOST_MEMBERS} at most. Choose the sections by hand."
        )
    pegs = sum(len(section.pegs) for section in sheet.sections)
    if not teams and len(sheet.to_place) > pegs:
        yield f"There are {len(sheet.to_place)} anglers to draw and {pegs} pegs. Add pegs."
    most = members_a_section(sheet)
    for section in sheet.sections if teams else ():
        to_come = sum(min(most, len(members)) for members in teams.values())
        if to_come > len(section.pegs):
            yield (
                f"Section {section.letter} has {len(section.pegs)} pegs, and {to_come} "
                "anglers may come out in it. Add pegs, or choose the sections by hand."
            )


def _teams(sheet: Sheet) -> dict[str, list[Entry]]:
    """The members whose section is drawn, by team and by entry number."""
    teams: dict[str, list[Entry]] = {}
    for entry in sheet.to_place:
        if entry.team:
            teams.setdefault(entry.team, []).append(entry)
    return teams


def _able(bag: Bag, peg: int, given: Pegs) -> Iterator[int]:
    """Who may be given *peg*, by entry number: those who leave enough for the others."""
    accessible = peg in bag.accessible
    waiting = sum(no not in given for no in bag.needing)
    left = sum(each not in given.values() for each in bag.accessible)
    for no in sorted((*bag.needing, *bag.others)):
        if no in given:
            continue
        if no in bag.needing and not accessible:
            continue
        if no not in bag.needing and accessible and left - 1 < waiting:
            continue
        yield no
