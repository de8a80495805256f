"""Two orders drawn side by side with a line for everybody, so that who passes whom is seen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from league.columns import placing
from league.rules.lines import TableLine

ROW = 30  # px
LONGEST = 18  # letters of a name beside the lines; the table below has it whole


@dataclass(frozen=True, slots=True)
class End:
    """A name at one end of a line; *y* is its middle in px."""

    place: str
    name: str
    y: int
    first: bool


@dataclass(frozen=True, slots=True)
class Line:
    """From the row of the order as it is to that of the order as it would be."""

    y1: int
    y2: int
    way: str  # "up", "down" or "stay"


@dataclass(frozen=True, slots=True)
class Crossings:
    """Everything the drawing shows."""

    height: int
    left: tuple[End, ...]
    right: tuple[End, ...]
    lines: tuple[Line, ...]  # those that stay first, so that the others lie over them


def crossings(now: Sequence[TableLine], then: Sequence[TableLine]) -> Crossings:
    """
    Draw the order *now* on the left and the order *then* on the right.

    Equals stand in different rows for room's sake; their places say that they are level.
    """
    rows = {line.key: row for row, line in enumerate(now)}
    was = {line.key: line.place for line in now}
    lines = [
        Line(_middle(rows[line.key]), _middle(row), _way(was[line.key], line.place))
        for row, line in enumerate(then)
        if line.key in rows
    ]
    return Crossings(
        height=ROW * max(len(now), len(then)),
        left=tuple(_ends(now)),
        right=tuple(_ends(then)),
        lines=tuple(sorted(lines, key=lambda line: line.way != "stay")),
    )


def _ends(table: Sequence[TableLine]) -> list[End]:
    return [
        End(placing(line.place, line.equal), _short(line.name), _middle(row), line.place == 1)
        for row, line in enumerate(table)
    ]


def _middle(row: int) -> int:
    return ROW * row + ROW // 2


def _way(was: int, then: int) -> str:
    if was == then:
        return "stay"
    return "up" if then < was else "down"


def _short(name: str) -> str:
    return name if len(name) <= LONGEST else f"{name[: LONGEST - 1].rstrip()}…"
