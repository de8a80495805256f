"""The account of a season: each round's sums, and every line as a file."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from league.columns import Column
from league.models import Match
from league.operations.money_account import plan_of_season
from league.operations.money_season import Entered, entered, rounds_money
from league.rules.pools_pence import plain
from league.rules.pools_words import read_out
from league.web import downloads
from league.web.access import SEES_THE_MONEY, for_officers, season_with_money
from league.web.context import at_club


def _at(line: Entered) -> str:
    return f"{timezone.localtime(line.at):%Y-%m-%d %H:%M}"


COLUMNS: tuple[Column[Entered], ...] = (
    Column("date", "Date", lambda line: line.match.date.isoformat()),
    Column("match", "Match", lambda line: line.match.title),
    Column("what", "What", lambda line: line.what),
    Column("who", "Who or why", lambda line: line.who),
    Column("in", "In", lambda line: plain(line.came) if line.came else ""),
    Column("out", "Out", lambda line: plain(line.went) if line.went else ""),
    Column("by", "Written down by", lambda line: line.by),
    Column("at", "At", _at),
)


@for_officers(*SEES_THE_MONEY)
@require_safe
def season_money(request: HttpRequest, season_id: int) -> HttpResponse:
    """Every round with its sums, and what the season holds."""
    season = season_with_money(request.user, season_id)
    at_club(request, season.league.club)
    rounds = rounds_money(list(Match.objects.rounds_of(season)))
    totals = {
        name: sum(getattr(each, name) for each in rounds)
        for name in ("taken", "owed", "prizes", "fees", "kept", "handed", "held")
    }
    context = {
        "season": season,
        "rounds": rounds,
        "totals": totals,
        "differs": sum(each.difference or 0 for each in rounds),
        "said": read_out(plan_of_season(season)),
    }
    return render(request, "money/season.html", context)


@for_officers(*SEES_THE_MONEY)
@require_safe
def account_csv(request: HttpRequest, season_id: int) -> HttpResponse:
    """Every line of the season's money, for a spreadsheet."""
    season = season_with_money(request.user, season_id)
    lines = entered(list(Match.objects.rounds_of(season)))
    return downloads.csv_file(f"{season} account", downloads.written_csv(COLUMNS, lines))
