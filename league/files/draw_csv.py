"""A draw from two plain files: who is entered (ENTRIES.csv) and which pegs there are (PEGS.csv)."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from io import StringIO

from league.rules import draw
from league.rules.errors import Fault, SheetError
from league.rules.pegs import Peg, draw_numbers

ENTRIES = ("entry", "angler", "team", "section", "easy_access")
PEGS = ("section", "peg", "easy_access", "next_to")
YES = {"yes", "y", "1", "true", "x"}
NO = {"", "no", "n", "0", "false", "-"}

Row = tuple[int, dict[str, str]]


@dataclass(frozen=True, slots=True)
class Files:
    """What both files say, ready to be frozen as a sheet."""

    sections: tuple[draw.Section, ...]
    entries: tuple[draw.Entry, ...]
    adjacent: tuple[tuple[int, int], ...]
    names: Mapping[int, str]
    teams: Mapping[str, str]
    peg_names: Mapping[int, str]

    def sheet(self, match: str, callers: Iterable[int]) -> draw.Sheet:
        """The sheet of these files, with those who will call."""
        return draw.Sheet(match, self.sections, self.entries, self.adjacent, tuple(callers))


def read_files(entries: str, pegs: str) -> Files:
    """Read both files; every fault of both is told at once, by file, row and column."""
    faults: list[Fault] = []
    entered = _read_entries(entries, faults)
    bank = _read_pegs(pegs, faults)
    if faults:
        raise SheetError(tuple(faults))
    codes = team_codes(row["team"] for _, row in entered)
    files = _together(entered, bank, codes)
    wrong = draw.faults(files.sheet("match", ()))
    if wrong:
        raise SheetError(tuple(Fault(None, "", words) for words in wrong))
    return files


def team_codes(teams: Iterable[str]) -> dict[str, str]:
    """
    A code of at most 8 letters and figures for each team, in the order the teams are first named.

    >>> team_codes(["Old Quarry", "RED", "", "Old Quarry B"])
    {'Old Quarry': 'OLDQUARR', 'RED': 'RED', 'Old Quarry B': 'OLDQUAR2'}
    """
    codes: dict[str, str] = {}
    for team in teams:
        if not team or team in codes:
            continue
        plain = re.sub(r"[^A-Z0-9]", "", team.upper())[:8] or "TEAM"
        code, times = plain, 1
        while code in codes.values():
            times += 1
            code = f"{plain[: 8 - len(str(times))]}{times}"
        codes[team] = code
    return codes


def _read_entries(text: str, faults: list[Fault]) -> list[Row]:
    rows = list(_rows(text, "ENTRIES", ENTRIES, {"entry", "section"}, faults))
    seen: dict[str, int] = {}
    for number, row in rows:
        no = row["entry"]
        if not re.fullmatch(r"[1-9][0-9]{0,5}", no):
            words = f"An entry is a number from 1, not {no!r}. Give every angler one."
            faults.append(Fault(number, "entry (ENTRIES)", words))
        elif no in seen:
            words = f"Entry {no} is in row {seen[no]} already. Give every angler a number."
            faults.append(Fault(number, "entry (ENTRIES)", words))
        seen.setdefault(no, number)
        _check_section(number, row, "ENTRIES", faults)
        _check_yes(number, row, "ENTRIES", faults)
    return rows


def _read_pegs(text: str, faults: list[Fault]) -> list[Row]:
    rows = list(_rows(text, "PEGS", PEGS, {"section", "peg"}, faults))
    seen: dict[str, int] = {}
    for number, row in rows:
        if not row["peg"]:
            faults.append(Fault(number, "peg (PEGS)", "The peg is missing. Write its number."))
        elif row["peg"] in seen:
            words = f"Peg {row['peg']} is in row {seen[row['peg']]} already. Take one of them out."
            faults.append(Fault(number, "peg (PEGS)", words))
        seen.setdefault(row["peg"], number)
        _check_section(number, row, "PEGS", faults)
        _check_yes(number, row, "PEGS", faults)
    for number, row in rows:
        for other in _next_to(row):
            if other == row["peg"]:
                words = f"Peg {other} cannot be next to itself. Name the peg beside it."
                faults.append(Fault(number, "next_to (PEGS)", words))
            elif other not in seen:
                words = f"Peg {other} is not in this file. Name a peg that is, or nothing."
                faults.append(Fault(number, "next_to (PEGS)", words))
    return rows


def _rows(
    text: str, file: str, columns: tuple[str, ...], needed: set[str], faults: list[Fault]
) -> Iterator[Row]:
    """The rows with something in them, by row number as a spreadsheet counts; cells are trimmed."""
    text = text.removeprefix("\ufeff")
    header = text.partition("\n")[0]
    comma = max(",;\t", key=header.count)
    table = csv.reader(StringIO(text, newline=""), delimiter=comma)
    headings = [cell.strip().lower() for cell in next(table, [])]
    missing = [column for column in columns if column in needed and column not in headings]
    if missing:
        words = (
            f"{file} has no column {', '.join(missing)}. Its first row reads {comma.join(columns)}."
        )
        faults.append(Fault(None, "", words))
        return
    found = False
    for cells in table:
        if any(cell.strip() for cell in cells):
            found = True
            row = dict(zip(headings, (cell.strip() for cell in cells), strict=False))
            yield table.line_num, {column: row.get(column, "") for column in columns}
    if not found:
        faults.append(Fault(None, "", f"{file} has no rows under its headings."))


def _next_to(row: dict[str, str]) -> list[str]:
    return [peg for peg in re.split(r"[\s,;/]+", row["next_to"]) if peg]


def _check_section(number: int, row: dict[str, str], file: str, faults: list[Fault]) -> None:
    if not re.fullmatch(r"[A-Z0-9]{1,8}", row["section"]):
        words = f"A section is 1 to 8 of A-Z and 0-9, not {row['section']!r}. Write for example A."
        faults.append(Fault(number, f"section ({file})", words))


def _check_yes(number: int, row: dict[str, str], file: str, faults: list[Fault]) -> None:
    if row["easy_access"].lower() not in YES | NO:
        words = f"Write yes or no, not {row['easy_access']!r}."
        faults.append(Fault(number, f"easy_access ({file})", words))


def _together(entered: list[Row], bank: list[Row], codes: Mapping[str, str]) -> Files:
    pegs = [Peg(row["peg"], order) for order, (_, row) in enumerate(bank)]
    numbers, peg_names = draw_numbers(pegs)
    by_name = {peg.name: number for peg, number in numbers.items()}
    letters = list(dict.fromkeys(row["section"] for _, row in bank))
    pairs = {
        (min(by_name[row["peg"]], by_name[other]), max(by_name[row["peg"]], by_name[other]))
        for _, row in bank
        for other in _next_to(row)
    }
    return Files(
        tuple(_section(letter, bank, by_name) for letter in letters),
        tuple(
            draw.Entry(
                int(row["entry"]),
                codes.get(row["team"], ""),
                row["section"],
                row["easy_access"].lower() in YES,
            )
            for _, row in entered
        ),
        tuple(sorted(pairs)),
        {int(row["entry"]): row["angler"] for _, row in entered if row["angler"]},
        {code: team for team, code in codes.items() if code != team},
        peg_names,
    )


def _section(letter: str, bank: list[Row], by_name: Mapping[str, int]) -> draw.Section:
    here = [row for _, row in bank if row["section"] == letter]
    easy = [row for row in here if row["easy_access"].lower() in YES]
    return draw.Section(
        letter,
        tuple(sorted(by_name[row["peg"]] for row in here)),
        tuple(sorted(by_name[row["peg"]] for row in easy)),
    )
