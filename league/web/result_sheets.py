"""From a published result, table or season to the sheet that prints it."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone

from league.models import Result, Season
from league.operations import score
from league.rules.figures import points_written
from league.rules.headlines import table_headline
from league.sheets.page import Page, Paper, SheetHead
from league.sheets.published import published_pages, published_sheet, season_rules
from league.sheets.result import TeamColumn
from league.sheets.table import table_pages, table_sheet
from league.web.pages.objections import objections_to
from league.web.pages.standings import Standings, standings
from league.web.pages.table_ledger import total_heading
from league.web.sentences import moment, short_day
from league.web.sheet_paper import paper_for


def result_sheet_of(request: HttpRequest, result: Result) -> bytes:
    """
    The results sheet of one version.

    The time of printing is not on it: a version printed twice is the same sheet.
    """
    paper = paper_for(request, result.match.club)
    return published_sheet(result.document, **_of_result(request, result, paper))


def result_pages_of(request: HttpRequest, result: Result, paper: Paper) -> list[Page]:
    """The same sheet's pages on *paper*, to be bound into a book."""
    return published_pages(result.document, **_of_result(request, result, paper))[1]


def _of_result(request: HttpRequest, result: Result, paper: Paper) -> dict[str, Any]:
    until = result.objections_until
    return {
        "state": result.state,
        "address": _address(request, "result-version", result.match_id, result.version),
        "posted": f"{timezone.localtime(result.published_at):%H:%M}",
        "season": _league_points(result),
        "notes": [f"{made} {came}" for made, came, _ in objections_to(result.match)],
        "objections": f"Objections until {moment(until)}" if until and not result.final_at else "",
        "paper": paper,
    }


def _league_points(result: Result) -> tuple[TeamColumn, ...]:
    """What the round gives in the league; from the version alone, so that its bytes stay."""
    points = score.league_points(result)
    if not points:
        return ()
    return (TeamColumn("League", {key: points_written(given) for key, given in points.items()}),)


def table_sheet_of(request: HttpRequest, season: Season) -> bytes:
    """The league table as it stands, every round a column."""
    table = standings(season)
    head = table_head(request, table)
    return table_sheet(head, table.worked, rounds=_rounds(table), total=total_heading(table))


def table_pages_of(
    request: HttpRequest, table: Standings, *, of_anglers: bool = False
) -> list[Page]:
    """The pages of the teams' table, or of the anglers', to be bound into a book."""
    title = "Anglers’ table" if of_anglers else "League table"
    return table_pages(
        table_head(request, table, title=title, of_anglers=of_anglers),
        table.worked,
        rounds=_rounds(table),
        of_anglers=of_anglers,
        total=total_heading(table),
    )


def table_head(
    request: HttpRequest,
    table: Standings,
    *,
    title: str = "League table",
    of_anglers: bool = False,
) -> SheetHead:
    """What a sheet of the table says about itself."""
    season = table.season
    return SheetHead(
        club=season.league.club.name,
        title=title,
        series=str(season),
        date=f"After round {table.last}" if table.last else "",
        headline="" if of_anglers else table_headline(table.worked),
        address=_address(request, "table-anglers" if of_anglers else "table", season.pk),
        rules=season_rules(table.book),
        paper=paper_for(request, season.league.club),
    )


def _rounds(table: Standings) -> dict[int, str]:
    return {
        number: f"{match.water.name}, {short_day(match.date)}"
        for number, match in table.matches.items()
    }


def _address(request: HttpRequest, page: str, *args: int) -> str:
    return request.build_absolute_uri(reverse(page, args=args))
