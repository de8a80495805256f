"""Rules types in columns: exact points and nets, in and out."""

from __future__ import annotations

import datetime as dt
from fractions import Fraction

import pytest
from django.core.exceptions import ValidationError

from league.models import Club, Decision, WeighIn
from league.models.fields import PointsField
from tests.builders import make_entry, make_match, make_weigh_in

NOW = dt.datetime(2027, 1, 24, 16, tzinfo=dt.UTC)


@pytest.mark.parametrize(
    ("typed", "points"),
    [
        ("3", Fraction(3)),
        ("3.5", Fraction(7, 2)),
        ("3½", Fraction(7, 2)),
        ("34/3", Fraction(34, 3)),
        (7, Fraction(7)),
        ("", None),
        (None, None),
    ],
)
def test_points_are_read_exactly(typed: object, points: Fraction | None) -> None:
    assert PointsField().to_python(typed) == points


@pytest.mark.parametrize("typed", ["three", "3.5.1", "1/0", "--2"])
def test_what_is_no_number_of_points_is_refused_with_what_to_write(typed: str) -> None:
    with pytest.raises(ValidationError) as refusal:
        PointsField().to_python(typed)

    assert refusal.value.messages == [f"{typed!r} is no number of points. Write 3 or 3.5."]


def test_a_third_of_a_point_comes_back_as_it_was_kept(club: Club) -> None:
    entry = make_entry(make_match(club), peg=1)
    decision = Decision(
        match=entry.match, kind="points", entry=entry, points=Fraction(34, 3), why="x", at=NOW
    )
    decision.full_clean()
    decision.save()

    assert Decision.objects.get().points == Fraction(34, 3)


def test_nets_come_back_whole_and_in_order(club: Club) -> None:
    make_weigh_in(make_entry(make_match(club), peg=1), "48-12 + 31-4")

    # 48 lb 12 oz and 31 lb 4 oz in drams: 48 x 256 + 12 x 16, 31 x 256 + 4 x 16.
    assert WeighIn.objects.get().nets == (12480, 8000)
