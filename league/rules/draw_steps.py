"""What each kind of event does: the draw, a late entry, an unsafe peg, a section again."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from league.rules.draw_chain import Stream, pick
from league.rules.draw_engine import (
    ATTEMPTS,
    Bag,
    Clash,
    GiveEnds,
    Neighbours,
    Pegs,
    Refused,
    draw_bags,
    no_end_pegs,
)
from league.rules.draw_event import ByHand, Event, Given, Late, Redraw, Unsafe
from league.rules.draw_faults import hand_faults
from league.rules.draw_shares import EndPegs, Placed, end_pegs_had, members_a_section, with_sections
from league.rules.draw_sheet import Entry, Section, Sheet
from league.rules.errors import DrawError


@dataclass(frozen=True, slots=True)
class Outcome:
    """
    How everybody stands after an event, and how it came about.

    *pegs* gives every entry number its peg and *bag* the pegs left in each section; *moved* are
    the entries this event gave a peg. *attempt* is None where one angler chose alone. *refused*
    are the attempts before the one that stands, *clashes* what even that one could not avoid.
    *ends* are the end pegs given first, *line_ups* who was drawn into which section. *entries* are
    those drawn in a draw of whole sections, *had* the end pegs each team has had before.
    """

    event: Event | ByHand | Given
    pegs: Pegs
    bag: Mapping[str, tuple[int, ...]]
    moved: tuple[int, ...]
    attempt: int | None = None
    refused: tuple[Refused, ...] = ()
    clashes: tuple[Clash, ...] = ()
    tries: Mapping[str, int] = field(default_factory=dict)
    ends: Pegs = field(default_factory=dict)
    line_ups: Placed | None = None
    entries: tuple[Entry, ...] = ()
    had: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Standing:
    """What an event finds: everybody entered, the pegs nobody may have, who is where."""

    entries: tuple[Entry, ...]
    unsafe: frozenset[int] = frozenset()
    pegs: Mapping[int, int] = field(default_factory=dict)
    drawn: bool = False


def _draw(sheet: Sheet, event: Event, standing: Standing) -> tuple[Standing, Outcome]:
    letters = [section.letter for section in sheet.sections]
    return draw_sections(sheet, event, standing, letters)


def _redraw(sheet: Sheet, event: Event, standing: Standing) -> tuple[Standing, Outcome]:
    assert isinstance(event.change, Redraw)  # noqa: S101  STEPS goes by the kind
    letter = event.change.section
    if letter not in {section.letter for section in sheet.sections}:
        raise DrawError(f"Section {letter!r} cannot be drawn again: it is not on the sheet.")
    _needs_a_draw(event, standing)
    return draw_sections(sheet, event, standing, [letter])


def draw_sections(
    sheet: Sheet,
    event: Event,
    standing: Standing,
    letters: Sequence[str],
    attempts: int = ATTEMPTS,
) -> tuple[Standing, Outcome]:
    """Draw the sections of these *letters*; all others stay as they are."""
    in_hand = [entry for entry in standing.entries if entry.section in letters]
    nested = _is_nested(sheet)
    bags = [
        _bag(section, sheet, standing, nested=nested)
        for section in sheet.sections
        if section.letter in letters
    ]
    others = {no: peg for no, peg in standing.pegs.items() if no not in {e.no for e in in_hand}}
    here = {peg for bag in bags for peg in (*bag.pegs, *bag.fixed.values())}
    accepted = draw_bags(
        bags,
        event.seed,
        _rule(sheet, standing, here),
        others,
        attempts,
        _end_pegs(sheet, standing, others),
    )
    after = Standing(standing.entries, standing.unsafe, accepted.pegs, drawn=True)
    return after, Outcome(
        event,
        _by_entry(accepted.pegs),
        _left(sheet, after),
        tuple(entry.no for entry in in_hand),
        accepted.attempt,
        accepted.refused,
        accepted.clashes,
        accepted.tries,
        accepted.ends,
        entries=tuple(in_hand),
        had=end_pegs_had(sheet),
    )


def _late(sheet: Sheet, event: Event, standing: Standing) -> tuple[Standing, Outcome]:
    assert isinstance(event.change, Late)  # noqa: S101  STEPS goes by the kind
    entry = event.change.entry
    _needs_a_draw(event, standing)
    if any(entry.no == other.no for other in standing.entries):
        raise DrawError(
            f"Late entry {entry.no} has a number that is taken. Give it the next free one."
        )
    if entry.section not in {section.letter for section in sheet.sections}:
        raise DrawError(
            f"Late entry {entry.no} is in section {entry.section!r}, which is not on the sheet."
        )
    entries = tuple(sorted((*standing.entries, entry), key=lambda other: other.no))
    found = Standing(entries, standing.unsafe, standing.pegs, standing.drawn)
    return _choose(sheet, event, found, entry)


def _unsafe(sheet: Sheet, event: Event, standing: Standing) -> tuple[Standing, Outcome]:
    assert isinstance(event.change, Unsafe)  # noqa: S101  STEPS goes by the kind
    peg = event.change.peg
    _needs_a_draw(event, standing)
    if not any(peg in section.pegs for section in sheet.sections):
        raise DrawError(f"Peg {peg} is not on the sheet, so nobody can be on it.")
    if peg in standing.unsafe:
        raise DrawError(f"Peg {peg} was taken out of the bag before.")
    unsafe = standing.unsafe | {peg}
    holder = next((no for no, held in standing.pegs.items() if held == peg), None)
    pegs = {no: held for no, held in standing.pegs.items() if held != peg}
    found = Standing(standing.entries, unsafe, pegs, standing.drawn)
    if holder is None:
        return found, Outcome(event, _by_entry(pegs), _left(sheet, found), ())
    entry = next(entry for entry in standing.entries if entry.no == holder)
    return _choose(sheet, event, found, entry)


def _choose(
    sheet: Sheet, event: Event, standing: Standing, entry: Entry
) -> tuple[Standing, Outcome]:
    """One angler draws from what is left in the section's bag; the neighbour rule does not bind."""
    section = next(each for each in sheet.sections if each.letter == entry.section)
    left = list(_left(sheet, standing)[entry.section])
    if entry.needs:
        left = [peg for peg in left if peg in section.accessible]
    if not left:
        what = "accessible peg" if entry.needs else "peg"
        raise DrawError(
            f"No {what} is left in the bag of section {entry.section} for entry {entry.no}. "
            "Draw the section again, or draw in another section."
        )
    peg = pick(left, Stream(event.seed, f"{entry.section}/late").below)
    after = Standing(
        standing.entries, standing.unsafe, {**standing.pegs, entry.no: peg}, standing.drawn
    )
    return after, Outcome(event, _by_entry(after.pegs), _left(sheet, after), (entry.no,))


def _bag(section: Section, sheet: Sheet, standing: Standing, *, nested: bool) -> Bag:
    """One section as it goes into the bag: no fixed peg, no unsafe one."""
    fixed = {
        no: peg for no, peg in sheet.fixed if peg in section.pegs and peg not in standing.unsafe
    }
    taken = standing.unsafe.union(fixed.values())
    drawing = [
        entry
        for entry in standing.entries
        if entry.section == section.letter and entry.no not in fixed
    ]
    return Bag(
        section.letter,
        tuple(sorted(peg for peg in section.pegs if peg not in taken)),
        tuple(sorted(peg for peg in section.accessible if peg not in taken)),
        tuple(entry.no for entry in drawing if entry.needs),
        tuple(entry.no for entry in drawing if not entry.needs),
        fixed,
        nested,
    )


def _end_pegs(sheet: Sheet, standing: Standing, others: Pegs) -> GiveEnds:
    """How this draw gives its end pegs."""
    if not sheet.ends:
        return no_end_pegs
    entries = {entry.no: entry for entry in standing.entries}
    return EndPegs(sheet.ends, entries, end_pegs_had(sheet), others).give


def _rule(sheet: Sheet, standing: Standing, here: set[int]) -> Neighbours:
    """The neighbour rule for the pairs with at least one peg *here*."""
    pairs = sorted((min(pair), max(pair)) for pair in sheet.adjacent)
    teams = {entry.no: entry.team for entry in standing.entries}
    return Neighbours(tuple(pair for pair in pairs if here.intersection(pair)), teams)


def _is_nested(sheet: Sheet) -> bool:
    """Whether a team of the sheet has two members or more in a section; late ones do not count."""
    members = Counter((entry.team, entry.section) for entry in sheet.entries if entry.team)
    return max(members.values(), default=0) > 1


def _left(sheet: Sheet, standing: Standing) -> dict[str, tuple[int, ...]]:
    """The pegs nobody has, section by section."""
    gone = standing.unsafe.union(standing.pegs.values())
    return {
        section.letter: tuple(sorted(peg for peg in section.pegs if peg not in gone))
        for section in sheet.sections
    }


def _needs_a_draw(event: Event, standing: Standing) -> None:
    if not standing.drawn:
        raise DrawError(f"Event {event.number} changes a draw, and none is finished yet.")


def _by_entry(pegs: Mapping[int, int]) -> Pegs:
    return dict(sorted(pegs.items()))


def given_step(sheet: Sheet, given: Given, standing: Standing) -> tuple[Standing, Outcome]:
    """A peg given by hand after the draw: it leaves the bag, and nobody else moves."""
    entry, peg = given.entry, given.peg
    section = next((each for each in sheet.sections if each.letter == entry.section), None)
    holder = next((no for no, held in standing.pegs.items() if held == peg), None)
    if not standing.drawn:
        raise DrawError(f"Peg {peg} is given by hand, and no draw is finished before that.")
    if entry.no in standing.pegs:
        raise DrawError(f"Entry {entry.no} is given peg {peg} by hand, and has one already.")
    if section is None or peg not in section.pegs:
        raise DrawError(f"Peg {peg}, given by hand, is not in section {entry.section!r}.")
    if holder is not None or peg in standing.unsafe:
        why = "was found unsafe" if holder is None else f"is entry {holder}'s"
        raise DrawError(f"Peg {peg} is given by hand to entry {entry.no}, and {why}.")
    others = (other for other in standing.entries if other.no != entry.no)
    after = Standing(
        tuple(sorted((*others, entry), key=lambda each: each.no)),
        standing.unsafe,
        {**standing.pegs, entry.no: peg},
        drawn=True,
    )
    return after, Outcome(given, _by_entry(after.pegs), _left(sheet, after), (entry.no,))


def place_by_hand(sheet: Sheet, event: ByHand) -> Placed:
    """Where sections were to be drawn, the pegs that came out of the bag say which they are."""
    section_of = {peg: section.letter for section in sheet.sections for peg in section.pegs}
    sections = {
        entry.no: section_of[event.pegs[entry.no]]
        for entry in sheet.to_place
        if event.pegs.get(entry.no) in section_of
    }
    placed = with_sections(sheet, sections)
    most = members_a_section(sheet)
    members = Counter((entry.team, entry.section) for entry in placed.entries if entry.team)
    for (team, letter), count in sorted(members.items()) if sections else ():
        if count > most:
            raise DrawError(f"{team} has {count} members in section {letter}, where {most} fit.")
    return Placed(placed, sections)


def hand_step(sheet: Sheet, event: ByHand, standing: Standing) -> tuple[Standing, Outcome]:
    """What came out of a real bag: a peg for everybody that a draw could have given."""
    if wrong := hand_faults(sheet, event.pegs):
        raise DrawError("\n".join(wrong))
    after = Standing(standing.entries, standing.unsafe, dict(event.pegs), drawn=True)
    rule = _rule(sheet, standing, {peg for section in sheet.sections for peg in section.pegs})
    return after, Outcome(
        event,
        _by_entry(after.pegs),
        _left(sheet, after),
        tuple(entry.no for entry in standing.entries),
        clashes=rule.clashes(dict(after.pegs)),
    )


STEPS = {"draw": _draw, "redraw": _redraw, "late": _late, "unsafe": _unsafe}
