"""The board: the weigh-in as it stands, for the clubhouse screen and the members' phones."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.cache import get_conditional_response
from django.views.decorators.http import require_safe

from league.models import Match
from league.operations.facts import marker
from league.operations.score import score
from league.rules.errors import RuleError
from league.rules.weights import Unit, written
from league.web.access import for_readers, match_for
from league.web.context import at_club
from league.web.walk import Stop, walk_of


@dataclass(frozen=True, slots=True)
class Line:
    """One angler on the board."""

    place: int | None
    equal: bool
    stop: Stop
    weight: str


@for_readers
@require_safe
def board(request: HttpRequest, match_id: int) -> HttpResponse:
    """The whole page; a script asks for what is new, and without one it loads itself again."""
    match = match_for(request.user, match_id)
    at_club(request, match.club)
    return render(request, "board/board.html", _about(match))


@for_readers
@require_safe
def now(request: HttpRequest, match_id: int) -> HttpResponse:
    """What stands on it now; four small questions and a 304 where nothing has come in."""
    match = match_for(request.user, match_id)
    seen = repr((match.stage, match.board_shown, marker(match) if match.board_shown else ""))
    etag = f'"{hashlib.sha256(seen.encode()).hexdigest()[:32]}"'
    answer = get_conditional_response(request, etag)
    if answer is None or answer.status_code != 304:
        answer = render(request, "board/_now.html", _about(match))
    answer["ETag"] = etag
    answer["Cache-Control"] = "no-cache"
    return answer


def _about(match: Match) -> dict[str, object]:
    if not match.board_shown:
        return {"match": match}
    stops = walk_of(match)
    return {
        "match": match,
        "pegs": len(stops),
        "weighed": sum(stop.weighed for stop in stops),
        "in_question": sum(stop.standing.in_question for stop in stops),
        "sections": _sections(match, stops),
    }


def _sections(match: Match, stops: list[Stop]) -> dict[str, list[Line]]:
    """
    Who is weighed, section by section in the order of the places so far.

    Points are left out: they depend on who is still to come. A peg in question stands with its
    first figure, and says so.
    """
    unit = Unit(match.unit)
    weighed = {str(stop.entry.angler_id): stop for stop in stops if stop.weighed}
    sections: dict[str, list[Line]] = {stop.letter: [] for stop in stops}
    try:
        result = score(match)
    except RuleError:
        return sections
    for section in result.sections:
        for line in section.lines:
            stop = weighed.get(line.row.angler_key)
            if stop is not None:
                said = written(line.weight, unit) if line.weight else stop.said
                sections[section.section].append(Line(line.place, line.equal, stop, said))
    return sections
