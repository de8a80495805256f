"""What other people's programs subscribe to: matches as a calendar, results as a feed."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any

from django.contrib.syndication.views import Feed
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.utils.cache import patch_cache_control
from django.utils.feedgenerator import Atom1Feed
from django.views.decorators.http import require_safe

from league.models import Club, League, Match, Result, Subscription, Team
from league.web import access
from league.web.api.routes import routes_of
from league.web.context import at_club
from league.web.pages.calendar import KEPT, calendar_of
from league.web.pages.programs import own_addresses
from league.web.pages.summary import summary
from league.web.published import remembered, stamp
from league.web.validators import checked

IN_A_FEED = 30


@require_safe
@access.for_readers
def club_calendar(request: HttpRequest, slug: str) -> HttpResponse:
    """Every match of a club."""
    club = access.club_for(request.user, slug)
    return calendar(request, club, club.name, Match.objects.of(club))


@require_safe
@access.for_readers
def league_calendar(request: HttpRequest, league_id: int) -> HttpResponse:
    """The rounds of a league, season after season."""
    league = get_object_or_404(League.objects.visible_to(request.user), pk=league_id)
    name = f"{league.name}, {league.club.name}"
    return calendar(request, league.club, name, Match.objects.of_league(league))


@require_safe
@access.for_readers
def team_calendar(request: HttpRequest, team_id: int) -> HttpResponse:
    """The rounds a team fishes."""
    team = get_object_or_404(Team.objects.visible_to(request.user), pk=team_id)
    name = f"{team.name}, {team.season}"
    return calendar(request, team.season.league.club, name, Match.objects.rounds_of(team.season))


@require_safe
@access.for_readers
def programs(request: HttpRequest, slug: str) -> HttpResponse:
    """What there is to subscribe to, and how a program asks."""
    club = at_club(request, access.club_for(request.user, slug))
    held = Subscription.objects.open_of(club, request.user)
    leagues = list(League.objects.of(club))
    own = own_addresses(request, held, leagues) if held else []
    context = {"leagues": leagues, "routes": routes_of(club), "own": own}
    response = render(request, "home/programs.html", context)
    if own:
        patch_cache_control(response, private=True, no_store=True)
    return response


def calendar(request: HttpRequest, club: Club, name: str, matches: Iterable[Match]) -> HttpResponse:
    """The *matches* as a calendar called *name*, for whoever may read the pages of *club*."""
    since = timezone.localdate() - KEPT
    shown = matches.for_calendar(since)  # type: ignore[attr-defined]
    response = HttpResponse(
        calendar_of(request, name, shown), content_type="text/calendar; charset=utf-8"
    )
    response["Content-Disposition"] = 'inline; filename="matches.ics"'
    return checked(request, response, public=club.public)


class _Results(Feed):
    """Results as published, newest first; a correction comes again under the same name."""

    feed_type = Atom1Feed

    def get_object(self, request: HttpRequest, *args: Any, **kwargs: Any) -> tuple[Any, ...]:
        """The club, the league or None, and the request."""
        return kwargs["club"], kwargs["league"], request

    def title(self, source: tuple[Any, ...]) -> str:
        """Whose results."""
        club, league, _ = source
        return f"{league.name}, {club.name}: results" if league else f"{club.name}: results"

    def subtitle(self, source: tuple[Any, ...]) -> str:
        """What comes here."""
        return "Every result the evening it is published, and again when it is corrected."

    def link(self, source: tuple[Any, ...]) -> str:
        """The page of the same."""
        return reverse("results", args=[source[0].slug])

    def feed_url(self, source: tuple[Any, ...]) -> str:
        """Its own address."""
        return str(source[2].path)

    def author_name(self, source: tuple[Any, ...]) -> str:
        """The club."""
        return str(source[0].name)

    def items(self, source: tuple[Any, ...]) -> list[tuple[Result, HttpRequest]]:
        """The newest results, each the version in force."""
        club, league, request = source
        found = Result.objects.of_league(league) if league else Result.objects.of_club(club)
        return [(result, request) for result in found[:IN_A_FEED]]

    def item_title(self, item: tuple[Result, HttpRequest]) -> str:
        """The headline; that it is a correction is said first."""
        result, _ = item
        again = f"Corrected (version {result.version}): " if result.version > 1 else ""
        return f"{again}{result.headline}"

    def item_description(self, item: tuple[Result, HttpRequest]) -> str:
        """The whole summary, as text."""
        result, _ = item
        return str(remembered(f"summary {stamp(result)}", lambda: summary(result)))

    def item_link(self, item: tuple[Result, HttpRequest]) -> str:
        """The page of this version."""
        return reverse("result-version", args=[item[0].match_id, item[0].version])

    def item_guid(self, item: tuple[Result, HttpRequest]) -> str:
        """One name a match for ever, so that a correction takes the place of what it corrects."""
        return item[1].build_absolute_uri(reverse("result", args=[item[0].match_id]))

    def item_pubdate(self, item: tuple[Result, HttpRequest]) -> datetime:
        """When this version was published."""
        return item[0].published_at

    def item_updateddate(self, item: tuple[Result, HttpRequest]) -> datetime:
        """When it was last said anew: made final, or published."""
        return item[0].final_at or item[0].published_at


_results = _Results()


def results(request: HttpRequest, club: Club, league: League | None = None) -> HttpResponse:
    """The results of *club*, or of one *league*, for whoever may read its pages."""
    response = _results(request, club=club, league=league)
    return checked(request, response, public=club.public)


@require_safe
@access.for_readers
def club_results(request: HttpRequest, slug: str) -> HttpResponse:
    """The results of a club as an Atom feed."""
    return results(request, access.club_for(request.user, slug))


@require_safe
@access.for_readers
def league_results(request: HttpRequest, league_id: int) -> HttpResponse:
    """The results of a league as an Atom feed."""
    league = get_object_or_404(League.objects.visible_to(request.user), pk=league_id)
    return results(request, league.club, league)
