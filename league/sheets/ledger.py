"""A ruled ledger: headings, rows and lines, set once and fitted to the page afterwards."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

from league.sheets import faces
from league.sheets.page import MM, Block, Leaf, between

TEXT = 9.0  # points; the least that a wall can be read at
FIGURE = 9.75
SMALL = 8.25
LEADING = 10.5

# Row heights as drawn, and as close as can be read.
ROW = (5.75 * MM, 3.65 * MM)
HEAD = (6.4 * MM, 5.2 * MM)

Cell: TypeAlias = "str | Name | Parts | Struck"


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its heading, its width in points, and how its cells stand."""

    heading: str
    wide: float
    kind: str = "figure"  # "name", "figure" or "place"
    plate: bool = False  # the heading is a section's letter
    parts: tuple[str, ...] = ()  # headings of the parts of a weight: lb, oz
    bold: bool = False
    names: bool = False  # the name takes whatever room is left


@dataclass(frozen=True, slots=True)
class Name:
    """A name, what stands beside it, and (once set) the lines they take."""

    name: str
    beside: str = ""


@dataclass(frozen=True, slots=True)
class Parts:
    """A weight in its parts, each under its own heading."""

    parts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Struck:
    """A figure that does not count: one slanted stroke, so that a 1 stays a 1."""

    text: str


@dataclass(frozen=True, slots=True)
class Ledger:
    """Columns and rows, with every name broken into lines that fit."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    lines: tuple[tuple[faces.Line, ...], ...]  # the name's lines, row by row
    heads: tuple[tuple[str, ...], ...]  # each heading's lines
    wide: float
    plate: str = ""  # the section's own plate, over the place column
    after: frozenset[int] = field(default_factory=frozenset)  # rows with a firm line beneath

    @property
    def tall(self) -> int:
        """How many lines the headings take."""
        return max(len(lines) for lines in self.heads)


PART_WIDE = 7.2 * MM
PAD = 1.5 * MM


def part_width(parts: Sequence[str]) -> float:
    """The width of a column of weights with so many *parts*."""
    return 13 * MM if len(parts) == 1 else PART_WIDE * len(parts) + 1.5 * MM


def set_ledger(
    columns: Sequence[Column],
    rows: Sequence[Sequence[Cell]],
    wide: float,
    *,
    plate: str = "",
    after: frozenset[int] = frozenset(),
) -> Ledger:
    """Fit *columns* and *rows* into *wide* points; the name column takes what is left."""
    spare = wide - sum(column.wide for column in columns if not column.names)
    fitted = tuple(
        column if not column.names else Column(column.heading, spare, "name", names=True)
        for column in columns
    )
    at = next(place for place, column in enumerate(fitted) if column.names)
    lines = tuple(_name_lines(row[at], spare - PAD - _overhang(row, at, fitted)) for row in rows)
    heads = tuple(
        (column.heading,)
        if column.plate or not column.heading
        else faces.wrap(column.heading, faces.BOARD_MID, SMALL, column.wide - PAD / 2)
        for column in fitted
    )
    return Ledger(fitted, tuple(map(tuple, rows)), lines, heads, wide, plate, after)


def _overhang(row: Sequence[Cell], at: int, columns: Sequence[Column]) -> float:
    """How far the word in the next column ("did not weigh") reaches into the name's room."""
    if at + 1 >= len(row):
        return 0.0
    cell, column = row[at + 1], columns[at + 1]
    if not isinstance(cell, str) or not column.parts:
        return 0.0
    return max(0.0, faces.width(cell, faces.BOARD_MID, FIGURE) + PAD - column.wide)


def _name_lines(cell: Cell, room: float) -> tuple[faces.Line, ...]:
    if not isinstance(cell, Name):
        return ()
    whole = faces.width(cell.name, faces.WORDS, TEXT)
    if not cell.beside:
        return _one_face(cell.name, TEXT, room)
    if whole + faces.width(" ", faces.WORDS, TEXT) + _beside(cell.beside) <= room:
        return (((cell.name, faces.WORDS), (cell.beside, SMALL_WORDS)),)
    return _one_face(cell.name, TEXT, room) + tuple(
        ((line, SMALL_WORDS),) for line in faces.wrap(cell.beside, faces.WORDS, SMALL, room)
    )


# Marks the smaller size; the face is the same.
SMALL_WORDS = "small"


def _beside(text: str) -> float:
    return faces.width(text, faces.WORDS, SMALL)


def _one_face(text: str, size: float, room: float) -> tuple[faces.Line, ...]:
    return tuple(((line, faces.WORDS),) for line in faces.wrap(text, faces.WORDS, size, room))


def ledger_height(ledger: Ledger, tight: float) -> float:
    """How far down the ledger reaches."""
    extra = sum(max(0, len(lines) - 1) for lines in ledger.lines) * LEADING
    heads = (ledger.tall - 1) * SMALL * 1.1
    return between(*HEAD, tight) + heads + len(ledger.rows) * between(*ROW, tight) + extra


def draw_ledger(leaf: Leaf, ledger: Ledger, x: float, y: float, tight: float) -> None:
    """Draw the ledger with its top left corner at *x*, *y*."""
    y = _draw_heads(leaf, ledger, x, y, tight)
    row_high = between(*ROW, tight)
    weighed: list[tuple[float, float]] = []  # stretches of rows with a weight in parts
    for number, (row, lines) in enumerate(zip(ledger.rows, ledger.lines, strict=True)):
        high = row_high + max(0, len(lines) - 1) * LEADING
        # The foot of the first line, so that figures and names stand on one line.
        foot = y + row_high / 2 + TEXT * 0.34
        left = x
        for column, cell in zip(ledger.columns, row, strict=True):
            _draw_cell(leaf, column, cell, lines, left, foot)
            left += column.wide
        if any(isinstance(cell, Parts) for cell in row):
            together = weighed and weighed[-1][1] == y
            weighed.append((weighed.pop()[0] if together else y, y + high))
        y += high
        firm = number in ledger.after
        leaf.rule(x, y, x + ledger.wide, thick=1.05 if firm else 0.45, grey=0 if firm else 0.45)
    left = x
    for column in ledger.columns:
        for top, bottom in weighed if column.parts else ():
            _part_rules(leaf, column, left, top + 0.9, bottom - 0.9)
        left += column.wide


def _draw_heads(leaf: Leaf, ledger: Ledger, x: float, y: float, tight: float) -> float:
    head_high = between(*HEAD, tight) + (ledger.tall - 1) * SMALL * 1.1
    base = y + head_high
    foot = base - 0.9 * MM
    plate_high = between(*HEAD, tight) - 0.3 * MM
    left = x
    if ledger.plate:
        leaf.plate(x, base - plate_high - 0.5 * MM, ledger.plate, high=plate_high)
    for column, lines in zip(ledger.columns, ledger.heads, strict=True):
        right = left + column.wide - PAD
        if column.plate:
            high = plate_high * 0.92
            from_right = _plate_wide(column.heading, high)
            leaf.plate(right - from_right + 1.2, base - high - 0.5 * MM, column.heading, high=high)
        elif column.parts:
            for at, part in enumerate(column.parts):
                ends = right - (len(column.parts) - 1 - at) * PART_WIDE
                leaf.say_right(ends, foot, part, faces.BOARD_MID, SMALL)
            _part_rules(leaf, column, left, foot - SMALL * 0.8, foot + 1)
        else:
            for up, line in enumerate(reversed(lines)):
                at_y = foot - up * SMALL * 1.1
                if column.kind == "figure":
                    leaf.say_right(right, at_y, line, faces.BOARD_MID, SMALL)
                else:
                    leaf.say(left, at_y, line, faces.BOARD_MID, SMALL)
        left += column.wide
    leaf.rule(x, base, x + ledger.wide, thick=1.05)
    return base


def _plate_wide(letter: str, high: float) -> float:
    return max(high * 0.84, faces.width(letter, faces.BOARD_BOLD, high * 0.54) + high * 0.36)


def _part_rules(leaf: Leaf, column: Column, left: float, top: float, bottom: float) -> None:
    right = left + column.wide - PAD
    for at in range(1, len(column.parts)):
        across = right - at * PART_WIDE + 1.4 * MM
        leaf.line(across, top, across, bottom, thick=0.45, grey=0.45)


def _draw_cell(
    leaf: Leaf, column: Column, cell: Cell, lines: tuple[faces.Line, ...], left: float, foot: float
) -> None:
    right = left + column.wide - PAD
    face = faces.BOARD_BOLD if column.bold else faces.BOARD_MID
    if isinstance(cell, Name):
        for line in lines:
            _draw_name(leaf, line, left, foot)
            foot += LEADING
    elif isinstance(cell, Parts):
        for at, part in enumerate(cell.parts):
            ends = right - (len(column.parts) - 1 - at) * PART_WIDE
            leaf.say_right(ends, foot, part, face, FIGURE)
    elif isinstance(cell, Struck):
        leaf.say_right(right, foot, cell.text, faces.BOARD, FIGURE)
        wide = faces.width(cell.text, faces.BOARD, FIGURE)
        leaf.line(right - wide - 2, foot + 1.2, right + 2, foot - FIGURE * 0.72, thick=0.8)
    elif column.kind == "figure":
        leaf.say_right(right, foot, cell, face, FIGURE)
    else:
        leaf.say(left, foot, cell, faces.BOARD_BOLD, FIGURE)


def _draw_name(leaf: Leaf, line: faces.Line, left: float, foot: float) -> None:
    for number, (text, face) in enumerate(line, start=1):
        if face == SMALL_WORDS:
            leaf.say(left, foot, text, faces.WORDS, SMALL)
            left += _beside(text)
        else:
            # The space is written too, so that words copied from the sheet stand apart.
            said = text if number == len(line) else f"{text} "
            leaf.say(left, foot, said, face, TEXT)
            left += faces.width(said, face, TEXT)


def ledger_block(ledger: Ledger) -> Block:
    """The ledger as something that stands on a page whole."""
    return Block(
        lambda tight: ledger_height(ledger, tight),
        lambda leaf, x, y, tight: draw_ledger(leaf, ledger, x, y, tight),
    )


def name_room(ledger: Ledger) -> float:
    """How much room names have."""
    return next(column.wide for column in ledger.columns if column.names)
