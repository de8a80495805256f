"""A club's whole record as plain files: sheets, rule books, results, draws. Reads only."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from django.utils.text import slugify

from league.files import rulebook as rulebook_file
from league.files import season as season_file
from league.files.anglers import Listed, write_anglers
from league.files.draw import write_record
from league.files.sheet import SheetMatch
from league.files.sheet_write import write_match, write_season
from league.models import Angler, Club, Match, Result, Season
from league.operations.draw import record_of
from league.operations.facts import facts_of, rows_of
from league.operations.score import book_of, book_of_season, score_table
from league.operations.unload_beside import (
    File,
    as_json,
    money_csv,
    pegs_csv,
    pools_of_match,
    pools_of_season,
    waters_csv,
)
from league.rules.weights import Unit


def unload(club: Club) -> Iterator[File]:
    """
    Every file of *club*'s record, one at a time.

    The season sheets and the list of anglers carry full names, juniors' too: they are the club's
    own. Results are as they were published. A draw's secret leaves only once it is revealed.
    """
    yield "anglers.csv", _anglers(club)
    yield "waters.csv", waters_csv(club)
    yield "pegs.csv", pegs_csv(club)
    yield "money.csv", money_csv(club)
    for season in Season.objects.of(club):
        yield from _season(season)
    for match in Match.objects.of(club):
        if match.season_id is None:
            folder = f"matches/{match.date.isoformat()}-{slugify(match.title)}-{match.pk}"
            if match.is_drawn:
                yield f"{folder}/sheet.csv", write_match(_sheet(match), Unit(match.unit))
            yield f"{folder}/rules.toml", rulebook_file.write_toml(book_of(match))
            yield from _published(match, folder)


def _season(season: Season) -> Iterator[File]:
    folder = f"{season.league.slug}/{season.slug}"
    book = book_of_season(season)
    rounds = list(Match.objects.rounds_of(season))
    results = {
        result.match.round: result
        for result in Result.objects.rounds_of(season)
        if result.match.round is not None
    }
    yield f"{folder}/rules.toml", rulebook_file.write_toml(book)
    fished = [match for match in rounds if match.round in results]
    if fished:
        sheets = [_sheet(match) for match in fished]
        yield f"{folder}/season.csv", write_season(sheets, book.unit)
        table = season_file.as_json(
            score_table(season),
            book,
            about={
                "name": season.name,
                "league": season.league.name,
                "club": season.league.club.name,
            },
            matches={number: result.document["match"] for number, result in results.items()},
            versions={number: (each.version, each.state) for number, each in results.items()},
        )
        yield f"{folder}/season.json", as_json(table)
    yield from pools_of_season(season, folder)
    for match in rounds:
        yield from _published(match, f"{folder}/round-{match.round}")


def _published(match: Match, folder: str) -> Iterator[File]:
    """Every version of the result as it was published, and the draw as anybody may check it."""
    for result in sorted(Result.objects.of(match), key=lambda each: each.version):
        document = {**result.document, "state": result.state}
        yield f"{folder}/result-{result.version}.json", as_json(document)
    if record := record_of(match):
        yield f"{folder}/draw.json", write_record(record)
    yield from pools_of_match(match, folder)


def _sheet(match: Match) -> SheetMatch:
    """The match as taken down, with names as the club's list has them."""
    facts = facts_of(match)
    names = {str(entry.angler_id): entry.angler.name for entry in facts.entries}
    return SheetMatch(
        tuple(replace(row, angler=names[row.angler_id]) for row in rows_of(facts)),
        round=match.round,
        date=match.date,
        name=match.name,
        venue=match.water.venue.name,
        water=match.water.name,
    )


def _anglers(club: Club) -> str:
    return write_anglers(
        (
            Listed(angler.name, angler.junior, angler.consent_to_publish, angler.easy_access),
            angler.shown_name,
        )
        for angler in Angler.objects.of(club)
    )
