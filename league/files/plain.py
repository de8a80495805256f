"""Exact figures, reasons and splits as plain JSON values, and back."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from league.rules.lines import Points, Reason, RungCheck, Split
from league.rules.policies import exact
from league.rules.weights import DRAMS_IN_OUNCE, DRAMS_IN_POUND, Unit


def fraction(value: Points | None) -> str | None:
    """
    An exact figure as JSON holds it: a decimal where that is exact, else a fraction.

    >>> fraction(Fraction(19, 2)), fraction(Fraction(34, 3)), fraction(6)
    ('9.5', '34/3', '6')
    """
    if value is None:
        return None
    value = Fraction(value)
    bottom = value.denominator
    for factor in (2, 5):
        while bottom % factor == 0:
            bottom //= factor
    if bottom > 1:
        return str(value)
    places = 0
    while (value * 10**places).denominator > 1:
        places += 1
    digits = str(abs(value.numerator) * 10**places // value.denominator).rjust(places + 1, "0")
    sign = "-" if value < 0 else ""
    return f"{sign}{digits[:-places]}.{digits[-places:]}" if places else f"{sign}{digits}"


def points(text: str) -> Points:
    """The figure that `fraction` wrote."""
    return exact(Fraction(text))


def points_or_none(text: str | None) -> Points | None:
    """The figure, or None where there is no score."""
    return None if text is None else points(text)


def amount(text: str, unit: Unit) -> int:
    """The drams or grams of a printed weight, totals over 999 lb included."""
    if unit is Unit.KG:
        kilos, grams = text.split(".")
        return int(kilos) * 1000 + int(grams)
    pounds, ounces, drams = (*(int(part) for part in text.split("-")), 0)[:3]
    return pounds * DRAMS_IN_POUND + ounces * DRAMS_IN_OUNCE + drams


def reason_json(reason: Reason) -> dict[str, Any]:
    """A reason's data; exact fractions are told apart from text."""
    return {"rule": reason.rule, "facts": {key: _plain(v) for key, v in reason.facts.items()}}


def reason_back(data: Mapping[str, Any]) -> Reason:
    """The reason that `reason_json` wrote."""
    return Reason(data["rule"], {key: _unplain(value) for key, value in data["facts"].items()})


def split_json(split: Split | None) -> dict[str, Any] | None:
    """A split's data."""
    if split is None:
        return None
    return {
        "ahead": split.ahead,
        "behind": split.behind,
        "we_are_ahead": split.we_are_ahead,
        "rungs": [
            {
                "rung": check.rung,
                "ours": _plain(check.ours),
                "theirs": _plain(check.theirs),
                "outcome": check.outcome,
                "weighed": check.weighed,
            }
            for check in split.rungs
        ],
    }


def split_back(data: Mapping[str, Any] | None) -> Split | None:
    """The split that `split_json` wrote."""
    if data is None:
        return None
    rungs = tuple(
        RungCheck(
            check["rung"],
            _unplain(check["ours"]),
            _unplain(check["theirs"]),
            check["outcome"],
            check["weighed"],
        )
        for check in data["rungs"]
    )
    return Split(data["ahead"], data["behind"], rungs, data["we_are_ahead"])


def _plain(value: Any) -> Any:
    if isinstance(value, Fraction):
        return {"fraction": str(value)}
    if isinstance(value, (tuple, list)):
        return [_plain(each) for each in value]
    return value


def _unplain(value: Any) -> Any:
    if isinstance(value, Mapping):
        return Fraction(value["fraction"])
    if isinstance(value, list):
        return tuple(_unplain(each) for each in value)
    return value
