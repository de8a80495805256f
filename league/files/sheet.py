"""Match sheets and season sheets: CSV in, rows of facts out, every fault at once in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import IO

from league.files import csv_text, sheet_cells
from league.files.csv_text import Record
from league.files.sheet_checks import check_match, check_season, check_unit
from league.files.sheet_draft import Draft, Reading
from league.rules.errors import Fault, SheetError
from league.rules.lines import Row
from league.rules.rulebook import Rulebook

REQUIRED = ("section", "peg", "angler", "weight")
OPTIONAL = ("team", "note", "penalty", "weight_penalty", "decided", "decision")
ABOUT = ("date", "match", "venue", "water")
MOST_ROWS = 50_000  # a league of 80 teams of eight over 50 rounds is shorter
MOST_IN_MATCH = 2_000  # anglers in one match
MOST_FAULTS = 200


@dataclass(frozen=True, slots=True)
class SheetMatch:
    """One match of a sheet: its rows, and what the sheet says of it."""

    rows: tuple[Row, ...]
    round: int | None = None
    date: date | None = None
    name: str = ""
    venue: str = ""
    water: str = ""

    @property
    def about(self) -> dict[str, str | None]:
        """What a result says of its match."""
        said: dict[str, str | None] = {
            "name": self.name or None,
            "date": self.date.isoformat() if self.date else None,
        }
        if self.venue:
            said["venue"] = self.venue
        if self.water:
            said["water"] = self.water
        return said


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet without a fault: its matches in round order, and what is worth a look."""

    matches: tuple[SheetMatch, ...]
    is_season: bool
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Columns:
    """Where each known column stands, and how many headings there are."""

    at: dict[str, int]
    width: int


def read_sheet(source: IO[bytes] | bytes | str, book: Rulebook) -> Sheet:
    """
    Read a match sheet or a season sheet, weighed in the *book*'s unit.

    Raises `SheetError` with every fault there is. The file is read as a stream: one that is no
    league is refused before it fills the memory.
    """
    records = csv_text.records(source)
    warnings: list[str] = []
    columns = _columns(next(records), warnings)
    reading = Reading(book.unit)
    for record in _as_far_as_it_reads(records, reading):
        if not any(record.cells):
            continue
        reading.count += 1
        if reading.count > MOST_ROWS:
            raise csv_text.refuse(
                f"More than {MOST_ROWS} rows: this is no league. Send one season of one league "
                "a file."
            )
        _take(record, columns, reading)
        if len(reading.faults) >= MOST_FAULTS:
            words = f"There may be more: reading stopped after {MOST_FAULTS} faults."
            raise SheetError((*reading.faults, Fault(None, "", words)))
    for draft in reading.drafts.values():
        check_match(draft, book, reading.faults, warnings)
    check_season(list(reading.drafts.values()), columns.at, book, warnings)
    check_unit(reading)
    if not reading.count:
        reading.faults.append(Fault(None, "", "There is not one row under the headings."))
    if reading.faults:
        raise SheetError(tuple(sorted(reading.faults, key=lambda fault: fault.row or 0)))
    matches = tuple(
        _match(draft) for _, draft in sorted(reading.drafts.items(), key=lambda pair: pair[0] or 0)
    )
    return Sheet(matches, "round" in columns.at, tuple(warnings))


def _as_far_as_it_reads(records: Iterator[Record], reading: Reading) -> Iterator[Record]:
    """The rows up to where the file breaks off, so that the faults before are told as well."""
    try:
        yield from records
    except SheetError as broken:
        reading.faults += broken.faults


def _columns(heading: Record, warnings: list[str]) -> Columns:
    """Find the columns, with a warning about those nobody knows; refuses where one is missing."""
    names = [cell.lower() for cell in heading.cells]
    known = ("round", *ABOUT, *REQUIRED, *OPTIONAL)
    columns: dict[str, int] = {}
    faults = list(heading.faults)
    unknown = []
    for index, name in enumerate(names):
        if name in columns:
            faults.append(Fault(1, name, "This heading stands there twice. Take one column out."))
        elif name in known:
            columns[name] = index
        elif name:
            unknown.append(name)
    found = ", ".join(name if len(name) <= 30 else f"{name[:30]}…" for name in unknown[:10])
    missing = [name for name in REQUIRED if name not in columns]
    if "round" in columns and "date" not in columns:
        missing.append("date")
    if missing:
        words = (
            f"There is no column {' and no column '.join(missing)}. The headings are section, "
            "peg, angler, team, weight; a season sheet has round and date in front."
        )
        faults.append(Fault(1, "", f"{words} Found instead: {found}." if found else words))
    if faults:
        raise SheetError(tuple(faults))
    if unknown:
        warnings.append(f"No rule uses these columns, and they are left alone: {found}.")
    return Columns(columns, max(index for index, name in enumerate(names) if name) + 1)


def _take(record: Record, columns: Columns, reading: Reading) -> None:
    """Read one row into the draft of its match, or note what is wrong with it."""
    faults = reading.faults
    faults += record.faults
    spare = [cell for cell in record.cells[columns.width :] if cell]
    if spare:
        words = (
            f"There are more cells than headings: {spare[-1]!r} is left over. A cell with a comma "
            "in it needs quotation marks round it."
        )
        faults.append(Fault(record.number, "", words))
        return
    cells = {
        name: record.cells[index] if index < len(record.cells) else ""
        for name, index in columns.at.items()
    }
    number = sheet_cells.round_number(cells, record.number, faults)
    row = sheet_cells.row(cells, record.number, reading)
    if number is None and "round" in cells:
        return
    draft = reading.drafts.setdefault(number, Draft(number))
    if len(draft.rows) >= MOST_IN_MATCH:
        raise csv_text.refuse(
            f"More than {MOST_IN_MATCH} anglers in one match: this is no match sheet. A season "
            "sheet has a round column.",
            record.number,
        )
    draft.rows.append(row)
    draft.where.append(record.number)
    sheet_cells.about_match(cells, record.number, draft, faults)


def _match(draft: Draft) -> SheetMatch:
    told = {name: cell for name, (cell, _) in draft.about.items()}
    return SheetMatch(
        rows=tuple(draft.rows),
        round=draft.round,
        date=date.fromisoformat(told["date"]) if "date" in told else None,
        name=told.get("match", ""),
        venue=told.get("venue", ""),
        water=told.get("water", ""),
    )
