"""A season set up: its list, a new one or last season's copied, and the one page of a season."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from league.models import Club, League, Match, RulesChange, Season, SquadMember, Stage, Team
from league.operations.errors import RefusedError
from league.operations.rounds import change_season, copy_season, plan_rounds
from league.operations.score import book_of_season
from league.operations.season import (
    make_league,
    make_season,
    remove_season,
    slug_of,
    why_it_stays,
)
from league.operations.store import writing
from league.operations.teams import enter_teams
from league.rules.announced import read_out
from league.rules.figures import counted
from league.rules.rulebook import Rulebook
from league.web.access import club_set_up_by, for_officers, season_set_up_by
from league.web.context import at_club
from league.web.forms.days import a_day
from league.web.forms.planning import HoursForm, RoundsForm, hours_of, refuse
from league.web.forms.seasons import BookForm, SeasonForm, season_of
from league.web.forms.teams import TeamsForm, answers_of
from league.web.pages.setting_up import TeamLine, season_headline


class DetailsForm(forms.Form):
    """What a season is called, when it starts and how many rounds it has."""

    name = forms.CharField(label="Season", max_length=40)
    starts = a_day("Starts on")
    planned_rounds = forms.IntegerField(label="Rounds planned in all", min_value=0, max_value=60)


@for_officers
@require_safe
def seasons(request: HttpRequest, slug: str) -> HttpResponse:
    """Every league of the club with its seasons, newest first."""
    club = at_club(request, club_set_up_by(request.user, slug))
    found: dict[str, list[Season]] = {league.name: [] for league in League.objects.of(club)}
    for season in Season.objects.of(club):
        found[season.league.name].append(season)
    return render(request, "desk/seasons.html", {"leagues": found})


@for_officers
@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest, slug: str) -> HttpResponse:
    """A new season; with `?from=` last season's rules, teams, squads and rounds."""
    club = at_club(request, club_set_up_by(request.user, slug))
    before = request.GET.get("from", "")
    copied = get_object_or_404(Season.objects.of(club), pk=before) if before.isdecimal() else None
    posted = request.POST if request.method == "POST" else None
    form = SeasonForm(posted, copied=copied, initial=_likely(club))
    book_form = BookForm(posted, before=book_of_season(copied) if copied else None)
    if all([form.is_valid(), book_form.is_valid()]):
        try:
            season = _make(club, copied, form.cleaned_data, book_form.chosen(), request.user)
        except RefusedError as refused:
            refuse(form, refused)
        else:
            messages.success(request, f"{season} is set up.")
            return redirect("desk-season", club.slug, season.pk)
    context = {"form": form, "book_form": book_form, "copied": copied}
    return render(request, "desk/season_new.html", context)


@for_officers
@require_safe
def season(request: HttpRequest, slug: str, season_id: int) -> HttpResponse:
    """Teams, rounds and rules of a season, and what is still missing."""
    return season_page(request, season_set_up_by(request.user, slug, season_id))


@for_officers
@require_POST
def teams(request: HttpRequest, slug: str, season_id: int) -> HttpResponse:
    """Enter the teams that were pasted."""
    found = season_set_up_by(request.user, slug, season_id)
    form = TeamsForm(request.POST, club=found.league.club, auto_id="teams_%s")
    if form.is_valid():
        try:
            entered = enter_teams(
                found, form.cleaned_data["teams"], answers=answers_of(form), by=request.user
            )
        except RefusedError as refused:
            refuse(form, refused)
        else:
            said = [counted(len(entered.teams), "team") + " entered"]
            if entered.placed:
                said.append(f"{counted(entered.placed, 'angler')} put in squads")
            if entered.anglers:
                said.append(f"{counted(len(entered.anglers), 'angler')} new to the club")
            messages.success(request, f"{', '.join(said).capitalize()}.")
            return redirect("desk-season", slug, season_id)
    return season_page(request, found, teams_form=form)


@for_officers
@require_POST
def rounds(request: HttpRequest, slug: str, season_id: int) -> HttpResponse:
    """Plan the rounds that were filled in or pasted."""
    found = season_set_up_by(request.user, slug, season_id)
    there = list(Match.objects.rounds_of(found))
    form = RoundsForm(request.POST, season=found, there=there, auto_id="rounds_%s")
    hours = HoursForm(request.POST, auto_id="rounds_%s")
    if all([form.is_valid(), hours.is_valid()]):
        try:
            made = plan_rounds(
                found,
                form.rounds,
                water=form.cleaned_data["water"],
                hours=hours.times,
                by=request.user,
            )
        except RefusedError as refused:
            refuse(form, refused)
        else:
            messages.success(request, f"{counted(len(made), 'round').capitalize()} planned.")
            return redirect("desk-season", slug, season_id)
    return season_page(request, found, rounds_form=form, hours_form=hours)


@for_officers
@require_POST
def details(request: HttpRequest, slug: str, season_id: int) -> HttpResponse:
    """Write the season's name, start or number of rounds otherwise."""
    found = season_set_up_by(request.user, slug, season_id)
    form = DetailsForm(request.POST, auto_id="details_%s")
    if form.is_valid():
        try:
            change_season(found, by=request.user, **form.cleaned_data)
        except RefusedError as refused:
            refuse(form, refused)
        else:
            messages.success(request, "Kept.")
            return redirect("desk-season", slug, season_id)
    return season_page(request, found, details_form=form)


@for_officers
@require_POST
def remove(request: HttpRequest, slug: str, season_id: int) -> HttpResponse:
    """Take out a season that was set up by mistake."""
    found = season_set_up_by(request.user, slug, season_id)
    try:
        said = remove_season(found, by=request.user)
    except RefusedError as refused:
        messages.error(request, str(refused))
        return redirect("desk-season", slug, season_id)
    messages.success(request, said)
    return redirect("desk-seasons", slug)


def season_page(request: HttpRequest, season: Season, **bound: Any) -> HttpResponse:
    """The whole page; a form that could not be used comes back as it was filled in."""
    club = at_club(request, season.league.club)
    squads: dict[int, list[SquadMember]] = {}
    for member in SquadMember.objects.of_season(season):
        squads.setdefault(member.team_id, []).append(member)
    book = book_of_season(season)
    lines = [
        TeamLine(team, tuple(squads.get(team.pk, ())), book.team.size)
        for team in Team.objects.of(season)
    ]
    matches = list(Match.objects.rounds_of(season))
    to_come = [match for match in matches if match.stage in {Stage.PLANNED, Stage.DRAWN}]
    context: dict[str, Any] = {
        "season": season,
        "book": book,
        "parts": read_out(book),
        "kept": list(RulesChange.objects.of(season)),
        "lines": lines,
        "alone": book.team.size == 1,
        "matches": matches,
        "first": next(iter(to_come), None),
        "headline": season_headline(season, lines, matches, book.team.size),
        "today": timezone.localdate(),
        "stays": why_it_stays(season),
        "teams_form": TeamsForm(club=club, auto_id="teams_%s"),
        "rounds_form": RoundsForm(season=season, there=matches, auto_id="rounds_%s"),
        "hours_form": HoursForm(
            initial=hours_of(matches[-1] if matches else None), auto_id="rounds_%s"
        ),
        "details_form": DetailsForm(
            initial={
                "name": season.name,
                "starts": season.starts,
                "planned_rounds": season.planned_rounds,
            },
            auto_id="details_%s",
        ),
    }
    return render(request, "desk/season.html", context | bound)


def _likely(club: Club) -> dict[str, Any]:
    today = timezone.localdate()
    league = League.objects.of(club).first()
    return {"league": league.name if league else "", "name": season_of(today), "starts": today}


def _make(
    club: Club, copied: Season | None, told: dict[str, Any], book: Rulebook, by: Any
) -> Season:
    if copied is not None:
        return copy_season(copied, book=book, by=by, **told)
    with writing():
        league = League.objects.called(club, slug_of(told["league"])) or make_league(
            club, name=told["league"], by=by
        )
        return make_season(league, name=told["name"], starts=told["starts"], book=book, by=by)
