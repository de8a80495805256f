"""From a match to the sheet of its draw, and from the numbers of a draw back to pegs and people."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.contrib.auth.models import User

from league.files.draw import Abandoned, Listed, Record
from league.models import DrawEvent, DrawRecord, Entry, LineUpBy, Match, MatchPeg, Peg, Team
from league.operations import draw_history
from league.operations.errors import RefusedError
from league.operations.sections import as_rule
from league.rules import draw, pegs

# One bag for the whole water, where the section follows from the peg.
WHOLE_WATER = "ALL"


@dataclass(frozen=True, slots=True)
class Prepared:
    """A sheet as it would be frozen, with what its numbers stand for."""

    sheet: draw.Sheet
    peg_names: Mapping[int, str]  # only where a peg's number in the draw is not its own
    names: Mapping[int, str]
    teams: Mapping[str, str]


def prepare(
    match: Match,
    *,
    callers: Sequence[int] = (),
    fixed: Mapping[int, int] | None = None,
    line_up: str = LineUpBy.NAMED,
    end_pegs_shared: bool = False,
) -> Prepared:
    """
    The sheet of *match* as it stands; nothing is written.

    *callers* are entry numbers; *fixed* gives an entry number the peg (its `MatchPeg`'s id) it
    has without drawing. Neighbours are listed where one team could come to hold both. By *line_up*
    it is drawn who fishes which section; end pegs may be shared by tickets.
    """
    used = [each for each in MatchPeg.objects.of(match) if not each.closed_why]
    if not used:
        raise RefusedError("No pegs are chosen for this match. Make the sections first.")
    entries = list(Entry.objects.of(match).in_booking_order())
    numbers, peg_names = pegs.draw_numbers(as_rule(each.peg) for each in used)
    number_of = {each.pk: numbers[as_rule(each.peg)] for each in used}
    drawn = line_up != LineUpBy.NAMED
    one_bag = not drawn and _is_one_bag(entries)
    letter_of = {each.pk: WHOLE_WATER if one_bag else each.section.letter for each in used}
    sections = tuple(
        draw.Section(
            letter,
            tuple(sorted(number_of[each.pk] for each in used if letter_of[each.pk] == letter)),
            tuple(
                sorted(
                    number_of[each.pk]
                    for each in used
                    if letter_of[each.pk] == letter and each.peg.easy_access
                )
            ),
        )
        for letter in dict.fromkeys(letter_of.values())
    )
    listed = [sheet_entry(entry) for entry in entries]
    if drawn:
        listed = [replace(each, section=draw.TO_DRAW) for each in listed]
    sheet = draw.Sheet(
        code_of(match),
        sections,
        tuple(listed),
        tuple(_adjacent(match, used, entries, number_of)),
        tuple(callers),
        tuple((no, number_of[peg]) for no, peg in (fixed or {}).items()),
    )
    if line_up == LineUpBy.SHARED:
        sheet = replace(sheet, visits=draw_history.visits(match, entries, sheet))
    if end_pegs_shared:
        ends = draw_history.ends([(letter_of[each.pk], number_of[each.pk]) for each in used])
        sheet = replace(sheet, ends=ends, had=draw_history.had(match, entries))
    names = {entry.number: entry.angler.shown_name for entry in entries}
    return Prepared(sheet, peg_names, names, team_names(match))


def team_names(match: Match) -> dict[str, str]:
    """The shown names of the team codes."""
    season = match.season
    return {team.code: team.name for team in Team.objects.of(season)} if season else {}


def sheet_entry(entry: Entry) -> draw.Entry:
    """The entry as the texts have it."""
    return draw.Entry(
        entry.number,
        entry.team.code if entry.team else "",
        entry.section.letter if entry.section else WHOLE_WATER,
        entry.easy_access,
    )


def code_of(match: Match) -> str:
    """The match's name in the texts: the club's and a number, short and the same for ever."""
    return f"{match.club.slug[:24]}-{match.pk}"


def record_of(match: Match) -> Record | None:
    """The draw of *match* as it is published; None before its sheet is frozen."""
    kept = DrawRecord.objects.with_events(match)
    if kept is None or not kept.frozen_at:
        return None
    return Record(
        draw.Sheet.parse(kept.sheet),
        kept.commitment,
        tuple(_listed(event) for event in kept.events.all()),
        {int(no): name for no, name in kept.names.items()},
        team_names(match),
        {int(no): name for no, name in kept.peg_names.items()},
        tuple(_given(given) for given in kept.given),
    )


def peg_called(kept: DrawRecord, number: int) -> str:
    """A peg's own number from its number in the draw."""
    return str(kept.peg_names.get(str(number), number))


def number_called(kept: DrawRecord, peg: Peg) -> int:
    """A peg's number in the draw from its own."""
    for number, name in kept.peg_names.items():
        if name == peg.number:
            return int(number)
    if kept.peg_names or not peg.number.isdecimal():
        raise RefusedError(f"Peg {peg} is not on the draw sheet.")
    return int(peg.number)


def called(person: User | None) -> str:
    """Who did it, as the record says; a name in full where there is one."""
    return (person.get_full_name() or person.get_username()) if person else ""


def _given(given: Mapping[str, Any]) -> draw.Given:
    entry = draw.parse_entry(given["entry"])
    return draw.Given(given["after"], entry, given["peg"], given["by"], given["at"], given["why"])


def _listed(event: DrawEvent) -> Listed:
    if event.is_open:
        return Abandoned(event.number, "Begun, and not finished yet.")
    if event.is_abandoned:
        return Abandoned(event.number, event.why)
    if event.kind == draw.ByHand.kind:
        pegs = {int(no): peg for no, peg in event.pegs.items()}
        return draw.ByHand(event.number, pegs, called(event.begun_by))
    return draw.Event.parse(event.text)


def _is_one_bag(entries: Sequence[Entry]) -> bool:
    """Whether everybody draws from one bag: so it is where nobody was given a section."""
    unplaced = [entry for entry in entries if entry.section_id is None]
    if len(unplaced) < len(entries):
        if unplaced:
            who = ", ".join(f"{entry.number} {entry.angler}" for entry in unplaced)
            raise RefusedError(f"Not everybody has a section. Choose one for {who}.")
        return False
    if in_teams := [entry for entry in entries if entry.alone_in_section]:
        who = ", ".join(f"{entry.number} {entry.angler}" for entry in in_teams)
        raise RefusedError(f"Teams have one member in each section. Choose a section for {who}.")
    return True


def _adjacent(
    match: Match,
    used: Sequence[MatchPeg],
    entries: Sequence[Entry],
    number_of: Mapping[int, int],
) -> list[tuple[int, int]]:
    """The pairs of neighbouring pegs, in the draw's numbers, that one team could come to hold."""
    members = Counter(
        (entry.team_id, entry.section_id) for entry in entries if entry.team_id is not None
    )
    if not members:
        return []
    inside = max(members.values()) > 1
    by_order = {each.peg.order: each for each in used}
    bank = [
        peg if peg.order in by_order else replace(peg, left_out=True)
        for peg in (as_rule(each) for each in Peg.objects.along(match.water))
    ]
    pairs = [(by_order[one.order], by_order[other.order]) for one, other in pegs.neighbours(bank)]
    return sorted(
        (min(ours), max(ours))
        for one, other in pairs
        if inside or one.section_id != other.section_id
        for ours in [(number_of[one.pk], number_of[other.pk])]
    )
