"""Tie-break ladders: named rungs, climbed until one splits two that are level."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from league.rules.lines import Points, RungCheck
from league.rules.placings import runs

# After every score there is: what a missing score is worth when lists are compared.
NOTHING = (1, 0)


@dataclass(slots=True)
class TeamStanding:
    """What a team's ladder looks at; times *sign*, the better points are the smaller."""

    points: Points
    weight: int
    best_weight: int
    member_points: Sequence[Points]
    section_wins: int
    sign: int
    in_weight: bool = False


@dataclass(slots=True)
class SeasonStanding:
    """What a season's ladder looks at; scores in round order, None where there is none."""

    total: Points
    weight: int
    counting_weight: int
    best_round_weight: int
    round_wins: int
    scores: Sequence[Points | None]
    counting: Sequence[Points]
    dropped: Sequence[Points]
    sign: int
    in_weight: bool = False  # scores and total are drams or grams


T = TypeVar("T", TeamStanding, SeasonStanding)


@dataclass(frozen=True)
class Rung(Generic[T]):
    """One rung. *measure* is what people read; sorted by *order*, the better one comes first."""

    key: str
    words: str
    kind: str  # how the measure is written: "points", "weight", "count" or "list"
    measure: Callable[[T], Any] = field(compare=False, repr=False)
    order: Callable[[T], Any] = field(compare=False, repr=False)


def in_order(scores: Iterable[Points | None], sign: int) -> tuple[Any, ...]:
    """*scores* as a key to sort by, in which having no score is the worst."""
    return (*((0, sign * score) if score is not None else NOTHING for score in scores), NOTHING)


def best_first(scores: Iterable[Points], sign: int) -> tuple[Points, ...]:
    """*scores* from best to worst."""
    return tuple(sorted(scores, reverse=sign < 0))


def _best(scores: Iterable[Points | None], sign: int) -> Points | None:
    return min((s for s in scores if s is not None), key=lambda s: sign * s, default=None)


TEAM_POINTS = Rung[TeamStanding](
    "points", "points", "points", lambda team: team.points, lambda team: team.sign * team.points
)
TEAM_RUNGS: dict[str, Rung[TeamStanding]] = {
    rung.key: rung
    for rung in (
        Rung[TeamStanding](
            "weight", "total weight", "weight", lambda team: team.weight, lambda team: -team.weight
        ),
        Rung[TeamStanding](
            "best weight",
            "best single weight",
            "weight",
            lambda team: team.best_weight,
            lambda team: -team.best_weight,
        ),
        Rung[TeamStanding](
            "best places",
            "section points from best to worst",
            "list",
            lambda team: best_first(team.member_points, team.sign),
            lambda team: in_order(best_first(team.member_points, team.sign), team.sign),
        ),
        Rung[TeamStanding](
            "section wins",
            "section wins",
            "count",
            lambda team: team.section_wins,
            lambda team: -team.section_wins,
        ),
    )
}

SEASON_POINTS = Rung[SeasonStanding](
    "points", "points", "points", lambda line: line.total, lambda line: line.sign * line.total
)
SEASON_WEIGHT = Rung[SeasonStanding](
    "season weight",
    "weight",
    "weight",
    lambda line: line.total,
    lambda line: line.sign * line.total,
)
SEASON_RUNGS: dict[str, Rung[SeasonStanding]] = {
    rung.key: rung
    for rung in (
        Rung[SeasonStanding](
            "weight",
            "total weight over all rounds",
            "weight",
            lambda line: line.weight,
            lambda line: -line.weight,
        ),
        Rung[SeasonStanding](
            "counting weight",
            "total weight over the rounds that count",
            "weight",
            lambda line: line.counting_weight,
            lambda line: -line.counting_weight,
        ),
        Rung[SeasonStanding](
            "round wins",
            "rounds won",
            "count",
            lambda line: line.round_wins,
            lambda line: -line.round_wins,
        ),
        Rung[SeasonStanding](
            "best places",
            "counting scores from best to worst",
            "list",
            lambda line: best_first(line.counting, line.sign),
            lambda line: in_order(best_first(line.counting, line.sign), line.sign),
        ),
        Rung[SeasonStanding](
            "next best",
            "the best dropped score, then the next",
            "list",
            lambda line: best_first(line.dropped, line.sign),
            lambda line: in_order(best_first(line.dropped, line.sign), line.sign),
        ),
        Rung[SeasonStanding](
            "last round",
            "the last round, then the one before",
            "list",
            lambda line: tuple(reversed(line.scores)),
            lambda line: in_order(reversed(line.scores), line.sign),
        ),
        Rung[SeasonStanding](
            "best round weight",
            "heaviest single round",
            "weight",
            lambda line: line.best_round_weight,
            lambda line: -line.best_round_weight,
        ),
        Rung[SeasonStanding](
            "better",
            "better single round",
            "points",
            lambda line: _best(line.scores, line.sign),
            lambda line: in_order([_best(line.scores, line.sign)], line.sign),
        ),
    )
}


def climb(ladder: Sequence[Rung[T]], ours: T, theirs: T) -> tuple[RungCheck, ...]:
    """Go up the *ladder* with two of them: level, split here, or not needed, rung by rung."""
    checks = []
    split = False
    for rung in ladder:
        if split:
            outcome = "not needed"
        elif rung.order(ours) == rung.order(theirs):
            outcome = "level"
        else:
            outcome, split = "split", True
        weighed = rung.kind == "weight" or (rung.kind != "count" and ours.in_weight)
        checks.append(
            RungCheck(rung.key, rung.measure(ours), rung.measure(theirs), outcome, weighed)
        )
    return tuple(checks)


def placed(ladder: Sequence[Rung[T]], standings: Sequence[T]) -> list[tuple[T, int, int]]:
    """The *standings* in order, each with the first and last of the places its equals fill."""

    def key(standing: T) -> tuple[Any, ...]:
        return tuple(rung.order(standing) for rung in ladder)

    ordered = sorted(standings, key=key)
    keys = [key(standing) for standing in ordered]
    return [
        (standing, first, last)
        for first, last in runs(keys)
        for standing in ordered[first - 1 : last]
    ]
