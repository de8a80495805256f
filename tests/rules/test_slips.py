"""Slips turned back, against the worked vectors; a pound is 256 drams, an ounce 16."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from league.rules.slips import EXTRA, LOST, ONE_BOX, OTHER_UNIT, SWAPPED, TWICE, guess, slips
from league.rules.usual import Usual, today
from league.rules.weights import Unit, Weight

VECTORS = json.loads((Path(__file__).parents[1] / "vectors" / "guard.json").read_text())
TODAY = today(Usual(**VECTORS["usual"]), VECTORS["seen"])
WEIGHED = [each for each in VECTORS["entries"] if each["net"]]


def drams(typed: str) -> int:
    return Weight.parse(typed, Unit.LB_OZ).amount


@pytest.mark.parametrize("entry", WEIGHED, ids=lambda each: each["name"])
def test_how_far_off_and_how_likely_a_slip_it_is(entry):
    net = drams(entry["typed"])

    assert net == entry["net"]
    assert TODAY.off_by(net / 16) == pytest.approx(entry["z"], abs=5e-5)
    assert guess(net, Unit.LB_OZ, TODAY).chance == pytest.approx(entry["slip"], abs=5e-6)


@pytest.mark.parametrize(
    ("typed", "kind", "meant"),
    [
        ("2-13", SWAPPED, "13-2"),
        ("0-12", ONE_BOX, "12-0"),
        ("0-12", ONE_BOX, "12-15"),
        ("3-8", LOST, "33-8"),
        ("3-8", LOST, "30-8"),
        ("33-8", EXTRA, "3-8"),
        ("7-0", TWICE, "3-8"),
        # 5 lb 64 cannot be; 5 lb 6 off a kilogram scale is 5.06 kg, 178 oz
        ("5-6", OTHER_UNIT, "11-2"),
    ],
)
def test_each_slip_is_turned_back(typed, kind, meant):
    assert (kind, drams(meant)) in {(s.kind, s.meant) for s in slips(drams(typed), Unit.LB_OZ)}


def test_a_figure_left_out_is_as_likely_as_any_other_of_its_length():
    found = [s for s in slips(drams("3-8"), Unit.LB_OZ) if s.kind == LOST]

    # 10 to 93 with a 3 in them that leaves 3: 13, 23 to 93 without 33, 30 to 39
    assert len(found) == 18
    assert {s.chance for s in found} == {1 / 2}


def test_two_equal_figures_leave_one_extra_figure_and_not_two():
    assert [s.meant for s in slips(drams("33-8"), Unit.LB_OZ) if s.kind == EXTRA] == [drams("3-8")]


def test_g6_the_likeliest_of_all_is_the_pounds_typed_in_the_ounces():
    found = guess(drams("0-12"), Unit.LB_OZ, TODAY)

    assert found.kind == ONE_BOX
    assert found.meant == drams("12-0")


def test_kilograms_have_slips_of_their_own():
    found = {(s.kind, s.meant) for s in slips(12_080, Unit.KG)}

    # 12 lb 8 oz off a pounds scale: 12.5 times 453.59237 g
    assert (OTHER_UNIT, 5670) in found
    assert (EXTRA, 2080) in found
    assert (TWICE, 6040) in found


def test_the_other_nets_are_weighed_in():
    """A second net of 1 lb beside 30 lb is no oddity where 30 lb is usual."""
    carp = today(Usual(), [480, 500, 520, 460, 490])

    assert guess(drams("1-0"), Unit.LB_OZ, carp).chance > 0.2
    assert guess(drams("1-0"), Unit.LB_OZ, carp, beside=drams("30-0")).chance < 0.05
