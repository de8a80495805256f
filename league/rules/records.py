"""A club's records: what was heaviest, and who won most sections out of how many."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from league.rules.lines import AnglerLine
from league.rules.placings import runs
from league.rules.statuses import FISHED


@dataclass(frozen=True, slots=True)
class Catch:
    """A weight that may be a record: an angler's or a team's, in drams or grams."""

    who: str
    key: str
    amount: int
    match: int
    water: str
    day: str  # as it is printed
    peg: str = ""
    place: int = 0
    equal: bool = False


@dataclass(frozen=True, slots=True)
class Wins:
    """Somebody's section wins, out of the matches fished."""

    who: str
    key: str
    wins: int = 0
    matches: int = 0
    place: int = 0
    equal: bool = False


Listed = TypeVar("Listed", Catch, Wins)


def heaviest(catches: Iterable[Catch], most: int) -> tuple[Catch, ...]:
    """The *most* heaviest, heaviest first; whoever is level with the last is listed too."""
    return _ranked(sorted(catches, key=lambda each: -each.amount), lambda each: each.amount, most)


def best_of_each_water(catches: Iterable[Catch]) -> tuple[Catch, ...]:
    """The heaviest of each water, by the water's name; all of them where they are level."""
    by_water: dict[str, list[Catch]] = {}
    for each in catches:
        held = by_water.setdefault(each.water, [])
        if held and each.amount > held[0].amount:
            held.clear()
        if not held or each.amount == held[0].amount:
            held.append(each)
    return tuple(each for water in sorted(by_water) for each in by_water[water])


def count_wins(lines: Iterable[AnglerLine], counted: dict[str, Wins]) -> None:
    """Add a match's *lines* to what is *counted* by angler; a name stays as it came first."""
    for line in lines:
        if line.status not in FISHED:
            continue
        had = counted.get(line.row.angler_key, Wins(line.row.angler, line.row.angler_id))
        won = line.place == 1 and line.weight > 0
        counted[line.row.angler_key] = replace(had, wins=had.wins + won, matches=had.matches + 1)


def most_wins(counted: Iterable[Wins], most: int) -> tuple[Wins, ...]:
    """Who won most sections, ties shared; nobody without a win."""
    winners = sorted(
        (each for each in counted if each.wins), key=lambda each: (-each.wins, each.who)
    )
    return _ranked(winners, lambda each: each.wins, most)


def _ranked(
    ordered: Sequence[Listed], figure: Callable[[Listed], int], most: int
) -> tuple[Listed, ...]:
    found: list[Listed] = []
    for first, last in runs([figure(each) for each in ordered]):
        if first > most:
            break
        found += [
            replace(each, place=first, equal=last > first) for each in ordered[first - 1 : last]
        ]
    return tuple(found)
