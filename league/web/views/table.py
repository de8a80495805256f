"""The league table of a season, its rules read out, and the list of seasons."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from league.models import RulesChange, Season
from league.operations.score import book_of_season
from league.rules.announced import read_out
from league.web import access, downloads
from league.web.context import at_club
from league.web.pages import table as page
from league.web.pages.previews import preview_of_table
from league.web.pages.standings import rules_url, standings, table_stamp
from league.web.pages.table_ledger import shared_columns
from league.web.published import for_every_stranger, kept
from league.web.result_sheets import table_sheet_of


@require_safe
@access.for_readers
def table(
    request: HttpRequest, season_id: int, number: int = 1, *, of_anglers: bool = False
) -> HttpResponse:
    """The table as the published results make it; a long one in pages, each at its own address."""
    return for_every_stranger(
        request,
        lambda: Season.objects.seal(season_id),
        lambda: _page(request, _season(request, season_id), number, of_anglers),
    )


def _page(request: HttpRequest, season: Season, number: int, of_anglers: bool) -> HttpResponse:
    matter = kept(
        "table/_table.html",
        f"{table_stamp(season)} {number} {of_anglers}",
        lambda: page.matter(season, number, of_anglers=of_anglers),
    )
    title = f"{season}: {'anglers’ ' if of_anglers else ''}table"
    context = {
        "matter": matter,
        "title": title,
        "preview": preview_of_table(request, season, title),
        "rules_url": rules_url(season),
    }
    return render(request, "table/table.html", context)


@require_safe
@access.for_readers
def seasons(request: HttpRequest, slug: str | None = None) -> HttpResponse:
    """The club's seasons, newest first."""
    club = at_club(request, access.only_club_for(request.user, slug))
    return render(request, "table/seasons.html", {"seasons": Season.objects.of(club)})


@require_safe
@access.for_readers
def rules(request: HttpRequest, season_id: int) -> HttpResponse:
    """What the league announced, rule by rule."""
    season = _season(request, season_id)
    book = book_of_season(season)
    context = {
        "season": season,
        "book": book,
        "parts": read_out(book),
        "kept": list(RulesChange.objects.of(season)),
        "rules_url": rules_url(season),
    }
    return render(request, "table/rules.html", context)


@require_safe
@access.for_readers
def as_csv(request: HttpRequest, season_id: int) -> HttpResponse:
    """The table for a spreadsheet."""
    season = _season(request, season_id)
    table = standings(season)
    return downloads.csv_file(
        f"{season} table", downloads.written_csv(shared_columns(table), table.lines)
    )


@require_safe
@access.for_readers
def as_json(request: HttpRequest, season_id: int) -> HttpResponse:
    """The season's result file, for a program."""
    season = _season(request, season_id)
    return downloads.json_file(f"{season} table", downloads.season_document(season))


@require_safe
@access.for_readers
def sheet(request: HttpRequest, season_id: int) -> HttpResponse:
    """The table on paper."""
    season = _season(request, season_id)
    return downloads.pdf_file(f"{season} table", table_sheet_of(request, season))


def _season(request: HttpRequest, season_id: int) -> Season:
    season = access.season_for(request.user, season_id)
    at_club(request, season.league.club)
    return season
