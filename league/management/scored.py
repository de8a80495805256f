"""What `score` writes: the tables as text and CSV, and the sheet for the wall."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from io import StringIO
from textwrap import fill
from typing import TypeVar

from league import columns
from league.columns import Column
from league.files.csv_text import shielded
from league.files.sheet import Sheet, SheetMatch
from league.management.terminal import WIDTH, plain, room, table
from league.rules import announced, words
from league.rules.lines import MatchResult, SeasonResult, Split, TableLine
from league.rules.rulebook import Rulebook
from league.rules.sections import natural
from league.rules.weights import Unit
from league.sheets.page import SheetHead
from league.sheets.result import result_sheet
from league.sheets.table import table_sheet
from league.strip import BankPeg

Line = TypeVar("Line")


def say_match(match: SheetMatch, result: MatchResult) -> str:
    """A match in the terminal: who won, teams with their splits, sections."""
    return "\n\n".join([*_about(match), *_match(result)]) + "\n"


def say_season(sheet: Sheet, season: SeasonResult) -> str:
    """A season in the terminal: who leads, the table, and each round in a line."""
    of_teams = season.table != season.anglers
    numbers = [number for number, _ in season.rounds]
    headed = columns.table_columns(
        numbers, season.unit, of_teams=of_teams, by_weight=season.by_weight
    )
    headed = tuple(_bracketed(column) for column in headed)
    parts = [words.table_headline(season), *_tables(headed, season.table)]
    if any(score.dropped for line in season.table for score in line.rounds):
        parts.append("In brackets: dropped.")
    if splits := _splits([(line.name, line.split) for line in season.table], season.unit):
        parts.append(splits)
    about = {match.round: match for match in sheet.matches}
    told = []
    for number, result in season.rounds:
        where = [f"Round {number}", *_where(about[number])]
        told.append(fill(f"{plain(', '.join(where))}: {plain(words.headline(result))}", WIDTH))
    return "\n\n".join([*parts, "\n".join(told)]) + "\n"


def as_csv(result: MatchResult | SeasonResult) -> str:
    """Every angler's points of a match, or the table of a season."""
    if isinstance(result, SeasonResult):
        headed = columns.table_columns(
            [number for number, _ in result.rounds],
            result.unit,
            of_teams=result.table != result.anglers,
            by_weight=result.by_weight,
        )
        return _csv(headed, result.table)
    lines = [line for section in result.sections for line in section.lines]
    decided = any(line.row.decision for line in lines)
    return _csv(columns.match_columns(result.unit, decisions=decided), lines)


def as_pdf(sheet: Sheet, result: MatchResult | SeasonResult, book: Rulebook) -> bytes:
    """The sheet for the wall."""
    rules = tuple(said for part in announced.read_out(book) for said in part.sentences)
    if isinstance(result, SeasonResult):
        head = SheetHead(
            club="",
            title="League table",
            headline=words.table_headline(result),
            rules=rules,
        )
        return table_sheet(head, result, rounds=_rounds(sheet))
    match = sheet.matches[0]
    head = SheetHead(
        club="",
        title=match.name or ", ".join(_where(match)) or "Result",
        headline=words.headline(result),
        rules=rules,
    )
    return result_sheet(head, result, bank=_bank(result))


def _bank(result: MatchResult) -> list[BankPeg]:
    """
    The bank as far as a sheet tells it: pegs by their numbers, a break where numbers are missing.

    Whether those were left out, the sheet does not say, and so they are not named.
    """
    rows = [line.row for section in result.sections for line in section.lines if line.row.peg]
    rows.sort(key=lambda row: natural(row.peg))
    bank: list[BankPeg] = []
    for order, row in enumerate(rows, start=1):
        before = bank[-1].number if bank else row.peg
        numbers = [int(peg) for peg in (before, row.peg) if peg.isascii() and peg.isdigit()]
        missing = numbers[1] - numbers[0] - 1 if len(numbers) == 2 else 0
        bank.append(BankPeg(row.peg, order, max(missing, 0), (), row.section))
    return bank


def _match(result: MatchResult) -> Iterator[str]:
    yield words.headline(result)
    if result.teams:
        letters = [section.section for section in result.sections]
        yield table(columns.team_columns(letters, result.unit), result.teams)
        if splits := _splits([(line.team, line.split) for line in result.teams], result.unit):
            yield splits
    for section in result.sections:
        headed = columns.section_columns(result.unit)
        yield f"Section {plain(section.section)}\n{table(headed, section.lines)}"
    if result.expected is not None:
        yield (
            f"Section points add up to {words.points_written(result.section_points)}, as they "
            f"must: {words.points_written(result.expected)}."
        )


def _splits(lines: Iterable[tuple[str, Split | None]], unit: Unit) -> str:
    """How those who are level were told apart, said once for each pair."""
    return "\n".join(
        fill(f"{plain(name)}: {words.say_split(split, unit)}", WIDTH)
        for name, split in lines
        if split and (split.we_are_ahead or split.decided is None)
    )


def _tables(headed: Sequence[Column[TableLine]], lines: Sequence[TableLine]) -> Iterator[str]:
    """The table in one; where its rounds are too many for a line, they follow by themselves."""
    if _fits(headed, lines):
        yield table(headed, lines)
        return
    rounds = [column for column in headed if column.key.startswith("round-")]
    yield table([column for column in headed if column not in rounds], lines)
    names = [column for column in headed if column.key == "name"]
    while rounds:
        count = next(
            (n for n in range(len(rounds), 1, -1) if _fits([*names, *rounds[:n]], lines)), 1
        )
        yield f"Round by round\n{table([*names, *rounds[:count]], lines)}"
        rounds = rounds[count:]


def _fits(headed: Sequence[Column[TableLine]], lines: Sequence[TableLine]) -> bool:
    """Whether a terminal shows the table with every name whole."""
    whole = table(headed, lines, width=10**6)
    return max(map(room, whole.splitlines()), default=0) <= WIDTH


def _bracketed(column: Column[TableLine]) -> Column[TableLine]:
    """A round's column in which a dropped score stands in brackets."""
    if not column.key.startswith("round-"):
        return column
    number = int(column.heading)

    def value(line: TableLine) -> str:
        given = columns.round_score(line, number)
        return f"({column.value(line)})" if given and given.dropped else column.value(line)

    return replace(column, value=value)


def _about(match: SheetMatch) -> list[str]:
    told = [match.name, *_where(match)]
    return [", ".join(plain(each) for each in told if each)] if any(told) else []


def _where(match: SheetMatch) -> list[str]:
    date = f"{match.date:%A} {match.date.day} {match.date:%B %Y}" if match.date else ""
    return [each for each in (match.water or match.venue, date) if each]


def _rounds(sheet: Sheet) -> dict[int, str]:
    """Where and when each round was, as far as the sheet says."""
    told = {match.round or 1: ", ".join(_where(match)) for match in sheet.matches}
    return {number: said for number, said in told.items() if said}


def _csv(headed: Sequence[Column[Line]], lines: Iterable[Line]) -> str:
    text = StringIO()
    writer = csv.writer(text)
    writer.writerow([shielded(column.heading) for column in headed])
    writer.writerows([shielded(column.in_file(line)) for column in headed] for line in lines)
    return text.getvalue()
