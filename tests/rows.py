"""Rows for the rules, made short: a section from its weights, a series from its places."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest

from league.files.rulebook import from_dict
from league.files.sheet import read_sheet
from league.rules.errors import SheetError
from league.rules.lines import MatchResult, Points, Row, SeasonResult, Status
from league.rules.matches import score_match
from league.rules.rulebook import Rulebook
from league.rules.table import score_season
from league.rules.weights import Unit, Weight

DEFAULT = Rulebook()
SHEETS = Path(__file__).parents[1] / "fixtures" / "sheets"

STATUSES = {status.value: status for status in Status}


def book(**changes: Any) -> Rulebook:
    """A rule book in kilograms; `section={"equal": "better"}` and so on, as the file has it."""
    return from_dict({"unit": "kg", **changes})


def drams(text: str) -> int:
    """Pounds and ounces as written, in drams."""
    return Weight.parse(text, Unit.LB_OZ).amount


def row(angler: str, weight: int | str | Sequence[int], section: str = "A", **more: Any) -> Row:
    """One angler's row: a weight, a list of nets, or a status."""
    facts: dict[str, Any] = {"section": section, "peg": angler, "angler": angler, **more}
    if isinstance(weight, str):
        return Row(status=STATUSES[weight], **facts)
    nets = (weight,) if isinstance(weight, int) else tuple(weight)
    return Row(nets=nets, **facts)


def section(catches: Sequence[int | str], name: str = "A", start: int = 1) -> list[Row]:
    """Anglers named by number, from *start*, with what each of them had."""
    return [row(f"{name}{start + index}", each, name) for index, each in enumerate(catches)]


def many(count: int, status: str) -> list[int | str]:
    """So many anglers with distinct falling weights, or so many of one status."""
    if status == "weighed":
        return [10_000 - 10 * index for index in range(count)]
    return [status] * count


def points_of(result: MatchResult) -> dict[str, Points | None]:
    """Every angler's points."""
    return {line.row.angler: line.points for part in result.sections for line in part.lines}


def places_of(result: MatchResult) -> dict[str, int | None]:
    """Every angler's place in the section."""
    return {line.row.angler: line.place for part in result.sections for line in part.lines}


def scored(catches: Sequence[int | str], rules: Rulebook) -> list[Points | None]:
    """The points of one section, in the order the catches are given."""
    points = points_of(score_match(section(catches), rules))
    return [points[f"A{index + 1}"] for index in range(len(catches))]


def placing(who: str, place: int, size: int, weight: int = 5_000, **more: Any) -> list[Row]:
    """A section of its own in which *who* comes *place* of *size*, with *weight*."""
    others = [weight + 10 * (place - each) for each in range(1, size + 1) if each != place]
    rows = [row(f"{who}-{index}", each, who) for index, each in enumerate(others)]
    return [row(who, weight, who, **more), *rows]


def fallen(who: str, status: str, size: int, **more: Any) -> list[Row]:
    """A section of its own in which *who* has a *status* and everybody else a weight."""
    rows = [row(f"{who}-{index}", 5_000 - 10 * index, who) for index in range(size - 1)]
    return [row(who, status, who, **more), *rows]


def series(
    rules: Rulebook,
    scores: Mapping[str, Sequence[int | str | tuple[int | str, dict[str, Any]]]],
    *,
    size: int = 16,
    weights: Mapping[str, Sequence[int]] | None = None,
    **season: Any,
) -> SeasonResult:
    """
    A season of individuals in which everybody has the places (or statuses) given, round by round.

    A pair gives the row more facts: `(3, {"penalty": 8})`.
    """
    rounds = []
    for index in range(len(next(iter(scores.values())))):
        rows: list[Row] = []
        for who, theirs in scores.items():
            each = theirs[index]
            given, more = each if isinstance(each, tuple) else (each, {})
            if isinstance(given, str):
                rows += fallen(who, given, size, **more)
            else:
                weight = weights[who][index] if weights else 5_000
                rows += placing(who, given, size, weight, **more)
        rounds.append((index + 1, score_match(rows, rules)))
    return score_season(rounds, rules, **season)


def order_of(season: SeasonResult, names: Sequence[str]) -> list[str]:
    """Those of *names* in the order of the anglers' table."""
    return [line.name for line in season.anglers if line.name in names]


def line_of(season: SeasonResult, name: str) -> Any:
    """One angler's line of the table."""
    return next(line for line in season.anglers if line.name == name)


def heron_lake(rules: Rulebook) -> MatchResult:
    """Round 6 of the Winter Team League, from its sheet."""
    sheet = SHEETS / "heron-lake-round-6.csv"
    return score_match(read_sheet(sheet.read_bytes(), rules).matches[0].rows, rules)


def winter(
    points: Sequence[Mapping[str, int]], **season: Any
) -> tuple[list[tuple[int, MatchResult]], Rulebook]:
    """Rounds of one section in which teams of one have these weights, under high points."""
    rules = book(
        section={"direction": "high", "blank": 0, "absent": 0},
        team={"size": 1},
        season=season,
    )
    rounds = []
    for number, scores in enumerate(points, 1):
        rows = [row(f"{team}{number}", grams, team=team) for team, grams in scores.items()]
        rounds.append((number, score_match(rows, rules)))
    return rounds, rules


def sheet_faults(text: str | bytes, rules: Rulebook = DEFAULT) -> list[str]:
    """What is wrong with a sheet, one line a fault."""
    with pytest.raises(SheetError) as refused:
        read_sheet(text, rules)
    return [str(fault) for fault in refused.value.faults]
