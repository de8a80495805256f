"""`load`: a season sheet into a club's records."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import transaction

from league.files.anglers import read_anglers
from league.files.sheet import Sheet, read_sheet
from league.management.inputs import read_book, read_bytes
from league.management.names import club_called, league_called, new_club, new_league
from league.management.tables import refuse_old_tables
from league.models import Season
from league.operations.errors import RefusedError
from league.operations.load import load_season
from league.operations.score import book_of_season
from league.rules.errors import RuleError, SheetError
from league.rules.figures import and_list
from league.rules.rulebook import Rulebook
from league.rules.weights import Unit


class Command(BaseCommand):
    """Everything in the sheet, or nothing."""

    help = (
        "Load a season sheet (CSV: round,date,section,peg,angler,team,weight; water, venue, match, "
        "penalty and note where known) as a season of a league, its rounds published and final. "
        "A club or league that is not there yet is made. Loading twice is harmless."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("sheet", metavar="SEASON.csv")
        parser.add_argument("--club", required=True, metavar="CLUB")
        parser.add_argument("--league", required=True, metavar="LEAGUE")
        parser.add_argument(
            "--season", metavar="NAME", help="without it, the years of the sheet: 2026–27"
        )
        parser.add_argument(
            "--rules",
            metavar="RULES",
            help="a rule book (TOML) or a ready-made one's name; without it the season's own, or "
            "averaged low points for a new season",
        )

        parser.add_argument(
            "--anglers",
            metavar="ANGLERS.csv",
            help="the club's list (name, junior, consent_to_publish, easy_access): who of those "
            "new to the records is a junior and goes by first name and initial",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        refuse_old_tables()
        try:
            with transaction.atomic():
                said = self.load(options)
        except (RefusedError, RuleError) as error:
            raise CommandError(f"{options['sheet']} is not loaded.\n{error}") from error
        for line in said:
            self.stdout.write(line)

    def load(self, options: dict[str, Any]) -> list[str]:
        """Read, look over, write; whatever is refused undoes the club and the league as well."""
        said = []
        content = read_bytes(options["sheet"])
        club = club_called(options["club"])
        if club is None:
            club = new_club(options["club"])
            said.append(f"{club} is new to these records.")
        league = league_called(club, options["league"])
        if league is None:
            league = new_league(club, options["league"])
            said.append(f"{league} is a new league of {club}.")
        book = read_book(options["rules"]) if options["rules"] else None
        name = options["season"] or _years(content, book)
        season = Season.objects.called(league, name)
        rules = book or (book_of_season(season) if season else Rulebook())
        sheet = read_sheet(content, rules)
        listed = read_anglers(read_bytes(options["anglers"])) if options["anglers"] else None
        loaded = load_season(league, sheet=sheet, name=name, book=book, listed=listed, by=None)
        for warning in sheet.warnings:
            self.stderr.write(f"Worth a look: {warning}")
        if loaded.added:
            said.append(f"{loaded.season}: {_rounds(loaded.added)} loaded.")
        if loaded.known:
            said.append(f"{loaded.season}: {_rounds(loaded.known)} on record already.")
        if loaded.new_anglers and listed is None:
            self.stderr.write(
                f"{len(loaded.new_anglers)} anglers are new, and their names are printed in full. "
                "Where juniors are among them, give the club's list with --anglers instead: "
                "children are not named in full without consent."
            )
        return said


def _years(content: bytes, book: Rulebook | None) -> str:
    """A season's name from its days: 2026–27, or 2026 where one year holds them all."""
    sheet = read_sheet(content, book) if book else _in_either_unit(content)
    dates = [match.date for match in sheet.matches if match.date]
    if not dates:
        raise CommandError("No row has a date. Write it as 2027-01-24 in the date column.")
    first, last = min(dates).year, max(dates).year
    return str(first) if first == last else f"{first}–{last % 100:02d}"


def _in_either_unit(content: bytes) -> Sheet:
    """The sheet in pounds or, where it does not read so, in kilograms: its season is not known."""
    try:
        return read_sheet(content, Rulebook())
    except SheetError as in_pounds:
        try:
            return read_sheet(content, Rulebook(unit=Unit.KG))
        except SheetError:
            raise in_pounds from None


def _rounds(numbers: tuple[int, ...]) -> str:
    word = "round" if len(numbers) == 1 else "rounds"
    return f"{word} {and_list([str(number) for number in numbers])}"
