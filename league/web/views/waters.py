"""A club's waters, and what the pegs of each gave."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from league.models import Water
from league.sheets.cautions import ALL, FIRST
from league.web import access, downloads
from league.web.context import at_club
from league.web.pages import water as page
from league.web.validators import checked


@require_safe
@access.for_readers
def waters(request: HttpRequest, slug: str | None = None) -> HttpResponse:
    """The club's waters, by name."""
    club = at_club(request, access.only_club_for(request.user, slug))
    return render(request, "water/waters.html", {"waters": Water.objects.of(club)})


@require_safe
@access.for_readers
def water(request: HttpRequest, water_id: int) -> HttpResponse:
    """One water, peg by peg."""
    found = _water(request, water_id)
    context = {**page.matter(found), "general": ALL, "first": FIRST}
    return render(request, "water/water.html", context)


@require_safe
@access.for_readers
def pegs_file(request: HttpRequest, water_id: int, ending: str) -> HttpResponse:
    """The same pegs for a spreadsheet or a program."""
    found = _water(request, water_id)
    form, _ = page.form_of(found)
    shown = page.columns(form.unit, form=form.tells_form)
    response = downloads.table_file(f"{found} pegs", ending, shown, form.pegs)
    return checked(request, response, public=found.venue.club.public)


def _water(request: HttpRequest, water_id: int) -> Water:
    found = get_object_or_404(Water.objects.visible_to(request.user), pk=water_id)
    at_club(request, found.venue.club)
    return found
