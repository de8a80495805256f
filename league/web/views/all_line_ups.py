"""Every team's line-up on one page: the squads' first names are suggested, one press books all."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from league.models import Angler, Entry, Match, Section, SquadMember, Team
from league.operations.captains import name_line_up
from league.operations.errors import RefusedError
from league.operations.score import book_of
from league.operations.store import writing
from league.rules.figures import counted
from league.web.access import for_officers, match_set_up_by
from league.web.context import at_club
from league.web.forms.all_line_ups import LineUpsForm
from league.web.forms.planning import refuse


@for_officers
@require_http_methods(["GET", "HEAD", "POST"])
def line_ups(request: HttpRequest, slug: str, match_id: int) -> HttpResponse:
    """Name the line-ups; captains can still change theirs by their own links."""
    match = match_set_up_by(request.user, slug, match_id)
    at_club(request, match.club)
    form = _form(match, request.POST if request.method == "POST" else None)
    if form.is_valid():
        named = form.named()
        try:
            with writing():
                for team, places in named.items():
                    name_line_up(match, team, places=places, by=request.user)
        except RefusedError as refused:
            refuse(form, refused)
        else:
            count = sum(place.angler is not None for line in named.values() for place in line)
            said = f"{counted(count, 'angler')} of {counted(len(named), 'team')} booked in."
            messages.success(request, said.capitalize())
            return redirect("match-run", match.pk)
    context = {
        "match": match,
        "form": form,
        "sections": [section for section in form.places if section],
    }
    return render(request, "desk/line_ups.html", context)


def _form(match: Match, data: object) -> LineUpsForm:
    season = match.season
    if season is None:
        raise Http404("There are teams only in a league.")
    squads: dict[int, list[Angler]] = {}
    for member in SquadMember.objects.of_season(season):
        squads.setdefault(member.team_id, []).append(member.angler)
    named: dict[int, list[Entry]] = {}
    for entry in Entry.objects.of(match).in_booking_order():
        if entry.team_id:
            named.setdefault(entry.team_id, []).append(entry)
    made = list(match.sections.all())
    places: list[Section | None] = [each for each in made for _ in range(match.per_section)]
    return LineUpsForm(
        data,
        teams=list(Team.objects.of(season)),
        squads=squads,
        named=named,
        places=places or [None] * book_of(match).team.size,
    )
