"""A policy: what a club may choose, as a key to store, words to print and a rule to run."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Generic, TypeAlias, TypeVar

from league.rules.lines import Points

Rule = TypeVar("Rule")
Key: TypeAlias = str | int | float | tuple[int | float, ...]


@dataclass(frozen=True)
class Policy(Generic[Rule]):
    """One choice of a rule book. Two policies with one key are the same policy."""

    key: Key
    words: str = field(compare=False)
    rule: Rule = field(compare=False, repr=False)


def by_key(*policies: Policy[Rule]) -> dict[Key, Policy[Rule]]:
    """The *policies* of one question, found by what the rule book writes."""
    return {policy.key: policy for policy in policies}


def exact(number: int | float | Fraction) -> Points:
    """
    Take *number* as it is written, so that 4.5 in a rule book is nine halves and no float.

    >>> exact(4.5)
    Fraction(9, 2)
    >>> exact(Fraction(6, 2))
    3
    """
    value = Fraction(str(number)) if isinstance(number, float) else Fraction(number)
    return value.numerator if value.denominator == 1 else value


def mean(points: Sequence[Points]) -> Points:
    """The exact mean: a half, a third, or a whole number again."""
    total, count = sum(points), len(points)
    if isinstance(total, int) and total % count == 0:
        return total // count
    return exact(Fraction(total) / count)


def written(points: Points) -> str:
    """
    Print *points* with the signs of the trade, or to two places where there is no sign.

    >>> written(Fraction(7, 2)), written(Fraction(34, 3)), written(Fraction(-1, 2))
    ('3½', '11⅓', '-½')
    """
    value = Fraction(points)
    whole, part = divmod(abs(value), 1)
    sign = "-" if value < 0 else ""
    if part == 0:
        return f"{sign}{whole}"
    if part in SIGNS:
        return f"{sign}{whole or ''}{SIGNS[part]}"
    hundredths = (200 * abs(value).numerator + value.denominator) // (2 * value.denominator)
    return f"{sign}{hundredths // 100}.{hundredths % 100:02d}"


SIGNS = {
    Fraction(1, 2): "½",
    Fraction(1, 3): "⅓",
    Fraction(2, 3): "⅔",
    Fraction(1, 4): "¼",
    Fraction(3, 4): "¾",
}
