"""A section from the paper sheet at typing speed, and the same sheet keyed again as a check."""

from __future__ import annotations

from collections.abc import Sequence

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from league.models import Match
from league.operations.errors import RefusedError
from league.operations.guard import known_of
from league.operations.score import book_of
from league.operations.weigh import record_weigh_in
from league.rules.figures import so_many
from league.rules.lines import Status
from league.rules.usual import ounces
from league.rules.weights import Unit
from league.web.access import WORKS_THE_SCALES, for_officers, match_at_scales
from league.web.context import at_club
from league.web.forms.typed import Box, boxes, look
from league.web.walk import Stop, say, walk_of

PAPER = "From the paper sheet."


@for_officers(*WORKS_THE_SCALES)
@require_http_methods(["GET", "POST"])
def typed(request: HttpRequest, match_id: int, letter: str) -> HttpResponse:
    """
    Type a whole section; what reads well is kept, and what does not stays in its box.

    With *check* the figures on the site are out of sight: somebody else keys the same sheet, and
    what differs is kept beside the first and listed.
    """
    match = match_at_scales(request.user, match_id)
    at_club(request, match.club)
    stops = walk_of(match)
    section = [stop for stop in stops if stop.letter == letter]
    if not section:
        raise Http404("There is no such section.")
    check = "check" in request.GET
    posted = request.POST if request.method == "POST" else None
    found = boxes(section, posted, Unit(match.unit))
    if posted is not None:
        if not check:
            _look_over(match, stops, found)
        kept = _keep(request, match, found)
        left = [box for box in found if box.slip or box.asks]
        if kept and not left and not check:
            messages.success(request, f"Section {letter}: {_weights(kept)} kept.")
            return redirect("scales", match.pk)
        if kept and check and not left:
            return _compared(request, match, letter, kept)
        if kept:
            messages.success(request, f"{_weights(kept)} kept. {len(left)} to look at.")
        # What was kept stands beside its box, which is empty; the rest is as it was typed.
        now = {stop.entry.pk: stop for stop in walk_of(match)} if kept else {}
        for box in kept:
            box.typed, box.kept, box.stop = "", True, now[box.number]
    return render(
        request,
        "scales/typed.html",
        {"match": match, "letter": letter, "boxes": found, "check": check},
    )


def _look_over(match: Match, stops: Sequence[Stop], found: list[Box]) -> None:
    unit, net, known = Unit(match.unit), book_of(match).net, known_of(match)
    seen = {
        stop.entry.pk: ounces(sum(figure.nets), unit)
        for stop in stops
        if (figure := stop.standing.weigh_in) and figure.status == Status.WEIGHED
    }
    # The sheet's own figures are part of the day too.
    seen |= {box.number: ounces(sum(box.nets), unit) for box in found if box.nets}
    for box in found:
        peg = box.stop.entry.match_peg.peg_id if box.stop.entry.match_peg else None
        others = [weight for pk, weight in seen.items() if weight and pk != box.number]
        look(box, net, unit, known.today(others, peg))


def _keep(request: HttpRequest, match: Match, found: list[Box]) -> list[Box]:
    kept = []
    for box in found:
        if not box.is_read or box.asks:
            continue
        try:
            record_weigh_in(
                box.stop.entry,
                key=box.key,
                status=box.status,
                nets=box.nets,
                by=request.user,  # type: ignore[arg-type]
                note=PAPER,
            )
        except RefusedError as refused:
            box.slip = str(refused)
        else:
            kept.append(box)
    return kept


def _compared(request: HttpRequest, match: Match, letter: str, kept: list[Box]) -> HttpResponse:
    """What the two readings of the sheet agree on, and where they differ."""
    unit = Unit(match.unit)
    now = {stop.entry.pk: stop for stop in walk_of(match)}
    differ, agree, alone = [], 0, 0
    for box in kept:
        stop = now[box.number]
        figures = list(dict.fromkeys(say(each, unit) for each in stop.standing.figures))
        if stop.standing.in_question:
            differ.append((stop, figures))
        elif stop.standing.checked:
            agree += 1
        else:
            alone += 1
    return render(
        request,
        "scales/compared.html",
        {"match": match, "letter": letter, "differ": differ, "agree": agree, "alone": alone},
    )


def _weights(kept: list[Box]) -> str:
    return so_many(len(kept), "weight")
