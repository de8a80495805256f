"""Sections set by hand: a line of pegs each, looked at on the bank before anything is kept."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from league.models import Entry, Match, MatchPeg, Peg, Team
from league.operations.errors import RefusedError
from league.operations.sections import as_rule, set_sections
from league.rules.figures import counted
from league.rules.pegs import room
from league.rules.weights import Unit
from league.strip import DRAW, State, Strip, StripPeg, draw_strip
from league.web.access import for_officers, match_run_by
from league.web.context import at_club
from league.web.forms.pegs import ByHandForm
from league.web.forms.publish import slips


@for_officers
@require_http_methods(["GET", "HEAD", "POST"])
def by_hand(request: HttpRequest, match_id: int) -> HttpResponse:
    """Show the sections as they would lie; keep them only when asked to."""
    match = match_run_by(request.user, match_id)
    at_club(request, match.club)
    bank = list(Peg.objects.along(match.water))
    now = _runs(match)
    form = ByHandForm(
        request.POST if request.method == "POST" else None, match=match, bank=bank, now=now
    )
    runs: Mapping[str, Sequence[Peg]] = now
    if form.is_bound and form.is_valid():
        runs = form.runs
        if "keep" in request.POST:
            try:
                set_sections(match, runs, by=request.user)
            except RefusedError as refused:
                form.add_error(None, slips(refused))
            else:
                messages.success(request, f"{counted(len(runs), 'section').capitalize()} made.")
                return redirect("match-run", match.pk)
    return render(
        request,
        "run/sections.html",
        {
            "match": match,
            "form": form,
            "runs": runs,
            "short": _short(match, runs),
            "strip": _strip(bank, runs, Unit(match.unit)) if runs else None,
        },
    )


def _runs(match: Match) -> dict[str, list[Peg]]:
    runs: dict[str, list[Peg]] = {}
    for each in MatchPeg.objects.of(match):
        runs.setdefault(each.section.letter, []).append(each.peg)
    return runs


def _short(match: Match, runs: Mapping[str, Sequence[Peg]]) -> list[str]:
    """Sections with fewer pegs than anglers: a team has so many members in each."""
    booked = Entry.objects.of(match).in_booking_order()
    teams = len({entry.team_id for entry in booked if entry.team_id})
    if match.season and not teams:
        teams = len(Team.objects.of(match.season))
    cut = {letter: tuple(as_rule(peg) for peg in run) for letter, run in runs.items()}
    return room(cut, teams, match.per_section)


def _strip(bank: Sequence[Peg], runs: Mapping[str, Sequence[Peg]], unit: Unit) -> Strip:
    """The bank with its sections; pegs nobody fishes break it."""
    letters = {peg.pk: letter for letter, run in runs.items() for peg in run}
    pegs: list[StripPeg] = []
    gap = 0
    for peg in bank:
        if letter := letters.get(peg.pk):
            gap_before = gap if pegs else 0
            pegs.append(StripPeg(peg.number, letter, State.WAITING, gap_before=gap_before))
            gap = 0
        else:
            gap += 1
        gap += peg.gap_after
    sizes = "; ".join(f"section {letter}, {len(run)} pegs" for letter, run in runs.items())
    return draw_strip(
        pegs, DRAW, unit=unit, key="cut", title="The sections along the bank", description=sizes
    )
