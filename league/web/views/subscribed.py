"""A member's own address for programs: made, taken back, and what it opens."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST, require_safe

from league.models import Club, League, Match
from league.operations.errors import RefusedError
from league.operations.subscriptions import opened_by, subscribe, take_back, why_ended
from league.web.access import HOLDERS, club_for, for_members, open_to
from league.web.context import at_club
from league.web.views import feeds

NOBODYS = "This address opens nothing. A part of it may be missing."
ANOTHER = "Sign in at the club’s pages to make another."


def for_its_holder(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Read the address, and say in plain words, for programs show them, where it has ended."""

    @wraps(view)
    def wrapped(request: HttpRequest, token: str, **kwargs: Any) -> HttpResponse:
        found = opened_by(token)
        if found is None:
            return _plain(NOBODYS, 404)
        if ended := why_ended(found):
            return _plain(f"{ended} {ANOTHER}", 410)
        response = view(request, found.club, **kwargs)
        response["X-Robots-Tag"] = "noindex"
        return response

    return open_to(HOLDERS)(require_safe(wrapped))


@for_its_holder
def calendar(request: HttpRequest, club: Club) -> HttpResponse:
    """Every match of the club."""
    return feeds.calendar(request, club, club.name, Match.objects.of(club))


@for_its_holder
def results(request: HttpRequest, club: Club) -> HttpResponse:
    """The results of the club as an Atom feed."""
    return feeds.results(request, club)


@for_its_holder
def league_calendar(request: HttpRequest, club: Club, league_id: int) -> HttpResponse:
    """The rounds of one league."""
    league = get_object_or_404(League.objects.of(club), pk=league_id)
    name = f"{league.name}, {club.name}"
    return feeds.calendar(request, club, name, Match.objects.of_league(league))


@for_its_holder
def league_results(request: HttpRequest, club: Club, league_id: int) -> HttpResponse:
    """The results of one league."""
    return feeds.results(request, club, get_object_or_404(League.objects.of(club), pk=league_id))


@for_members
@require_POST
def make(request: HttpRequest, slug: str) -> HttpResponse:
    """An address of one's own; the same again where there is one."""
    club = at_club(request, club_for(request.user, slug))
    try:
        subscribe(club, request.user)
    except RefusedError as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, "Your own addresses are below. Keep them to yourself.")
    return redirect("programs", club.slug)


@for_members
@require_POST
def give_back(request: HttpRequest, slug: str) -> HttpResponse:
    """The address opens nothing any more."""
    club = at_club(request, club_for(request.user, slug))
    try:
        take_back(club, request.user)
    except RefusedError as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, "Your addresses are taken back: they open nothing any more.")
    return redirect("programs", club.slug)


def _plain(words: str, status: int) -> HttpResponse:
    response = HttpResponse(f"{words}\n", status=status, content_type="text/plain; charset=utf-8")
    response["Cache-Control"] = "no-store"
    return response
