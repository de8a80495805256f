"""A figure that no scale of this match can read: what it was most likely meant to be."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from league.rules.errors import WeightError
from league.rules.weights import (
    DRAMS_IN_OUNCE,
    GRAMS_IN_DRAM,
    OUNCES_IN_POUND,
    Unit,
    Weight,
    spoken,
    written,
)

_TWO_PARTS = re.compile(r"(\d{1,3})[-.,](\d{1,3})")


@dataclass(frozen=True, slots=True)
class Meant:
    """One way to read it, and why."""

    weight: Weight
    words: str


def meant_by(typed: str, unit: Unit) -> tuple[Meant, ...]:
    """
    What a refused figure was likely meant to be, likeliest first; nothing for one that is right.

    >>> [str(each.weight) for each in meant_by("12-16", Unit.LB_OZ)]
    ['13-0', '26-12-15']
    """
    try:
        Weight.parse(typed, unit)
    except WeightError:
        found = _TWO_PARTS.fullmatch(typed.strip())
        if not found:
            return ()
        whole, part = found.groups()
        return _in_pounds(whole, part) if unit is Unit.LB_OZ else _in_kilos(whole, part)
    return ()


def ask_if_meant(typed: str, unit: Unit) -> str:
    """
    The question to put after a refusal; empty where nothing is likely.

    >>> ask_if_meant("5.640", Unit.LB_OZ)
    ' Was it 12-6-15 (read off a kilogram scale as 5.640)?'
    """
    found = [f"{each.weight} ({each.words})" for each in meant_by(typed, unit)]
    return f" Was it {' or '.join(found)}?" if found else ""


def drams_in(grams: int) -> int:
    """
    *grams* off a kilogram scale as whole drams, by the pound of 0.453 592 37 kg.

    >>> written(drams_in(1000), Unit.LB_OZ)
    '2-3-4'
    """
    return _nearest(Fraction(grams) / GRAMS_IN_DRAM)


def grams_in(drams: int) -> int:
    """
    *drams* off a pounds scale as whole grams.

    >>> grams_in(256)
    454
    """
    return _nearest(drams * GRAMS_IN_DRAM)


def _nearest(exact: Fraction) -> int:
    """Halves up."""
    return int((2 * exact.numerator + exact.denominator) // (2 * exact.denominator))


def _in_pounds(whole: str, part: str) -> tuple[Meant, ...]:
    found = []
    count = int(part)
    if len(part) <= 2 and count < OUNCES_IN_POUND:
        # 12.8: the point in place of the hyphen
        drams = (int(whole) * OUNCES_IN_POUND + count) * DRAMS_IN_OUNCE
        found.append(Meant(Weight(drams, Unit.LB_OZ), f"{whole} lb {count} oz"))
    elif len(part) <= 2 and count < 2 * OUNCES_IN_POUND:
        drams = (int(whole) * OUNCES_IN_POUND + count) * DRAMS_IN_OUNCE
        found.append(Meant(Weight(drams, Unit.LB_OZ), f"{whole} lb and {count} oz together"))
    grams = int(whole) * 1000 + int(part.ljust(3, "0"))
    kilos = Meant(
        Weight(drams_in(grams), Unit.LB_OZ),
        f"read off a kilogram scale as {written(grams, Unit.KG)}",
    )
    return (*found, kilos)


def _in_kilos(whole: str, part: str) -> tuple[Meant, ...]:
    found = []
    if len(part) <= 2 and int(part) < OUNCES_IN_POUND:
        drams = (int(whole) * OUNCES_IN_POUND + int(part)) * DRAMS_IN_OUNCE
        words = f"read off a pounds scale as {spoken(drams, Unit.LB_OZ)}"
        found.append(Meant(Weight(grams_in(drams), Unit.KG), words))
    grams = int(whole) * 1000 + int(part.ljust(3, "0"))
    pointed = Meant(Weight(grams, Unit.KG), spoken(grams, Unit.KG))
    return (pointed, *found)
