"""Places, and what equal weights get for them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TypeAlias

from league.rules.lines import Points
from league.rules.policies import Policy, by_key, mean

EqualRule: TypeAlias = Policy[Callable[[Sequence[Points]], Points]]


def _first(points: Sequence[Points]) -> Points:
    return points[0]


def _last(points: Sequence[Points]) -> Points:
    return points[-1]


AVERAGE = EqualRule(
    "average",
    "Equal weights share the places they take.",
    mean,
)
BETTER = EqualRule(
    "better",
    "Equal weights all take the better place, and the next is missed.",
    _first,
)
WORSE = EqualRule(
    "worse",
    "Equal weights all take the worse place.",
    _last,
)
EQUALS = by_key(AVERAGE, BETTER, WORSE)


def runs(ordered: Sequence[object]) -> Iterator[tuple[int, int]]:
    """
    Yield the places each run of equals fills, first and last, best run first.

    >>> list(runs([900, 700, 700, 500]))
    [(1, 1), (2, 3), (4, 4)]
    """
    first, count = 1, len(ordered)
    while first <= count:
        last = first
        while last < count and ordered[last] == ordered[first - 1]:
            last += 1
        yield first, last
        first = last + 1


def spread(ordered: Sequence[int], scale: Sequence[Points], equal: EqualRule) -> list[Points]:
    """
    Give the weights, heaviest first, the points of the places they fill.

    >>> spread([900, 700, 700, 500], [2, 4, 6, 8], AVERAGE)
    [2, 5, 5, 8]
    """
    points = list(scale[: len(ordered)])
    # Most sections have no equal weights, and counting a set is the quickest way to know.
    if len(set(ordered)) == len(ordered):
        return points
    for first, last in runs(ordered):
        if last > first:
            shared = equal.rule(scale[first - 1 : last])
            points[first - 1 : last] = [shared] * (last - first + 1)
    return points
