"""A club's records, and its anglers as a file."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from league.columns import Column
from league.models import Angler
from league.web import access, downloads
from league.web.context import at_club
from league.web.pages import records as page
from league.web.validators import checked

ANGLER_COLUMNS: tuple[Column[Angler], ...] = (
    Column("angler", "Angler", lambda each: each.shown_name),
)


@require_safe
@access.for_readers
def records(request: HttpRequest, slug: str | None = None) -> HttpResponse:
    """The heaviest weights and totals, and the most section wins."""
    club = at_club(request, access.only_club_for(request.user, slug))
    return render(request, "angler/records.html", page.matter(club))


@require_safe
@access.for_readers
def weights_file(request: HttpRequest, slug: str, ending: str) -> HttpResponse:
    """The heaviest weights of anglers."""
    club = access.club_for(request.user, slug)
    found = page.records(club)
    columns = page.catch_columns(found.unit, "Angler")
    response = downloads.table_file(f"{club.name} best weights", ending, columns, found.anglers)
    return checked(request, response, public=club.public)


@require_safe
@access.for_readers
def teams_file(request: HttpRequest, slug: str, ending: str) -> HttpResponse:
    """The heaviest totals of teams."""
    club = access.club_for(request.user, slug)
    found = page.records(club)
    columns = page.catch_columns(found.unit, "Team")
    response = downloads.table_file(f"{club.name} team totals", ending, columns, found.teams)
    return checked(request, response, public=club.public)


@require_safe
@access.for_readers
def wins_file(request: HttpRequest, slug: str, ending: str) -> HttpResponse:
    """Who won most sections."""
    club = access.club_for(request.user, slug)
    wins = page.records(club).wins
    response = downloads.table_file(f"{club.name} section wins", ending, page.WIN_COLUMNS, wins)
    return checked(request, response, public=club.public)


@require_safe
@access.for_readers
def anglers_file(request: HttpRequest, slug: str, ending: str) -> HttpResponse:
    """The anglers, by the names that may be published."""
    club = access.club_for(request.user, slug)
    response = downloads.table_file(
        f"{club.name} anglers", ending, ANGLER_COLUMNS, Angler.objects.of(club)
    )
    return checked(request, response, public=club.public)
