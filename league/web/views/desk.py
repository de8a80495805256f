"""The desk: the next thing of all that is not finished, the list of matches, and what to start."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from league.models import Club, Entry, Match, MatchPeg, OfficeName, Result, Season, Stage
from league.operations.facts import standing
from league.operations.money_account import account_of
from league.operations.score import changed_since
from league.rules.pools_plan import STAKE
from league.rules.stages import Day, Next, Task, next_thing
from league.rules.weights import Unit
from league.web.access import HAVE_A_DESK, SEES_THE_MONEY, club_of_officer, for_officers
from league.web.context import at_club, offices
from league.web.days import day_of
from league.web.tasks import Button, button_for
from league.web.walk import Stop

AT_MOST = 12  # things to do on one screen; the list of matches has them all
NO_HURRY = {Task.WAIT, Task.NOTHING}


@dataclass(frozen=True, slots=True)
class Line:
    """A match with something left to do."""

    match: Match
    day: Day
    thing: Next
    button: Button | None
    booked: int
    stands: str  # where it stands, on a stamp


@for_officers(*HAVE_A_DESK)
@require_safe
def desk(request: HttpRequest, slug: str = "") -> HttpResponse:
    """What comes next in the club, whoever sits down at it."""
    club = club_of_officer(request.user, slug)
    at_club(request, club)
    held = offices(request, club)
    lines = _lines(club)
    first = next((line for line in lines if line.thing.task not in NO_HURRY), None)
    if first is None and lines:
        first = lines[0]
    money = account_of(first.match) if first and held & set(SEES_THE_MONEY) else None
    return render(
        request,
        "desk/desk.html",
        {
            "account": money if money and (money.plan.asks or money.payments) else None,
            "paid_stakes": sum(d.paid for d in money.dues if d.what == STAKE) if money else 0,
            "first": first,
            "lines": lines,
            "bare": None if lines else _bare(club),
            "to_do": [line for line in lines if line.thing.task not in NO_HURRY][:AT_MOST],
            "to_weigh": next((line for line in lines if line.day.to_weigh), None),
            "to_draw": next((line for line in lines if line.thing.task is Task.DRAW), None),
            "to_book": next((line for line in lines if not line.day.drawn), None),
            "published": next((line for line in lines if line.day.version), None),
            "today": timezone.localdate(),
            "is_secretary": OfficeName.SECRETARY in held,
            "keeps_the_money": OfficeName.TREASURER in held,
            "works_the_scales": bool(held & {OfficeName.SECRETARY, OfficeName.SCALES}),
        },
    )


def _bare(club: Club) -> Season | None:
    """The club's newest season where it has no rounds yet: setting it up comes next."""
    newest = Season.objects.of(club).first()
    return newest if newest and not Match.objects.rounds_of(newest).exists() else None


def _lines(club: Club) -> list[Line]:
    """Every match with something left to do, oldest first: a fixed number of questions."""
    matches = list(Match.objects.of(club).unfinished())
    entries: dict[int, list[Entry]] = {match.pk: [] for match in matches}
    for entry in Entry.objects.of_matches(matches):
        entries[entry.match_id].append(entry)
    pegs = MatchPeg.objects.counts(matches)
    newest = {result.match_id: result for result in Result.objects.of_matches(matches)}
    lines = []
    weighing_up = True
    for match in matches:
        mine = entries[match.pk]
        walk = [_stop(entry) for entry in mine if entry.match_peg_id]
        result = newest.get(match.pk)
        # Worked out for the oldest alone: it is the one that the headline may be about.
        changed = bool(result and weighing_up and changed_since(result))
        weighing_up = weighing_up and result is None
        day = day_of(
            match,
            booked=len(mine),
            pegs=pegs.get(match.pk, 0),
            walk=walk,
            newest=result,
            changed=changed,
        )
        thing = next_thing(day)
        button = button_for(thing, match, walk)
        lines.append(Line(match, day, thing, button, len(mine), _stands(match, walk)))
    return lines


def _stop(entry: Entry) -> Stop:
    return Stop(entry, standing(entry), Unit.LB_OZ)


def _stands(match: Match, walk: Sequence[Stop]) -> str:
    if match.stage == Stage.PLANNED:
        return "Booking open"
    if match.stage == Stage.DRAWN and any(stop.weighed for stop in walk):
        return f"{sum(stop.weighed for stop in walk)} of {len(walk)} weighed"
    return {Stage.DRAWN: "Drawn", Stage.PUBLISHED: "Provisional"}[Stage(match.stage)]
