"""What is asked before a weight is accepted; a pound is 256 drams."""

from __future__ import annotations

import itertools
import json
import random
from pathlib import Path

import pytest

from league.rules.doubts import doubts_about, shortly
from league.rules.nets import ANGLER_OUT, CAP, NET_OUT, TWICE_THE_EXCESS, NetRules
from league.rules.usual import Usual, today
from league.rules.weights import Unit, Weight

VECTORS = json.loads((Path(__file__).parents[1] / "vectors" / "guard.json").read_text())
TODAY = today(Usual(**VECTORS["usual"]), VECTORS["seen"])

LIMIT = 40 * 256  # 40 lb
READ = 43 * 256 + 6 * 16  # 43 lb 6 oz


def test_a_net_over_the_limit_is_asked_about_in_the_words_of_the_rule():
    [doubt] = doubts_about([READ, 20 * 256], NetRules(LIMIT), Unit.LB_OZ)

    assert doubt.headline == "This net is over 40 lb"
    assert doubt.words == (
        "43 lb 6 oz is 3 lb 6 oz over the limit for one net. "
        "The rule here: 40 lb counts, the rest does not. The fish go back either way."
    )
    assert doubt.accept == "Count 40 lb 0 oz"
    assert doubt.then == "The sheet will show 43-6 read, 40-0 counted"
    assert doubt.net == 1


@pytest.mark.parametrize(
    ("over", "rule", "accept"),
    [
        (CAP, "40 lb counts, the rest does not", "Count 40 lb 0 oz"),
        # 3 lb 6 oz over, taken off twice: 43-6 less 6-12 is 36-10
        (TWICE_THE_EXCESS, "36 lb 10 oz counts, the rest does not", "Count 36 lb 10 oz"),
        (NET_OUT, "the whole net does not count", "Count nothing of it"),
        (ANGLER_OUT, "the angler is disqualified", "It read 43 lb 6 oz"),
    ],
)
def test_the_question_says_what_this_leagues_rule_makes_of_the_net(over, rule, accept):
    [doubt] = doubts_about([READ], NetRules(LIMIT, over), Unit.LB_OZ)

    assert f"The rule here: {rule}." in doubt.words
    assert doubt.accept == accept


def test_a_net_at_the_limit_is_not_asked_about_nor_any_net_without_a_limit():
    assert doubts_about([LIMIT], NetRules(LIMIT), Unit.LB_OZ) == ()
    assert doubts_about([99 * 256], NetRules(), Unit.LB_OZ) == ()


def test_an_answer_holds_for_the_figure_it_was_given_for_alone():
    [first] = doubts_about([READ], NetRules(LIMIT), Unit.LB_OZ)
    [second] = doubts_about([READ + 16], NetRules(LIMIT), Unit.LB_OZ)

    assert first.key != second.key


def test_kilograms_are_said_in_kilograms():
    [doubt] = doubts_about([21_500], NetRules(20_000), Unit.KG)

    assert doubt.headline == "This net is over 20 kg"
    assert doubt.words.startswith("21.500 kg is 1.500 kg over the limit for one net.")


def test_a_weight_is_said_shortly_without_ounces_that_are_none():
    assert shortly(40 * 256, Unit.LB_OZ) == "40 lb"
    assert shortly(40 * 256 + 128, Unit.LB_OZ) == "40 lb 8 oz"


def drams(typed: str) -> int:
    return Weight.parse(typed, Unit.LB_OZ).amount


@pytest.mark.parametrize("entry", VECTORS["entries"], ids=lambda each: each["name"])
def test_the_worked_entries_are_asked_about_or_not(entry):
    asked = doubts_about([entry["net"]], NetRules(), Unit.LB_OZ, TODAY)

    assert bool(asked) is entry["asked"]
    if entry["asked"]:
        assert asked[0].offer == (drams(entry["offered"]),)


def test_a_weight_far_from_the_rest_is_asked_about_in_words():
    [doubt] = doubts_about([drams("33-8")], NetRules(), Unit.LB_OZ, TODAY)

    assert doubt.headline == "33 lb 8 oz is a long way over the usual"
    # the middle is 52 oz with the four taken off
    assert doubt.words == (
        "About 3 lb is usual at this peg today. Read the scales again before the fish go back."
    )
    assert doubt.accept == "It is right: 33 lb 8 oz"
    assert doubt.offered == "It was 3 lb 8 oz"


def test_on_paper_nobody_is_told_to_weigh_fish_that_are_long_gone():
    [far] = doubts_about([drams("33-8")], NetRules(), Unit.LB_OZ, TODAY, on_paper=True)
    [over] = doubts_about([READ], NetRules(LIMIT), Unit.LB_OZ, on_paper=True)

    assert far.words == (
        "About 3 lb is usual at this peg today. Look at the paper again: is it read right, and if "
        "so, do the scalesmen remember it?"
    )
    assert "fish" not in far.words + over.words


def test_two_nets_that_read_the_same_are_asked_about():
    [doubt] = doubts_about([drams("12-8"), drams("9-0"), drams("12-8")], NetRules(), Unit.LB_OZ)

    assert doubt.headline == "Net 1 and net 3 read the same"
    assert doubt.words == "Both read 12 lb 8 oz. Is it two nets, or one net entered twice?"
    assert doubt.offer == (drams("12-8"), drams("9-0"))


def test_nets_that_differ_by_a_dram_are_two_nets():
    assert doubts_about([3200, 3201], NetRules(), Unit.LB_OZ) == ()


def test_nothing_is_compared_with_a_day_nobody_has_told_of():
    assert doubts_about([drams("33-8")], NetRules(), Unit.LB_OZ) == ()


def test_an_ordinary_winter_day_asks_about_twenty_five_pounds_at_most():
    """
    Common practice on a winter commercial, no published source: one fish may be 8 oz or 10 lb, two
    to three pounds is usual, and 25 lb in the first half hour happens.
    """
    catches = ["0-8", "2-0", "3-0", "10-0", "25-0"]
    draw = random.Random(20271)
    mornings = [
        [28] * 7,
        [56] * 7,
        [28] * 4 + [56] * 3,
        *([draw.randint(28, 56) for _ in range(7)] for _ in range(12)),
    ]

    asked = set()
    for morning, order in itertools.product(mornings, itertools.permutations(catches)):
        seen = list(morning)
        for catch in order:
            day = today(Usual(), seen)
            if doubts_about([drams(catch)], NetRules(), Unit.LB_OZ, day):
                asked.add(catch)
            seen.append(drams(catch) // 16)

    assert asked <= {"25-0"}
