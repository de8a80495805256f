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
from django.utils.html import conditional_escape, escape
from django.utils.safestring import SafeString, mark_safe

from league.columns import Column
from league.web.cells import say

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
    table.body = _body(columns, rows, row_header, heads, classes, roles=template != LEDGER)
    return table


def _body(
    columns: Sequence[Column[Any]],
    rows: Sequence[dict[str, Any]],
    row_header: str,
    heads: Mapping[str, str],
    classes: Mapping[str, str],
    *,
    roles: bool,
) -> SafeString:
    """
    The head and the rows as a page has them; with *roles* where it is set as a grid.

    Written here and not in a template: every cell is set already, and a template asks seven
    questions of each, which was more than half of what a result page cost.
    """
    head = [
        (heads.get(column.key, column.heading), _head_class(_class(column, classes)))
        for column in columns
    ]
    kinds = [
        ("th" if column.key == row_header else "td", _class(column, classes)) for column in columns
    ]
    lines = "".join(_row(kinds, row, roles) for row in rows)
    return mark_safe(f"{_head(head, roles)}<tbody{_role('rowgroup', roles)}>{lines}</tbody>")  # noqa: S308


def _role(role: str, given: bool) -> str:
    """Said aloud only where the table is set as a grid, which takes its meaning away."""
    return f' role="{role}"' if given else ""


def _head(head: Sequence[tuple[str, str]], roles: bool) -> str:
    cells = "".join(
        f'<th scope="col"{_role("columnheader", roles)} class="{escape(css)}">'
        f"{conditional_escape(heading)}</th>"
        for heading, css in head
    )
    group, line = _role("rowgroup", roles), _role("row", roles)
    return f"<thead{group}><tr{line}>{cells}</tr></thead>"


def _row(kinds: Sequence[tuple[str, str]], row: Mapping[str, Any], roles: bool) -> str:
    cells = []
    for at, (kind, css) in enumerate(kinds):
        named = ' scope="row"' if kind == "th" else ""
        role = _role("rowheader" if kind == "th" else "cell", roles)
        cell = conditional_escape(row[f"cell{at}"])
        cells.append(f'<{kind}{named}{role} class="{escape(css)}">{cell}</{kind}>')
    own = f' id="{escape(row["id"])}"' if row["id"] else ""
    line = _role("row", roles)
    whys = "".join(_why(why, len(kinds), roles) for why in row["whys"])
    return f"<tr{line}{own}>{''.join(cells)}</tr>{whys}"


def _why(why: Why, columns: int, roles: bool) -> str:
    """A reason, folded away until its address is asked for."""
    return (
        f'<tr{_role("row", roles)} class="why" id="{escape(why.id)}" tabindex="-1">'
        f'<td{_role("cell", roles)} colspan="{columns}"><div class="reason">'
        f'<span class="sum">{say(why.sum)}</span> {say(why.words)} '
        f'<a href="#{escape(why.back)}">Fold away</a></div></td></tr>'
    )


def _class(column: Column[Any], classes: Mapping[str, str]) -> str:
    return classes.get(column.key, "num" if column.is_number else "")


def _head_class(cell_class: str) -> str:
    """The same, but a heading is set as headings are, not as a name or a word."""
    return " ".join(each for each in cell_class.split() if each not in WORDS)
