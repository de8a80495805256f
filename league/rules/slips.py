"""
Slips of the finger turned back: what was meant, if a figure was not typed as it was read.

How often each kind happens is a guess to be replaced by a club's own count; only how the kinds
compare with each other matters for what is offered.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from league.rules.usual import ADDED, Today, on_scale, ounces
from league.rules.weights import (
    DRAMS_IN_OUNCE,
    DRAMS_IN_POUND,
    GRAMS_IN_DRAM,
    LARGEST_POUNDS,
    OUNCES_IN_POUND,
    Unit,
)

SWAPPED, ONE_BOX, LOST, EXTRA, TWICE, OTHER_UNIT = (
    "swapped",
    "one box",
    "lost figure",
    "extra figure",
    "twice",
    "other unit",
)
# Of all entries; together 1.7 in a hundred.
RATES = {
    SWAPPED: 0.004,
    ONE_BOX: 0.002,
    LOST: 0.004,
    EXTRA: 0.003,
    TWICE: 0.002,
    OTHER_UNIT: 0.002,
}
BLANKS = 0.02  # of all entries
MOST_MEANT = 400  # pounds or kilograms: more is never offered
OUNCES_IN_KILO = 35.274
# A kilogram scale shows hundredths, so the figure behind it may be this much off.
HUNDREDTHS = (-0.004, 0.0, 0.004)


@dataclass(frozen=True, slots=True)
class Slip:
    """One way a reading may have come about: the amount meant, and how likely a slip makes it."""

    kind: str
    meant: int  # drams or grams
    chance: float  # of this very figure, given the kind and what was meant


@dataclass(frozen=True, slots=True)
class Guess:
    """How likely a figure is a slip, and what was then most likely meant."""

    chance: float
    kind: str = ""
    meant: int | None = None


def slips(net: int, unit: Unit) -> tuple[Slip, ...]:
    """Every slip that could have made *net*, in drams or grams."""
    return tuple(_pounds_slips(net) if unit is Unit.LB_OZ else _kilo_slips(net))


def guess(net: int, unit: Unit, today: Today, beside: int = 0) -> Guess:
    """
    How likely *net* is a slip today, with *beside* in the angler's other nets.

    Each kind's likelihood is weighed against the figure being right. Amounts are drams or grams.
    """
    meant: dict[str, dict[int, float]] = {}
    for slip in slips(net, unit):
        density = _density(ounces(beside + slip.meant, unit), today)
        kinds = meant.setdefault(slip.kind, {})
        kinds[slip.meant] = kinds.get(slip.meant, 0.0) + RATES[slip.kind] * density * slip.chance
    right = (1 - sum(RATES.values())) * _density(ounces(beside + net, unit), today)
    wrong = {kind: sum(figures.values()) for kind, figures in meant.items()}
    total = sum(wrong.values())
    if not total:
        return Guess(0.0)
    kind = max(wrong, key=lambda each: wrong[each])
    figures = meant[kind]
    return Guess(total / (total + right), kind, max(figures, key=lambda each: figures[each]))


def _density(weight: float, today: Today) -> float:
    """How likely *weight* ounces are today: Student's t with five degrees, and blanks apart."""
    if weight == 0:
        return BLANKS
    width = today.spread * math.sqrt(0.6)
    off = (on_scale(weight) - today.middle) / width
    student = math.gamma(3) / (math.sqrt(5 * math.pi) * math.gamma(2.5)) * (1 + off * off / 5) ** -3
    return float(student / (width * (weight + ADDED)))


def _pounds_slips(net: int) -> Iterator[Slip]:
    pounds, rest = divmod(net, DRAMS_IN_POUND)
    count, drams = divmod(rest, DRAMS_IN_OUNCE)

    def weight(lb: int, oz: int) -> int:
        return (lb * OUNCES_IN_POUND + oz) * DRAMS_IN_OUNCE + drams

    if pounds < OUNCES_IN_POUND and pounds != count:
        yield Slip(SWAPPED, weight(count, pounds), 1)
    if pounds == 0:
        for each in range(OUNCES_IN_POUND):
            yield Slip(ONE_BOX, weight(count, each), 1)
    yield from _figures(pounds, lambda lb: weight(lb, count))
    if net and net % (2 * DRAMS_IN_OUNCE) == 0:
        yield Slip(TWICE, net // 2, 1)
    for off in HUNDREDTHS:
        kilos = pounds + count / 100 + off
        if (read := round(OUNCES_IN_KILO * kilos) * DRAMS_IN_OUNCE) >= 0:
            yield Slip(OTHER_UNIT, read, 1 / len(HUNDREDTHS))


def _kilo_slips(net: int) -> Iterator[Slip]:
    kilos, grams = divmod(net, 1000)
    yield from _figures(kilos, lambda kg: kg * 1000 + grams)
    if net and net % 2 == 0:
        yield Slip(TWICE, net // 2, 1)
    # 12 lb 8 oz off a pounds scale, keyed as 12.08, 12.8 or 12.008
    for size in (1, 10, 100):
        count, over = divmod(grams, size)
        if not over and count < OUNCES_IN_POUND and kilos <= LARGEST_POUNDS:
            drams = (kilos * OUNCES_IN_POUND + count) * DRAMS_IN_OUNCE
            yield Slip(OTHER_UNIT, round(drams * GRAMS_IN_DRAM), 1 / 3)


def _figures(whole: int, weight: Callable[[int], int]) -> Iterator[Slip]:
    """A figure left out of the pounds or kilograms, or one too many in them."""
    typed = str(whole)
    longer = {
        int(typed[:place] + figure + typed[place:])
        for place in range(len(typed) + 1)
        for figure in "0123456789"
    }
    for meant in sorted(longer):
        if len(str(meant)) == len(typed) + 1 and meant < MOST_MEANT:
            yield Slip(LOST, weight(meant), 1 / len(str(meant)))
    if len(typed) > 1:
        for meant in sorted({int(typed[:n] + typed[n + 1 :]) for n in range(len(typed))}):
            yield Slip(EXTRA, weight(meant), 0.15)
