"""The same columns as on the page, as CSV, JSON and paper."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable, Sequence
from io import StringIO
from typing import Any, TypeVar

from django.http import HttpResponse
from django.utils.text import slugify

from league.columns import Column
from league.files import season as season_file
from league.models import Result, Season
from league.operations.score import book_of_season, score_table
from league.web.pages.objections import objections_to

Line = TypeVar("Line")

# A spreadsheet runs a cell that begins with one of these as a formula.
FORMULA = ("=", "+", "-", "@", "\t", "\r")


def safe(cell: str) -> str:
    """
    A cell that no spreadsheet runs: an apostrophe goes before what it would take for a formula.

    >>> safe("=HYPERLINK(1)"), safe("Jo Ormesher")
    ("'=HYPERLINK(1)", 'Jo Ormesher')
    """
    return f"'{cell}" if cell.startswith(FORMULA) else cell


def written_csv(columns: Sequence[Column[Line]], lines: Iterable[Line]) -> str:
    """The *lines* under the headings of *columns*, as RFC 4180 has it."""
    text = StringIO()
    writer = csv.writer(text)
    writer.writerow([safe(column.heading) for column in columns])
    writer.writerows([safe(column.in_file(line)) for column in columns] for line in lines)
    return text.getvalue()


def written_json(columns: Sequence[Column[Line]], lines: Iterable[Line]) -> list[dict[str, str]]:
    """The same cells by the columns' keys, for a program."""
    return [{column.key: column.in_file(line) for column in columns} for line in lines]


def table_file(
    name: str, ending: str, columns: Sequence[Column[Line]], lines: Iterable[Line]
) -> HttpResponse:
    """A table as CSV or, where *ending* says so, as JSON: its headings, and its rows by key."""
    if ending == "csv":
        return csv_file(name, written_csv(columns, lines))
    return json_file(
        name,
        {
            "table": name,
            "columns": {column.key: column.heading for column in columns},
            "rows": written_json(columns, lines),
        },
    )


def csv_file(name: str, text: str) -> HttpResponse:
    """Send *text* as a file; the mark at its head tells a spreadsheet that it is UTF-8."""
    return _file(name, "csv", "text/csv; charset=utf-8", ("\ufeff" + text).encode())


def json_file(name: str, document: Any) -> HttpResponse:
    """Send *document* as a file."""
    text = json.dumps(document, ensure_ascii=False, indent=1)
    return _file(name, "json", "application/json", f"{text}\n".encode())


def pdf_file(name: str, sheet: bytes) -> HttpResponse:
    """Show *sheet* in the browser; saved, it has a name that says what it is."""
    return _file(name, "pdf", "application/pdf", sheet, shown=True)


def result_document(result: Result) -> dict[str, Any]:
    """A version's result file: as it is kept, with its state and its objections as they are now."""
    objections = [
        {"objection": made, "answer": came, "open": still_open}
        for made, came, still_open in objections_to(result.match)
    ]
    return {**result.document, "state": result.state, "objections": objections}


def season_document(season: Season) -> dict[str, Any]:
    """The season's result file: every round as published, and the tables they make."""
    rounds = {
        result.match.round: result
        for result in Result.objects.rounds_of(season)
        if result.match.round is not None
    }
    return season_file.as_json(
        score_table(season),
        book_of_season(season),
        about={
            "name": season.name,
            "league": season.league.name,
            "club": season.league.club.name,
        },
        matches={number: result.document["match"] for number, result in rounds.items()},
        versions={number: (result.version, result.state) for number, result in rounds.items()},
    )


def _file(
    name: str, ending: str, kind: str, content: bytes, *, shown: bool = False
) -> HttpResponse:
    response = HttpResponse(content, content_type=kind)
    how = "inline" if shown else "attachment"
    response["Content-Disposition"] = f'{how}; filename="{slugify(name)}.{ending}"'
    return response
