"""A team's page, two teams held against each other, and both as files."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from league.models import SquadMember, Team
from league.operations.score import book_of_season
from league.web import access, downloads
from league.web.context import at_club
from league.web.pages import head_to_head as pair
from league.web.pages import team as page
from league.web.pages.standings import rules_url
from league.web.validators import checked


@require_safe
@access.for_readers
def team(request: HttpRequest, team_id: int) -> HttpResponse:
    """A team's season: rounds, sections, squad."""
    found = _team(request, team_id)
    context = page.matter(found, list(SquadMember.objects.of(found)))
    context["rules_url"] = rules_url(found.season)
    return render(request, "team/team.html", context)


@require_safe
@access.for_readers
def rounds_file(request: HttpRequest, team_id: int, ending: str) -> HttpResponse:
    """The same rounds for a spreadsheet or a program."""
    found = _team(request, team_id)
    rounds = page.rounds_of(found)
    unit = rounds[0].unit if rounds else book_of_season(found.season).unit
    name = f"{found.name} {found.season} rounds"
    response = downloads.table_file(name, ending, page.columns(unit), rounds)
    return checked(request, response, public=found.season.league.club.public)


@require_safe
@access.for_readers
def head_to_head(request: HttpRequest, season_id: int) -> HttpResponse:
    """Two teams held against each other; without two, a form to choose them."""
    season = access.season_for(request.user, season_id)
    at_club(request, season.league.club)
    teams = list(Team.objects.of(season))
    chosen, fault = _chosen(request, teams)
    context: dict[str, Any] = {
        "season": season,
        "teams": teams,
        "a": request.GET.get("a", ""),
        "b": request.GET.get("b", ""),
        "fault": fault,
        "rules_url": rules_url(season),
    }
    if chosen:
        context |= {"chosen": chosen, "ours": chosen[0], "theirs": chosen[1]}
        context |= pair.matter(season, *chosen, book_of_season(season).unit)
    status = 400 if fault else 200
    return render(request, "team/head_to_head.html", context, status=status)


@require_safe
@access.for_readers
def head_to_head_file(request: HttpRequest, season_id: int, ending: str) -> HttpResponse:
    """Their meetings for a spreadsheet or a program."""
    season = access.season_for(request.user, season_id)
    chosen, fault = _chosen(request, list(Team.objects.of(season)))
    if not chosen:
        raise Http404(fault or "Name two teams: ?a= and b=.")
    ours, theirs = chosen
    name = f"{ours.name} and {theirs.name} {season}"
    unit = book_of_season(season).unit
    meetings = pair.held(season, ours, theirs).meetings
    response = downloads.table_file(name, ending, pair.columns(ours, theirs, unit), meetings)
    return checked(request, response, public=season.league.club.public)


def _team(request: HttpRequest, team_id: int) -> Team:
    found = get_object_or_404(Team.objects.visible_to(request.user), pk=team_id)
    at_club(request, found.season.league.club)
    return found


def _chosen(request: HttpRequest, teams: list[Team]) -> tuple[tuple[Team, Team] | None, str]:
    """The two teams an address names, and what is wrong where it names others."""
    asked = request.GET.get("a", ""), request.GET.get("b", "")
    if not any(asked):
        return None, ""
    known = {str(each.pk): each for each in teams}
    first, second = (known.get(each) for each in asked)
    if first is None or second is None:
        return None, "One of the two is not a team of this season. Choose both from the lists."
    if first.pk == second.pk:
        return None, f"{first.name} cannot be held against themselves. Choose another team."
    return (first, second), ""
