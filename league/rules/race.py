"""What a race for a league is made of, and what can be said of whoever is in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import TypeAlias

from league.rules.lines import Points

# Without limit where nobody knows how many come, or where too few rounds are left to be placed.
Total: TypeAlias = Points | float
NEWCOMER = "*"  # the key of whoever has not fished yet, and may


class Verdict(StrEnum):
    """What can be said of a competitor."""

    CHAMPIONS = "champions"
    CAN = "can still win"
    LEVEL = "can still draw level"
    OPEN = "still open"
    CANNOT = "cannot win"


@dataclass(frozen=True, slots=True)
class Contender:
    """A line of the table: its scores so far by round, those that cannot be dropped, penalties."""

    key: str
    scores: Mapping[int, Points]
    penalty: Points = 0
    kept: frozenset[int] = frozenset()
    fished: int = 0


@dataclass(frozen=True, slots=True)
class Left:
    """
    What is left of a season: rounds of so many contests, in each of which every place is taken.

    *table* is what a contest gives, first place first; *worst* the worst a whole round can give,
    to somebody who stays away too. *dealt* says that no two can take the same place and that last
    place is the worst there is, whatever becomes of anybody; the sharper bound needs it.

    Anglers come or stay away, each for himself: there a win, *table*, and *worst* may be without
    limit, and *won* and *away* are what a win and staying away gave in a round like the last.
    """

    rounds: tuple[int, ...]
    contests: int
    table: tuple[Total, ...]
    worst: Total
    counting: int  # rounds that count at the end of the season
    sign: int
    dealt: bool = False
    undroppable: frozenset[int] = frozenset()
    worst_is_kept: bool = False  # a disqualification cannot be dropped
    minimum: int = 0  # rounds to be fished by whoever is to be placed before those with fewer
    won: Points | None = None
    away: Points | None = None
    newcomer: Contender | None = None  # whoever has not fished yet, where that may still win

    @property
    def alone(self) -> bool:
        """Whether everybody may stay away whatever the others do."""
        return self.away is not None


@dataclass(frozen=True, slots=True)
class Chance:
    """What can be said of one, and what it rests on."""

    key: str
    verdict: Verdict
    best: Total  # the total at the end with everything left won
    worst: Total
    share_is_sure: bool = False  # nobody can pass them on points, whatever happens
    rival: str = ""  # who rules them out, even coming last; or comes nearest to champions
    rival_total: Total = 0
    # A way it happens: what each rival scores in each round left, and ends with.
    way: Mapping[str, tuple[Total, ...]] = field(default_factory=dict)
    ends: Mapping[str, Total] = field(default_factory=dict)
    reached: Total = 0  # its own total there
    threats: tuple[str, ...] = ()  # anglers who can end as well or better, the likeliest first
    # Of a single contest: the best place each rival may take, and the place that is enough.
    held_to: Mapping[str, int] = field(default_factory=dict)
    enough: int = 0
