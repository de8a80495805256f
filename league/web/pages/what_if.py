"""What a page of what-if is made of: two tables side by side, who moves and why."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.utils.html import format_html
from django.utils.text import slugify

from league.columns import Column, placing, score
from league.files import rulebook
from league.operations.what_if import Supposed
from league.rules import words
from league.rules.lines import SeasonResult, TableLine
from league.web import cells
from league.web.ledgers import Why, ledger
from league.web.pages.crossings import crossings


@dataclass(frozen=True, slots=True)
class Pair:
    """One competitor's line in both tables."""

    now: TableLine
    then: TableLine
    moved: str  # why the place changes; empty where it does not


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
        "table": _side_by_side(now, then, _pairs(supposed)),
    }


def _pairs(supposed: Supposed) -> list[Pair]:
    what_if = supposed.answer
    before = {line.key: line for line in what_if.now.table}
    said = {move.facts["key"]: words.say(move, what_if.now.unit) for move in what_if.moves}
    return [
        Pair(before[line.key], line, said.get(line.key, ""))
        for line in what_if.then.table
        if line.key in before
    ]


def _side_by_side(now: SeasonResult, then: SeasonResult, pairs: list[Pair]) -> Any:
    """Place and total under the other rules, the name, and place and total as they are."""
    of_teams = then.table != then.anglers

    def total(line: TableLine, season: SeasonResult) -> str:
        return score(line.total, season.unit, season.by_weight)

    columns = [
        Column[Pair](
            "then", "Place then", lambda pair: placing(pair.then.place, pair.then.equal), True
        ),
        Column[Pair]("name", "Team" if of_teams else "Angler", lambda pair: pair.then.name),
        Column[Pair]("total-then", "Total then", lambda pair: total(pair.then, then), True),
        Column[Pair](
            "now", "Place now", lambda pair: placing(pair.now.place, pair.now.equal), True
        ),
        Column[Pair]("total-now", "Total now", lambda pair: total(pair.now, now), True),
    ]
    return ledger(
        columns,
        pairs,
        row_header="name",
        cells={
            "then": lambda pair, text: cells.with_tip(text) if pair.then.place == 1 else text,
            "now": lambda pair, text: cells.with_tip(text) if pair.now.place == 1 else text,
            "name": _name,
            "total-then": lambda pair, text: cells.with_reason(
                cells.boxed(text), f"{_id(pair)}-then"
            ),
            "total-now": lambda pair, text: cells.with_reason(
                cells.boxed(text), f"{_id(pair)}-now"
            ),
        },
        heads={
            "then": _head("Place", "then"),
            "now": _head("Place", "now"),
            "total-then": _head("Total", "then"),
            "total-now": _head("Total", "now"),
        },
        classes={
            "then": "pos",
            "name": "name",
            "total-then": "num total",
            "now": "num was",
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
    return [
        Why(f"{address}-then", "Then:", " ".join((_said(pair.then, then), pair.moved)), back),
        Why(f"{address}-now", "Now:", _said(pair.now, now), back),
    ]


def _said(line: TableLine, season: SeasonResult) -> str:
    split = words.say_split(line.split, season.unit) if line.split else ""
    return " ".join(part for part in (words.say(line.reason, season.unit), split) if part)
