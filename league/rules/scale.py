"""From a place to points: low or high, where the top is, and the cap on long sections."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from league.rules.lines import Points
from league.rules.policies import Policy, by_key, exact, mean


@dataclass(frozen=True, slots=True)
class Sizes:
    """What a scale may depend on: this section's size, all the sections together, and the teams."""

    section: int
    match: int
    teams: int


@dataclass(slots=True)
class Scale:
    """What each place of one section gives, first place first."""

    of_place: list[Points]
    beyond: Callable[[int], Points]

    def at(self, place: Points) -> Points:
        """Read *place* off the scale; half a place lies midway between its neighbours."""
        if isinstance(place, int):
            if 1 <= place <= len(self.of_place):
                return self.of_place[place - 1]
            return self.beyond(place)
        below = place.numerator // place.denominator
        return mean([self.at(below), self.at(below + 1)])


TopRule: TypeAlias = Policy[Callable[[Sizes], list[Points]]]


def _down_from(top: int, places: int) -> list[Points]:
    return [max(0, top - behind) for behind in range(places)]


TOP_SECTION = TopRule(
    "section",
    "First in a section scores as many points as the section has anglers, and one fewer for each "
    "place below.",
    lambda sizes: _down_from(sizes.section, sizes.section),
)
TOP_TEAMS = TopRule(
    "teams",
    "First in a section scores as many points as the match has teams, and one fewer for each "
    "place below.",
    lambda sizes: _down_from(sizes.teams, sizes.section),
)
TOP_MATCH = TopRule(
    "match",
    "First in a section scores as many points as the match has anglers, and one fewer for each "
    "place below.",
    lambda sizes: _down_from(sizes.match, sizes.section),
)
TOPS = by_key(TOP_SECTION, TOP_TEAMS, TOP_MATCH)


def top_fixed(top: int) -> TopRule:
    """First place scores *top* whatever the entry, down to nothing."""
    return TopRule(
        top,
        f"First in a section scores {top}, and one fewer for each place below, down to 0.",
        lambda sizes: _down_from(top, sizes.section),
    )


def top_at_least(top: int) -> TopRule:
    """First place scores *top*, or the number in the match if that is more."""
    return TopRule(
        f"max {top}",
        f"First in a section scores {top}, or the number of anglers in the match if that is more, "
        "and one fewer for each place below.",
        lambda sizes: _down_from(max(top, sizes.match), sizes.section),
    )


def top_listed(listed: Sequence[int | float]) -> TopRule:
    """The places score what the list says; places past its end score nothing."""
    points = [exact(number) for number in listed]

    def read(sizes: Sizes) -> list[Points]:
        return (points + [0] * sizes.section)[: sizes.section]

    said = ", ".join(str(number) for number in listed)
    return TopRule(tuple(listed), f"The places score {said}; the places after those score 0.", read)


@dataclass(frozen=True, slots=True)
class Way:
    """Which way points run. Multiplied by *sign*, the better of two is always the smaller."""

    scale: Callable[[Sizes, TopRule], Scale]
    sign: int


Direction: TypeAlias = Policy[Way]


def _low(sizes: Sizes, top: TopRule) -> Scale:
    return Scale(list(range(1, sizes.section + 1)), lambda place: place)


def _high(sizes: Sizes, top: TopRule) -> Scale:
    return Scale(top.rule(sizes), lambda place: 0)


LOW = Direction(
    "low", "Low points: the place is the score, and the lowest total wins.", Way(_low, 1)
)
HIGH = Direction("high", "High points: the highest total wins.", Way(_high, -1))
DIRECTIONS: dict[str, Direction] = {"low": LOW, "high": HIGH}

# From the scales of all the sections to the most any of them may give.
CapRule: TypeAlias = Policy[Callable[[Sequence[Scale]], Points | None]]


def _smallest(scales: Sequence[Scale]) -> Points | None:
    """The most the smallest section can give: its last place in low points, its first in high."""
    return min((max(scale.of_place) for scale in scales if scale.of_place), default=None)


NO_CAP = CapRule("none", "Each section scores its own number of places.", lambda scales: None)
CAP_SMALLEST = CapRule(
    "smallest",
    "No section gives more points than the smallest section can.",
    _smallest,
)
CAPS = by_key(NO_CAP, CAP_SMALLEST)


def capped(scale: Scale, cap: Points | None) -> Scale:
    """The *scale* with nothing over the *cap*."""
    if cap is None:
        return scale
    return Scale(
        [min(points, cap) for points in scale.of_place],
        lambda place: min(scale.beyond(place), cap),
    )
