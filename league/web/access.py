"""
Who may do what. Every view starts here.

Every look-up begins with the person: what they may not see does not exist, so a stranger meets a
404, or a sign-in page where signing in could help.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, TypeAlias

from django.contrib.auth.models import AnonymousUser, User
from django.contrib.auth.views import redirect_to_login
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404

from league.models import Angler, Club, Entry, Match, OfficeName, Season

Person: TypeAlias = User | AnonymousUser
View: TypeAlias = Callable[..., HttpResponse]

RUNS_THE_DAY = (OfficeName.SECRETARY,)
WORKS_THE_SCALES = (OfficeName.SECRETARY, OfficeName.SCALES)
SEES_THE_MONEY = (OfficeName.SECRETARY, OfficeName.TREASURER)
HAVE_A_DESK = (OfficeName.SECRETARY, OfficeName.SCALES, OfficeName.TREASURER)


def for_officers(view: View) -> View:
    """
    Ask a stranger to sign in before they hear that a page does not exist.

    Somebody signed in without the office gets the 404: the page is not for them.
    """

    @wraps(view)
    def wrapped(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if not request.user.is_authenticated:
            return redirect_to_login(request.get_full_path())
        return view(request, *args, **kwargs)

    return wrapped


def for_readers(view: View) -> View:
    """
    Show what a club publishes; to a stranger a private club's page is a sign-in page.

    So is every address that does not exist, where any club is private: nobody can tell the two
    apart. Where every club is public, what does not exist is a plain 404.
    """

    @wraps(view)
    def wrapped(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        try:
            return view(request, *args, **kwargs)
        except Http404:
            if sign_in_could_help(request.user):
                return redirect_to_login(request.get_full_path())
            raise

    return wrapped


def sign_in_could_help(user: Person) -> bool:
    """Whether *user* is a stranger and there is something that only members may read."""
    return not user.is_authenticated and Club.objects.private().exists()


def club_for(user: Person, slug: str) -> Club:
    """The club, if *user* may read its pages."""
    return get_object_or_404(Club.objects.visible_to(user), slug=slug)


def only_club_for(user: Person, slug: str | None) -> Club:
    """The club of that name, or without one the only club there is to read."""
    if slug is not None:
        return club_for(user, slug)
    clubs = list(Club.objects.visible_to(user).by_name()[:2])
    if len(clubs) != 1:
        raise Http404("Say which club: /clubs/<club>/ and the page.")
    return clubs[0]


def match_for(user: Person, match_id: int) -> Match:
    """The match, if *user* may read it."""
    return get_object_or_404(Match.objects.visible_to(user), pk=match_id)


def match_run_by(user: Person, match_id: int) -> Match:
    """The match, if *user* is its club's secretary."""
    return get_object_or_404(Match.objects.run_by(user, *RUNS_THE_DAY), pk=match_id)


def match_at_scales(user: Person, match_id: int) -> Match:
    """The match, if *user* works its scales."""
    return get_object_or_404(Match.objects.run_by(user, *WORKS_THE_SCALES), pk=match_id)


def entry_at_scales(user: Person, match_id: int, entry_id: int) -> Entry:
    """An entry of the match with a peg, if *user* works its scales."""
    match = match_at_scales(user, match_id)
    return get_object_or_404(Entry.objects.of(match).in_peg_order(), pk=entry_id)


def season_for(user: Person, season_id: int) -> Season:
    """The season, if *user* may read its table."""
    return get_object_or_404(Season.objects.visible_to(user), pk=season_id)


def angler_for(user: Person, angler_id: int) -> Angler:
    """The angler, if *user* may read the club's pages."""
    return get_object_or_404(Angler.objects.visible_to(user), pk=angler_id)


def club_run_by(user: Person) -> Club:
    """The club whose secretary *user* is; the first by name where there are several."""
    club = Club.objects.held_by(user, *RUNS_THE_DAY).by_name().first()
    if club is None:
        raise Http404("This page is for the match secretary.")
    return club


def club_of_officer(user: Person, slug: str = "") -> Club:
    """The club in which *user* holds an office with a desk; the first by name without a *slug*."""
    held = Club.objects.held_by(user, *HAVE_A_DESK)
    if slug:
        return get_object_or_404(held, slug=slug)
    club = held.by_name().first()
    if club is None:
        raise Http404("This page is for the club's officers.")
    return club


def offices_of(user: Person, club: Club) -> set[str]:
    """The offices *user* holds in *club*."""
    if not user.is_authenticated:
        return set()
    return {office.name for office in user.offices.all() if office.club_id == club.pk}  # type: ignore[attr-defined]
