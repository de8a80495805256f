"""Seeded luck that comes out the same on every machine and every Python."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from statistics import NormalDist
from typing import TypeVar

Thing = TypeVar("Thing")

STANDARD = NormalDist()


class Luck:
    """
    A stream of chances.

    Only `random()` itself is promised to stay the same between Python versions, so everything
    else is made from it here.
    """

    def __init__(self, seed: str) -> None:
        self._source = random.Random(seed)  # noqa: S311  made-up fish, not secrets

    def chance(self) -> float:
        """A number from 0 up to 1."""
        return self._source.random()

    def normal(self, spread: float) -> float:
        """A number round 0, by the bell curve of that standard deviation."""
        return STANDARD.inv_cdf(min(max(self.chance(), 1e-12), 1 - 1e-12)) * spread

    def count(self, expected: float) -> int:
        """A whole number by Poisson's law, as fish come."""
        limit, product, found = math.exp(-expected), self.chance(), 0
        while product > limit:
            product *= self.chance()
            found += 1
        return found

    def pick(self, things: Sequence[Thing]) -> Thing:
        """One of *things*."""
        return things[int(self.chance() * len(things))]

    def shuffled(self, things: Sequence[Thing]) -> list[Thing]:
        """*things* in another order."""
        left = list(things)
        return [left.pop(int(self.chance() * len(left))) for _ in range(len(left))]
