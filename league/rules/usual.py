"""
How much a weight may differ before it is worth a question: the water, the day and the peg.

Weights are compared on a logarithmic scale, in ounces with four added, so that a blank has a place
on it. Floating point is enough here: nothing below places anybody or counts anything.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import fmean, median, stdev

from league.rules.weights import DRAMS_IN_OUNCE, GRAMS_IN_DRAM, Unit

GRAMS_IN_OUNCE = float(GRAMS_IN_DRAM) * DRAMS_IN_OUNCE
ADDED = 4  # ounces

# Scatter of a standard normal over its median absolute deviation, Iglewicz and Hoaglin 1993.
MAD_TO_SD = 1.4826
# Variance of a median over the variance of one value, for normal values in number: pi / 2.
MEDIAN_NOISE = 1.57

# Scatter of anglers on one day, on the logarithmic scale. A water's own figures may widen it, never
# narrow it: a bank of even weights is no reason to doubt one good fish.
SCATTER = 0.70
FEWEST_FOR_SCATTER = 20
# Without past matches any middle is possible: the first weights of the day say more.
NOTHING_KNOWN = 1.2
FEWEST_MATCHES = 3
LEAST_SPREAD = 0.3
# How many weights at one peg say as much as knowing nothing about it.
PEG_PULL = 3


@dataclass(frozen=True, slots=True)
class Usual:
    """What is usual at a water: the middle weight of a day, how far days differ, and anglers."""

    middle: float = 3.95  # log of 52 oz, less the four: 3 lb
    spread: float = NOTHING_KNOWN
    scatter: float = SCATTER


@dataclass(frozen=True, slots=True)
class Today:
    """What is usual at one peg today, on the logarithmic scale."""

    middle: float
    spread: float

    def off_by(self, ounces: float) -> float:
        """How many standard deviations *ounces* lie above the middle; below it, negative."""
        return (on_scale(ounces) - self.middle) / self.spread


def on_scale(ounces: float) -> float:
    """
    *ounces* on the logarithmic scale.

    >>> round(on_scale(48), 2)
    3.95
    """
    return math.log(ounces + ADDED)


def ounces(amount: int, unit: Unit) -> float:
    """Drams or grams as ounces: exact for drams, near enough to compare for grams."""
    return amount / DRAMS_IN_OUNCE if unit is Unit.LB_OZ else amount / GRAMS_IN_OUNCE


def today(usual: Usual, seen: Sequence[float], form: float = 0.0) -> Today:
    """
    What to expect at a peg, from what the water usually gives and the *seen* ounces of the day.

    The middle of the day so far counts the more, the more has been weighed. *form* is what the peg
    gives above its neighbours.

    >>> today(Usual(3.95, 0.54, 0.70), [40, 75, 22, 130])
    Today(middle=4.026417514108537, spread=0.7783892323077647)
    """
    within = usual.scatter**2
    between = usual.spread**2
    if not seen:
        return Today(usual.middle + form, math.sqrt(within + between))
    noise = MEDIAN_NOISE * within / len(seen)
    share = between / (between + noise)
    middle = usual.middle + share * (middle_of(seen) - usual.middle)
    return Today(middle + form, math.sqrt(within + between * noise / (between + noise)))


def usual_at(days: Sequence[Sequence[float]]) -> Usual:
    """What is usual at a water, from the weights in ounces of each past match; blanks left out."""
    fished = [day for day in days if day]
    if len(fished) < FEWEST_MATCHES:
        return Usual()
    middles = [middle_of(day) for day in fished]
    off = [
        on_scale(weight) - middle
        for day, middle in zip(fished, middles, strict=True)
        for weight in day
    ]
    scatter = MAD_TO_SD * mad(off) if len(off) >= FEWEST_FOR_SCATTER else SCATTER
    return Usual(fmean(middles), max(stdev(middles), LEAST_SPREAD), max(scatter, SCATTER))


def middle_of(day: Sequence[float]) -> float:
    """The middle of a day's ounces, on the logarithmic scale."""
    return median(map(on_scale, day))


def form_of(offs: Sequence[float]) -> float:
    """What one peg gives above its day's middle, pulled to nothing while little is known of it."""
    return sum(offs) / (len(offs) + PEG_PULL)


def mad(values: Iterable[float]) -> float:
    """The median absolute deviation from the median, without any factor."""
    held = list(values)
    middle = median(held)
    return median(abs(value - middle) for value in held)
