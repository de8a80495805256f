"""Line-ups: the captain's page behind a link, and the secretary's page of links."""

from __future__ import annotations

from dataclasses import dataclass

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from league.models import CaptainPass, Entry, Match, Reserve, SquadMember, Team
from league.operations.captains import (
    Place,
    make_link,
    name_line_up,
    opened_by,
    places_for,
    revoke_link,
    squad_of,
    why_shut,
)
from league.operations.errors import RefusedError
from league.operations.lineup import may_change_line_up
from league.operations.score import book_of
from league.web.access import HOLDERS, for_members, for_officers, match_for, match_run_by, open_to
from league.web.context import at_club
from league.web.forms.captains import LineUpForm
from league.web.forms.publish import slips
from league.web.qr import code_of


@dataclass(frozen=True, slots=True)
class TeamLine:
    """One team as the secretary sees it: who is named, and the link in force."""

    team: Team
    places: list[Place]
    reserves: list[Reserve]
    captain: SquadMember | None
    link: CaptainPass | None

    @property
    def named(self) -> int:
        """Places with somebody in them."""
        return sum(place.angler is not None for place in self.places)

    @property
    def complete(self) -> bool:
        """Whether nobody is missing any more."""
        return bool(self.places) and self.named == len(self.places)


@open_to(HOLDERS)
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def line_up(request: HttpRequest, token: str) -> HttpResponse:
    """A captain names who fishes which section. The link alone opens it."""
    link = opened_by(token)
    if link is None:
        return _shut(request, "This link opens nothing. A part of it may be missing.", 404)
    match, team = link.match, link.team
    if shut := why_shut(link):
        return _shut(request, shut, 410)
    at_club(request, match.club)
    form = _form(request, match, team)
    refused = _too_late(match)
    if form.is_bound and form.is_valid() and not refused:
        try:
            name_line_up(match, team, places=form.named, reserves=form.reserves, by=None, link=link)
        except RefusedError as error:
            form.add_error(None, slips(error))
        else:
            messages.success(request, f"The line-up of {team} is named. You can still change it.")
            return redirect("line-up", token)
    context = {"link": link, "match": match, "team": team, "form": form, "refused": refused}
    return _private(render(request, "captains/line_up.html", context))


@for_members
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def own_line_up(request: HttpRequest, match_id: int) -> HttpResponse:
    """The same page for a captain who is signed in: no link has to be found."""
    match = match_for(request.user, match_id)
    at_club(request, match.club)
    squad = SquadMember.objects.captained_by(request.user, match.season_id)
    if squad is None:
        return render(request, "captains/no_captain.html", {"match": match})
    return _named_by(request, match, squad.team, own=True)


@for_officers
@never_cache
@require_safe
def line_ups(request: HttpRequest, match_id: int) -> HttpResponse:
    """Which teams have named a line-up, and the link each captain has."""
    return _page(request, match_run_by(request.user, match_id))


@for_officers
@never_cache
@require_POST
def make(request: HttpRequest, match_id: int, team_id: int) -> HttpResponse:
    """Make a team's link; it is shown once, to be sent or scanned."""
    match = match_run_by(request.user, match_id)
    team = _team(match, team_id)
    try:
        made, token = make_link(match, team, by=request.user)
    except RefusedError as refused:
        messages.error(request, str(refused))
        return redirect("line-ups", match.pk)
    address = request.build_absolute_uri(reverse("line-up", args=[token]))
    new = {"made": made, "link": address, "code": code_of(address)}
    return _page(request, match, new=new)


@for_officers
@require_POST
def take_back(request: HttpRequest, match_id: int, link_id: int) -> HttpResponse:
    """Take a captain's link back."""
    match = match_run_by(request.user, match_id)
    link = get_object_or_404(CaptainPass.objects.of(match), pk=link_id)
    try:
        revoke_link(link, by=request.user)
    except RefusedError as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"The link of {link.team} opens nothing any more.")
    return redirect("line-ups", match.pk)


@for_officers
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def by_secretary(request: HttpRequest, match_id: int, team_id: int) -> HttpResponse:
    """The same page for the secretary, when a captain rings."""
    match = match_run_by(request.user, match_id)
    at_club(request, match.club)
    return _named_by(request, match, _team(match, team_id), own=False)


def _named_by(request: HttpRequest, match: Match, team: Team, *, own: bool) -> HttpResponse:
    """The page for somebody signed in: the match secretary, or the team's *own* captain."""
    form = _form(request, match, team)
    refused = _too_late(match)
    if form.is_bound and form.is_valid() and not refused:
        try:
            name_line_up(match, team, places=form.named, reserves=form.reserves, by=request.user)
        except RefusedError as error:
            form.add_error(None, slips(error))
        else:
            said = f"The line-up of {team} is named."
            messages.success(request, f"{said} You can still change it." if own else said)
            return redirect("own-line-up" if own else "line-ups", match.pk)
    context = {"match": match, "team": team, "form": form, "refused": refused, "own": own}
    return render(request, "captains/line_up.html", context)


def _form(request: HttpRequest, match: Match, team: Team) -> LineUpForm:
    return LineUpForm(
        request.POST if request.method == "POST" else None,
        places=places_for(match, team),
        reserves=[each.angler for each in Reserve.objects.of_team(match, team)],
        squad=squad_of(match, team),
    )


def _too_late(match: Match) -> str:
    """Why the line-up cannot change any more; empty while it can."""
    try:
        may_change_line_up(match)
    except RefusedError as refused:
        return str(refused).split(". ")[0] + "."
    return ""


def _shut(request: HttpRequest, why: str, status: int) -> HttpResponse:
    return _private(render(request, "captains/shut.html", {"why": why}, status=status))


def _private(response: HttpResponse) -> HttpResponse:
    """The address is the key: no search may find it. Other sites are never told it anyway."""
    response["X-Robots-Tag"] = "noindex"
    return response


def _team(match: Match, team_id: int) -> Team:
    return get_object_or_404(Team, pk=team_id, season=match.season_id)


def _page(request: HttpRequest, match: Match, new: dict[str, object] | None = None) -> HttpResponse:
    at_club(request, match.club)
    lines = _lines(match)
    context = {
        "match": match,
        "lines": lines,
        "named": sum(line.complete for line in lines),
        "refused": _too_late(match),
        "new": new,
    }
    return render(request, "captains/line_ups.html", context)


def _lines(match: Match) -> list[TeamLine]:
    """Every team of the match in five questions, however many they are."""
    if match.season is None:
        return []
    now = timezone.now()
    sections = list(match.sections.all())
    size = book_of(match).team.size  # before there are sections: as many as the rules say
    entries = list(Entry.objects.of(match).in_booking_order())
    waiting = list(Reserve.objects.waiting(match))
    captains = {each.team_id: each for each in SquadMember.objects.captains_of(match.season)}
    links: dict[int, CaptainPass] = {}
    for link in CaptainPass.objects.of(match):
        if link.in_force(now):
            links.setdefault(link.team_id, link)
    lines = []
    for team in Team.objects.of(match.season):
        mine = [entry for entry in entries if entry.team_id == team.pk]
        places = [
            Place(section, entry.angler if entry else None)
            for section in sections
            for entry in _filled(
                [each for each in mine if each.section_id == section.pk], match.per_section
            )
        ] or [Place(None, entry.angler if entry else None) for entry in _filled(mine, size)]
        lines.append(
            TeamLine(
                team,
                places,
                [each for each in waiting if each.team_id == team.pk],
                captains.get(team.pk),
                links.get(team.pk),
            )
        )
    return lines


def _filled(entries: list[Entry], places: int) -> list[Entry | None]:
    return [*entries, *[None] * (places - len(entries))]
