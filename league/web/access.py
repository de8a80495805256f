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
from django.shortcuts import get_object_or_404, redirect

from league.models import Angler, Club, Entry, Match, OfficeName, Season, Water
from league.web.lost import NothingThereError

Person: TypeAlias = User | AnonymousUser
View: TypeAlias = Callable[..., HttpResponse]

RUNS_THE_DAY = (OfficeName.SECRETARY,)
WORKS_THE_SCALES = (OfficeName.SECRETARY, OfficeName.SCALES)
SEES_THE_MONEY = (OfficeName.SECRETARY, OfficeName.TREASURER)
HAVE_A_DESK = (OfficeName.SECRETARY, OfficeName.SCALES, OfficeName.TREASURER)


# Who may open a page, where it is no office: each view says one of these, or its offices.
EVERYBODY = "everybody"  # nothing on it is anybody's
READERS = "readers"  # everybody where the club is public, else its members
SIGNED_IN = "signed in"
HOLDERS = "holders of the link"  # a secret in the address opens it, and nothing else does
PHONES = "phones let in"  # a token in the Authorization header


class WhichClubError(Http404):
    """An address without a club, where there is not just one."""


def open_to(*who: str) -> Callable[[View], View]:
    """State who may open a page; tests/house/test_doors.py tries it with every office."""

    def marked(view: View) -> View:
        view.open_to = frozenset(who)  # type: ignore[attr-defined]
        return view

    return marked


def for_officers(*who: Any) -> Any:
    """
    Ask a stranger to sign in before they hear that a page does not exist.

    Somebody signed in without the office gets the 404: the page is not for them. States the
    offices it is for: `@for_officers` the match secretary, `@for_officers(*WORKS_THE_SCALES)` more.
    """
    if who and callable(who[0]):
        return for_officers(*RUNS_THE_DAY)(who[0])

    def decorated(view: View) -> View:
        @wraps(view)
        def wrapped(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
            if not request.user.is_authenticated:
                return redirect_to_login(request.get_full_path())
            response = view(request, *args, **kwargs)
            if "Cache-Control" not in response:
                # Nobody who sits down at the laptop afterwards reads it with the back button.
                response["Cache-Control"] = "private, no-store"
            return response

        return open_to(*who)(wrapped)

    return decorated


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
        except NothingThereError:
            raise
        except WhichClubError:
            # The front door has the clubs to choose from, or says what is to come first.
            if sign_in_could_help(request.user):
                return redirect_to_login(request.get_full_path())
            return redirect("home")
        except Http404:
            if sign_in_could_help(request.user):
                return redirect_to_login(request.get_full_path())
            raise

    return open_to(READERS)(wrapped)


def for_members(view: View) -> View:
    """Ask a stranger to sign in; whoever is signed in sees what is their own."""
    return for_officers(SIGNED_IN)(view)  # type: ignore[no-any-return]


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
        raise WhichClubError("Say which club: /clubs/<club>/ and the page.")
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


def match_with_money(user: Person, match_id: int) -> Match:
    """The match, if *user* keeps or may see its money."""
    return get_object_or_404(Match.objects.run_by(user, *SEES_THE_MONEY), pk=match_id)


def season_with_money(user: Person, season_id: int) -> Season:
    """The season, if *user* keeps or may see its money."""
    season = season_for(user, season_id)
    get_object_or_404(Club.objects.held_by(user, *SEES_THE_MONEY), pk=season.league.club_id)
    return season


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


def club_kept_by(user: Person, slug: str) -> Club:
    """The club of that name, if *user* is its match secretary."""
    return get_object_or_404(Club.objects.held_by(user, *RUNS_THE_DAY), slug=slug)


def offices_of(user: Person, club: Club) -> set[str]:
    """The offices *user* holds in *club*."""
    if not user.is_authenticated:
        return set()
    return {office.name for office in user.offices.all() if office.club_id == club.pk}  # type: ignore[attr-defined]


def club_set_up_by(user: Person, slug: str) -> Club:
    """The club, if *user* is its secretary: seasons, teams, rounds and waters are set up by one."""
    return get_object_or_404(Club.objects.held_by(user, *RUNS_THE_DAY), slug=slug)


def season_set_up_by(user: Person, slug: str, season_id: int) -> Season:
    """The season, if *user* is its club's secretary."""
    return get_object_or_404(Season.objects.of(club_set_up_by(user, slug)), pk=season_id)


def match_set_up_by(user: Person, slug: str, match_id: int) -> Match:
    """The match, if *user* is its club's secretary."""
    return get_object_or_404(Match.objects.of(club_set_up_by(user, slug)), pk=match_id)


def water_set_up_by(user: Person, slug: str, water_id: int) -> Water:
    """The water, if *user* is its club's secretary."""
    return get_object_or_404(Water.objects.of(club_set_up_by(user, slug)), pk=water_id)
