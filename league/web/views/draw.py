"""The draw: freeze the sheet, take the numbers called, turn the cards."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from django.contrib import messages
from django.forms import Form
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from league.models import (
    DrawEvent,
    DrawRecord,
    Entry,
    LineUpBy,
    Match,
    MatchPeg,
    OfficeName,
    SquadMember,
)
from league.operations.draw import abandon, begin, call, doubts, finish, freeze, record_of, thaw
from league.operations.draw_cards import face_down, turn
from league.operations.draw_events import THE_DRAW
from league.operations.errors import RefusedError
from league.operations.score import layout
from league.operations.store import writing
from league.rules.weights import Unit
from league.web.access import for_officers, for_readers, match_for, match_run_by
from league.web.cards import cards_of, strip_of_cards
from league.web.context import at_club, offices
from league.web.forms.draw import CallersForm, CallsForm, GiveUpForm, ThawForm
from league.web.forms.publish import slips
from league.web.walk import walk_of

NOBODY_PLACED = (
    "Nobody is in a section yet. Let it be drawn who of a team fishes which section, as below, or "
    "choose the sections in the line-up first."
)


@for_readers
@require_safe
def draw(request: HttpRequest, match_id: int) -> HttpResponse:
    """Before: the sheet and who will call. Afterwards: the cards, as many turned as asked for."""
    return _screen(request, match_for(request.user, match_id))


@for_officers
@require_POST
def freeze_sheet(request: HttpRequest, match_id: int) -> HttpResponse:
    """Fix who draws from which pegs and who calls; the secret is locked away before that."""
    match = match_run_by(request.user, match_id)
    form = _callers_form(match, request.POST)
    if form.is_valid():
        try:
            freeze(match, callers=form.callers, by=request.user, **form.shared)
        except RefusedError as refused:
            if record_of(match):  # somebody else was quicker: there is no form left to show it on
                messages.error(request, str(refused))
                return redirect("draw", match.pk)
            form.add_error(None, slips(refused))
        else:
            messages.success(request, "The draw sheet is frozen. Now the numbers can be called.")
            return redirect("draw", match.pk)
    return _screen(request, match, callers_form=form)


@for_officers
@require_POST
def open_sheet(request: HttpRequest, match_id: int) -> HttpResponse:
    """Open a frozen sheet again, before anything was begun."""
    match = match_run_by(request.user, match_id)
    form = ThawForm(request.POST)
    if form.is_valid():
        try:
            thaw(match, why=form.cleaned_data["why"], by=request.user)
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            messages.success(request, "The draw sheet is open again.")
            return redirect("draw", match.pk)
    return _screen(request, match, thaw_form=form)


@for_officers
@require_POST
def take_calls(request: HttpRequest, match_id: int) -> HttpResponse:
    """Take numbers down; when the last is in, the secret is opened and the pegs come out."""
    match = match_run_by(request.user, match_id)
    record = DrawRecord.objects.with_events(match)
    begun = _open_event(record)
    if match.is_drawn and begun is None:
        messages.success(request, "The pegs are drawn already. These are they.")
        return _go_on(request, reverse("draw", args=[match.pk]))
    form = _calls_form(match, record, request.POST) if record else None
    if form is None:
        messages.error(request, "The draw sheet is not frozen any more. Freeze it first.")
        return _go_on(request, reverse("draw", args=[match.pk]))
    if form.is_valid():
        try:
            with writing():
                event = begun or begin(match, by=request.user)
                if form.calls:
                    event = call(event, form.calls, by=request.user)
                if not form.missing:
                    event = finish(event, by=request.user, face_down=True)
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            if form.missing:
                messages.success(request, f"Taken down. Still to call: {', '.join(form.missing)}.")
                return _go_on(request, reverse("draw", args=[match.pk]))
            if event.kind != THE_DRAW:
                messages.success(request, _moved(event, match))
                return _go_on(request, reverse("draw-check", args=[match.pk]))
            return _go_on(request, reverse("draw", args=[match.pk]))
    return _screen(request, match, calls_form=form)


@for_officers
@require_POST
def turn_card(request: HttpRequest, match_id: int) -> HttpResponse:
    """Turn cards up to the number asked for, or all; pressed twice, none is turned back."""
    match = match_run_by(request.user, match_id)
    asked = request.POST.get("up_to", "")
    try:
        turn(match, int(asked) if re.fullmatch(r"[0-9]{1,5}", asked) else None, by=request.user)
    except RefusedError as refused:
        messages.error(request, str(refused))
    if request.headers.get("X-Sent-By") == "fetch":
        return _screen(request, match)
    return redirect("draw", match.pk)


@for_officers
@require_POST
def give_up(request: HttpRequest, match_id: int) -> HttpResponse:
    """Give up an event that was begun; it keeps its number and stays listed with why."""
    match = match_run_by(request.user, match_id)
    event = _open_event(DrawRecord.objects.with_events(match))
    if event is None:
        messages.error(request, "No event of this draw is open, so none can be given up.")
        return redirect("draw", match.pk)
    form = GiveUpForm(request.POST)
    if form.is_valid():
        try:
            abandon(event, why=form.cleaned_data["why"], by=request.user)
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            messages.success(request, f"Event {event.number} is given up, and stays listed.")
            return redirect("draw", match.pk)
    return _screen(request, match, give_up_form=form)


def _go_on(request: HttpRequest, to: str) -> HttpResponse:
    """Where to go next; the draw screen's script is told, and goes there itself."""
    if request.headers.get("X-Sent-By") == "fetch":
        return JsonResponse({"to": to})
    return redirect(to)


def _moved(event: DrawEvent, match: Match) -> str:
    """Who is on another peg after an event that changed the draw."""
    before = {stop.entry.number: stop for stop in walk_of(match)}
    earlier = DrawEvent.objects.of(event.record).before(event)
    was = earlier.pegs if earlier else {}
    moved = [before[int(no)] for no, peg in event.pegs.items() if was.get(no) != peg]
    said = ", ".join(f"{stop.name} on peg {stop.peg}" for stop in moved)
    return f"Drawn: {said}." if said else "Drawn. Nobody changes pegs."


def _screen(request: HttpRequest, match: Match, **bound: Any) -> HttpResponse:
    at_club(request, match.club)
    is_secretary = OfficeName.SECRETARY in offices(request, match.club)
    record = DrawRecord.objects.with_events(match)
    context = {"match": match, "record": record, "is_secretary": is_secretary}
    begun = _open_event(record)
    context["event"] = begun
    if match.is_drawn and (begun is None or not is_secretary or "turned" in request.GET):
        turning = face_down(record.events.all()) if record else None
        turned = str(turning.turned) if turning else request.GET.get("turned", "")
        _say_without_form(request, bound.values())
        cards = cards_of(walk_of(match), turned=turned)
        context["turning"] = turning
        strip = strip_of_cards(cards, layout(match), Unit(match.unit))
        return render(request, "draw/draw.html", context | {"cards": cards, "strip": strip})
    frozen = record_of(match)
    if frozen is None or begun:  # the sheet is not frozen, or cannot be opened: no such form
        _say_without_form(request, filter(None, [bound.pop("thaw_form", None)]))
    if frozen and record:
        context |= {
            "sheet": frozen.sheet,
            "callers": [frozen.names[number] for number in frozen.sheet.callers],
            "calls_form": _calls_form(match, record, None),
            "thaw_form": ThawForm(),
            "give_up_form": GiveUpForm(),
        }
    else:
        context |= {
            "booked": len(Entry.objects.of(match)),
            "pegs": len(MatchPeg.objects.of(match)),
        }
        if is_secretary:
            context |= _before_freezing(match)
    return render(request, "draw/before.html", context | bound)


def _say_without_form(request: HttpRequest, forms: Iterable[Form]) -> None:
    """What was refused on a form that this state of the draw no longer shows."""
    for form in forms:
        for slips_of_field in form.errors.values():
            for slip in slips_of_field:
                messages.error(request, slip)


def _before_freezing(match: Match) -> dict[str, Any]:
    """What stands in the way, what is worth asking, and who might call."""
    form, callers = _callers_form(match, None), _usual_callers(match)
    try:
        return {"doubts": doubts(match, callers=callers), "callers_form": form}
    except RefusedError as refused:
        problems = str(refused).splitlines()
    if "line_up" in form.fields and not Entry.objects.of(match).placed().exists():
        # Nobody is in a section: then the draw itself can say who fishes which.
        try:
            asked = doubts(match, callers=callers, line_up=LineUpBy.DRAWN)
        except RefusedError as refused:
            problems = str(refused).splitlines()
        else:
            form.initial["line_up"] = LineUpBy.DRAWN
            return {"doubts": [NOBODY_PLACED, *asked], "callers_form": form}
    return {"problems": problems, "callers_form": form}


def _callers_form(match: Match, data: Any) -> CallersForm:
    captains = SquadMember.objects.captains(match.season) if match.season else frozenset()
    entries = list(Entry.objects.of(match).in_booking_order())
    return CallersForm(data, entries=entries, captains=captains, season=match.season)


def _usual_callers(match: Match) -> list[int]:
    form = _callers_form(match, None)
    initial = (form.fields[name].initial for name in form.calling)
    return [int(number) for number in initial if number]


def _open_event(record: DrawRecord | None) -> DrawEvent | None:
    """The event that was begun and is not finished; there is one at most."""
    if record is None:
        return None
    return next((event for event in record.events.all() if event.is_open), None)


def _calls_form(match: Match, record: DrawRecord, data: Any) -> CallsForm | None:
    """One box a caller, with what was taken down before; None where the sheet is not frozen."""
    frozen = record_of(match)
    if frozen is None:
        return None
    teams = {entry.no: frozen.teams.get(entry.team, "") for entry in frozen.sheet.entries}
    callers = {
        number: ", ".join(filter(None, (frozen.names[number], teams[number])))
        for number in frozen.sheet.callers
    }
    begun = _open_event(record)
    return CallsForm(data, callers=callers, called=begun.calls if begun else {})
