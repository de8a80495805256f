"""A match's own page: the order of the day, who is on which peg, and what to take care of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from league.models import DrawRecord, Entry, Match, MatchPeg, OfficeName, Peg, Result, SquadMember
from league.operations.draw_cards import face_down
from league.operations.score import book_of, layout
from league.rules.doubts import shortly
from league.rules.stages import Day, Moment, State, Step, moment, order_of_the_day
from league.rules.weights import Unit
from league.web.access import for_readers, match_for
from league.web.bank import hazards, left_out, strip_of_names
from league.web.cards import face_up
from league.web.context import at_club, offices
from league.web.days import day_of
from league.web.pages.no_result import why_off
from league.web.pages.previews import event, preview_of_match
from league.web.walk import Stop, walk_of


@dataclass(frozen=True, slots=True)
class DayLine:
    """A line of the order of the day as the page prints it."""

    moment: Moment
    words: str
    link: str = ""
    link_words: str = ""


@dataclass(frozen=True, slots=True)
class Told:
    """What the lines of the day are told from."""

    match: Match
    day: Day
    booked: Sequence[Entry]
    walk: Sequence[Stop]
    record: DrawRecord | None
    turned: Sequence[Stop]
    newest: Result | None


@for_readers
@require_safe
def match(request: HttpRequest, match_id: int) -> HttpResponse:
    """The day as it stands, for everybody."""
    match = match_for(request.user, match_id)
    at_club(request, match.club)
    booked = list(Entry.objects.of(match).in_booking_order())
    walk = walk_of(match)
    used = list(MatchPeg.objects.of(match))
    bank = list(Peg.objects.along(match.water))
    newest = Result.objects.of(match).first()
    day = day_of(match, booked=len(booked), pegs=len(used), walk=walk, newest=newest)
    record = DrawRecord.objects.with_events(match)
    turning = face_down(record.events.all()) if record else None
    turned = face_up(walk, turning.turned if turning else None)
    told = Told(match, day, booked, walk, record, turned, newest)
    unit = Unit(match.unit)
    mine = _mine(request, turned)
    limit = book_of(match).net.limit
    return render(
        request,
        "match/match.html",
        {
            "match": match,
            "day": day,
            "lines": [_line(told, each) for each in order_of_the_day(day)],
            "today": day.now.date() == match.date,
            "why_off": why_off(match) if day.cancelled else "",
            "captains": SquadMember.objects.captains(match.season) if match.season else (),
            "mine": mine,
            "captained": None
            if day.drawn or day.cancelled or not request.user.is_authenticated
            else SquadMember.objects.captained_by(request.user, match.season_id),
            "neighbours": _neighbours(turned, mine) if turning is None else "",
            "turning": turning,
            "strip": strip_of_names(
                turned,
                layout(match),
                title=f"{match.title}, {match.water}: who is on which peg",
                unit=unit,
                mine=mine.entry if mine else None,
            )
            if walk
            else None,
            "sections": by_section(turned),
            "booked": booked,
            "left_out": left_out(bank, used, match.date),
            "hazards": hazards(bank, used),
            "limit": shortly(limit, unit) if limit is not None else "",
            "newest": newest,
            "preview": preview_of_match(request, match),
            "event": event(request, match, newest),
            "is_secretary": OfficeName.SECRETARY in offices(request, match.club),
        },
    )


def by_section(walk: Sequence[Stop]) -> dict[str, list[Stop]]:
    """The pegs under their section's letter, in the order of the bank."""
    sections: dict[str, list[Stop]] = {}
    for stop in walk:
        sections.setdefault(stop.letter, []).append(stop)
    return sections


def _mine(request: HttpRequest, walk: Sequence[Stop]) -> Stop | None:
    """Where whoever is signed in has drawn."""
    if not request.user.is_authenticated:
        return None
    return next((stop for stop in walk if stop.entry.angler.user_id == request.user.pk), None)


def _neighbours(walk: Sequence[Stop], mine: Stop | None) -> str:
    """Who sits on either side."""
    if mine is None:
        return ""
    place = next(n for n, stop in enumerate(walk) if stop is mine)
    beside = [walk[n] for n in (place - 1, place + 1) if 0 <= n < len(walk)]
    said = [f"{stop.name} is on {stop.peg}" for stop in beside]
    return f"{' and '.join(said)}." if said else ""


def _line(told: Told, at: Moment) -> DayLine:
    return _LINES[at.step](told, at)


def _book_in(told: Told, at: Moment) -> DayLine:
    reserves = [entry for entry in told.booked if entry.reserve]
    words = [f"{len(told.booked)} booked in."]
    for entry in reserves:
        for_team = f" for {entry.team.name}" if entry.team else ""
        words.append(f"{entry.angler.shown_name} fishes{for_team} as a reserve.")
    return DayLine(at, " ".join(words))


def _draw(told: Told, at: Moment) -> DayLine:
    if not told.day.drawn:
        return DayLine(at, "Pegs will be here as soon as they are drawn.")
    done = (
        [event.finished_at for event in told.record.events.all() if event.finished_at]
        if (told.record)
        else []
    )
    words = [_done(told.match, done[0]) if done else "Done."]
    words.append(
        f"{len(told.walk)} pegs drawn."
        if len(told.turned) == len(told.walk)
        else f"The cards are being turned: {len(told.turned)} of {len(told.walk)} are face up."
    )
    easy = [stop for stop in told.turned if stop.entry.easy_access]
    words += [f"{stop.name} is on peg {stop.peg} for easy access." for stop in easy]
    if told.record is None:
        return DayLine(at, " ".join(words))
    check = reverse("draw-check", args=[told.match.pk])
    return DayLine(at, " ".join(words), check, "Check this draw yourself")


def _done(match: Match, at: datetime) -> str:
    """When the draw was made; the day too, where it was not the day of the match."""
    there = timezone.localtime(at)
    if there.date() == match.date:
        return f"Done {there:%H:%M}."
    year = f" {there:%Y}" if there.year != match.date.year else ""
    return f"Done {there:%A} {there.day} {there:%B}{year}, {there:%H:%M}."


def _all_in(told: Told, at: Moment) -> DayLine:
    return DayLine(at, "No bait in the water before the whistle.")


def _all_out(told: Told, at: Moment) -> DayLine:
    return DayLine(at, "Lines out at the whistle. Stay with your nets until they are weighed.")


def _scales(told: Told, at: Moment) -> DayLine:
    if not told.walk:
        return DayLine(at, "The scales walk the sections in peg order.")
    weighed = sum(stop.weighed for stop in told.walk)
    if not weighed:
        return DayLine(at, f"In peg order, from peg {told.walk[0].peg}.")
    words = f"{weighed} of {len(told.walk)} pegs weighed."
    if told.day.in_question:
        words += f" In question: peg {', '.join(told.day.in_question)}."
    return DayLine(at, words)


def _result(told: Told, at: Moment) -> DayLine:
    if told.newest is None:
        return DayLine(at, "Read out in the clubhouse, and here a minute later.")
    published = timezone.localtime(told.newest.published_at)
    return DayLine(
        at,
        f"Version {told.newest.version}, published {moment(published)}.",
        reverse("result", args=[told.match.pk]),
        told.newest.headline,
    )


def _final(told: Told, at: Moment) -> DayLine:
    if told.day.final:
        return DayLine(at, "The result is final.")
    if told.day.objections_until is None:
        return DayLine(at, "When objections have been heard.")
    until = moment(told.day.objections_until)
    if at.state is State.NOW and not told.day.objections_open:
        return DayLine(at, f"Objections closed on {until}.")
    return DayLine(at, f"Objections to the match secretary until {until}.")


_LINES = {
    Step.BOOK_IN: _book_in,
    Step.DRAW: _draw,
    Step.ALL_IN: _all_in,
    Step.ALL_OUT: _all_out,
    Step.SCALES: _scales,
    Step.RESULT: _result,
    Step.FINAL: _final,
}
