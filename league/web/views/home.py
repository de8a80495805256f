"""The front page: what comes next, what came last, and how the league stands."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.contrib.auth.views import redirect_to_login
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from league.models import Club, Match, MatchPeg, Result, Season
from league.operations.first_run import is_first_run
from league.web import access
from league.web.context import at_club
from league.web.pages import result as result_page
from league.web.pages import table as table_page
from league.web.pages.standings import rules_url, table_stamp
from league.web.published import kept, stamp
from league.web.sentences import how_soon

COMING_UP = 5  # the next match and a few after it


@access.open_to(access.READERS)
@require_safe
def home(request: HttpRequest) -> HttpResponse:
    """The only club's front page; else the clubs to choose from; else what to do first."""
    clubs = list(Club.objects.visible_to(request.user).by_name())
    if len(clubs) == 1:
        return front(request, clubs[0])
    if not clubs and access.sign_in_could_help(request.user):
        return redirect_to_login(request.get_full_path())
    if not clubs and is_first_run():
        return redirect("start")
    return render(request, "home/clubs.html", {"clubs": clubs})


@require_safe
@access.for_readers
def club(request: HttpRequest, slug: str) -> HttpResponse:
    """A club's front page."""
    return front(request, access.club_for(request.user, slug))


@require_safe
@access.for_readers
def next_match(request: HttpRequest, slug: str | None = None) -> HttpResponse:
    """To the next match's own page; the front page says so where none is planned."""
    club = access.only_club_for(request.user, slug)
    match = Match.objects.of(club).to_come(timezone.localdate()).first()
    return redirect("match", match.pk) if match else redirect("club", club.slug)


def front(request: HttpRequest, club: Club) -> HttpResponse:
    """The front page of *club*."""
    at_club(request, club)
    today = timezone.localdate()
    coming = list(Match.objects.of(club).to_come(today)[:COMING_UP])
    last = Result.objects.of_club(club).defer("document").first()
    season = last.match.season if last and last.match.season else Season.objects.of(club).first()
    context = {
        "next": _next(coming[0], today) if coming else None,
        "coming": coming,
        "last_result": _last(last) if last else "",
        "table": _table(season) if season else "",
        "rules_url": rules_url(season),
    }
    return render(request, "home/front.html", context)


def _next(match: Match, today: date) -> dict[str, Any]:
    times = (
        ("Book in by", match.book_in),
        ("Draw", match.draw_at),
        ("All in", match.all_in),
        ("All out", match.all_out),
    )
    season = match.season
    pegs = [match_peg.peg.number for match_peg in MatchPeg.objects.of(match)]
    return {
        "match": match,
        "pegs": f"pegs {pegs[0]} to {pegs[-1]}" if len(pegs) > 1 else "",
        "how_soon": how_soon(today, match.date),
        "times": [(label, time) for label, time in times if time],
        "last_round": season is not None and match.round == season.planned_rounds,
    }


def _last(result: Result) -> str:
    return kept("home/_last.html", stamp(result), lambda: result_page.front(result))


def _table(season: Season) -> str:
    return kept("home/_table.html", table_stamp(season), lambda: table_page.head(season))
