"""The ledgers of a results sheet: teams, sections, and the best weights of the day."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from league import columns
from league.rules.lines import AnglerLine, MatchResult, SectionResult, Status, TeamLine
from league.rules.policies import written as points_written
from league.rules.weights import Unit, written
from league.sheets import faces
from league.sheets.ledger import (
    FIGURE,
    PAD,
    SMALL,
    Cell,
    Column,
    Ledger,
    Name,
    Parts,
    part_width,
    set_ledger,
)
from league.sheets.page import MM

PLACE = 6.0 * MM
BREATH = 1.6 * MM  # left of a column of figures
MOST_ROWS = 40  # of one ledger on one page; more are shared out evenly


@dataclass(frozen=True, slots=True)
class TeamColumn:
    """A column from outside the match, its league points say, by the team's key or name."""

    heading: str
    cells: Mapping[str, str]


def weight_parts(result: MatchResult) -> tuple[str, ...]:
    """The headings over a weight: pounds and ounces, drams where any were weighed, or kilograms."""
    if result.unit is Unit.KG:
        return ("kg",)
    weights = [line.weight for section in result.sections for line in section.lines]
    return ("lb", "oz", "dr") if any(weight % 16 for weight in weights) else ("lb", "oz")


def weight_cell(weight: int, unit: Unit, parts: Sequence[str]) -> Parts:
    """A weight in as many parts as the column has headings."""
    figures = written(weight, unit).split("-") if unit is Unit.LB_OZ else [written(weight, unit)]
    return Parts((*figures, *["0"] * (len(parts) - len(figures))))


def weight_column(parts: Sequence[str]) -> Column:
    """The column of weights."""
    return Column(" ".join(parts), part_width(parts), parts=tuple(parts))


def figure_column(heading: str, cells: Sequence[str], *, bold: bool = False) -> Column:
    """A column of figures as wide as its widest cell, or its heading."""
    face = faces.BOARD_BOLD if bold else faces.BOARD_MID
    widest = max((faces.width(cell, face, FIGURE) for cell in cells), default=0.0)
    wide = max(widest, faces.width(heading, faces.BOARD_MID, SMALL))
    return Column(heading, wide + PAD + BREATH, bold=bold)


def section_ledgers(result: MatchResult, wide: float) -> list[Ledger]:
    """A ledger a section, or several evenly filled ones for a section longer than a page."""
    parts = weight_parts(result)
    alone = len(result.sections) == 1
    return [
        _section_ledger(section, lines, result.unit, parts, wide, is_later=number > 0)
        for section in result.sections
        for number, lines in enumerate(_shares(section.lines, two=alone))
    ]


def _shares(lines: Sequence[AnglerLine], *, two: bool) -> list[Sequence[AnglerLine]]:
    """Cut into even shares that fit a page; a match of one section into *two* columns at least."""
    count = max(1, -(-len(lines) // MOST_ROWS))
    if two and len(lines) > 12:
        count = max(2, count + count % 2)
    size = max(1, -(-len(lines) // count))
    return [lines[at : at + size] for at in range(0, len(lines), size)]


def _section_ledger(
    section: SectionResult,
    lines: Sequence[AnglerLine],
    unit: Unit,
    parts: Sequence[str],
    wide: float,
    *,
    is_later: bool,
) -> Ledger:
    name = f"Section {section.section}" if section.section else "Angler"
    pegs = [line.row.peg for line in lines]
    peg_wide = max(
        (faces.width(peg, faces.BOARD_BOLD, FIGURE) for peg in [*pegs, "00"]), default=0.0
    )
    points = [columns.points_or_dash(line.points) for line in lines]
    head = (
        Column("", PLACE, "place"),
        Column("Peg", max(peg_wide + PAD, 7 * MM), "place"),
        Column(f"{name}, continued" if is_later else name, 0.0, "name", names=True),
        weight_column(parts),
        figure_column("Points", points, bold=True),
    )
    rows = [
        (
            columns.section_place(line),
            line.row.peg,
            _angler(line),
            weight_cell(line.weight, unit, parts)
            if columns.has_weight(line.status, line.weight)
            else columns.STATUS_WORDS[line.status],
            figure,
        )
        for line, figure in zip(lines, points, strict=True)
    ]
    return set_ledger(head, rows, wide, plate=section.section)


def _angler(line: AnglerLine) -> Name:
    beside = [line.row.team]
    if line.status is Status.WITHDREW and line.weight > 0:
        beside.append(columns.STATUS_WORDS[Status.WITHDREW])
    return Name(line.row.angler, ", ".join(part for part in beside if part))


def team_ledger(
    result: MatchResult, wide: float, season: Sequence[TeamColumn], lines: Sequence[TeamLine]
) -> Ledger:
    """The teams of a match: section points, total, weight, and what the league makes of it."""
    parts = weight_parts(result)
    letters = [section.section for section in result.sections]
    by_section = {letter: [_section_points(line, letter) for line in lines] for letter in letters}
    totals = [points_written(line.points) for line in lines]
    outside = [[_cell(column, line) for line in lines] for column in season]
    head = (
        Column("", PLACE, "place"),
        Column("Team", 0.0, "name", names=True),
        *(
            Column(letter, max(8.6 * MM, figure_column("", by_section[letter]).wide), plate=True)
            for letter in letters
        ),
        figure_column("Points", totals, bold=True),
        weight_column(parts),
        *(
            figure_column(column.heading, cells)
            for column, cells in zip(season, outside, strict=True)
        ),
    )
    rows: list[tuple[Cell, ...]] = [
        (
            columns.placing(line.place, line.equal),
            Name(line.team),
            *(by_section[letter][number] for letter in letters),
            totals[number],
            weight_cell(line.weight, result.unit, parts),
            *(cells[number] for cells in outside),
        )
        for number, line in enumerate(lines)
    ]
    return set_ledger(head, rows, wide)


def team_ledgers(result: MatchResult, wide: float, season: Sequence[TeamColumn]) -> list[Ledger]:
    """The teams, in as many ledgers as pages need."""
    count = max(1, -(-len(result.teams) // MOST_ROWS))
    size = max(1, -(-len(result.teams) // count))
    return [
        team_ledger(result, wide, season, result.teams[at : at + size])
        for at in range(0, len(result.teams), size)
    ]


def _section_points(line: TeamLine, letter: str) -> str:
    points = line.section_points.get(letter, ())
    return " + ".join(map(points_written, points)) or columns.NOTHING


def _cell(column: TeamColumn, line: TeamLine) -> str:
    return column.cells.get(line.team_id or line.team, column.cells.get(line.team, columns.NOTHING))


def best_ledger(result: MatchResult, wide: float, count: int) -> Ledger:
    """The best weights of the whole match, equals included."""
    parts = weight_parts(result)
    lines = [
        line
        for line in result.anglers
        if line.place is not None and line.place <= count and line.weight > 0
    ]
    head = (
        Column("", PLACE, "place"),
        Column("Best of the day", 0.0, "name", names=True),
        weight_column(parts),
    )
    rows = [
        (
            columns.placing(line.place, line.equal),
            Name(line.angler, _where(line.section, line.peg)),
            weight_cell(line.weight, result.unit, parts),
        )
        for line in lines
    ]
    return set_ledger(head, rows, wide)


def _where(section: str, peg: str) -> str:
    return ", ".join(part for part in (section, f"peg {peg}" if peg else "") if part)
