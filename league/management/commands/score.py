"""`score`: a match sheet or a season sheet worked out, without a database."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from league.files import result as result_file
from league.files import rulebook
from league.files import season as season_file
from league.files.sheet import Sheet, read_sheet
from league.management import scored
from league.management.inputs import read_book, read_bytes
from league.rules.errors import RuleError, SheetError
from league.rules.lines import MatchResult, SeasonResult
from league.rules.matches import score_match
from league.rules.rulebook import Rulebook
from league.rules.table import score_season


class Command(BaseCommand):
    """Needs no database, no secret and no environment."""

    help = (
        "Score a match sheet or a season sheet (CSV: section,peg,angler,team,weight; a season "
        "sheet has round and date in front). Prints the tables; ends with 1 where the sheet or "
        "the rule book has a fault, and tells every one."
    )
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("sheet", metavar="SHEET.csv", help="the sheet, or - for standard input")
        parser.add_argument(
            "--rules",
            metavar="RULES",
            help="a rule book (TOML), or the name of a ready-made one; without it, averaged low "
            "points",
        )
        written = parser.add_mutually_exclusive_group()
        written.add_argument("--json", action="store_true", help="the result as JSON")
        written.add_argument("--csv", action="store_true", help="the points (a season: the table)")
        parser.add_argument("--pdf", metavar="OUT.pdf", help="also write the sheet for the wall")

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            book = read_book(options["rules"])
            sheet = read_sheet(read_bytes(options["sheet"]), book)
            result = self.score(sheet, book)
        except SheetError as error:
            raise CommandError(_faults(options["sheet"], error)) from error
        except RuleError as error:
            raise CommandError(str(error)) from error
        for warning in (*rulebook.warnings(book), *sheet.warnings):
            self.stderr.write(f"Worth a look: {warning}")
        if options["pdf"]:
            # Before anything is printed: where it cannot be written, nothing was done.
            self.write_pdf(Path(options["pdf"]), sheet, result, book)
        self.stdout.write(self.written(sheet, result, book, options), ending="")

    def score(self, sheet: Sheet, book: Rulebook) -> MatchResult | SeasonResult:
        """The match, or the season round by round."""
        matches = [(match.round or 1, score_match(match.rows, book)) for match in sheet.matches]
        return score_season(matches, book) if sheet.is_season else matches[0][1]

    def written(
        self,
        sheet: Sheet,
        result: MatchResult | SeasonResult,
        book: Rulebook,
        options: dict[str, Any],
    ) -> str:
        """What goes to standard output."""
        if options["json"]:
            return json.dumps(_document(sheet, result, book), ensure_ascii=False, indent=1) + "\n"
        if options["csv"]:
            return scored.as_csv(result)
        if isinstance(result, SeasonResult):
            return scored.say_season(sheet, result)
        return scored.say_match(sheet.matches[0], result)

    def write_pdf(
        self, path: Path, sheet: Sheet, result: MatchResult | SeasonResult, book: Rulebook
    ) -> None:
        """The results sheet of a match, or the league table of a season."""
        try:
            path.write_bytes(scored.as_pdf(sheet, result, book))
        except OSError as error:
            raise CommandError(f"{path} cannot be written: {error.strerror}.") from error
        self.stderr.write(f"Sheet written to {path}.")


def _document(sheet: Sheet, result: MatchResult | SeasonResult, book: Rulebook) -> dict[str, Any]:
    if isinstance(result, SeasonResult):
        matches = {match.round or 1: match.about for match in sheet.matches}
        return season_file.as_json(result, book, matches=matches)
    return result_file.as_json(result, book, match=sheet.matches[0].about)


def _faults(name: str, error: SheetError) -> str:
    count = len(error.faults)
    head = "One fault" if count == 1 else f"{count} faults"
    return f"{head} in {name}; nothing is scored.\n{error}"
