"""The league table as a ledger: a column a round, a reason behind every figure."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from django.urls import reverse
from django.utils.formats import date_format
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.text import slugify

from league.columns import Column, round_score, score, table_columns
from league.models import Stage
from league.rules import words
from league.rules.figures import number_word, ordinal_word
from league.rules.lines import RoundScore, TableLine
from league.rules.rounds import placed_in_section
from league.web import cells
from league.web.ledgers import Why, ledger
from league.web.pages.standings import Standings, movement
from league.web.sentences import short_day

LEAGUE_TEMPLATE = "table/_ledger.html"
ON_A_PHONE = 7  # rounds that stand side by side there
MARKS = {
    "up": "promotion place",
    "down": "relegation place",
    "level": "level across the line",
}


def shared_columns(table: Standings) -> tuple[Column[TableLine], ...]:
    return table_columns(
        table.numbers,
        table.book.unit,
        of_teams=table.of_teams,
        total=total_heading(table),
        by_weight=table.worked.by_weight,
    )


def total_heading(table: Standings) -> str:
    """Best five, where not every round counts; else Points."""
    if table.book.season.best is not None:
        return f"Best {number_word(table.book.season.best)}"
    return "Points"


def league_ledger(table: Standings, lines: Sequence[TableLine]) -> Any:
    """These *lines* of the table, a column a round, with a reason behind every figure."""
    unit = table.book.unit
    rounds = {f"round-{number}": number for number in table.numbers}

    def in_round(number: int) -> Callable[[TableLine, str], str]:
        return lambda line, text: _round_cell(line, number, text)

    return ledger(
        shared_columns(table),
        lines,
        row_header="name",
        cells={
            "place": lambda line, text: _place_cell(line, text, table.before),
            "name": _name_cell(table),
            "total": lambda line, text: cells.with_reason(cells.boxed(text), f"{_id(line)}-total"),
            "weight": lambda line, text: cells.weight(line.weight, unit),
        }
        | {key: in_round(number) for key, number in rounds.items()},
        heads={
            "place": cells.hidden("Place and movement"),
            "weight": cells.weight_head(unit),
        }
        | {key: _round_head(table, number) for key, number in rounds.items()},
        classes={
            "place": "pos",
            "name": "name",
            "total": "num total",
            "weight": "num lw",
        }
        | dict.fromkeys(rounds, "num rd"),
        whys=lambda line: _whys(line, table),
        row_id=lambda line: _id(line).replace("why", "row", 1),
        template=LEAGUE_TEMPLATE,
        caption=f"League table after round {table.last}",
        **{
            "class": f"ledger league{' long' if len(rounds) > ON_A_PHONE else ''}",
            "id": "league",
        },
    )


def _id(line: TableLine) -> str:
    return f"why-{slugify(line.key)}"


def _place_cell(line: TableLine, text: str, before: Mapping[str, int]) -> str:
    moved = movement(line, before)
    place = cells.with_tip(text) if line.place == 1 else text
    return format_html("{}<small>{}</small>", place, moved) if moved else place


def _name_cell(table: Standings) -> Callable[[TableLine, str], str]:
    def cell(line: TableLine, text: str) -> str:
        beneath = ", ".join(part for part in (line.team, MARKS.get(line.mark, "")) if part)
        name: str = text
        if not table.of_teams and line.key.isdecimal():
            name = format_html('<a href="{}">{}</a>', reverse("angler", args=[line.key]), text)
        elif table.of_teams and line.key.isdecimal():
            name = format_html('<a href="{}">{}</a>', reverse("team", args=[line.key]), text)
        return format_html("{}<small>{}</small>", name, beneath) if beneath else name

    return cell


def _round_cell(line: TableLine, number: int, text: str) -> SafeString:
    label = format_html('<span class="rl" aria-hidden="true">{}</span>', number)
    given = round_score(line, number)
    if given is None:
        return format_html(
            '{}<span class="tocome"><span class="fig"><span class="vh">to come</span>'
            '<i aria-hidden="true"></i></span></span>',
            label,
        )
    if given.dropped:
        figure = format_html(
            '<span class="dropped"><s>{}</s></span><span class="vh"> dropped</span>', text
        )
    else:
        figure = cells.boxed(text)
    linked = cells.with_reason(figure, f"{_id(line)}-{number}")
    if given.place == 1:
        linked = format_html('<span class="won">{}</span>', linked)
    return format_html("{}{}", label, linked)


def _round_head(table: Standings, number: int) -> SafeString:
    match = table.matches.get(number)
    if match is None:
        return format_html("<b>{}</b>", number)
    page = "result" if number in table.results else "match"
    return format_html(
        '<a href="{}"><span class="vh">Round </span><b>{}</b><small>{}<br>{}</small></a>',
        reverse(page, args=[match.pk]),
        number,
        match.water.name,
        "cancelled" if match.stage == Stage.CANCELLED else date_format(match.date, "j M"),
    )


# ---- reasons -----------------------------------------------------------------------------------


def _whys(line: TableLine, table: Standings) -> list[Why]:
    address = _id(line)
    back = address.replace("why", "row", 1)
    whys = [
        Why(
            f"{address}-{given.round}",
            f"{_where(table, given.round)}: {_what(given, table)}",
            _counts(given, table),
            back,
        )
        for given in line.rounds
    ]
    unit = table.book.unit
    total = words.arithmetic(line.reason)
    said = words.say(line.reason, unit)
    rest = said.removeprefix(total).lstrip(". ")
    split = words.say_split(line.split, unit) if line.split else ""
    if not said.startswith(total):
        total, rest = "", said
    whys.append(
        Why(f"{address}-total", total, " ".join(part for part in (split, rest) if part), back)
    )
    return whys


def _where(table: Standings, number: int) -> str:
    match = table.matches.get(number)
    if match is None:
        return f"Round {number}"
    return f"Round {number}, {match.water.name}, {short_day(match.date)}"


def _what(given: RoundScore, table: Standings) -> str:
    figure = score(given.score, table.book.unit, table.worked.by_weight)
    if given.place is None:
        return f"{given.status} = {figure}"
    fished = dict(table.worked.rounds).get(given.round)
    if not table.of_teams and fished and placed_in_section(fished, table.book):
        return f"{ordinal_word(given.place)} in the section = {figure}"
    there = sum(
        1
        for line in table.lines
        if (other := round_score(line, given.round)) and other.place is not None
    )
    return f"{ordinal_word(given.place)} of {number_word(there)} = {figure}"


def _counts(given: RoundScore, table: Standings) -> str:
    if given.score is None:
        return "No score: the round does not count."
    if not given.dropped:
        return "Counts."
    now = f"{number_word(table.worked.counting)} of {number_word(table.worked.held)} rounds count"
    if any(number > table.last for number in table.numbers):
        return f"Dropped for now: {now} so far, the best. It comes back if a later round is worse."
    return f"Dropped: {now}, the best."
