"""Pegs of a water: what is counted, what is pulled back, and when nothing is said."""

from __future__ import annotations

import math

import numpy as np
import pytest

from league.rules.lines import Status
from league.rules.peg_form import NEEDED, Sat, shrunk, water_form, what_may_be_said
from league.rules.weights import Unit

OZ = 16  # drams


def fished(match: int, peg: str, ounces: int, *, won: bool = False) -> Sat:
    status = Status.WEIGHED if ounces else Status.BLANK
    return Sat(match, peg, ounces * OZ, status, won=won)


def days(weights: dict[str, int], matches: int) -> list[Sat]:
    best = max(weights.values())
    return [
        fished(match, peg, ounces, won=ounces == best)
        for match in range(matches)
        for peg, ounces in weights.items()
    ]


def test_residuals_are_pulled_back_as_the_published_formula_has_it() -> None:
    # Sum over number and pull: 0.5 / 6.5 and -0.5 / 4.5.
    assert shrunk([0.4, 0.2, -0.1]) == pytest.approx(0.5 / 6.5)
    assert shrunk([-0.5]) == pytest.approx(-0.5 / 4.5)


def test_a_pegs_line_is_counts_median_and_best() -> None:
    sat = [
        fished(1, "7", 40, won=True),
        fished(2, "7", 0),
        fished(3, "7", 20),
        Sat(4, "7", 0, Status.NOT_WEIGHED),
        Sat(5, "7", 0, Status.ABSENT),
        fished(1, "8", 10),
    ]

    [seven, eight] = water_form(sat, Unit.LB_OZ, order=["7", "8"]).pegs

    assert (seven.drawn, seven.weighed, seven.wins, seven.blanks) == (4, 3, 1, 1)
    assert (seven.median, seven.best) == (20 * OZ, 40 * OZ)
    assert (eight.drawn, eight.median, eight.best) == (1, None, 10 * OZ)


def test_the_pegs_stand_in_the_order_of_the_bank() -> None:
    sat = [fished(1, peg, 5) for peg in ("10", "9", "2a", "2")]

    form = water_form(sat, Unit.LB_OZ, order=["2", "2a", "9", "10"])

    assert [peg.peg for peg in form.pegs] == ["2", "2a", "9", "10"]


@pytest.mark.parametrize("matches", [1, 9])
def test_before_ten_matches_no_peg_is_called_good(matches: int) -> None:
    form = water_form(days({"1": 10, "2": 40, "3": 160}, matches), Unit.LB_OZ)

    assert all(peg.times is None for peg in form.pegs)
    assert "too little to call a peg good or bad" in what_may_be_said(form)
    number = {1: "One match is", 9: "Nine matches are"}[matches]
    assert what_may_be_said(form).startswith(f"{number} published here")


def test_form_is_what_was_given_over_the_day_on_a_log_scale() -> None:
    ounces = {"1": 12, "2": 60, "3": 124}
    form = water_form(days(ounces, NEEDED), Unit.LB_OZ)

    logs = np.log([weight + 4 for weight in ounces.values()])
    expected = np.exp(NEEDED * (logs - logs.mean()) / (NEEDED + 3.5))
    assert [peg.times for peg in form.pegs] == pytest.approx(expected)
    spread = ((logs - logs.mean()) ** 2).sum() * NEEDED / (3 * NEEDED - NEEDED)
    best = form.pegs[2]
    assert best.low == pytest.approx(
        best.times / math.exp(1.96 * math.sqrt(spread / (NEEDED + 3.5)))
    )
    assert best.is_fair


def test_a_peg_drawn_once_is_not_held_against_the_others() -> None:
    sat = [*days({"1": 12, "2": 60}, NEEDED), fished(0, "3", 400)]

    form = water_form(sat, Unit.LB_OZ)

    assert [peg.times is None for peg in form.pegs] == [False, False, True]


def test_a_peg_that_stands_clear_is_named_with_its_matches() -> None:
    said = what_may_be_said(water_form(days({"1": 12, "2": 16, "3": 320}, 12), Unit.LB_OZ))

    assert said.startswith("Peg 3 has given most against the day: ")
    assert "over twelve matches, in the middle 20 lb 0 oz." in said
    assert said.endswith("Who sat there is not allowed for.")


def test_where_all_pegs_are_alike_that_is_what_is_said() -> None:
    sat = [
        fished(match, str(peg), 40 + (match * 7 + peg * 5) % 9)
        for match in range(12)
        for peg in range(1, 6)
    ]

    said = what_may_be_said(water_form(sat, Unit.LB_OZ))

    assert said == "After twelve matches no peg stands clearly above the others."


def test_many_blanks_leave_the_log_scale_out() -> None:
    form = water_form(days({"1": 0, "2": 0, "3": 40}, 12), Unit.LB_OZ)

    assert not form.tells_form
    assert all(peg.times is None for peg in form.pegs)
    assert "67 weigh-ins of a hundred were blanks" in what_may_be_said(form)


def test_a_water_without_a_match_says_so() -> None:
    form = water_form([], Unit.KG)

    assert form.pegs == ()
    assert what_may_be_said(form) == "No match on this water is published here yet."


def test_days_that_differ_do_not_make_a_peg() -> None:
    # Peg 1 was drawn on the good days only, and gave the day's average on each.
    good = [fished(day, peg, 400) for day in range(6) for peg in ("1", "2")]
    poor = [fished(day, peg, 4) for day in range(6, 12) for peg in ("2", "3")]

    form = water_form([*good, *poor], Unit.LB_OZ)

    assert [peg.times for peg in form.pegs] == pytest.approx([1.0, 1.0, 1.0])
