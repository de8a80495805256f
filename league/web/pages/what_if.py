"""What a page of what-if is made of: two tables side by side, who moves and why."""

from __future__ import annotations

from typing import Any

from django.utils.html import format_html
from django.utils.text import slugify

from league.compared import what_if_columns
from league.files import rulebook
from league.operations.what_if import Supposed
from league.rules import words
from league.rules.lines import SeasonResult, TableLine
from league.rules.what_if import Pair, WhatIf
from league.web import cells
from league.web.ledgers import Why, ledger
from league.web.pages.crossings import crossings


def answer(supposed: Supposed) -> dict[str, Any]:
    """Everything the page says about a season under the rules that were chosen."""
    what_if = supposed.answer
    unit = what_if.now.unit
    return {
        "book": supposed.book,
        "headline": words.what_if_headline(what_if),
        **(_tables(supposed) if what_if.then.rounds else {}),
        "moves": [(move.facts["name"], words.say(move, unit)) for move in what_if.moves],
        "changes": [
            (change, words.say_alone(change))
            # Those that move somebody are what a committee looks for.
            for change in sorted(what_if.changes, key=lambda change: not change.moves)
        ],
        "notes": supposed.notes,
        "warnings": rulebook.warnings(supposed.book),
    }


def _tables(supposed: Supposed) -> dict[str, Any]:
    """The two orders drawn, and the figures of both."""
    now, then = supposed.answer.now, supposed.answer.then
    return {
        "drawn": crossings(now.table, then.table),
        "described": words.say_orders(supposed.answer),
        "table": _side_by_side(supposed.answer),
    }


def _side_by_side(what_if: WhatIf) -> Any:
    """Place and total under the other rules, the name, and place and total as they are."""
    now, then = what_if.now, what_if.then
    return ledger(
        what_if_columns(what_if),
        what_if.pairs,
        row_header="name",
        cells={
            "place-then": lambda pair, text: cells.with_tip(text) if pair.then.place == 1 else text,
            "place-now": lambda pair, text: cells.with_tip(text) if pair.now.place == 1 else text,
            "name": _name,
            "total-then": lambda pair, text: cells.with_reason(
                cells.boxed(text), f"{_id(pair)}-then"
            ),
            "total-now": lambda pair, text: cells.with_reason(
                cells.boxed(text), f"{_id(pair)}-now"
            ),
        },
        heads={
            f"{what}-{when}": _head(what.capitalize(), when)
            for what in ("place", "total")
            for when in ("then", "now")
        },
        classes={
            "place-then": "pos",
            "name": "name",
            "total-then": "num total",
            "place-now": "num was",
            "total-now": "num was",
        },
        whys=lambda pair: _whys(pair, now, then),
        row_id=lambda pair: _id(pair).replace("why", "row", 1),
        id="what-if",
        **{"class": "ledger whatif"},
    )


def _head(what: str, when: str) -> str:
    return format_html("{}<small>{}</small>", what, when)


def _id(pair: Pair) -> str:
    return f"why-{slugify(pair.then.key)}"


def _name(pair: Pair, text: str) -> str:
    change = pair.now.place - pair.then.place
    if not change:
        return format_html("{}", text)
    moved = f"up {change}" if change > 0 else f"down {-change}"
    return format_html("{}<small>{}</small>", text, moved)


def _whys(pair: Pair, now: SeasonResult, then: SeasonResult) -> list[Why]:
    address = _id(pair)
    back = address.replace("why", "row", 1)
    moved = f" {words.say(pair.why, then.unit)}" if pair.why else ""
    return [
        Why(f"{address}-then", "Then:", f"{_said(pair.then, then)}{moved}", back),
        Why(f"{address}-now", "Now:", _said(pair.now, now), back),
    ]


def _said(line: TableLine, season: SeasonResult) -> str:
    split = words.say_split(line.split, season.unit) if line.split else ""
    return " ".join(part for part in (words.say(line.reason, season.unit), split) if part)
