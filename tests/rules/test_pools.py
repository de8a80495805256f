"""Pools paid to the penny: published clubs' splits, and cases worked by hand."""

from __future__ import annotations

import pytest

from league.rules.matches import score_match
from league.rules.pools import settle
from league.rules.pools_pence import MoneyError, apportion, evenly, pence, pounds
from league.rules.pools_plan import (
    FEATS,
    LEFT_RULES,
    OTHER_SECTIONS,
    STRAIGHT,
    TO_THE_WINNER,
    Fee,
    GoldenPeg,
    OptionalPool,
    Plan,
    Split,
    checked,
)
from league.rules.pools_words import say_money
from tests.rows import book, row

ODD = Split.parse("50/30/20")
# Three sections; the numbers are anglers, and also their pegs.
NINE = {
    "A": {"1": 900, "2": 700, "3": 300},
    "B": {"4": 800, "5": 600, "6": 600},
    "C": {"7": 400, "8": 350, "9": 0},
}


def scored(sections, teams=None):
    """The result of a match from weights by section and angler; nothing is a blank."""
    return score_match(
        [
            row(name, weight or "blank", letter, team=(teams or {}).get(name, ""))
            for letter, catches in sections.items()
            for name, weight in catches.items()
        ],
        book(),
    )


def everybody(sections):
    return {"stake": frozenset(name for catches in sections.values() for name in catches)}


def of_kind(settled, kind):
    return {out.key: out.pence for out in settled.outs if out.kind == kind}


def kept(settled):
    return sum(out.pence for out in settled.outs if out.kind == "kept")


def one_lake(weights):
    return {"A": {str(at): weight for at, weight in enumerate(weights, start=1)}}


def frame_of(weights, total, split, unit=1):
    """The frame's payouts where *total* is the whole pool, and what is kept."""
    lake = one_lake(weights)
    each, odd = divmod(total, len(weights))
    plan = Plan(stake=each, frame=each, frame_split=Split.parse(split), unit=unit)
    assert not odd, "the total divides by the anglers"
    settled = settle(scored(lake), plan, everybody(lake))
    return list(of_kind(settled, "frame").values()), kept(settled)


def falling(count):
    return [10_000 - 10 * at for at in range(count)]


def test_forty_thirty_twenty_ten_to_the_nearest_50p_pays_no_more_than_was_taken():
    """
    C54, a club's published match rules: £1.50 of every stake held back, 40/30/20/10 paid.

    Fifteen at £5 make £52.50. Each rounded by itself would make £53.00; by largest remainder the
    last place gives way.
    """
    lake = one_lake(falling(15))
    plan = Plan(
        stake=500, fees=(Fee("Held back", 150),), frame=350,
        frame_split=Split.parse("40/30/20/10"), unit=50,
    )  # fmt: skip

    settled = settle(scored(lake), plan, everybody(lake))

    assert list(of_kind(settled, "frame").values()) == [2100, 1600, 1050, 500]
    assert [(out.name, out.pence) for out in settled.others] == [("Held back", 2250)]
    assert settled.total == 7500


def test_twenty_pounds_are_eighteen_for_the_match_one_for_the_peg_one_for_the_season():
    """C55, a championship's guidelines, 2018-19: a £20 entry is 18, 1 and 1."""
    lake = one_lake(falling(30))
    plan = Plan(
        stake=2000, fees=(Fee("Season fund", 100),), frame=1800,
        golden=GoldenPeg(peg="30", of_stake=100),
    )  # fmt: skip

    settled = settle(scored(lake), plan, everybody(lake))

    assert of_kind(settled, "frame") == {"1": 54_000}
    assert [(out.name, out.pence) for out in settled.others] == [
        ("Season fund", 3000),
        ("Golden peg fund", 3000),
    ]


def test_a_season_fund_of_400_pays_45_35_20():
    """C55 again: the same guidelines' season fund."""
    assert apportion(40_000, (45, 35, 20)) == (18_000, 14_000, 8000)


@pytest.mark.parametrize(
    ("weights", "paid"),
    [
        ([900, 800, 800, 700, 600], [4000, 2500, 2500, 1000]),
        ([900, 900, 900, 700, 600], [3000, 3000, 3000, 1000]),
        ([900, 800, 700, 600, 600], [4000, 3000, 2000, 500, 500]),
    ],
    ids=["two level second", "three level first", "two level for the last paid place"],
)
def test_equals_share_the_places_they_cover(weights, paid):
    """C56: common practice, the same principle as racing's rule A7 for prizes."""
    assert frame_of(weights, 10_000, "40/30/20/10") == (paid, 0)


def test_section_money_by_default_passes_to_the_next_not_in_the_frame():
    """C57, a club's match rules and a newspaper's angling column; the numbers are ours."""
    sections = {
        "A": {"a1": 900, "a2": 850, "a3": 500, "a4": 400, "a5": 300},
        "B": {"b1": 800, "b2": 450, "b3": 350, "b4": 250, "b5": 150},
        "C": {"c1": 700, "c2": 440, "c3": 340, "c4": 240, "c5": 140},
    }
    plan = Plan(stake=1000, frame=600, frame_split=ODD, section=400)

    settled = settle(scored(sections), plan, everybody(sections))

    assert list(of_kind(settled, "frame")) == ["a1", "a2", "b1"]
    assert of_kind(settled, "section") == {"a3": 2000, "b2": 2000, "c1": 2000}


@pytest.mark.parametrize(("split", "places"), [("one in 3", 6), ("one in 3 rounded up", 7)])
def test_one_prize_for_every_three_anglers(split, places):
    """C58, a Dutch club's rules, 2023: two thirds of the stakes go to the day's prizes."""
    lake = one_lake(falling(20))
    plan = Plan(
        stake=600, fees=(Fee("Held for the season", 200),), frame=400,
        frame_split=Split.parse(split),
    )  # fmt: skip

    settled = settle(scored(lake), plan, everybody(lake))

    assert len(of_kind(settled, "frame")) == places
    assert sum(of_kind(settled, "frame").values()) == 8000
    assert [(out.name, out.pence) for out in settled.others] == [("Held for the season", 4000)]


def test_largest_remainder_is_hamiltons_method_on_the_census_of_1790():
    """The bill of 1792 that Washington vetoed: 120 seats by Hamilton's method, as published."""
    census = {
        "VA": 630560, "MA": 475327, "PA": 432879, "NC": 353523, "NY": 331589, "MD": 278514,
        "CT": 236841, "SC": 206236, "NJ": 179570, "NH": 141822, "VT": 85533, "GA": 70835,
        "KY": 68705, "RI": 68446, "DE": 55540,
    }  # fmt: skip

    seats = apportion(120, tuple(census.values()))

    assert seats == (21, 16, 14, 12, 11, 9, 8, 7, 6, 5, 3, 2, 2, 2, 2)


@pytest.mark.parametrize(
    ("weights", "total", "split", "unit", "paid", "left"),
    [
        ([5, 4, 3, 2], 40_000, "60/25/15", 100, [24_000, 10_000, 6000], 0),
        ([5, 4, 3, 2], 13_700, "50/30/20", 100, [6900, 4100, 2700], 0),
        ([5, 5, 3, 2], 13_700, "50/30/20", 100, [5500, 5500, 2700], 0),
        ([5, 4, 4, 4], 13_700, "50/30/20", 100, [6900, 2266, 2266, 2266], 2),
        ([9, 8, 7, 7, 7, 7, 1, 1, 1, 1], 13_700, "50/30/20", 100,
         [6900, 4100, 675, 675, 675, 675], 0),
        ([9, 8, 0, 0], 13_700, "50/30/20", 100, [8600, 5100], 0),
        ([5, 4, 3], 13_755, "50/30/20", 100, [6955, 4100, 2700], 0),
        ([0, 0, 0, 0], 4000, "50/30/20", 100, [], 4000),
    ],
    ids=["even", "remainders", "two first", "three second", "four third", "two weighed",
         "odd pence", "a blank for everybody"],
)  # fmt: skip
def test_a_frame_worked_by_hand(weights, total, split, unit, paid, left):
    assert frame_of(weights, total, split, unit) == (paid, left)


def nine_paid(sections=NINE, **changes):
    """Nine at £10: £54 to the frame, £12 to each section."""
    plan = {
        "stake": 1000, "frame": 600, "section": 400, "frame_split": ODD, "unit": 1, **changes,
    }  # fmt: skip
    return settle(scored(sections), Plan(**plan), everybody(sections))


def test_level_anglers_of_a_section_share_its_money():
    settled = nine_paid()

    assert of_kind(settled, "frame") == {"1": 2700, "4": 1620, "2": 1080}
    assert of_kind(settled, "section") == {"3": 1200, "5": 600, "6": 600, "7": 1200}


LEVEL_THIRD = {**NINE, "A": {"1": 900, "2": 500, "3": 500}, "B": {"4": 800, "5": 600, "6": 600}}


def test_a_section_whose_anglers_are_all_in_the_frame_has_its_money_kept():
    settled = nine_paid(LEVEL_THIRD)

    assert of_kind(settled, "frame") == {"1": 2700, "4": 1620, "5": 540, "6": 540}
    assert of_kind(settled, "section") == {"2": 600, "3": 600, "7": 1200}
    assert kept(settled) == 1200


def test_or_it_goes_to_the_other_sections():
    settled = nine_paid(LEVEL_THIRD, left_rule=LEFT_RULES[OTHER_SECTIONS])

    assert of_kind(settled, "section") == {"2": 900, "3": 900, "7": 1800}
    assert kept(settled) == 0


def test_or_it_goes_to_the_winner_of_the_match():
    settled = nine_paid(LEVEL_THIRD, left_rule=LEFT_RULES[TO_THE_WINNER])

    assert of_kind(settled, "section") == {"2": 600, "3": 600, "1": 1200, "7": 1200}


def test_paid_straight_the_frame_takes_section_money_too():
    settled = nine_paid(frame_rule=STRAIGHT)

    assert of_kind(settled, "section") == {"1": 1200, "4": 1200, "7": 1200}


def test_an_optional_pool_pays_the_best_placed_of_those_in_it():
    plan = Plan(optional=(OptionalPool("Super pool", 1300, ODD),), unit=100)
    chosen = {"Super pool": frozenset("14257")}

    settled = settle(scored(NINE), plan, chosen)

    assert of_kind(settled, "optional") == {"1": 3300, "4": 1900, "2": 1300}


@pytest.mark.parametrize(
    ("weights", "chosen", "carried_in", "paid", "carried"),
    [
        ({"13": 800, "14": 900, "15": 700, "16": 100}, "13 15 16", 11_200, 0, 11_500),
        ({"13": 800, "14": 900, "15": 700, "16": 100}, "13 14 15 16", 11_500, 11_900, 0),
        ({"13": 900, "14": 900, "15": 700, "16": 100}, "13 14 15 16", 11_500, 5950, 5950),
        ({"13": 900, "14": 800, "15": 700, "16": 100}, "13 14 15 16", 11_500, 0, 11_900),
    ],
    ids=["the winner is not in it", "won", "won jointly", "not won"],
)
def test_the_golden_peg_is_won_or_carried(weights, chosen, carried_in, paid, carried):
    plan = Plan(golden=GoldenPeg(peg="14", stake=100, carried=carried_in))

    settled = settle(scored({"A": weights}), plan, {"golden peg": frozenset(chosen.split())})

    assert of_kind(settled, "golden").get("14", 0) == paid
    assert sum(out.pence for out in settled.outs if out.kind == "carried") == carried


def test_the_golden_peg_may_ask_for_the_section_only():
    plan = Plan(
        stake=100, golden=GoldenPeg(peg="7", of_stake=100, carried=500, feat=FEATS["section"])
    )

    settled = settle(scored(NINE), plan, everybody(NINE))

    assert of_kind(settled, "golden") == {"7": 1400}


def test_a_teams_prize_is_shared_by_its_members_in_the_pool():
    teams = {"1": "Herons", "4": "Herons", "7": "Herons", "2": "Otters", "5": "Otters"}
    plan = Plan(stake=2000, team=2000)
    in_it = {"stake": frozenset(["1", "4", "7", "2", "5"])}

    settled = settle(scored(NINE, teams), plan, in_it)

    assert evenly(10_000, 3) == (3334, 3333, 3333)
    assert of_kind(settled, "team") == {"1": 3334, "4": 3333, "7": 3333}


def test_who_has_not_paid_is_in_no_pool():
    paid = {"stake": everybody(NINE)["stake"] - {"1"}}

    settled = settle(scored(NINE), Plan(stake=1000, frame=1000, frame_split=ODD), paid)

    assert of_kind(settled, "frame") == {"4": 4000, "2": 2400, "5": 800, "6": 800}


def test_juniors_pay_the_fees_alone_and_take_no_prize_unless_the_club_says_so():
    plan = Plan(stake=1000, fees=(Fee("Peg fees", 600),), frame=400)
    junior = frozenset(["1"])

    settled = settle(scored(NINE), plan, everybody(NINE), juniors=junior)
    allowed = settle(
        scored(NINE),
        Plan(stake=1000, fees=(Fee("Peg fees", 600),), frame=400, juniors=True),
        everybody(NINE),
        juniors=junior,
    )

    assert (settled.total, of_kind(settled, "frame")) == (8600, {"4": 3200})
    assert (allowed.total, of_kind(allowed, "frame")) == (9000, {"1": 3600})


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("12.5", "Write a sum as 10 or 12.50, not '12.5'."),
        ("-3", "Write a sum"),
        ("1e3", "Write a sum"),
        ("9999999", "look at the figure"),
    ],
)
def test_a_sum_that_is_none_is_refused_in_words(typed, said):
    with pytest.raises(MoneyError, match=said.replace(".", r"\.")):
        pence(typed)


def test_a_stake_whose_parts_do_not_add_up_is_refused_with_both_sums():
    with pytest.raises(MoneyError, match=r"come to £9\.00, and the stake is £10\.00"):
        checked(Plan(stake=1000, frame=900))


@pytest.mark.parametrize("typed", ["", "30/60", "60/0", "one in 0", "60//40", "60/40; 50/50"])
def test_a_split_that_is_none_is_refused(typed):
    with pytest.raises(MoneyError):
        Split.parse(typed)


@pytest.mark.parametrize("typed", ["60/25/15; from 12: 40/30/20/10", "one in 3 rounded up", "1"])
def test_a_split_prints_as_it_was_typed(typed):
    assert str(Split.parse(typed)) == typed


def test_a_sum_reads_back_as_it_was_written():
    assert [pence(pounds(sum_)) for sum_ in (0, 5, 100, 99_999)] == [0, 5, 100, 99_999]


def test_every_sum_says_why_in_words():
    settled = nine_paid(LEVEL_THIRD)

    said = {(out.pool, out.name): say_money(out.reason) for out in settled.outs}

    assert said["Frame", "4"] == "Second. 30 of 100 shares of £54, £16.20."
    assert said["Frame", "5"] == (
        "Two level share the third prize. 20 of 100 shares of £54, £5.40 each."
    )
    assert said["Section B", "Club fund"] == "Section B: nobody to take it."
    assert said["Section A", "2"] == (
        "Two level in section A share the first prize. All of £12, £6 each. "
        "By default: 1 is paid in the frame."
    )
    assert said["Section C", "7"] == "First of section C. All of £12."


def test_the_golden_peg_is_not_won_by_a_blank_that_nobody_beat():
    plan = Plan(stake=100, golden=GoldenPeg(peg="1", of_stake=100))

    settled = settle(scored({"A": {"1": 0, "2": 0}}), plan, everybody({"A": {"1": 0, "2": 0}}))

    assert of_kind(settled, "golden") == {}
    assert [(out.kind, out.pence) for out in settled.outs] == [("carried", 200)]


def test_how_many_a_section_pays_goes_by_how_many_of_it_are_in_with_fish_or_without():
    sections = {"A": {"1": 500, "2": 400, "3": 0}, "B": {"4": 300, "5": 200}}
    plan = Plan(stake=600, section=600, section_split=Split.parse("1; from 3: 2/1"))

    settled = settle(scored(sections), plan, everybody(sections))

    assert of_kind(settled, "section") == {"1": 1000, "2": 500, "4": 1500}
