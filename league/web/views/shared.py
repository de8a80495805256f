"""A result as people pass it on: text for a chat, a picture for a link preview."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from league.columns import overall_columns, team_columns
from league.models import Result
from league.operations import score
from league.web import access
from league.web.downloads import table_file
from league.web.pages.previews import picture_of
from league.web.pages.standings import standings
from league.web.pages.summary import summary as summary_of
from league.web.pages.table_ledger import shared_columns
from league.web.published import remembered, stamp
from league.web.validators import checked
from league.web.views.result import result_for


@require_safe
@access.for_readers
def summary(request: HttpRequest, match_id: int, version: int) -> HttpResponse:
    """The result in a few lines of plain text."""
    found = result_for(request, match_id, version)
    response = HttpResponse(_said(request, found), content_type="text/plain; charset=utf-8")
    return checked(request, response, public=found.match.club.public)


@require_safe
@access.for_readers
def share(request: HttpRequest, match_id: int, version: int) -> HttpResponse:
    """The same lines in a box to copy from, with what there is to subscribe to."""
    found = result_for(request, match_id, version)
    said = _said(request, found)
    context = {"result": found, "said": said, "rows": said.count("\n") + 1}
    return checked(
        request,
        render(request, "result/share.html", context),
        public=found.match.club.public,
    )


@require_safe
@access.for_readers
def bank(request: HttpRequest, match_id: int, version: int) -> HttpResponse:
    """The headline and the bank strip, 1200 by 630."""
    found = result_for(request, match_id, version)
    picture = remembered(f"picture {stamp(found)}", lambda: picture_of(found))
    return checked(
        request,
        HttpResponse(picture, content_type="image/png"),
        public=found.match.club.public,
    )


@require_safe
@access.for_readers
def teams_file(request: HttpRequest, match_id: int, version: int, ending: str) -> HttpResponse:
    """The teams of a match, with their points in each section."""
    found = result_for(request, match_id, version)
    worked = score.read(found)
    letters = [section.section for section in worked.sections]
    columns = team_columns(letters, worked.unit, score.league_points(found))
    response = table_file(f"{_named(found)} teams", ending, columns, worked.teams)
    return checked(request, response, public=found.match.club.public)


@require_safe
@access.for_readers
def everybody_file(request: HttpRequest, match_id: int, version: int, ending: str) -> HttpResponse:
    """Every angler of a match by weight."""
    found = result_for(request, match_id, version)
    worked = score.read(found)
    columns = overall_columns(worked.unit)
    response = table_file(f"{_named(found)} by weight", ending, columns, worked.anglers)
    return checked(request, response, public=found.match.club.public)


@require_safe
@access.for_readers
def anglers_table_file(request: HttpRequest, season_id: int, ending: str) -> HttpResponse:
    """The anglers' table of a season."""
    season = access.season_for(request.user, season_id)
    table = standings(season, of_anglers=True)
    response = table_file(f"{season} anglers table", ending, shared_columns(table), table.lines)
    return checked(request, response, public=season.league.club.public)


def _named(result: Result) -> str:
    return f"{result.match.date.isoformat()} {result.match.title} version {result.version}"


def _said(request: HttpRequest, result: Result) -> str:
    address = request.build_absolute_uri(
        reverse("result-version", args=[result.match_id, result.version])
    )
    version = f"summary {address} {stamp(result)} of {result.in_force}"
    said = remembered(version, lambda: summary_of(result, address, in_force=result.in_force))
    return str(said)
