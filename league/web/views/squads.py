"""One team of a season as its secretary keeps it: its name, its code, its squad."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from league.models import Season, SquadMember, Team
from league.operations.errors import RefusedError
from league.operations.store import writing
from league.operations.teams import remove_team, rename_team, set_squad
from league.web.access import for_officers, season_set_up_by
from league.web.context import at_club
from league.web.forms.planning import refuse
from league.web.forms.teams import SquadForm, answers_of, squad_written


@for_officers
@require_http_methods(["GET", "HEAD", "POST"])
def team(request: HttpRequest, slug: str, season_id: int, team_id: int) -> HttpResponse:
    """Write the team and its squad otherwise."""
    season, found = _team(request, slug, season_id, team_id)
    club = at_club(request, season.league.club)
    kept = {
        "name": found.name,
        "code": found.code,
        "squad": squad_written(SquadMember.objects.of(found)),
    }
    form = SquadForm(request.POST if request.method == "POST" else None, club=club, initial=kept)
    if form.is_valid():
        told = form.cleaned_data
        try:
            with writing():
                rename_team(found, name=told["name"], code=told["code"], by=request.user)
                set_squad(found, told["squad"], answers=answers_of(form), by=request.user)
        except RefusedError as refused:
            refuse(form, refused)
        else:
            messages.success(request, f"{told['name']} is kept.")
            return redirect("desk-season", slug, season_id)
    context = {"season": season, "team": kept["name"], "team_id": team_id, "form": form}
    return render(request, "desk/team.html", context)


@for_officers
@require_POST
def remove(request: HttpRequest, slug: str, season_id: int, team_id: int) -> HttpResponse:
    """Take a team out of the season."""
    _, found = _team(request, slug, season_id, team_id)
    try:
        remove_team(found, by=request.user)
    except RefusedError as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"{found.name} is taken out.")
    return redirect("desk-season", slug, season_id)


def _team(request: HttpRequest, slug: str, season_id: int, team_id: int) -> tuple[Season, Team]:
    season = season_set_up_by(request.user, slug, season_id)
    return season, get_object_or_404(Team.objects.of(season), pk=team_id)
