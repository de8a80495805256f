"""Weights and net limits, from published rules and the legal definition of the pound."""

from fractions import Fraction

import pytest

from league.rules.matches import score_match
from league.rules.nets import counted_nets
from league.rules.weights import GRAMS_IN_DRAM, Unit, Weight, nearest_gram, written
from tests.rows import book, drams, places_of, row

POUND = Fraction("453.59237")  # grams, NIST SP 811 table B.8: exact by definition


def test_the_pound_is_453_59237_grams_exactly():
    assert 256 * GRAMS_IN_DRAM == POUND
    # The factors of an ounce and of a dram that NIST Handbook 44 appendix C prints as exact.
    assert Fraction("28.349523125") == 16 * GRAMS_IN_DRAM
    assert Fraction("1.7718451953125") == GRAMS_IN_DRAM
    assert Fraction("6350.29318") == 14 * 256 * GRAMS_IN_DRAM  # a stone


@pytest.mark.parametrize("pounds", [50, 60, 70])
def test_a_pound_limit_in_grams_is_the_exact_product_to_the_nearest(pounds):
    exact = pounds * POUND

    shown = nearest_gram(pounds * 256, Unit.LB_OZ)

    assert abs(shown - exact) <= Fraction(1, 2)


def test_c45_an_irish_festivals_kilos_and_grams_add_up_as_printed():
    total = sum(
        Weight.parse(text, Unit.KG).amount
        for text in ("27k", "14-860", "20-790", "20-250", "26-940")
    )

    assert written(total, Unit.KG) == "109.840"


def test_c45_the_same_hyphen_means_pounds_and_ounces_on_another_bank():
    assert Weight.parse("14-8", Unit.LB_OZ).amount == (14 * 16 + 8) * 16


def test_c46_twelve_pounds_eight_ounces_four_drams_in_grams():
    weight = Weight.parse("12-8-4", Unit.LB_OZ)

    assert weight.amount == 3204
    assert weight.amount * GRAMS_IN_DRAM == Fraction("5676.99200578125")
    assert nearest_gram(weight.amount, Unit.LB_OZ) == 5677


def test_c47_pounds_carry_at_sixteen_drams_and_sixteen_ounces():
    nets = [Weight.parse(text, Unit.LB_OZ) for text in ("3-15-8", "0-0-12", "7-9-15")]

    total = nets[0] + nets[1] + nets[2]

    assert (str(total), total.amount) == ("11-10-3", 2979)


def test_c48_places_come_from_the_grams_and_not_from_what_ounces_would_show():
    rows = [row("Ana", 1000), row("Bo", 1010), row("Cy", 1020)]

    assert places_of(score_match(rows, book())) == {"Cy": 1, "Bo": 2, "Ana": 3}


TOLERANT = {"limit": "60-0", "over": "cap with tolerance", "tolerance": "10-0"}


def counted(nets, **rules):
    found = counted_nets([drams(net) for net in nets], book(unit="lb-oz", net=rules).net)
    return None if found is None else [written(net, Unit.LB_OZ) for net in found]


@pytest.mark.parametrize(
    ("net", "counts"),
    [("60-0", "60-0"), ("60-1", "60-0"), ("70-0", "60-0"), ("70-1", "0-0")],
)
def test_c50_a_net_over_the_limit_is_knocked_back_and_out_past_the_tolerance(net, counts):
    assert counted([net], **TOLERANT) == [counts]


def test_c51_three_nets_58_0_64_8_and_71_0_count_118_0():
    nets = counted(["58-0", "64-8", "71-0"], **TOLERANT)

    assert nets == ["58-0", "60-0", "0-0"]
    assert sum(drams(net) for net in nets) == drams("118-0")


def test_c52_a_cap_is_for_each_net_and_not_for_the_anglers_total():
    rules = book(unit="lb-oz", net={"limit": "50-0", "over": "cap"})

    result = score_match([row("Ana", [drams("52-4"), drams("31-0")])], rules)

    line = result.sections[0].lines[0]
    assert written(line.weight, Unit.LB_OZ) == "81-0"
    assert [written(net, Unit.LB_OZ) for net in line.row.nets] == ["52-4", "31-0"]


def test_c53_the_excess_over_twenty_kilos_is_taken_off_twice():
    rules = book(net={"limit": "20.000", "over": "twice the excess"}).net

    assert counted_nets([22_000], rules) == (18_000,)
    assert counted_nets([41_000], rules) == (0,)


def test_a_net_over_the_limit_can_be_out_whole():
    rules = {"limit": "40-0", "over": "net out"}

    assert counted(["40-0", "40-1", "3-0"], **rules) == ["40-0", "0-0", "3-0"]


def test_an_angler_over_the_limit_can_be_out_and_those_behind_move_up():
    rules = book(net={"limit": "20.000", "over": "angler out"})

    result = score_match([row("Ana", 20_001), row("Bo", 900), row("Cy", 800)], rules)

    found = [(line.row.angler, line.status.value, line.points) for line in result.sections[0].lines]
    assert found == [("Bo", "weighed", 1), ("Cy", "weighed", 2), ("Ana", "disqualified", 4)]


def test_a_catch_of_which_nothing_counts_is_scored_as_a_blank():
    rules = book(net={"limit": "20.000", "over": "net out"})

    result = score_match([row("Ana", 20_001), row("Bo", 900)], rules)

    line = result.sections[0].lines[1]
    assert (line.row.angler, line.status.value, line.weight, line.points) == ("Ana", "blank", 0, 2)
    assert line.row.nets == (20_001,)
