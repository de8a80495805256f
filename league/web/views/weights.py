"""Weights put right by the secretary: which of two stands, and a wrong one corrected."""

from __future__ import annotations

from uuid import uuid4

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from league.models import Match
from league.operations.errors import RefusedError
from league.operations.score import book_of
from league.operations.store import writing
from league.operations.weigh import record_weigh_in, settle
from league.rules.doubts import doubts_about
from league.rules.weights import Unit
from league.web.access import entry_at_scales, for_officers, match_run_by
from league.web.context import at_club
from league.web.forms.publish import slips
from league.web.forms.weigh import ALL_BUT_DECIDED, FEWEST_BOXES, SettleForm, WeighForm
from league.web.views.run import done, run_page
from league.web.walk import Stop, say, stop_of


@for_officers
@require_POST
def settle_two(request: HttpRequest, match_id: int, entry_id: int) -> HttpResponse:
    """Say which of two figures stands, and why."""
    match = match_run_by(request.user, match_id)
    stop = _stop(request, match, entry_id)
    form = SettleForm(request.POST)

    def act() -> str:
        kept = next(
            (each for each, _ in stop.figures if each.pk == form.cleaned_data["keep"]), None
        )
        if kept is None:
            raise RefusedError("That figure does not stand any more. Look again.")
        settle(kept, why=form.cleaned_data["why"], by=request.user)
        return f"Peg {stop.peg}: {say(kept, stop.unit)} stands."

    return done(request, match, form, act) or run_page(
        request, match, settle=form, settling=stop.entry.pk
    )


@for_officers
@require_http_methods(["GET", "POST"])
def correct(request: HttpRequest, match_id: int, entry_id: int) -> HttpResponse:
    """A new figure for a peg, with what was wrong with the old one; both stay on record."""
    match = match_run_by(request.user, match_id)
    stop = _stop(request, match, entry_id)
    unit = Unit(match.unit)
    boxes = max(FEWEST_BOXES, len(request.POST.getlist("nets"))) + ("more" in request.POST)
    form = WeighForm(
        request.POST or None, unit=unit, statuses=ALL_BUT_DECIDED, boxes=boxes, correcting=True
    )
    doubts = []
    if request.method == "POST" and "more" not in request.POST and form.is_valid():
        asked = doubts_about(form.cleaned_data["nets"], book_of(match).net, unit)
        doubts = [each for each in asked if each.key not in form.cleaned_data["agreed"].split()]
        if not doubts:
            try:
                _put_right(request, stop, form)
            except RefusedError as refused:
                form.data = form.data.copy()
                form.data["key"] = str(uuid4())
                form.add_error(None, slips(refused))
            else:
                messages.success(request, f"Peg {stop.peg}, {stop.name}: put right.")
                return redirect("match-run", match.pk)
    at_club(request, match.club)
    return render(
        request,
        "run/correct.html",
        {
            "match": match,
            "stop": stop,
            "form": form,
            "doubts": doubts,
            "agrees": " ".join(each.key for each in doubts),
            "limit": book_of(match).net.limit,
        },
    )


def _put_right(request: HttpRequest, stop: Stop, form: WeighForm) -> None:
    """Record the new figure and set every other aside, both or neither."""
    data = form.cleaned_data
    with writing():
        recorded = record_weigh_in(
            stop.entry,
            key=data["key"],
            status=data["status"],
            nets=data["nets"],
            by=request.user,
        )
        if recorded.created and stop.weighed:
            settle(recorded.weigh_in, why=data["why"], by=request.user)


def _stop(request: HttpRequest, match: Match, entry_id: int) -> Stop:
    return stop_of(entry_at_scales(request.user, match.pk, entry_id), Unit(match.unit))
