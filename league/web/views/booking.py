"""Booking in for an open match, the waiting list, and late and ill on the morning."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from league.models import Angler, Entry, Match, Reserve
from league.operations.errors import RefusedError
from league.operations.lineup import bring_in, may_still_change, places_of, rang_in, withdraw
from league.operations.waiting import (
    book_oneself,
    is_of_teams,
    leave_list,
    set_places,
    wait_for_place,
)
from league.web.access import for_members, for_officers, match_for, match_run_by
from league.web.context import at_club
from league.web.forms.captains import InsteadForm, PlacesForm, RangForm
from league.web.forms.publish import slips


@for_members
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def booking(request: HttpRequest, match_id: int) -> HttpResponse:
    """A member books in or out, or waits for a place."""
    match = match_for(request.user, match_id)
    angler = Angler.objects.with_user(match.club, request.user)
    at_club(request, match.club)
    if angler is None:
        # Signed in, and nobody's name on the list hangs on this sign-in yet.
        return render(request, "booking/nobody.html", {"match": match})
    entry = Entry.objects.of(match).fishing(angler).first()
    waiting = Reserve.objects.with_angler(match, angler)
    if request.method == "POST":
        try:
            messages.success(request, _book(request, match, angler, entry, waiting))
        except RefusedError as refused:
            messages.error(request, str(refused))
        return redirect("booking", match.pk)
    on_list = list(Reserve.objects.on_the_list(match))
    places = places_of(match)
    booked = Entry.objects.of(match).count()
    context = {
        "match": match,
        "entry": entry,
        "waiting": waiting,
        "ahead": [each.pk for each in on_list].index(waiting.pk) if waiting in on_list else 0,
        "list": len(on_list),
        "places": places,
        "left": None if places is None else max(0, places - booked),
        "booked": booked,
        "of_teams": is_of_teams(match),
        "open": may_still_change(match),
    }
    return render(request, "booking/booking.html", context)


def _book(
    request: HttpRequest,
    match: Match,
    angler: Angler,
    entry: Entry | None,
    waiting: Reserve | None,
) -> str:
    act = request.POST.get("act")
    if act == "out" and entry is not None:
        if entry.team_id:
            raise RefusedError("Your captain named you: ring the captain.")
        withdraw(entry, by=request.user)  # type: ignore[arg-type]
        return "You are booked out."
    if act == "leave" and waiting is not None:
        leave_list(waiting, by=request.user)  # type: ignore[arg-type]
        return "You are off the waiting list."
    if act == "wait":
        wait_for_place(match, angler, by=request.user)  # type: ignore[arg-type]
        return "You are on the waiting list. Whoever has waited longest moves up."
    if act == "in":
        made = book_oneself(match, angler, by=request.user)  # type: ignore[arg-type]
        return f"You are booked in as {made.number}."
    raise RefusedError("That has changed meanwhile. Look again.")


@for_officers
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def waiting_list(request: HttpRequest, match_id: int) -> HttpResponse:
    """How many places there are, who waits, and who is put on the list."""
    match = match_run_by(request.user, match_id)
    form = PlacesForm(
        request.POST if "places" in request.POST else None, initial={"places": match.places}
    )
    wait = InsteadForm(
        request.POST if "angler" in request.POST else None,
        anglers=Angler.objects.of(match.club),
        auto_id="wait_%s",
    )
    wait.fields["angler"].label = "Who waits"
    try:
        if form.is_bound and form.is_valid():
            moved = set_places(match, form.cleaned_data["places"], by=request.user)
            messages.success(request, "The places are set.")
            for entry in moved:
                _tell(request, entry)
            return redirect("waiting-list", match.pk)
        if wait.is_bound and wait.is_valid():
            put = wait_for_place(match, wait.cleaned_data["angler"], by=request.user)
            messages.success(request, f"{put.angler} waits for a place.")
            return redirect("waiting-list", match.pk)
    except RefusedError as refused:
        (wait if wait.is_bound else form).add_error(None, slips(refused))
    at_club(request, match.club)
    context = {
        "match": match,
        "form": form,
        "wait": wait,
        "list": Reserve.objects.waiting(match),
        "booked": Entry.objects.of(match).count(),
        "places": places_of(match),
        "open": may_still_change(match),
    }
    return render(request, "booking/waiting.html", context)


@for_officers
@require_POST
def off_the_list(request: HttpRequest, match_id: int, reserve_id: int) -> HttpResponse:
    """Take somebody off the list."""
    match = match_run_by(request.user, match_id)
    waiting = get_object_or_404(Reserve.objects.waiting(match), pk=reserve_id)
    try:
        leave_list(waiting, by=request.user)
    except RefusedError as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"{waiting.angler} waits no longer.")
    return redirect("waiting-list", match.pk)


@for_officers
@never_cache
@require_safe
def morning(request: HttpRequest, match_id: int) -> HttpResponse:
    """Who is late, who is ill, and who could come in."""
    return _morning(request, match_run_by(request.user, match_id))


@for_officers
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def rang(request: HttpRequest, match_id: int, entry_id: int) -> HttpResponse:
    """Somebody rings: late, ill, or a reserve comes in instead."""
    match = match_run_by(request.user, match_id)
    at_club(request, match.club)
    entry = get_object_or_404(Entry.objects.of(match).with_names(), pk=entry_id)
    said = RangForm(
        request.POST if "words" in request.POST else None, initial={"words": entry.rang_in}
    )
    instead = InsteadForm(
        request.POST if "angler" in request.POST else None,
        anglers=Angler.objects.not_in(match),
        auto_id="instead_%s",
    )
    try:
        if said.is_bound and said.is_valid():
            rang_in(entry, said.cleaned_data["words"], by=request.user)
            messages.success(request, f"Noted for {entry.angler}.")
            return redirect("morning", match.pk)
        if instead.is_bound and instead.is_valid():
            out = str(entry.angler)
            bring_in(entry, instead.cleaned_data["angler"], by=request.user)
            messages.success(
                request, f"{instead.cleaned_data['angler']} fishes in the place of {out}."
            )
            return redirect("morning", match.pk)
        if request.POST.get("act") == "withdraw":
            withdraw(entry, by=request.user)
            messages.success(request, f"{entry.angler} is withdrawn.")
            if up := Reserve.objects.in_place_of(entry):
                _tell(request, up.came_in)
            return redirect("morning", match.pk)
    except RefusedError as refused:
        (instead if instead.is_bound else said).add_error(None, slips(refused))
        if request.POST.get("act") == "withdraw":
            messages.error(request, str(refused))
    waiting = [each for each in Reserve.objects.waiting(match) if each.team_id == entry.team_id]
    context = {
        "match": match,
        "entry": entry,
        "said": said,
        "instead": instead,
        "waiting": waiting,
    }
    return render(request, "booking/rang.html", context)


def _morning(request: HttpRequest, match: Match) -> HttpResponse:
    at_club(request, match.club)
    entries = list(Entry.objects.of(match).in_booking_order())
    context: dict[str, Any] = {
        "match": match,
        "entries": entries,
        "rang": [entry for entry in entries if entry.rang_in],
        "list": Reserve.objects.waiting(match),
    }
    return render(request, "booking/morning.html", context)


def _tell(request: HttpRequest, entry: Entry | None) -> None:
    if entry is not None:
        messages.success(
            request,
            f"{entry.angler} moves up from the waiting list, as {entry.number}. "
            "Tell them: nobody else does.",
        )
