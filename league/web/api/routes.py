"""The addresses of the interface. Everything is read; nothing here can change anything."""

from __future__ import annotations

import datetime as dt
from functools import cache
from typing import Annotated, Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from ninja import NinjaAPI, Path, Query
from ninja.errors import ValidationError

from league.models import Angler, Club, Match, Peg, Result, Season, SquadMember, Team, Water
from league.web import access, downloads
from league.web.api import facts, files
from league.web.api import schemas as shown
from league.web.pages.outings import outings_of
from league.web.pages.standings import table_stamp
from league.web.published import remembered

ABOUT = """\
What a club publishes, for other people's programs: matches, results, tables, teams, anglers and
waters. Nothing can be changed here.

What a club shows to its members alone is read with a member's session; to a stranger it does not
exist. Juniors go by the name that may be published. Every answer carries an ETag: send it back as
If-None-Match, and what has not changed is not sent again. Version 1 only ever gains fields.

Figures are as the club published them, provisional until the result says final. Venue rules and
the law come first.
"""
MOST = 200  # in one answer
GREATEST = 2**63 - 1  # that a database takes for a number

Id = Annotated[int, Path(ge=1, le=GREATEST)]
Version = Annotated[int, Path(ge=1, le=32767)]
Slug = Annotated[str, Path(pattern=r"^[-a-zA-Z0-9_]+$", max_length=50)]
Limit = Annotated[int, Query(ge=1, le=MOST, description="How many at most.")]
Offset = Annotated[int, Query(ge=0, le=10**6, description="How many to pass over.")]
Day = Annotated[dt.date | None, Query(description="A day, YYYY-MM-DD.")]

# No page of documentation from elsewhere: the description is enough, and the house lets no
# script in that is not its own.
api = NinjaAPI(
    title="Drawbag",
    version="1.0.0",
    description=ABOUT,
    urls_namespace="api-1",
    docs_url=None,
)
REFUSED: dict[int, Any] = {401: shown.Error, 404: shown.Error, 405: shown.Error, 422: shown.Faults}


@api.exception_handler(Http404)
def _nothing_there(request: HttpRequest, error: Http404) -> HttpResponse:
    if access.sign_in_could_help(request.user):
        words = "There is nothing here, or it is for members: sign in."
        return api.create_response(request, {"detail": words}, status=401)
    return api.create_response(request, {"detail": "There is nothing here."}, status=404)


@api.exception_handler(ValidationError)
def _not_understood(request: HttpRequest, error: ValidationError) -> HttpResponse:
    faults = [{"where": str(each["loc"][-1]), "what": str(each["msg"])} for each in error.errors]
    said = "; ".join(f"{each['where']}: {each['what']}" for each in faults)
    words = f"This is not how it is asked. {said}."
    return api.create_response(request, {"detail": words, "faults": faults}, status=422)


@api.get("/clubs", response={200: shown.Clubs, **REFUSED}, tags=["clubs"])
def clubs(request: HttpRequest) -> Any:
    """The clubs there are to read, by name."""
    found = Club.objects.visible_to(request.user).by_name()
    return {"clubs": [facts.club(request, each) for each in found]}


@api.get("/clubs/{slug}", response={200: shown.Club, **REFUSED}, tags=["clubs"])
def club(request: HttpRequest, slug: Slug) -> Any:
    """One club."""
    return facts.club(request, access.club_for(request.user, slug))


@api.get("/clubs/{slug}/matches", response={200: shown.Matches, **REFUSED}, tags=["matches"])
def matches(
    request: HttpRequest,
    slug: Slug,
    since: Day = None,
    until: Day = None,
    limit: Limit = 100,
    offset: Offset = 0,
) -> Any:
    """A club's matches in date order, those called off included."""
    found = Match.objects.of(access.club_for(request.user, slug)).between(since, until)
    part = found.with_venue()[offset : offset + limit]
    return {"count": found.count(), "matches": [facts.match(request, each) for each in part]}


@api.get("/clubs/{slug}/results", response={200: shown.Results, **REFUSED}, tags=["results"])
def results(request: HttpRequest, slug: Slug, limit: Limit = 100, offset: Offset = 0) -> Any:
    """A club's results in force, newest match first."""
    found = Result.objects.of_club(access.club_for(request.user, slug)).defer("document")
    part = found[offset : offset + limit]
    return {"count": found.count(), "results": [facts.result_head(request, each) for each in part]}


@api.get("/clubs/{slug}/seasons", response={200: shown.Seasons, **REFUSED}, tags=["tables"])
def seasons(request: HttpRequest, slug: Slug) -> Any:
    """A club's seasons, newest first."""
    found = Season.objects.of(access.club_for(request.user, slug))
    return {"seasons": [facts.season(request, each) for each in found]}


@api.get("/clubs/{slug}/anglers", response={200: shown.Anglers, **REFUSED}, tags=["anglers"])
def anglers(request: HttpRequest, slug: Slug, limit: Limit = 100, offset: Offset = 0) -> Any:
    """A club's anglers, by name."""
    found = Angler.objects.of(access.club_for(request.user, slug))
    part = found[offset : offset + limit]
    return {"count": found.count(), "anglers": [facts.angler(request, each) for each in part]}


@api.get("/clubs/{slug}/waters", response={200: shown.Waters, **REFUSED}, tags=["waters"])
def waters(request: HttpRequest, slug: Slug) -> Any:
    """A club's waters and their pegs, in the order of the bank."""
    club = access.club_for(request.user, slug)
    pegs = Peg.objects.by_water_of(club)
    return {
        "waters": [
            facts.water(request, each, pegs.get(each.pk, ())) for each in Water.objects.of(club)
        ]
    }


@api.get("/matches/{match_id}", response={200: shown.Match, **REFUSED}, tags=["matches"])
def match(request: HttpRequest, match_id: Id) -> Any:
    """One match."""
    return facts.match(request, access.match_for(request.user, match_id))


@api.get("/matches/{match_id}/result", response={200: files.Result, **REFUSED}, tags=["results"])
def result(request: HttpRequest, match_id: Id) -> Any:
    """The version in force of a match's result: the same file as on its page."""
    return _document(request, match_id, None)


@api.get(
    "/matches/{match_id}/result/{version}",
    response={200: files.Result, **REFUSED},
    tags=["results"],
)
def result_version(request: HttpRequest, match_id: Id, version: Version) -> Any:
    """One version of a match's result, as it was published."""
    return _document(request, match_id, version)


def _document(request: HttpRequest, match_id: int, version: int | None) -> HttpResponse:
    found = get_object_or_404(
        Result.objects.readable_by(request.user).version_of(match_id, version)
    )
    return api.create_response(request, downloads.result_document(found), status=200)


@api.get("/seasons/{season_id}", response={200: shown.Season, **REFUSED}, tags=["tables"])
def season(request: HttpRequest, season_id: Id) -> Any:
    """One season."""
    return facts.season(request, access.season_for(request.user, season_id))


@api.get("/seasons/{season_id}/table", response={200: files.Table, **REFUSED}, tags=["tables"])
def table(request: HttpRequest, season_id: Id) -> Any:
    """The table as it stands, with every round it is made of: the same file as on its page."""
    found = access.season_for(request.user, season_id)
    document = remembered(
        f"document {table_stamp(found)}", lambda: downloads.season_document(found)
    )
    return api.create_response(request, document, status=200)


@api.get("/seasons/{season_id}/teams", response={200: shown.Teams, **REFUSED}, tags=["teams"])
def teams(request: HttpRequest, season_id: Id) -> Any:
    """The teams of a season and their squads."""
    found = access.season_for(request.user, season_id)
    squads = SquadMember.objects.by_team_of(found)
    return {
        "teams": [
            facts.team(request, each, squads.get(each.pk, ())) for each in Team.objects.of(found)
        ]
    }


@api.get("/teams/{team_id}", response={200: shown.Team, **REFUSED}, tags=["teams"])
def team(request: HttpRequest, team_id: Id) -> Any:
    """One team and its squad."""
    found = get_object_or_404(Team.objects.visible_to(request.user), pk=team_id)
    return facts.team(request, found, SquadMember.objects.of(found))


@api.get("/anglers/{angler_id}", response={200: shown.Outings, **REFUSED}, tags=["anglers"])
def angler(request: HttpRequest, angler_id: Id) -> Any:
    """An angler, and every published match."""
    found = access.angler_for(request.user, angler_id)
    return {
        "angler": facts.angler(request, found),
        "outings": [facts.outing(each) for each in outings_of(found)],
    }


def routes_of(club: Club) -> list[tuple[str, str]]:
    """Every address and what it answers with, for people; the club's own name is put in."""
    return [(route.replace("{slug}", club.slug), words) for route, words in _routes()]


@cache
def _routes() -> list[tuple[str, str]]:
    paths = api.get_openapi_schema()["paths"]
    return [(route, operations["get"]["description"]) for route, operations in paths.items()]
