"""`score`: a match sheet or a season sheet worked out, without a database."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from league.files import result as result_file
from league.files import rulebook
from league.files import season as season_file
from league.files import what_if as what_if_file
from league.files.sheet import Sheet, read_sheet
from league.management import compare, scored
from league.management.inputs import opened, read_book
from league.rules.errors import RuleError, SheetError
from league.rules.lines import MatchResult, SeasonResult
from league.rules.matches import score_match
from league.rules.rulebook import Rulebook
from league.rules.table import score_season
from league.rules.what_if import WhatIf, fitted, scored_again, what_if


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
        parser.add_argument(
            "--against",
            metavar="RULES",
            help="of a season: also the table under this rule book, who moves and why",
        )
        written = parser.add_mutually_exclusive_group()
        written.add_argument("--json", action="store_true", help="the result as JSON")
        written.add_argument("--csv", action="store_true", help="the points (a season: the table)")
        parser.add_argument("--pdf", metavar="OUT.pdf", help="also write the sheet for the wall")

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            book = read_book(options["rules"])
            with opened(options["sheet"]) as file:
                sheet = read_sheet(file, book)
            result = self.score(sheet, book)
            other = read_book(options["against"]) if options["against"] else None
            compared = self.compare(result, book, other) if other else None
        except SheetError as error:
            raise CommandError(_faults(options["sheet"], error)) from error
        except RuleError as error:
            raise CommandError(str(error)) from error
        for warning in (*rulebook.warnings(book), *sheet.warnings):
            self.stderr.write(f"Worth a look: {warning}")
        if options["pdf"]:
            # Before anything is printed: where it cannot be written, nothing was done.
            self.write_pdf(Path(options["pdf"]), sheet, result, book)
        self.stdout.write(self.written(sheet, result, book, options, compared), ending="")

    def score(self, sheet: Sheet, book: Rulebook) -> MatchResult | SeasonResult:
        """The match, or the season round by round."""
        matches = [(match.round or 1, score_match(match.rows, book)) for match in sheet.matches]
        return score_season(matches, book) if sheet.is_season else matches[0][1]

    def compare(
        self, result: MatchResult | SeasonResult, book: Rulebook, other: Rulebook
    ) -> tuple[WhatIf, Rulebook]:
        """The same season under *other*, with that book as it was laid over the season."""
        if not isinstance(result, SeasonResult):
            raise CommandError(
                "--against compares the tables of a season: send a season sheet, which has round "
                "and date in front."
            )
        laid, notes = fitted(other, book)
        for note in notes:
            self.stderr.write(f"Worth a look: {note}")
        rounds = result.rounds

        def table(rules: Rulebook) -> SeasonResult:
            return score_season(scored_again(rounds, rules), rules)

        return what_if(result, table, book, laid), laid

    def written(
        self,
        sheet: Sheet,
        result: MatchResult | SeasonResult,
        book: Rulebook,
        options: dict[str, Any],
        compared: tuple[WhatIf, Rulebook] | None,
    ) -> str:
        """What goes to standard output."""
        if options["json"]:
            document = _document(sheet, result, book)
            if compared:
                document["what_if"] = what_if_file.as_json(*compared)
            return json.dumps(document, ensure_ascii=False, indent=1) + "\n"
        if options["csv"]:
            return compare.as_csv(compared[0]) if compared else scored.as_csv(result)
        if isinstance(result, SeasonResult):
            said = scored.say_season(sheet, result)
            return f"{said}\n{compare.say(*compared)}" if compared else said
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
