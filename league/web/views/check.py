"""Check a draw: in plain words, in the visitor's own browser, and as a file to take home."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from league.files.draw import Abandoned, Record, write_record
from league.models import DrawRecord, Match
from league.operations.draw import record_of
from league.operations.draw_cards import face_down
from league.rules import draw
from league.web.access import EVERYBODY, for_readers, match_for, open_to
from league.web.context import at_club

# Any sooner, and nobody on the bank can have read the sheet before the numbers were taken down.
SEEN_AFTER = timedelta(minutes=1)


@dataclass(frozen=True, slots=True)
class Called:
    """A number as it was called, or that none was."""

    who: str
    team: str
    number: str


@dataclass(frozen=True, slots=True)
class ByGift:
    """A peg given by hand: which, to whom, by whom and when."""

    peg: str
    who: str
    letter: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class Placed:
    """A member whose section was drawn, and how often each was fished before."""

    who: str
    team: str
    letter: str
    before: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Told:
    """One event, told to somebody who wants to check it."""

    number: int
    kind: str
    begun_at: object
    calls: tuple[Called, ...] = ()
    text: str = ""
    seed: str = ""
    reveal: str = ""
    words: tuple[str, ...] = ()
    why: str = ""
    given: ByGift | None = None
    placed: tuple[Placed, ...] = ()


@for_readers
@require_safe
def check(request: HttpRequest, match_id: int) -> HttpResponse:
    """How the pegs follow from what was published, and the means to work it out again."""
    match = match_for(request.user, match_id)
    at_club(request, match.club)
    kept, record = DrawRecord.objects.with_events(match), _published(match)
    if kept is None:
        raise Http404("This match has no draw record.")
    events = _with_given(
        record, [_told(kept, record, place) for place in range(len(record.events))]
    )
    first = next((event for event in kept.events.all() if event.text), None)
    return render(
        request,
        "draw/check.html",
        {
            "match": match,
            "kept": kept,
            "record": record,
            "events": events,
            "by_hand": any(event.kind == draw.ByHand.kind for event in events),
            "fixed_before": first is not None and first.begun_at - kept.frozen_at >= SEEN_AFTER,
            "turning": face_down(kept.events.all()),
            "rows": _rows(record),
            "in_teams": any(entry.team for entry in record.sheet.entries),
            "letters": [section.letter for section in record.sheet.sections],
        },
    )


@open_to(EVERYBODY)
@require_safe
def recipe(request: HttpRequest) -> HttpResponse:
    """The recipe and its text formats, for everybody: a check needs no sign-in and no trust."""
    return render(request, "draw/recipe.html")


@for_readers
@require_safe
def record(request: HttpRequest, match_id: int) -> HttpResponse:
    """The published record, for the checker or for anybody's own program."""
    match = match_for(request.user, match_id)
    answer = HttpResponse(write_record(_published(match)), content_type="application/json")
    answer["Content-Disposition"] = f'attachment; filename="draw-{match.pk}.json"'
    return answer


def _published(match: Match) -> Record:
    found = record_of(match)
    if found is None:
        raise Http404("No draw sheet is published for this match.")
    return found


def _told(kept: DrawRecord, record: Record, place: int) -> Told:
    event = record.events[place]
    begun_at = next(each.begun_at for each in kept.events.all() if each.number == event.number)
    if isinstance(event, Abandoned):
        return Told(event.number, event.kind, begun_at, why=event.why)
    outcome = next(each for each in record.outcomes() if each.event.number == event.number)
    words = tuple(draw.say(outcome, record.teams, record.peg_names))
    if isinstance(event, draw.ByHand):
        return Told(event.number, event.kind, begun_at, words=words)
    return Told(
        event.number,
        event.kind,
        begun_at,
        tuple(_called(record, number, value) for number, value in event.calls),
        event.text,
        event.seed,
        event.reveal,
        words,
        placed=_placed(record, outcome),
    )


def _placed(record: Record, outcome: draw.Outcome) -> tuple[Placed, ...]:
    """Who was drawn into which section, team by team."""
    if outcome.line_ups is None:
        return ()
    visits = dict(record.sheet.visits)
    none = (0,) * len(record.sheet.sections)
    by_no = record.sheet.by_no
    drawn = sorted(outcome.line_ups.sections.items(), key=lambda each: (by_no[each[0]].team, each))
    return tuple(
        Placed(
            record.names.get(no, str(no)),
            record.teams.get(by_no[no].team, by_no[no].team),
            letter,
            visits.get(no, none),
        )
        for no, letter in drawn
    )


def _with_given(record: Record, events: list[Told]) -> list[Told]:
    """The events, and what was given by hand after each."""
    given = [
        Told(
            each.after,
            each.kind,
            None,
            why=each.why,
            given=ByGift(
                record.peg_names.get(each.peg, str(each.peg)),
                record.names.get(each.entry.no, str(each.entry.no)),
                each.entry.section,
                each.by,
                each.at,
            ),
        )
        for each in record.given
    ]
    return sorted([*events, *given], key=lambda told: (told.number, told.given is not None))


def _called(record: Record, number: int, value: int | None) -> Called:
    team = record.sheet.by_no[number].team if number in record.sheet.by_no else ""
    return Called(
        record.names.get(number, str(number)),
        record.teams.get(team, team),
        "did not call" if value is None else str(value),
    )


def _rows(record: Record) -> list[tuple[int, str, str, str]]:
    """Entry number, name, section and peg, as everybody stands after the last event."""
    finished = record.outcomes()
    if not finished:
        return []
    section_of = {peg: section.letter for section in record.sheet.sections for peg in section.pegs}
    by_hand = {(given.entry.no, given.peg) for given in record.given}
    return [
        (
            number,
            record.names.get(number, str(number))
            + (", given by hand" if (number, peg) in by_hand else ""),
            section_of.get(peg, ""),
            record.peg_names.get(peg, str(peg)),
        )
        for number, peg in finished[-1].pegs.items()
    ]
