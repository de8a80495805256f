"""The published tables as plain text, no wider than a terminal."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence
from typing import TypeVar

from league.columns import Column

Line = TypeVar("Line")

WIDTH = 80
GAP = "  "
# No name is cut shorter than this; rather the line grows.
SHORTEST = 8
WORDS = ("name", "angler", "team")


def table(columns: Sequence[Column[Line]], lines: Iterable[Line], width: int = WIDTH) -> str:
    """
    *lines* under the headings of *columns*, figures to the right.

    A column nobody has anything in is left out; names give way where the line would be too long.
    """
    rows = [[column.value(line) for column in columns] for line in lines]
    used = [at for at, _ in enumerate(columns) if any(row[at] for row in rows)]
    shown = [columns[at] for at in used]
    cells = [[column.heading for column in shown], *([row[at] for at in used] for row in rows)]
    wide = [max(room(row[at]) for row in cells) for at, _ in enumerate(shown)]
    names = [at for at, column in enumerate(shown) if column.key in WORDS]
    while names and sum(wide) + len(GAP) * (len(wide) - 1) > width:
        widest = max(names, key=lambda at: wide[at])
        if wide[widest] <= SHORTEST:
            break
        wide[widest] -= 1
    return "\n".join(
        GAP.join(
            _fitted(cell, space, column.is_number)
            for cell, space, column in zip(row, wide, shown, strict=True)
        ).rstrip()
        for row in cells
    )


def room(text: str) -> int:
    """
    How many columns of a terminal *text* takes.

    >>> room("Zoë"), room("Zoe\\u0308"), room("漢")
    (3, 3, 2)
    """
    marks = sum(unicodedata.combining(letter) > 0 for letter in text)
    return len(text) - marks + sum(unicodedata.east_asian_width(letter) in "WF" for letter in text)


def plain(text: str) -> str:
    """*text* without anything that could move the cursor or change a colour."""
    return "".join(letter if letter.isprintable() else "�" for letter in text)


def _fitted(cell: str, space: int, is_number: bool) -> str:
    cell = plain(cell)
    if room(cell) > space:
        cell = cell[: space - 1] + "…"
    padding = " " * (space - room(cell))
    return padding + cell if is_number else cell + padding
