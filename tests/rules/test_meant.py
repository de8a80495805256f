"""Figures no scale of the match can read, and what was meant."""

from __future__ import annotations

from fractions import Fraction

import pytest

from league.rules.meant import drams_in, grams_in, meant_by
from league.rules.weights import Unit


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        # 12.160 kg is 26.8082 lb: 26 lb and 12.93 oz, twelve ounces and 14.9 drams
        ("12-16", ["13-0", "26-12-15"]),
        ("3-20", ["4-4", "7-0-14"]),
        ("12.8", ["12-8", "28-3-8"]),
        # 5.640 kg is 12.4341 lb: 12 lb and 6.946 oz, six ounces and 15.1 drams
        ("5.64", ["12-6-15"]),
        ("5-640", ["12-6-15"]),
        ("12-8", []),
        ("12", []),
        ("twelve", []),
        ("", []),
    ],
)
def test_in_a_pounds_match(typed, meant):
    assert [str(each.weight) for each in meant_by(typed, Unit.LB_OZ)] == meant


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        # 12.5 lb times 453.59237 g is 5669.9 g
        ("12-8", ["12.800", "5.670"]),
        ("5-64", ["5.640"]),
        ("5.640", []),
    ],
)
def test_in_a_kilogram_match(typed, meant):
    assert [str(each.weight) for each in meant_by(typed, Unit.KG)] == meant


def test_a_kilogram_scale_read_in_a_pounds_match_gives_the_exact_pound():
    """The pound is 0.453 592 37 kg by definition (NIST SP 811, table B.8)."""
    for grams in range(1, 40_000, 37):
        exact = Fraction(grams * 256 * 100_000, 45_359_237)

        assert abs(drams_in(grams) - exact) <= Fraction(1, 2)


def test_a_pound_is_454_grams_to_the_nearest():
    assert grams_in(256) == 454
    assert grams_in(16) == 28
