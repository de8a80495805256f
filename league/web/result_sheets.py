"""From a published result or table to the sheet that prints it."""

from __future__ import annotations

from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone

from league.models import Result, Season
from league.operations import score
from league.rules.figures import points_written
from league.rules.headlines import table_headline
from league.sheets.page import SheetHead
from league.sheets.published import published_sheet, season_rules
from league.sheets.result import TeamColumn
from league.sheets.table import table_sheet
from league.web.pages.standings import standings
from league.web.pages.table_ledger import total_heading
from league.web.sentences import moment, short_day


def result_sheet_of(request: HttpRequest, result: Result) -> bytes:
    """
    The results sheet of one version.

    The time of printing is not on it: a version printed twice is the same sheet.
    """
    until = result.objections_until
    return published_sheet(
        result.document,
        state=result.state,
        address=_address(request, "result-version", result.match_id, result.version),
        posted=f"{timezone.localtime(result.published_at):%H:%M}",
        season=_league_points(result),
        objections=f"Objections until {moment(until)}" if until and not result.final_at else "",
    )


def _league_points(result: Result) -> tuple[TeamColumn, ...]:
    """What the round gives in the league; from the version alone, so that its bytes stay."""
    points = score.league_points(result)
    if not points:
        return ()
    return (TeamColumn("League", {key: points_written(given) for key, given in points.items()}),)


def table_sheet_of(request: HttpRequest, season: Season) -> bytes:
    """The league table as it stands, every round a column."""
    table = standings(season)
    head = SheetHead(
        club=season.league.club.name,
        title="League table",
        series=str(season),
        date=f"After round {table.last}" if table.last else "",
        headline=table_headline(table.worked),
        address=_address(request, "table", season.pk),
        rules=season_rules(table.book),
    )
    return table_sheet(
        head,
        table.worked,
        rounds={
            number: f"{match.water.name}, {short_day(match.date)}"
            for number, match in table.matches.items()
        },
        total=total_heading(table),
    )


def _address(request: HttpRequest, page: str, *args: int) -> str:
    return request.build_absolute_uri(reverse(page, args=args))
