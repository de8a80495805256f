"""
Columns and lines into a django-tables2 table, every cell set beforehand.

django-tables2 swallows whatever goes wrong in an accessor and prints a dash. So its accessors do
nothing here but look a finished cell up: what goes wrong goes wrong before, and is heard.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

import django_tables2 as tables

from league.columns import Column

Line = TypeVar("Line")
Cell = Callable[[Any, str], str]

LEDGER = "includes/_table.html"
WORDS = {"name", "mv", "n"}


@dataclass(frozen=True, slots=True)
class Why:
    """A reason behind a figure, at its own address on the page."""

    id: str
    sum: str
    words: str
    back: str


def plain(line: Any, text: str) -> str:
    """A cell as its column prints it."""
    return text


def ledger(
    columns: Sequence[Column[Line]],
    lines: Iterable[Line],
    *,
    row_header: str,
    cells: Mapping[str, Cell] | None = None,
    heads: Mapping[str, str] | None = None,
    classes: Mapping[str, str] | None = None,
    whys: Callable[[Line], Sequence[Why]] | None = None,
    row_id: Callable[[Line], str] | None = None,
    template: str = LEDGER,
    caption: str = "",
    **attrs: str,
) -> tables.Table:
    """
    Set *lines* out under the headings of *columns*.

    *cells*, *heads* and *classes* say, by a column's key, how a page sets what is not plain text.
    The column *row_header* names its row, *row_id* gives the row an address to fold back to.
    Further *attrs* (id, class) are the table's.
    """
    cells, heads, classes = cells or {}, heads or {}, classes or {}
    rows: list[dict[str, Any]] = []
    for line in lines:
        row: dict[str, Any] = {
            f"cell{at}": cells.get(column.key, plain)(line, column.value(line))
            for at, column in enumerate(columns)
        }
        row["whys"] = whys(line) if whys else ()
        row["id"] = row_id(line) if row_id else None
        rows.append(row)
    extra = [
        (
            f"cell{at}",
            tables.Column(
                verbose_name=heads.get(column.key, column.heading),
                empty_values=(),
                attrs={
                    "th": {"class": _head_class(_class(column, classes))},
                    "td": {"class": _class(column, classes)},
                    "row_header": column.key == row_header,
                },
            ),
        )
        for at, column in enumerate(columns)
    ]
    table = tables.Table(
        rows,
        extra_columns=extra,
        orderable=False,
        template_name=template,
        row_attrs={"id": lambda record: record["id"]},
        attrs={"class": "ledger", **attrs},
    )
    table.caption = caption
    return table


def _class(column: Column[Any], classes: Mapping[str, str]) -> str:
    return classes.get(column.key, "num" if column.is_number else "")


def _head_class(cell_class: str) -> str:
    """The same, but a heading is set as headings are, not as a name or a word."""
    return " ".join(each for each in cell_class.split() if each not in WORDS)
