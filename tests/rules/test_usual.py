"""What is usual at a peg today, against worked vectors and an independent library."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest
from statsmodels import robust

from league.rules.usual import (
    MAD_TO_SD,
    SCATTER,
    Usual,
    form_of,
    mad,
    on_scale,
    ounces,
    today,
    usual_at,
)
from league.rules.weights import Unit

VECTORS = json.loads((Path(__file__).parents[1] / "vectors" / "guard.json").read_text())
USUAL = Usual(**VECTORS["usual"])


def test_g1_four_weights_move_the_middle_of_the_water_towards_the_day():
    seen = today(USUAL, VECTORS["seen"])

    assert seen.middle == pytest.approx(4.026418, abs=1e-6)
    assert seen.spread == pytest.approx(0.778389, abs=1e-6)


def test_g2_before_anything_is_weighed_the_water_alone_says_what_to_expect():
    nothing = today(USUAL, [])

    assert nothing.middle == 3.95
    # the square root of 0.70 squared and 0.54 squared together
    assert nothing.spread == pytest.approx(0.884081, abs=1e-6)


def test_a_peg_that_gives_more_is_expected_to_give_more():
    assert today(USUAL, [48], form=0.4).middle == pytest.approx(today(USUAL, [48]).middle + 0.4)


def test_the_scatter_is_the_one_an_independent_library_measures():
    values = [42, 37, 37, 28, 18, 18, 19, 20, 15, 14, 14, 13, 11, 12, 8, 7, 8, 8, 9, 15, 15]

    # statsmodels divides by the normal quantile at three quarters, 0.6744897501960817
    assert mad(values) / 0.6744897501960817 == pytest.approx(robust.mad(values))
    assert pytest.approx(1 / 0.6744897501960817, abs=1e-4) == MAD_TO_SD


def test_the_modified_z_flags_the_published_stack_loss_days():
    """Iglewicz and Hoaglin 1993: over 3.5 of 0.6745 (x - median) / MAD; Brownlee's stack loss."""
    loss = [42, 37, 37, 28, 18, 18, 19, 20, 15, 14, 14, 13, 11, 12, 8, 7, 8, 8, 9, 15, 15]

    far = [
        day for day, value in enumerate(loss, start=1) if 0.6745 * abs(value - 15) / mad(loss) > 3.5
    ]

    assert far == [1, 2, 3]


def test_a_water_without_three_matches_says_nothing():
    assert usual_at([[48.0, 60.0], [30.0]]) == Usual()


def test_a_water_is_known_by_its_past_matches():
    # middles of 12, 60 and 252 oz: on the scale log 16, log 64, log 256, a factor 4 apart
    usual = usual_at([[12.0], [60.0], [252.0]])

    assert usual.middle == pytest.approx(math.log(64))
    assert usual.spread == pytest.approx(math.log(4))
    assert usual.scatter == SCATTER


def test_even_banks_do_not_make_the_site_suspicious():
    assert usual_at([[48.0] * 10, [50.0] * 10, [47.0] * 10]).scatter == SCATTER


def test_wild_banks_make_it_more_patient():
    # each day has as many at 0 oz above four as at 1020: log 4 and log 1024, 5.545 apart
    assert usual_at([[0.0, 1020.0] * 5, [0.0, 1020.0] * 5, [0.0, 1020.0] * 5]).scatter > 3


def test_a_peg_seldom_drawn_has_no_form_to_speak_of():
    assert form_of([]) == 0
    # one weight 0.8 above the day's middle counts a quarter
    assert form_of([0.8]) == pytest.approx(0.2)


def test_grams_are_compared_in_the_ounces_of_the_exact_pound():
    # NIST Handbook 44, appendix C: the ounce is 28.349 523 125 g
    assert ounces(28_349_523, Unit.KG) == pytest.approx(1_000_000, rel=1e-6)
    assert ounces(8 * 16, Unit.LB_OZ) == 8


def test_a_blank_has_a_place_on_the_scale():
    assert on_scale(0) == pytest.approx(math.log(4))
