"""What stops a sheet from being drawn, and what is only worth asking about before it is frozen."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from itertools import chain
from typing import TypeVar

from league.rules import draw_shares
from league.rules.draw_sheet import TO_DRAW, Section, Sheet, listed

# Numbers, letters, pairs of numbers: whatever sorts.
T = TypeVar("T", int, str, tuple[int, int])

CODE = re.compile(r"[A-Z0-9]{1,8}")


def faults(sheet: Sheet, teams: Mapping[str, str] | None = None) -> list[str]:
    """
    Everything that makes the sheet impossible to draw, in words, all at once.

    *teams* are the shown names of the team codes.
    """
    return [
        *_of_words(sheet),
        *_of_pegs(sheet),
        *_of_entries(sheet),
        *_of_fixed(sheet),
        *chain.from_iterable(_of_room(sheet, section) for section in sheet.sections),
        *_of_callers(sheet),
        *draw_shares.faults(sheet, teams or {}),
    ]


def doubts(sheet: Sheet, teams: Mapping[str, str] | None = None) -> list[str]:
    """What can be drawn, but looks like a slip; *teams* are the shown names of the team codes."""
    names = teams or {}
    return [*_short_teams(sheet, names), *_few_members(sheet, names), *_few_callers(sheet)]


def hand_faults(sheet: Sheet, pegs: Mapping[int, int], *, whole: bool = True) -> list[str]:
    """What no draw could have given; without *whole*, anglers still to draw are no fault."""
    section_of = {peg: section for section in sheet.sections for peg in section.pegs}
    wrong = [f"Peg {peg} came out twice." for peg in _twice(pegs.values())]
    for no, peg in sorted(pegs.items()):
        entry, section = sheet.by_no.get(no), section_of.get(peg)
        if entry is None:
            wrong.append(f"Entry {no} is not on the sheet.")
        elif section is None:
            wrong.append(f"Entry {no} is on peg {peg}, which is not on the sheet.")
        elif section.letter != entry.section:
            wrong.append(
                f"Entry {no} is in section {entry.section}, peg {peg} in section {section.letter}."
            )
        elif entry.needs and peg not in section.accessible:
            wrong.append(f"Entry {no} needs an accessible peg, and {peg} is not one.")
        if dict(sheet.fixed).get(no, peg) != peg:
            wrong.append(f"Entry {no} was given peg {dict(sheet.fixed)[no]} before the draw.")
    missing = sorted(sheet.by_no.keys() - pegs.keys())
    if whole and missing:
        wrong.append(
            f"No peg yet for {'entry' if len(missing) == 1 else 'entries'} {listed(missing)}."
        )
    return wrong


def _of_words(sheet: Sheet) -> Iterator[str]:
    if not re.fullmatch(r"[!-~]+", sheet.match):
        yield f"The match is plain letters, figures and signs without spaces, not {sheet.match!r}."
    for section in sheet.sections:
        if not CODE.fullmatch(section.letter):
            yield f"A section is 1 to 8 of A-Z and 0-9, not {section.letter!r}."
    for letter in _twice(section.letter for section in sheet.sections):
        yield f"Section {letter} is on the sheet twice."
    for team in sorted({entry.team for entry in sheet.entries}):
        if team and not CODE.fullmatch(team):
            yield f"A team's code is 1 to 8 of A-Z and 0-9, not {team!r}."


def _of_pegs(sheet: Sheet) -> Iterator[str]:
    pegs = [peg for section in sheet.sections for peg in section.pegs]
    for peg in _twice(pegs):
        yield (
            f"Peg {peg} is on the sheet twice. Where two waters share a number, "
            "number the pegs 1, 2, 3 ... along the bank."
        )
    for section in sheet.sections:
        for peg in sorted(set(section.accessible) - set(section.pegs)):
            yield f"Accessible peg {peg} is not among the pegs of section {section.letter}."
        for peg in _twice(section.accessible):
            yield f"Accessible peg {peg} of section {section.letter} is there twice."
    for peg in sorted(peg for peg in pegs if peg < 0):
        yield f"A peg is a whole number, not {peg}."
    for one, other in sheet.adjacent:
        if one == other:
            yield f"Peg {one} cannot be its own neighbour."
        for peg in sorted({one, other} - set(pegs)):
            yield f"Neighbours {one} and {other}: peg {peg} is on the sheet nowhere else."
    for one, other in _twice((min(pair), max(pair)) for pair in sheet.adjacent):
        yield f"Neighbours {one} and {other} are on the sheet twice."


def _of_entries(sheet: Sheet) -> Iterator[str]:
    letters = {TO_DRAW, *(section.letter for section in sheet.sections)}
    if not sheet.entries:
        yield "Nobody is entered."
    for no in _twice(entry.no for entry in sheet.entries):
        yield f"Entry {no} is on the sheet twice."
    for entry in sheet.entries:
        if entry.no < 1:
            yield f"Entries are numbered 1, 2, 3 ..., not {entry.no}."
        if entry.section not in letters:
            yield f"Entry {entry.no} is in section {entry.section!r}, which is not on the sheet."


def _of_fixed(sheet: Sheet) -> Iterator[str]:
    for no in _twice(no for no, _ in sheet.fixed):
        yield f"Entry {no} has two fixed pegs."
    for peg in _twice(peg for _, peg in sheet.fixed):
        yield f"Peg {peg} is fixed for two anglers."
    for no, peg in sheet.fixed:
        entry = sheet.by_no.get(no)
        if not entry:
            yield f"Peg {peg} is fixed for entry {no}, who is not on the sheet."
            continue
        section = next((each for each in sheet.sections if each.letter == entry.section), None)
        if section and peg not in section.pegs:
            yield f"Peg {peg} is fixed for entry {no}, but is not in section {entry.section}."
        elif section and entry.needs and peg not in section.accessible:
            yield f"Peg {peg} is fixed for entry {no}, who needs an accessible peg; it is not one."


def _of_room(sheet: Sheet, section: Section) -> Iterator[str]:
    """
    Whether everybody in a section can be given a peg at all.

    Counting is enough: the accessible pegs are among all pegs, so a choice for those who need
    one can always be completed for the others.
    """
    fixed = {no: peg for no, peg in sheet.fixed if peg in section.pegs}
    free = set(section.pegs) - set(fixed.values())
    accessible = free & set(section.accessible)
    drawing = [e for e in sheet.entries if e.section == section.letter and e.no not in fixed]
    needing = [entry for entry in drawing if entry.needs]
    if len(drawing) > len(free):
        yield (
            f"Section {section.letter} has {len(drawing)} anglers to draw and {len(free)} pegs. "
            "Add pegs, or move an angler."
        )
    if len(needing) > len(accessible):
        one = len(needing) == 1
        yield (
            f"Section {section.letter} has {len(needing)} "
            f"{'angler who needs' if one else 'anglers who need'} an accessible peg "
            f"({'entry' if one else 'entries'} {listed(e.no for e in needing)}) and "
            f"{len(accessible)} such {'peg' if len(accessible) == 1 else 'pegs'} to draw. "
            "Move one to another section, or mark another peg as accessible."
        )


def _of_callers(sheet: Sheet) -> Iterator[str]:
    for no in _twice(sheet.callers):
        yield f"Entry {no} is named as caller twice."
    for no in sheet.callers:
        if no not in sheet.by_no:
            yield f"Caller {no} is not entered."


def _short_teams(sheet: Sheet, names: Mapping[str, str]) -> Iterator[str]:
    placed = [entry for entry in sheet.entries if entry.team and entry.section != TO_DRAW]
    members = Counter((entry.team, entry.section) for entry in placed)
    for section in sheet.sections:
        usual = max(
            (n for (_, letter), n in members.items() if letter == section.letter), default=0
        )
        for team in sorted({entry.team for entry in placed}):
            found = members[team, section.letter]
            if found < usual:
                yield (
                    f"{names.get(team, team)} has {found or 'nobody'} in section {section.letter}, "
                    f"where others have {usual}."
                )


def _few_members(sheet: Sheet, names: Mapping[str, str]) -> Iterator[str]:
    """Where sections are drawn, a short team leaves one open, and the draw says which."""
    members = Counter(entry.team for entry in sheet.to_place)
    usual = max(members.values(), default=0)
    for team, found in sorted(members.items()):
        if found < usual:
            yield f"{names.get(team, team)} has {found}, where others have {usual}."


def _few_callers(sheet: Sheet) -> Iterator[str]:
    if not sheet.callers:
        yield "No callers are named: whoever holds the secret then decides the draw alone."
        return
    teams = {entry.team for entry in sheet.entries if entry.no in sheet.callers}
    in_teams = any(entry.team for entry in sheet.entries)
    if len(sheet.callers) < 2 or (in_teams and len(teams) < 2):
        yield "Name at least two callers, from different teams."


def _twice(things: Iterable[T]) -> list[T]:
    """What is there more than once, in order."""
    return sorted(thing for thing, times in Counter(things).items() if times > 1)
