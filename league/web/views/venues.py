"""Waters set up: the bank as it is said and drawn, pegs out of use, the venue's rules."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from league.models import Peg, Water
from league.operations.errors import RefusedError
from league.operations.waters import (
    as_said,
    bank_of,
    change_venue,
    change_water,
    make_water,
    put_back,
    set_bank,
    take_out,
    usual_runs,
)
from league.rules.bank import say_bank
from league.rules.figures import so_many
from league.sheets.cautions import ALL, FIRST
from league.web.access import club_set_up_by, for_officers, water_set_up_by
from league.web.context import at_club
from league.web.forms.planning import refuse
from league.web.forms.waters import (
    AboutForm,
    BankForm,
    OutForm,
    VenueForm,
    WaterForm,
    read_bank,
)
from league.web.pages.said_bank import said_bank


@for_officers
@require_safe
def waters(request: HttpRequest, slug: str) -> HttpResponse:
    """Every water of the club, by venue."""
    club = at_club(request, club_set_up_by(request.user, slug))
    venues: dict[str, list[Water]] = {}
    for water in Water.objects.of(club).with_pegs():
        venues.setdefault(water.venue.name, []).append(water)
    return render(request, "desk/waters.html", {"venues": venues})


@for_officers
@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest, slug: str) -> HttpResponse:
    """A new water; a look at the bank comes before it is kept, if that is asked for."""
    club = at_club(request, club_set_up_by(request.user, slug))
    form = WaterForm(request.POST if request.method == "POST" else None)
    bank = None
    if form.is_valid():
        told = form.cleaned_data
        bank = said_bank(told["pegs"])
        if "look" not in request.POST:
            try:
                water = make_water(
                    club,
                    venue=told["venue"] or told["name"],
                    name=told["name"],
                    pegs=told["pegs"],
                    by=request.user,
                )
            except RefusedError as refused:
                refuse(form, refused)
            else:
                messages.success(request, f"{water} is entered with {bank.count}.")
                return redirect("desk-water", club.slug, water.pk)
    return render(request, "desk/water_new.html", {"form": form, "bank": bank})


@for_officers
@require_safe
def water(request: HttpRequest, slug: str, water_id: int) -> HttpResponse:
    """One water: its bank drawn, and everything that can be said about it."""
    return _page(request, water_set_up_by(request.user, slug, water_id))


@for_officers
@require_POST
def bank(request: HttpRequest, slug: str, water_id: int) -> HttpResponse:
    """Write the bank otherwise, or look at what was said first."""
    found = water_set_up_by(request.user, slug, water_id)
    form = BankForm(request.POST, auto_id="bank_%s")
    looked = None
    if form.is_valid():
        looked = said_bank(form.cleaned_data["pegs"])
        if "look" not in request.POST:
            try:
                set_bank(found, form.cleaned_data["pegs"], by=request.user)
            except RefusedError as refused:
                refuse(form, refused)
            else:
                messages.success(request, f"{found} has {looked.count}.")
                return redirect("desk-water", slug, water_id)
    return _page(request, found, bank_form=form, looked=looked)


@for_officers
@require_POST
def out(request: HttpRequest, slug: str, water_id: int) -> HttpResponse:
    """Take pegs out of use."""
    found = water_set_up_by(request.user, slug, water_id)
    form = OutForm(request.POST, auto_id="out_%s")
    if form.is_valid():
        try:
            pegs = take_out(found, by=request.user, **form.cleaned_data)
        except RefusedError as refused:
            refuse(form, refused)
        else:
            messages.success(request, f"{so_many(len(pegs), 'peg')} out of use.")
            return redirect("desk-water", slug, water_id)
    return _page(request, found, out_form=form)


@for_officers
@require_POST
def back(request: HttpRequest, slug: str, water_id: int) -> HttpResponse:
    """Put one peg into use again."""
    found = water_set_up_by(request.user, slug, water_id)
    try:
        put_back(found, [request.POST.get("number", "")], by=request.user)
    except RefusedError as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"Peg {request.POST['number']} is in use again.")
    return redirect("desk-water", slug, water_id)


@for_officers
@require_POST
def about(request: HttpRequest, slug: str, water_id: int) -> HttpResponse:
    """Its name, its net limit, its usual sections."""
    found = water_set_up_by(request.user, slug, water_id)
    form = AboutForm(request.POST, auto_id="about_%s")
    if form.is_valid():
        try:
            change_water(found, by=request.user, **form.cleaned_data)
        except RefusedError as refused:
            refuse(form, refused)
        else:
            messages.success(request, f"{found} is kept so.")
            return redirect("desk-water", slug, water_id)
    return _page(request, water_set_up_by(request.user, slug, water_id), about_form=form)


@for_officers
@require_POST
def venue(request: HttpRequest, slug: str, water_id: int) -> HttpResponse:
    """The venue's own rules and the note for its bailiff."""
    found = water_set_up_by(request.user, slug, water_id)
    form = VenueForm(request.POST, auto_id="venue_%s")
    if form.is_valid():
        try:
            change_venue(found.venue, by=request.user, **form.cleaned_data)
        except RefusedError as refused:
            refuse(form, refused)
        else:
            messages.success(request, f"{found.venue} is kept so.")
            return redirect("desk-water", slug, water_id)
    return _page(request, water_set_up_by(request.user, slug, water_id), venue_form=form)


@for_officers
@require_POST
def look(request: HttpRequest, slug: str) -> HttpResponse:
    """What was said, drawn: a piece of page that is asked for while somebody types."""
    club_set_up_by(request.user, slug)
    return drawn(request)


def drawn(request: HttpRequest) -> HttpResponse:
    """The bank of the pegs that were posted, or what is wrong with them."""
    context: dict[str, Any] = {}
    try:
        context["bank"] = said_bank(read_bank(request.POST.get("pegs", "")[:4000]), key="said")
    except ValidationError as fault:
        context["faults"] = fault.messages
    return render(request, "desk/_bank_said.html", context)


def _page(request: HttpRequest, water: Water, **bound: Any) -> HttpResponse:
    at_club(request, water.venue.club)
    pegs = list(Peg.objects.along(water))
    try:
        runs = usual_runs(water)
    except RefusedError:  # the bank was written otherwise since; the form below says it again
        runs = {}
    context: dict[str, Any] = {
        "water": water,
        "bank": said_bank(
            [as_said(peg) for peg in pegs],
            sections={peg.number: letter for letter, run in runs.items() for peg in run},
        ),
        "out": [peg for peg in pegs if peg.left_out],
        "today": timezone.localdate(),
        "cautions": ALL,
        "first": FIRST,
        "bank_form": BankForm(initial={"pegs": say_bank(bank_of(water))}, auto_id="bank_%s"),
        "out_form": OutForm(auto_id="out_%s"),
        "about_form": AboutForm(
            initial={
                "name": water.name,
                "net_limit": water.net_limit,
                "usual_sections": water.usual_sections,
            },
            auto_id="about_%s",
        ),
        "venue_form": VenueForm(
            initial={
                "name": water.venue.name,
                "rules": water.venue.rules,
                "note_for_bailiff": water.venue.note_for_bailiff,
            },
            auto_id="venue_%s",
        ),
    }
    return render(request, "desk/water.html", context | bound)
