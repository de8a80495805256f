"""Changes to a draw, each an event of its own; and a draw that came out of a real bag."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from league.models import DrawRecord, Entry, Match, MatchPeg, Team
from league.operations.after_draw import name_members
from league.operations.draw import draw_by_hand, draw_late, give_peg, redraw, unsafe_peg
from league.operations.errors import RefusedError
from league.rules.draw import EVENTS, Sheet
from league.web.access import for_officers, match_run_by
from league.web.context import at_club
from league.web.forms.changes import (
    ByHandForm,
    GivePegForm,
    MembersForm,
    RedrawForm,
    UnsafeForm,
)
from league.web.forms.publish import slips

CALL_AGAIN = "Now the callers call new numbers."


@for_officers
@require_safe
def changes(request: HttpRequest, match_id: int) -> HttpResponse:
    """What may still change after the draw, and how much of its secret is left for that."""
    return _page(request, match_run_by(request.user, match_id))


@for_officers
@require_POST
def unsafe(request: HttpRequest, match_id: int) -> HttpResponse:
    """Close a peg and begin the event that moves whoever drew it."""
    match = match_run_by(request.user, match_id)
    form = UnsafeForm(request.POST, pegs=_open_pegs(match), prefix="unsafe")
    return _begin(request, match, form, "unsafe", lambda data: unsafe_peg(by=request.user, **data))


@for_officers
@require_POST
def again(request: HttpRequest, match_id: int) -> HttpResponse:
    """Begin drawing one section again."""
    match = match_run_by(request.user, match_id)
    form = RedrawForm(request.POST, sections=match.sections.all(), prefix="redraw")
    return _begin(request, match, form, "redraw", lambda data: redraw(by=request.user, **data))


@for_officers
@require_POST
def late(request: HttpRequest, match_id: int, entry_id: int) -> HttpResponse:
    """Begin the draw of somebody booked in late whose event was given up before."""
    match = match_run_by(request.user, match_id)
    entry = get_object_or_404(Entry.objects.of(match).with_names(), pk=entry_id)
    try:
        draw_late(entry, by=request.user)
    except RefusedError as refused:
        messages.error(request, str(refused))
        return redirect("draw-changes", match.pk)
    messages.success(request, CALL_AGAIN)
    return redirect("draw", match.pk)


@for_officers
@require_POST
def give(request: HttpRequest, match_id: int, entry_id: int) -> HttpResponse:
    """Give somebody without a peg one by hand; the draw's record says so."""
    match = match_run_by(request.user, match_id)
    entry = get_object_or_404(Entry.objects.of(match).with_names(), pk=entry_id)
    form = GivePegForm(request.POST, pegs=_free_pegs(match), prefix="give")
    if form.is_valid():
        try:
            given = give_peg(entry, by=request.user, **form.cleaned_data)
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            messages.success(request, f"{given.angler} is on peg {given.match_peg}.")
            return redirect("draw-changes", match.pk)
    return _page(request, match, give=form, giving=entry.pk)


@for_officers
@require_POST
def members(request: HttpRequest, match_id: int, team_id: int) -> HttpResponse:
    """Take a captain's line-up down, now that the team has its pegs."""
    match = match_run_by(request.user, match_id)
    team = get_object_or_404(Team, pk=team_id, season=match.season_id)
    form = _members_form(match, team, request.POST)
    if form.is_valid():
        try:
            name_members(match, team, form.named, by=request.user)
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            messages.success(request, f"The line-up of {team} is taken down.")
            return redirect("draw-changes", match.pk)
    return _page(request, match, naming={team: form}, open_team=team.pk)


@for_officers
@require_http_methods(["GET", "HEAD", "POST"])
def by_hand(request: HttpRequest, match_id: int) -> HttpResponse:
    """Type in what came out of a real bag, with the same checks, and the record saying so."""
    match = match_run_by(request.user, match_id)
    at_club(request, match.club)
    if match.is_drawn:
        messages.error(request, "The pegs are drawn already. These are they.")
        return redirect("draw", match.pk)
    entries = list(Entry.objects.of(match).in_booking_order())
    form = ByHandForm(request.POST if request.method == "POST" else None, entries=entries)
    if form.is_bound and form.is_valid():
        try:
            draw_by_hand(match, form.pegs, by=request.user)
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            messages.success(request, "Taken down. The record says that it was drawn by hand.")
            return redirect("draw-check", match.pk)
    return render(request, "draw/by_hand.html", {"match": match, "form": form})


def _begin(
    request: HttpRequest,
    match: Match,
    form: forms.Form,
    name: str,
    act: Callable[[dict[str, Any]], object],
) -> HttpResponse:
    """Begin an event and go where its numbers are called; a slip comes back as it was typed."""
    if form.is_valid():
        try:
            act(form.cleaned_data)
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            messages.success(request, CALL_AGAIN)
            return redirect("draw", match.pk)
    return _page(request, match, **{name: form})


def _page(request: HttpRequest, match: Match, **bound: Any) -> HttpResponse:
    at_club(request, match.club)
    record = DrawRecord.objects.with_events(match)
    events = list(record.events.all()) if record else []
    booked = list(Entry.objects.of(match).in_booking_order())
    naming = {
        team: _members_form(match, team, None)
        for team in dict.fromkeys(entry.team for entry in booked if entry.team)
        if not (record and record.frozen_at and Sheet.parse(record.sheet).to_place)
    }
    context = {
        "match": match,
        "record": record,
        "open_event": next((event for event in events if event.is_open), None),
        "events_left": max(0, EVENTS - len(events)) if record and record.commitment else 0,
        "without": [entry for entry in booked if not entry.match_peg_id],
        "unsafe": UnsafeForm(pegs=_open_pegs(match), prefix="unsafe"),
        "redraw": RedrawForm(sections=match.sections.all(), prefix="redraw"),
        "give": GivePegForm(pegs=_free_pegs(match), prefix="give"),
        "naming": {**naming, **bound.pop("naming", {})},
    }
    return render(request, "draw/changes.html", context | bound)


def _members_form(match: Match, team: Team, data: Any) -> MembersForm:
    entries = [
        entry for entry in Entry.objects.of(match).in_booking_order() if entry.team_id == team.pk
    ]
    return MembersForm(data, entries=entries, prefix=f"team-{team.pk}")


def _open_pegs(match: Match) -> Any:
    return MatchPeg.objects.of(match).still_open()


def _free_pegs(match: Match) -> Any:
    return MatchPeg.objects.of(match).still_open().without_angler()
