"""A weight: typed, added, compared and printed. Whole drams or whole grams, never a float."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from league.rules.errors import WeightError

DRAMS_IN_OUNCE = 16
OUNCES_IN_POUND = 16
DRAMS_IN_POUND = DRAMS_IN_OUNCE * OUNCES_IN_POUND

# NIST SP 811, table B.8: the pound is 0.453 592 37 kg by definition.
GRAMS_IN_DRAM = Fraction(45359237, 25600000)

LARGEST_POUNDS = 999
LARGEST_GRAMS = 999_999

QUARTERS = {"": 0, "25": 4, "5": 8, "50": 8, "75": 12}


class Unit(StrEnum):
    """What a match is weighed in. A match has one unit, and nothing is converted to rank it."""

    LB_OZ = "lb-oz"
    KG = "kg"


@dataclass(frozen=True, order=True, slots=True)
class Weight:
    """
    Fish on the scales, in whole drams (lb-oz) or whole grams (kg).

    >>> str(Weight.parse("12-8", Unit.LB_OZ) + Weight.parse("0-9-4", Unit.LB_OZ))
    '13-1-4'
    """

    amount: int
    unit: Unit

    @classmethod
    def parse(cls, typed: str, unit: Unit) -> Weight:
        """
        Read one figure as a scalesman calls it, in the *unit* of the match.

        Raises `WeightError` with what to type instead.

        >>> Weight.parse("5.64", Unit.KG).amount
        5640
        """
        text = " ".join(typed.strip().lower().split())
        amount = _drams(text, typed) if unit is Unit.LB_OZ else _grams(text, typed)
        return cls(amount, unit)

    def __add__(self, other: Weight) -> Weight:
        if self.unit is not other.unit:
            raise WeightError("Pounds and kilograms cannot be added: a match has one unit.")
        return Weight(self.amount + other.amount, self.unit)

    def __str__(self) -> str:
        return written(self.amount, self.unit)

    @property
    def spoken(self) -> str:
        """As it is read out: 12 lb 8 oz, or 5.640 kg."""
        return spoken(self.amount, self.unit)


def written(amount: int, unit: Unit) -> str:
    """Print *amount* (drams or grams) as on a sheet: 12-8, or 12-8-4 with drams; 5.640."""
    if unit is Unit.KG:
        return f"{amount // 1000}.{amount % 1000:03d}"
    pounds, rest = divmod(amount, DRAMS_IN_POUND)
    ounces, drams = divmod(rest, DRAMS_IN_OUNCE)
    return f"{pounds}-{ounces}-{drams}" if drams else f"{pounds}-{ounces}"


def spoken(amount: int, unit: Unit) -> str:
    """Say *amount* (drams or grams) in words of the trade: 12 lb 8 oz; 5.640 kg."""
    if unit is Unit.KG:
        return f"{written(amount, unit)} kg"
    pounds, rest = divmod(amount, DRAMS_IN_POUND)
    ounces, drams = divmod(rest, DRAMS_IN_OUNCE)
    said = f"{pounds} lb {ounces} oz"
    return f"{said} {drams} dr" if drams else said


def nearest_gram(amount: int, unit: Unit) -> int:
    """The whole grams in *amount*, halves up; for display beside a weight, never to rank by."""
    if unit is Unit.KG:
        return amount
    exact = amount * GRAMS_IN_DRAM
    return (2 * exact.numerator + exact.denominator) // (2 * exact.denominator)


_POUNDS_HYPHENED = re.compile(r"(\d+)-(\d+)(?:-(\d+)|\.(\d+))?")
_POUNDS_LETTERED = re.compile(r"(?:(\d+) ?lbs?)? ?(?:(\d+) ?oz)?(?: ?(\d+) ?dr)?")
_WHOLE = re.compile(r"\d+")
_KILOS_POINTED = re.compile(r"(\d+)[.,](\d{1,3}) ?(?:kg|k)?")
_KILOS_HYPHENED = re.compile(r"(\d+)-(\d{3})")
_KILOS_WHOLE = re.compile(r"(\d+) ?(?:kg|k)?")
_GRAMS = re.compile(r"(\d+) ?g")


def _drams(text: str, typed: str) -> int:
    if not text.isascii():
        raise WeightError(_say_pounds(typed))
    if _WHOLE.fullmatch(text):
        return _pounds(int(text), 0, 0, typed)
    if found := _POUNDS_HYPHENED.fullmatch(text):
        pounds, ounces, drams, part = found.groups()
        if part is not None:
            if part not in QUARTERS:
                raise WeightError(
                    f"{typed.strip()!r}: only a quarter, a half or three quarters of an ounce can "
                    f"follow the point. Write 12-8.25, or drams as 12-8-4."
                )
            return _pounds(int(pounds), int(ounces), QUARTERS[part], typed)
        return _pounds(int(pounds), int(ounces), int(drams or 0), typed)
    if (found := _POUNDS_LETTERED.fullmatch(text)) and any(found.groups()):
        pounds, ounces, drams = (int(part or 0) for part in found.groups())
        return _pounds(pounds, ounces, drams, typed)
    raise WeightError(_say_pounds(typed))


def _pounds(pounds: int, ounces: int, drams: int, typed: str) -> int:
    if ounces >= OUNCES_IN_POUND:
        if ounces >= 100:
            raise WeightError(
                f"{typed.strip()!r} reads as kilograms and grams, but this match is weighed in "
                f"pounds and ounces. Write 12-8 for 12 lb 8 oz."
            )
        carried = written((pounds * OUNCES_IN_POUND + ounces) * DRAMS_IN_OUNCE, Unit.LB_OZ)
        raise WeightError(
            f"{typed.strip()!r}: ounces go from 0 to 15. Write {carried} if that is what it was."
        )
    if drams >= DRAMS_IN_OUNCE:
        raise WeightError(
            f"{typed.strip()!r}: drams go from 0 to 15, sixteen of them are an ounce. "
            f"Write 12-8-4 for 12 lb 8 oz 4 dr."
        )
    if pounds > LARGEST_POUNDS:
        raise WeightError(
            f"{typed.strip()!r} is over 999-15-15, the most one net can weigh. Read it again."
        )
    return (pounds * OUNCES_IN_POUND + ounces) * DRAMS_IN_OUNCE + drams


def _grams(text: str, typed: str) -> int:
    if not text.isascii():
        raise WeightError(_say_kilos(typed))
    if found := _GRAMS.fullmatch(text):
        grams = int(found[1])
    elif found := _KILOS_POINTED.fullmatch(text):
        grams = int(found[1]) * 1000 + int(found[2].ljust(3, "0"))
    elif found := _KILOS_HYPHENED.fullmatch(text):
        grams = int(found[1]) * 1000 + int(found[2])
    elif found := _KILOS_WHOLE.fullmatch(text):
        grams = int(found[1]) * 1000
    else:
        raise WeightError(_say_kilos(typed))
    if grams > LARGEST_GRAMS:
        raise WeightError(
            f"{typed.strip()!r} is over 999.999 kg, the most one net can weigh. Read it again."
        )
    return grams


def _say_pounds(typed: str) -> str:
    return f"{typed.strip()!r} is no weight in pounds and ounces. Write 12-8 for 12 lb 8 oz."


def _say_kilos(typed: str) -> str:
    return f"{typed.strip()!r} is no weight in kilograms. Write 5.640 for 5 kg 640 g."
