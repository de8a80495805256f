"""Which rounds of a season count: the best so many, or all but the worst."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence, Set
from typing import TypeAlias

from league.rules.figures import number_word
from league.rules.lines import Points
from league.rules.policies import Policy

# From the rounds the league has fished to how many of them count.
DropRule: TypeAlias = Policy[Callable[[int], int]]

EVERY_ROUND = DropRule("all", "Every round counts.", lambda rounds: rounds)


def best_of(count: int) -> DropRule:
    """So many rounds count, the best ones."""
    many = number_word(count)
    said = "The best round counts." if count == 1 else f"The best {many} rounds count."
    return DropRule(f"best {count}", said, lambda rounds: min(count, rounds))


def drop_worst(count: int) -> DropRule:
    """So many rounds are dropped, the worst ones, as soon as another is left to count."""
    said = "The worst round is" if count == 1 else f"The worst {number_word(count)} rounds are"
    return DropRule(f"drop {count}", f"{said} dropped.", lambda rounds: _left(rounds, count))


def drop_by_length(table: Mapping[int, int]) -> DropRule:
    """How many are dropped depends on how many the league has fished: the largest key not above."""
    steps = sorted(table.items(), reverse=True)

    def count(rounds: int) -> int:
        return _left(rounds, next((drop for key, drop in steps if key <= rounds), 0))

    said = "; ".join(f"from {key} rounds fished, {drop}" for key, drop in sorted(table.items()))
    key = "drop " + ", ".join(f"{key} = {drop}" for key, drop in sorted(table.items()))
    return DropRule(key, f"So many of the worst rounds are dropped: {said}.", count)


def _left(rounds: int, dropped: int) -> int:
    # After the first round of a season a drop would leave nothing to make a table of.
    return max(min(rounds, 1), rounds - dropped)


def dropped_rounds(
    scores: Sequence[tuple[int, Points]], *, counting: int, sign: int, keep: Set[int] = frozenset()
) -> frozenset[int]:
    """
    The rounds that do not count; of equal worst scores the earliest goes.

    *scores* are (round, score); rounds in *keep* cannot be dropped.

    >>> sorted(dropped_rounds([(1, 5), (2, 2), (3, 5), (4, 1)], counting=3, sign=1))
    [1]
    """
    too_many = len(scores) - counting
    if too_many <= 0:
        return frozenset()
    worst_first = sorted(
        (pair for pair in scores if pair[0] not in keep),
        key=lambda pair: (-sign * pair[1], pair[0]),
    )
    return frozenset(number for number, _ in worst_first[:too_many])
