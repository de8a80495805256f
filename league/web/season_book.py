"""From a season to its book: the tables and every round as published, behind one cover."""

from __future__ import annotations

import hashlib

from django.http import HttpRequest

from league.files.record import record_in
from league.models import Result, Season
from league.rules.figures import and_list
from league.rules.headlines import headline
from league.sheets.book import Chapter, season_book
from league.sheets.page import Paper, SheetHead
from league.web.pages.standings import Standings, standings, table_stamp
from league.web.published import RELEASE, remembered, stamp
from league.web.result_sheets import result_pages_of, table_head, table_pages_of
from league.web.sentences import short_day
from league.web.sheet_paper import paper_for


def season_book_of(request: HttpRequest, season: Season) -> bytes:
    """The season as it stands: one PDF, the same bytes until something is published or decided."""
    table = standings(season)
    cover = table_head(request, table, title=str(season))
    head = SheetHead(
        club=cover.club,
        title=cover.title,
        series=cover.series,
        date=cover.date,
        headline=cover.headline,
        address=cover.address,
        notes=_notes(table),
        paper=cover.paper,
    )
    return season_book(head, [*_tables(request, table), *_rounds(request, table, head.paper)])


def kept_book(request: HttpRequest, season: Season) -> bytes:
    """The book as it was made for this state of the season: a large one takes its time."""
    kept: bytes = remembered(_version(request, season), lambda: season_book_of(request, season))
    return kept


def seal_of(request: HttpRequest, season: Season) -> str:
    """The validator of the book; another paper, host or release of the program has another."""
    said = f"{RELEASE} {_version(request, season)}"
    return f'"{hashlib.sha256(said.encode()).hexdigest()[:40]}"'


def _version(request: HttpRequest, season: Season) -> str:
    results = " ".join(stamp(result) for result in Result.objects.rounds_of(season))
    paper = paper_for(request, season.league.club)
    host = request.build_absolute_uri("/")
    return f"book {table_stamp(season)} {results} {paper} {host}"


def _tables(request: HttpRequest, table: Standings) -> list[Chapter]:
    if not table.lines:
        return []
    first = Chapter("League table", table_pages_of(request, table))
    if not table.of_teams or not table.worked.anglers:
        return [first]
    anglers = table_pages_of(request, table, of_anglers=True)
    return [first, Chapter("Anglers’ table", anglers)]


def _rounds(request: HttpRequest, table: Standings, paper: Paper) -> list[Chapter]:
    """Every round of the season; one not published yet is only listed."""
    chapters = []
    results = {result.match.round: result for result in Result.objects.rounds_of(table.season)}
    worked = dict(table.worked.rounds)
    for number in table.numbers:
        match = table.matches.get(number)
        where = f", {match.water.name}, {short_day(match.date)}" if match else ""
        name = f"Round {number}{where}"
        if number in results:
            result = results[number]
            answer = headline(worked[number], record=record_in(result.document))
            said = f"{answer}. Version {result.version}, {result.state}."
            chapters.append(Chapter(name, result_pages_of(request, result, paper), said))
        elif number in table.worked.cancelled:
            chapters.append(Chapter(name, (), "Cancelled."))
        else:
            chapters.append(Chapter(name, (), "Not published yet."))
    return chapters


def _notes(table: Standings) -> tuple[str, ...]:
    said = ["Every round is printed as it was published, with its version."]
    missing = [number for number in table.numbers if number not in dict(table.worked.rounds)]
    if missing:
        many = "Rounds" if len(missing) > 1 else "Round"
        said.append(f"{many} {and_list([str(number) for number in missing])}: no result so far.")
    return tuple(said)
