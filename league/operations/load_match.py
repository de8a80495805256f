"""One match of a sheet into the club's records, in a few statements however many anglers."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from datetime import datetime, time, timedelta

from django.contrib.auth.models import User
from django.utils import timezone

from league.files.sheet import SheetMatch
from league.models import (
    Angler,
    Club,
    Decision,
    DecisionKind,
    Entry,
    Match,
    MatchPeg,
    Peg,
    Season,
    Section,
    Stage,
    Team,
    Venue,
    Water,
    WeighIn,
)
from league.operations.decide import LONGEST_WHY
from league.operations.errors import RefusedError
from league.operations.facts import say_decision
from league.operations.publish import make_final, publish
from league.operations.season import add_round
from league.operations.store import add
from league.rules.lines import Row, Status
from league.rules.sections import natural
from league.rules.weights import Unit

WATER_UNKNOWN = "Water not on the sheet"
NO_PEG = "Stands for an angler who was absent and drew none."
FROM_A_SHEET = "As on the sheet that was loaded."
LONGEST_NOTE = 200

# A sheet says the day and no hour: results are taken as put up in the evening, and as final once
# objections are closed.
PUT_UP = time(18)


def load_match(
    season: Season,
    match: SheetMatch,
    *,
    anglers: Mapping[str, Angler],
    teams: Mapping[str, Team],
    hours: Mapping[str, time] | None = None,
    by: User | None,
) -> Match:
    """Write the round with everything its sheet says, and publish it as final."""
    round_ = take_down(season, match, anglers=anglers, teams=teams, hours=hours, by=by)
    at = put_up(round_)
    publish(round_, by=by, at=at)
    closed = timedelta(hours=season.league.club.objection_hours, minutes=1)
    make_final(round_, by=by, at=at + closed)
    return round_


def put_up(match: Match) -> datetime:
    """When a result is taken as read out: in the evening of its day."""
    return timezone.make_aware(datetime.combine(match.date, PUT_UP))


def take_down(
    season: Season,
    match: SheetMatch,
    *,
    anglers: Mapping[str, Angler],
    teams: Mapping[str, Team],
    by: User | None,
    hours: Mapping[str, time] | None = None,
) -> Match:
    """Write the round as drawn and weighed, with what was decided; nothing is published."""
    club = season.league.club
    rows = [row for row in match.rows if row.angler]
    water = _water(club, match)
    if match.round is None or match.date is None:
        raise RefusedError("A round needs its number and its date.")
    round_ = add_round(
        season,
        number=match.round,
        water=water,
        date=match.date,
        name=match.name,
        per_section=_per_section(rows),
        by=by,
        **(hours or {}),
    )
    at = put_up(round_)
    entries = _entries(round_, rows, _pegs(water, rows), anglers, teams)
    WeighIn.objects.bulk_create(
        WeighIn(
            key=uuid.uuid4(),
            entry=entry,
            status=_weighed_as(row),
            nets=row.nets,
            note=row.note[:LONGEST_NOTE],
            weighed_by=by,
            received_at=at,
        )
        for entry, row in zip(entries, rows, strict=True)
    )
    Decision.objects.bulk_create(
        decision
        for entry, row in zip(entries, rows, strict=True)
        for decision in _decisions(entry, row, at)
    )
    round_.stage = Stage.DRAWN
    round_.save(update_fields=["stage"])
    return round_


def _water(club: Club, match: SheetMatch) -> Water:
    name = match.water or match.venue or WATER_UNKNOWN
    if water := Water.objects.called(club, name, match.venue):
        return water
    venue_name = match.venue or name
    venue = Venue.objects.called(club, venue_name) or add(Venue(club=club, name=venue_name))
    return add(Water(venue=venue, name=name))


def _pegs(water: Water, rows: list[Row]) -> list[Peg]:
    """The peg of each row; one that the water has not yet is put beyond those it has."""
    known = {peg.number.casefold(): peg for peg in Peg.objects.along(water)}
    order = max((peg.order for peg in known.values()), default=0)
    numbers = _numbers(rows)
    new: list[Peg] = []
    for number in sorted(dict.fromkeys(numbers), key=natural):
        if number.casefold() not in known:
            stands_for_none = number.startswith(NONE)
            new.append(
                Peg(
                    water=water,
                    number=number,
                    order=order + len(new) + 1,
                    left_out=stands_for_none,
                    left_out_why=NO_PEG if stands_for_none else "",
                )
            )
            known[number.casefold()] = new[-1]
    Peg.objects.bulk_create(new)
    return [known[number.casefold()] for number in numbers]


NONE = "none"


def _numbers(rows: list[Row]) -> list[str]:
    """The number of each row's peg; who was absent without one has a peg that stands for none."""
    missing = 0
    numbers = []
    for row in rows:
        missing += not row.peg
        numbers.append(row.peg or f"{NONE}{missing}")
    return numbers


def _entries(
    match: Match,
    rows: list[Row],
    pegs: list[Peg],
    anglers: Mapping[str, Angler],
    teams: Mapping[str, Team],
) -> list[Entry]:
    letters = sorted({row.section for row in rows}, key=natural)
    sections = {
        section.letter: section
        for section in Section.objects.bulk_create(
            Section(match=match, letter=letter, order=order)
            for order, letter in enumerate(letters, start=1)
        )
    }
    match_pegs = MatchPeg.objects.bulk_create(
        MatchPeg(match=match, section=sections[row.section], peg=peg)
        for row, peg in zip(rows, pegs, strict=True)
    )
    return Entry.objects.bulk_create(
        Entry(
            match=match,
            number=number,
            angler=anglers[row.angler],
            team=teams.get(row.team),
            section=sections[row.section],
            match_peg=match_peg,
            alone_in_section=bool(row.team) and match.per_section == 1,
        )
        for number, (row, match_peg) in enumerate(zip(rows, match_pegs, strict=True), start=1)
    )


def _per_section(rows: list[Row]) -> int:
    counts: dict[tuple[str, str], int] = {}
    for row in rows:
        if row.team:
            counts[row.team, row.section] = counts.get((row.team, row.section), 0) + 1
    return max(counts.values(), default=1)


def _weighed_as(row: Row) -> Status:
    """What the scales said: a disqualification is a decision and comes on top."""
    if row.status is not Status.DISQUALIFIED:
        return row.status
    return Status.WEIGHED if row.nets else Status.NOT_WEIGHED


def _decisions(entry: Entry, row: Row, at: datetime) -> list[Decision]:
    """What the sheet says was decided; not by whom, which no sheet says."""
    late = Decision(kind=DecisionKind.LATE_WEIGHT, entry=entry, weight=sum(row.nets))
    made = {
        DecisionKind.DISQUALIFIED: row.status is Status.DISQUALIFIED,
        DecisionKind.POINTS: bool(row.penalty),
        DecisionKind.WEIGHT: bool(row.weight_penalty),
        DecisionKind.LATE_WEIGHT: _said(late, entry.match) in row.decision,
        DecisionKind.VOID_PEG: row.decided is not None,
    }
    points = {DecisionKind.POINTS: row.penalty, DecisionKind.VOID_PEG: row.decided}
    weights = {
        DecisionKind.WEIGHT: row.weight_penalty,
        DecisionKind.LATE_WEIGHT: late.weight,
    }
    decisions = [
        Decision(
            match=entry.match,
            kind=kind,
            entry=entry,
            points=points.get(kind),
            weight=weights.get(kind),
            at=at,
        )
        for kind, is_made in made.items()
        if is_made
    ]
    said = [_said(decision, entry.match) for decision in decisions]
    for decision, mine in zip(decisions, said, strict=True):
        why = _own_part(row.decision, mine, said) or row.note or FROM_A_SHEET
        decision.why = why[:LONGEST_WHY]
    return decisions


def _said(decision: Decision, match: Match) -> str:
    """How a result says *decision*, up to the why."""
    return say_decision(decision, Unit(match.unit)).strip()


def _own_part(text: str, mine: str, said: list[str]) -> str:
    """Of what a sheet says was decided, why the one was that a result says as *mine*."""
    if mine not in text:
        return text
    own = text.split(mine, 1)[1]
    for other in said:
        own = own.split(other, 1)[0]
    return own.strip()
