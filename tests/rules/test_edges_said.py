"""Edges of what is said: contradictions of a book, rules read out, the day to the minute."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, datetime, time
from pathlib import Path

import pytest

from league.files.rulebook import from_dict
from league.rules.announced import read_out
from league.rules.doubts import doubts_about
from league.rules.errors import RulebookError, WeightError
from league.rules.nets import NetRules
from league.rules.stages import Day, in_a_sentence, next_thing, order_of_the_day
from league.rules.traps import traps
from league.rules.usual import SCATTER, Usual, today, usual_at
from league.rules.weights import Unit, Weight

# ---- rule books ---------------------------------------------------------------------------------


def test_every_contradiction_of_a_book_is_told_not_only_the_last():
    with pytest.raises(RulebookError) as refused:
        from_dict(
            {
                "section": {"direction": "high", "top": [5, 4, 6], "override": [3, 9]},
                "season": {"best": 5, "drop": 1},
            }
        )

    said = str(refused.value)
    assert "best and drop say one thing in two ways" in said
    assert "top rises from 4 to 6" in said
    assert "override rises from 3 to 9" in said


@pytest.mark.parametrize(
    ("direction", "said"),
    [
        ("low", "The winner of a round scores 1, the next 2, and so on."),
        (
            "high",
            "The winner of a round scores as many points as teams fished it, the last scores 1.",
        ),
    ],
)
def test_how_places_of_a_round_are_scored_is_read_out(direction, said):
    rules = from_dict({"section": {"direction": direction}, "season": {"score": "places"}})

    season = next(part for part in read_out(rules) if part.heading == "Over the season")

    assert said in season.sentences


@pytest.mark.parametrize(
    ("rounds", "said"),
    [([7], "Round 7 cannot be dropped."), ([3, 7], "Rounds 3 and 7 cannot be dropped.")],
)
def test_rounds_that_cannot_be_dropped_are_read_out_by_number(rounds, said):
    rules = from_dict({"season": {"best": 5, "undroppable": rounds}})

    season = next(part for part in read_out(rules) if part.heading == "Over the season")

    assert said in season.sentences


# ---- the day ------------------------------------------------------------------------------------

DRAWN = Day(
    title="Round 7",
    date=datetime(2027, 2, 14, tzinfo=UTC).date(),
    now=datetime(2027, 2, 14, 8, 40, tzinfo=UTC),
    draw_at=time(8, 30),
    all_in=time(10),
    all_out=time(15),
    booked=3,
    pegs=3,
    drawn=True,
    to_weigh=("41", "42", "44"),
)


def at(hour: int, minute: int, **values: object) -> Day:
    """The drawn day at that time."""
    return replace(DRAWN, now=datetime(2027, 2, 14, hour, minute, tzinfo=UTC), **values)


@pytest.mark.parametrize(
    ("day", "lead"),
    [
        (at(14, 59), "All out is at 15:00."),
        (at(15, 0), "All out has been called. The scales walk in peg order."),
        (at(14, 0, all_out=None), "Then come the scales."),
    ],
)
def test_what_the_scales_wait_for_is_said_by_the_clock(day, lead):
    assert next_thing(day).lead == lead


@pytest.mark.parametrize(
    ("until", "lead"),
    [
        (datetime(2027, 2, 15, 20, 0, tzinfo=UTC), "Objections closed on Monday 20:00."),
        (None, "No time was set for objections."),
    ],
)
def test_a_result_ready_to_be_final_says_when_objections_closed(until, lead):
    day = replace(
        at(20, 0, to_weigh=(), version=1, objections_until=until),
        now=datetime(2027, 2, 15, 20, 0, tzinfo=UTC),
    )

    assert next_thing(day).lead == lead


@pytest.mark.parametrize(
    ("day", "when"),
    [
        (at(8, 40), "Next, in 1 hour 20 minutes."),
        (at(8, 59), "Next, in 1 hour 1 minute."),
        (at(9, 15), "Next, in 45 minutes."),
        (at(9, 59), "Next, in 1 minute."),
        (at(10, 0, all_out=time(10)), "Next."),
        (at(6, 45, drawn=False, book_in=time(7, 30)), "Next, in 45 minutes."),
        (at(7, 29, drawn=False, book_in=time(7, 30)), "Next, in 1 minute."),
        (at(7, 30, drawn=False, book_in=time(7, 30)), "Next."),
    ],
)
def test_the_next_step_says_how_long_it_is_to_the_minute(day, when):
    (moment,) = (each for each in order_of_the_day(day) if each.when)

    assert moment.when == when


@pytest.mark.parametrize(
    ("most", "more", "unit"),
    [("999-15-15", "1000-0", Unit.LB_OZ), ("999.999", "1000.0", Unit.KG)],
)
def test_the_most_a_net_can_weigh_is_read_and_more_is_refused(most, more, unit):
    assert str(Weight.parse(most, unit)) == most
    with pytest.raises(WeightError, match="the most one net can weigh"):
        Weight.parse(more, unit)


@pytest.mark.parametrize(
    ("title", "said"),
    [
        ("Round 7", "round 7"),
        ("Round the Houses", "Round the Houses"),
        ("Match 7", "Match 7"),
        ("Round", "Round"),
    ],
)
def test_only_round_and_a_number_lose_the_capital(title, said):
    assert in_a_sentence(title) == said


@pytest.mark.parametrize(
    ("season", "warned"),
    [
        ({"score": "weight", "ties": ["weight"]}, True),
        ({"score": "weight", "ties": ["weight"], "best": 3}, False),
        ({"score": "weight", "ties": ["best round weight"]}, False),
        ({"score": "points", "ties": ["weight"]}, False),
    ],
)
def test_a_rung_that_can_split_nobody_is_warned_of(season, warned):
    said = traps(from_dict({"season": season}))

    assert any('"weight" splits nobody' in each for each in said) is warned


# ---- what is asked before a weight is accepted --------------------------------------------------

VECTORS = json.loads((Path(__file__).parents[1] / "vectors" / "guard.json").read_text())
TODAY = today(Usual(**VECTORS["usual"]), VECTORS["seen"])
POUND = 256  # drams


@pytest.mark.parametrize(
    ("nets", "offers"),
    [
        # The same net twice: the second goes, whatever comes after it stays.
        ((100, 100, 3 * POUND), [(100, 3 * POUND)]),
        # 120-4 for 10-4, the nets beside it as they are.
        ((3 * POUND, 120 * POUND + 64), [(3 * POUND, 10 * POUND + 64)]),
        # A figure too many of 40-0 would leave nothing, and nothing is not offered.
        ((40 * POUND, 3 * POUND), [()]),
        # Both the same and far under the usual: asked about twice.
        ((8, 8), [(8,), ()]),
    ],
)
def test_what_is_offered_in_place_of_a_doubtful_net_leaves_the_others_alone(nets, offers):
    asked = doubts_about(nets, NetRules(), Unit.LB_OZ, TODAY)

    assert [doubt.offer for doubt in asked] == offers


@pytest.mark.parametrize(
    ("nets", "headline", "offered"),
    [
        ((3 * POUND, 120 * POUND + 64), "123 lb 4 oz is a long way over the usual",
         "Net 2 was 10 lb 4 oz"),
        ((38 * POUND + 64,), "38 lb 4 oz is a long way over the usual", "It was 3 lb 4 oz"),
        ((16,), "0 lb 1 oz is a long way under the usual", "It was 1 lb 15 oz"),
        ((40 * POUND, 3 * POUND), "43 lb is a long way over the usual", ""),
    ],
)  # fmt: skip
def test_a_far_weight_says_which_way_and_which_net_it_may_have_been(nets, headline, offered):
    (doubt,) = doubts_about(nets, NetRules(), Unit.LB_OZ, TODAY)

    assert (doubt.headline, doubt.offered) == (headline, offered)


def test_what_a_peg_gives_above_its_neighbours_counts_before_anything_is_weighed():
    usual = Usual(**VECTORS["usual"])

    assert today(usual, [], form=0.4).middle == pytest.approx(usual.middle + 0.4)


def test_how_far_weights_lie_apart_is_measured_from_each_days_own_middle():
    # Five days of four equal weights, each day another: no weight is off its day's middle.
    days = [[float(ounces)] * 4 for ounces in (10, 40, 160, 640, 2560)]

    assert usual_at(days).scatter == SCATTER


def test_twenty_weights_are_enough_to_measure_how_far_they_lie_apart():
    # log 5 and log 1,004 lie 2.651 off their middle; times 1.4826 that is 3.93.
    days = [[1.0, 1.0, 1000.0, 1000.0]] * 5

    assert usual_at(days).scatter == pytest.approx(3.93, abs=0.01)
    assert usual_at([*days[:4], [1.0, 1000.0]]).scatter == SCATTER  # eighteen are too few


def test_days_on_which_nobody_caught_say_nothing_of_a_water():
    days = [[40.0, 20.0, 30.0], [12.0, 60.0], [33.0, 8.0], [25.0, 45.0], [18.0]] * 3

    assert usual_at([*days, [], []]) == usual_at(days)
