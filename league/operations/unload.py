"""A club's whole record as plain files: sheets, rule books, results, draws. Reads only."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from io import StringIO

from django.utils.text import slugify

from league.files import rulebook as rulebook_file
from league.files import season as season_file
from league.files.anglers import Listed, write_anglers
from league.files.csv_text import shielded
from league.files.draw import write_record
from league.files.sheet import SheetMatch
from league.files.sheet_write import write_match, write_season
from league.models import Angler, Club, Match, Peg, Result, Season, Water
from league.operations.draw import record_of
from league.operations.facts import facts_of, rows_of
from league.operations.score import book_of, book_of_season, score_table
from league.rules.weights import Unit

# A file by its path inside the club's folder, and what it holds.
File = tuple[str, str]


def unload(club: Club) -> Iterator[File]:
    """
    Every file of *club*'s record, one at a time.

    The season sheets and the list of anglers carry full names, juniors' too: they are the club's
    own. Results are as they were published. A draw's secret leaves only once it is revealed.
    """
    yield "anglers.csv", _anglers(club)
    yield "pegs.csv", _pegs(club)
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
        yield f"{folder}/season.json", _json(table)
    for match in rounds:
        yield from _published(match, f"{folder}/round-{match.round}")


def _published(match: Match, folder: str) -> Iterator[File]:
    """Every version of the result as it was published, and the draw as anybody may check it."""
    for result in sorted(Result.objects.of(match), key=lambda each: each.version):
        document = {**result.document, "state": result.state}
        yield f"{folder}/result-{result.version}.json", _json(document)
    if record := record_of(match):
        yield f"{folder}/draw.json", write_record(record)


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


def _pegs(club: Club) -> str:
    headings = "venue,water,peg,gap_after,easy_access,left_out,left_out_why,hazards"
    return _csv(
        headings.split(","),
        (
            (
                water.venue.name,
                water.name,
                peg.number,
                _yes(peg.gap_after),
                _yes(peg.easy_access),
                _yes(peg.left_out),
                peg.left_out_why,
                peg.hazards,
            )
            for water in Water.objects.of(club)
            for peg in Peg.objects.along(water)
        ),
    )


def _yes(fact: bool) -> str:
    return "yes" if fact else ""


def _csv(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    text = StringIO()
    writer = csv.writer(text)
    writer.writerow(headings)
    writer.writerows([shielded(cell) for cell in row] for row in rows)
    return text.getvalue()


def _json(document: object) -> str:
    return json.dumps(document, ensure_ascii=False, indent=1) + "\n"
