"""A season's honours: who came where, the best weights, the most wins, each with its counts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from league.rules.lines import AnglerLine, MatchResult, SeasonResult, TableLine
from league.rules.statuses import FISHED

PLACES = 3
WEIGHTS = 5
LEAST_WINS = 2  # the most section wins are worth a line from two on: one is luck

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Catch:
    """A weight in a round: an angler's, or a whole team's with no peg."""

    name: str
    key: str
    team: str
    round: int
    peg: str
    weight: int


@dataclass(frozen=True, slots=True)
class Wins:
    """How often somebody won the section, of how many rounds fished."""

    name: str
    key: str
    team: str
    wins: int
    fished: int


@dataclass(frozen=True, slots=True)
class PegWins:
    """How often a peg won its section, of how many rounds somebody fished it."""

    place: str  # the water, or whatever tells one bank from another
    peg: str
    wins: int
    fished: int


@dataclass(frozen=True, slots=True)
class Honours:
    """Everything read out at the season's end. Who is level is there together, never one of two."""

    over: bool
    places: tuple[TableLine, ...]
    anglers: tuple[TableLine, ...]  # empty where the table is theirs already
    up: tuple[TableLine, ...]
    down: tuple[TableLine, ...]
    across: tuple[TableLine, ...]  # level across one of the lines
    weights: tuple[Catch, ...]
    team_weights: tuple[Catch, ...]
    section_wins: tuple[Wins, ...]
    pegs: tuple[PegWins, ...]
    round_wins: tuple[TableLine, ...]


def honours(season: SeasonResult, places: dict[int, str] | None = None) -> Honours:
    """
    The honours of *season* as its rounds stand; *places* say which water a round was fished on.

    A season is over when every planned round has been fished or called off.
    """
    of_teams = season.table is not season.anglers
    gone = len({line.round for line in season.table[0].rounds}) if season.table else 0
    catches = [catch for number, result in season.rounds for catch in _catches(number, result)]
    teams = [
        Catch(line.team, line.team_id or line.team, "", number, "", line.weight)
        for number, result in season.rounds
        for line in result.teams
    ]
    return Honours(
        over=bool(season.planned) and season.held > 0 and gone >= (season.planned or 0),
        places=_first(season.table, PLACES) if season.held else (),
        anglers=_first(season.anglers, PLACES) if of_teams and season.held else (),
        up=tuple(line for line in season.table if line.mark == "up"),
        down=tuple(line for line in season.table if line.mark == "down"),
        across=tuple(line for line in season.table if line.mark == "level"),
        weights=_best(catches, lambda catch: catch.weight, WEIGHTS),
        team_weights=_best(teams, lambda catch: catch.weight, 1),
        section_wins=_section_wins(season),
        pegs=_peg_wins(season, places or {}),
        round_wins=_best(season.table, lambda line: line.round_wins, 1) if season.held else (),
    )


def _first(lines: Sequence[TableLine], count: int) -> tuple[TableLine, ...]:
    return tuple(line for line in lines if line.place <= count and line.qualified)


def _best(found: Iterable[T], measure: Callable[[T], int], count: int) -> tuple[T, ...]:
    """The best so many by *measure*, with whoever is level with the last; none of nothing."""
    ordered = sorted((each for each in found if measure(each) > 0), key=measure, reverse=True)
    if len(ordered) <= count:
        return tuple(ordered)
    least = measure(ordered[count - 1])
    return tuple(each for each in ordered if measure(each) >= least)


def _catches(number: int, result: MatchResult) -> list[Catch]:
    return [
        Catch(
            line.row.angler,
            line.row.angler_key,
            line.row.team,
            number,
            line.row.peg,
            line.weight,
        )
        for line in _lines(result)
    ]


def _lines(result: MatchResult) -> list[AnglerLine]:
    return [line for section in result.sections for line in section.lines]


def _won(line: AnglerLine) -> bool:
    """First in the section with something on the scales."""
    return line.place == 1 and line.weight > 0


def _section_wins(season: SeasonResult) -> tuple[Wins, ...]:
    wins: dict[str, int] = defaultdict(int)
    fished: dict[str, int] = defaultdict(int)
    who: dict[str, AnglerLine] = {}
    for _, result in season.rounds:
        for line in _lines(result):
            key = line.row.angler_key
            who[key] = line
            fished[key] += line.status in FISHED
            wins[key] += _won(line)
    found = _best(who, lambda key: wins[key], PLACES)
    return tuple(
        Wins(who[key].row.angler, key, who[key].row.team, wins[key], fished[key])
        for key in found
        if wins[key] >= LEAST_WINS
    )


def _peg_wins(season: SeasonResult, places: dict[int, str]) -> tuple[PegWins, ...]:
    wins: dict[tuple[str, str], int] = defaultdict(int)
    fished: dict[tuple[str, str], int] = defaultdict(int)
    for number, result in season.rounds:
        for line in _lines(result):
            if line.row.peg and line.status in FISHED:
                at = (places.get(number, ""), line.row.peg)
                fished[at] += 1
                wins[at] += _won(line)
    found = _best(fished, lambda at: wins[at], 1)
    return tuple(
        PegWins(place, peg, wins[place, peg], fished[place, peg])
        for place, peg in found
        if wins[place, peg] >= LEAST_WINS
    )
