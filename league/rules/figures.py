"""Figures and small words as the trade writes them: 3½ points, 1st, third, A, B and C."""

from __future__ import annotations

from collections.abc import Sequence

from league.rules.lines import Points
from league.rules.policies import written

ORDINALS = (
    "nought", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth",
    "ninth", "tenth", "eleventh", "twelfth",
)  # fmt: skip
NUMBERS = (
    "nought", "one", "two", "three", "four", "five", "six", "seven", "eight",
    "nine", "ten", "eleven", "twelve",
)  # fmt: skip


def points_written(points: Points | None) -> str:
    """
    Print *points*: whole, with a ½ or ⅓, or to two places; a dash where there is no score.

    >>> from fractions import Fraction
    >>> points_written(Fraction(7, 2)), points_written(None)
    ('3½', '–')
    """
    return "–" if points is None else written(points)


def points_said(points: Points | None) -> str:
    """Say *points* with the word: 1 point, 3½ points, no score."""
    if points is None:
        return "no score"
    return f"{written(points)} {'point' if points in (1, -1) else 'points'}"


def ordinal(place: int) -> str:
    """
    A place in figures.

    >>> [ordinal(place) for place in (1, 2, 3, 11, 22)]
    ['1st', '2nd', '3rd', '11th', '22nd']
    """
    if place % 100 in (11, 12, 13):
        return f"{place}th"
    return f"{place}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(place % 10, 'th') }"


def ordinal_word(place: int) -> str:
    """A place in letters as far as twelve: first, second, 13th."""
    return ORDINALS[place] if 0 < place < len(ORDINALS) else ordinal(place)


def number_word(number: Points) -> str:
    """A small whole number in letters: two, twelve, 13, 2½."""
    if isinstance(number, int) and 0 < number < len(NUMBERS):
        return NUMBERS[number]
    return written(number)


def counted(count: int, one: str, many: str = "") -> str:
    """
    So many of something, in letters.

    >>> counted(1, "blank"), counted(3, "blank"), counted(0, "match", "matches")
    ('one blank', 'three blanks', 'no matches')
    """
    return f"{number_word(count) if count else 'no'} {_one_or_many(count, one, many)}"


def so_many(count: int, one: str, many: str = "") -> str:
    """
    The same in figures.

    >>> so_many(1, "angler"), so_many(24, "peg"), so_many(0, "match", "matches")
    ('1 angler', '24 pegs', '0 matches')
    """
    return f"{count} {_one_or_many(count, one, many)}"


def _one_or_many(count: int, one: str, many: str) -> str:
    return one if count == 1 else many or f"{one}s"


def and_list(words: Sequence[str]) -> str:
    """Join as a sentence does: A; A and B; A, B and C."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def capital(words: str) -> str:
    """*words* as a sentence begins."""
    return words[:1].upper() + words[1:]
