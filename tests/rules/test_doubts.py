"""What is asked before a weight is accepted; a pound is 256 drams."""

from __future__ import annotations

import pytest

from league.rules.doubts import doubts_about, shortly
from league.rules.nets import ANGLER_OUT, CAP, NET_OUT, TWICE_THE_EXCESS, NetRules
from league.rules.weights import Unit

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
