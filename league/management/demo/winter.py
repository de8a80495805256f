"""
This winter's league: catches by luck, then dealt so that the table comes out as it is told.

The club's pages, pictures and handbook tell one story: who won which round and by how much in
all. Luck makes the catches; this file deals them out inside their sections until the rounds are
won by the teams that won them, and trims ounces, never places, until the season's weights agree.
The scoring is the rules' own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any

from league.files.sheet import SheetMatch, read_sheet
from league.management.demo.fishing import Fishing, nets
from league.management.demo.luck import Luck
from league.management.demo.people import squads
from league.management.demo.settings import FIXTURES, Settings
from league.rules.lines import MatchResult, Row, Status
from league.rules.matches import score_match
from league.rules.rulebook import Rulebook
from league.rules.weights import DRAMS_IN_OUNCE, Unit, Weight

# Trimmed ounces stay within these shares of what was caught.
LEAST, MOST = 0.5, 1.6


class DoesNotFitError(ValueError):
    """The seed makes no season that can be told as it is told; the settings need another."""


@dataclass
class Cell:
    """One angler's catch in one round."""

    section: str
    peg: int
    angler: str
    team: str
    ounces: int
    pinned: bool = False


def ounces(typed: str) -> int:
    """Whole ounces of a weight as it is written; a blank has none."""
    return 0 if typed == "blank" else Weight.parse(typed, Unit.LB_OZ).amount // DRAMS_IN_OUNCE


def as_rows(cells: Sequence[Cell]) -> list[Row]:
    """The catches as the rules take them."""
    return [
        Row(
            section=cell.section,
            peg=str(cell.peg),
            angler=cell.angler,
            team=cell.team,
            status=Status.WEIGHED if cell.ounces else Status.BLANK,
            nets=nets(cell.ounces),
        )
        for cell in cells
    ]


def matches(settings: Settings, fishing: Fishing, book: Rulebook) -> list[SheetMatch]:
    """The rounds fished so far."""
    told = settings["winter"]
    rounds = [
        _as_told(one, _caught(settings, one, fishing), book, f"{settings['seed']}/{one['round']}")
        for one in told["round"]
    ]
    _trim(rounds, {team: ounces(weight) for team, weight in told["totals"].items()}, settings)
    for one, cells in zip(told["round"], rounds, strict=True):
        if _order(cells, book) != one["order"]:
            raise DoesNotFitError(f"Round {one['round']} is not won as told.")
    fished = [
        SheetMatch(tuple(as_rows(cells)), one["round"], one["date"], water=one["water"])
        for one, cells in zip(told["round"], rounds, strict=True)
    ]
    return [*fished, _given(told["given"], book)]


def _caught(settings: Settings, one: dict[str, Any], fishing: Fishing) -> list[Cell]:
    """A round by luck alone: sections, pegs and catches; one angler's as it is known."""
    luck = Luck(f"{settings['seed']}/round/{one['round']}")
    known, who = one["pinned"], settings["winter"]["third"]
    cells = []
    for team, members in squads(settings).items():
        fishes = [one.get("in_for", {}).get(name, name) for name in members]
        letters = luck.shuffled(list(one["sections"]))
        if who in fishes:
            at = letters.index(known["section"])
            letters[at], letters[fishes.index(who)] = letters[fishes.index(who)], letters[at]
        cells += [
            Cell(letter, 0, name, team, 0) for letter, name in zip(letters, fishes, strict=True)
        ]
    for letter, pegs in one["sections"].items():
        there = [cell for cell in cells if cell.section == letter]
        for cell, peg in zip(there, luck.shuffled(pegs), strict=True):
            cell.peg = peg
    hers = next(cell for cell in cells if cell.angler == who)
    other = next(
        cell for cell in cells if cell.section == hers.section and cell.peg == known["peg"]
    )
    hers.peg, other.peg = other.peg, hers.peg
    for letter in one["sections"]:
        there = [cell for cell in cells if cell.section == letter]
        _weigh(there, hers, known, one, fishing, luck)
    return sorted(cells, key=lambda cell: cell.peg)


def _weigh(
    there: list[Cell],
    hers: Cell,
    known: dict[str, Any],
    one: dict[str, Any],
    fishing: Fishing,
    luck: Luck,
) -> None:
    """Catches for one section; drawn again until the known one stands where it is known to."""
    while True:
        for cell in there:
            cell.ounces = fishing.catch(cell.angler, one["water"], cell.peg, one["day"], luck)
        if hers not in there:
            return
        hers.ounces, hers.pinned = ounces(known["weight"]), True
        above = [cell for cell in there if cell.ounces > hers.ounces]
        level = [cell for cell in there if cell.ounces == hers.ounces and cell is not hers]
        if not level and ("place" not in known or len(above) == known["place"] - 1):
            return


def _order(cells: Sequence[Cell], book: Rulebook) -> list[str]:
    return [line.team for line in score_match(as_rows(cells), book).teams]


def _wrong(result: MatchResult, order: list[str]) -> int:
    """How many pairs of teams are the wrong way round."""
    stands = [order.index(line.team) for line in result.teams]
    return sum(earlier > later for earlier, later in combinations(stands, 2))


def _as_told(one: dict[str, Any], cells: list[Cell], book: Rulebook, seed: str) -> list[Cell]:
    """Deal the catches of a section out again, two at a time, until the teams stand as told."""
    luck = Luck(f"{seed}/dealt")
    wrong = _wrong(score_match(as_rows(cells), book), one["order"])
    for _ in range(3000):
        if not wrong:
            return cells
        first = luck.pick(cells)
        second = luck.pick([cell for cell in cells if cell.section == first.section])
        if first.pinned or second.pinned:
            continue
        first.ounces, second.ounces = second.ounces, first.ounces
        now = _wrong(score_match(as_rows(cells), book), one["order"])
        if now > wrong:
            first.ounces, second.ounces = second.ounces, first.ounces
        else:
            wrong = now
    raise DoesNotFitError(f"Round {one['round']} cannot be won as told.")


def _trim(rounds: list[list[Cell]], totals: dict[str, int], settings: Settings) -> None:
    """Move ounces, a few at a time and past nobody, until each team has its season's weight."""
    luck = Luck(f"{settings['seed']}/trimmed")
    caught = {id(cell): cell.ounces for cells in rounds for cell in cells}
    for _ in range(20000):
        short = {team: total - _weight(rounds, team) for team, total in totals.items()}
        team = max(short, key=lambda name: abs(short[name]))
        if not short[team]:
            return
        cells = luck.pick(rounds)
        cell = luck.pick([cell for cell in cells if cell.team == team])
        if cell.pinned or not cell.ounces:
            continue
        step = max(1, min(abs(short[team]), round(cell.ounces * 0.08)))
        wanted = cell.ounces + (step if short[team] > 0 else -step)
        others = [each.ounces for each in cells if each.section == cell.section and each != cell]
        above = min((each for each in others if each > cell.ounces), default=10**6)
        below = max((each for each in others if each < cell.ounces), default=0)
        least, most = caught[id(cell)] * LEAST, caught[id(cell)] * MOST
        if cell.ounces not in others and below < wanted < above and least <= wanted <= most:
            cell.ounces = wanted
    raise DoesNotFitError(f"The season's weights stay short: {short}.")


def _weight(rounds: list[list[Cell]], team: str) -> int:
    return sum(cell.ounces for cells in rounds for cell in cells if cell.team == team)


def _given(given: dict[str, Any], book: Rulebook) -> SheetMatch:
    """The round that was taken down, with the names as the club's own list has them."""
    taken = read_sheet((FIXTURES / "sheets" / given["sheet"]).read_bytes(), book).matches[0]
    names = given["full_names"]
    rows = tuple(replace(row, angler=names.get(row.angler, row.angler)) for row in taken.rows)
    return replace(taken, rows=rows, round=given["round"], name="")
