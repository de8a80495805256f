"""What comes next with the money: the same words for whoever sits down at it."""

from __future__ import annotations

import pytest

from league.rules.missing import phones_missing, weights_missing
from league.rules.pools_moved import MoneyMoved, say_money_moved, what_moves
from league.rules.pools_next import MoneyDay, MoneyTask, next_money
from league.rules.pools_plan import Fee, GoldenPeg, OptionalPool, Plan, Split
from league.rules.pools_words import LAW, read_out

PAID_OUT = {"asks": True, "booked": 6, "paid": 6, "taken": 6000, "version": 1, "fixed": 1}


@pytest.mark.parametrize(
    ("known", "task", "headline"),
    [
        ({"asks": False}, MoneyTask.ANNOUNCE, "No pools are announced for round 6"),
        ({"asks": True}, MoneyTask.WAIT, "Nobody is booked in yet"),
        ({"asks": True, "booked": 6, "owe": 6, "owed": 6000}, MoneyTask.TAKE,
         "Nobody has paid for round 6 yet"),
        ({"asks": True, "booked": 6, "paid": 4, "owe": 2, "owed": 2000, "taken": 4000},
         MoneyTask.TAKE, "2 of 6 still to pay"),
        ({"asks": True, "booked": 6, "paid": 6, "taken": 6000}, MoneyTask.WAIT,
         "Everybody has paid"),
        (PAID_OUT | {"fixed": 0}, MoneyTask.FIX, "The payouts of round 6 are ready to be fixed"),
        (PAID_OUT | {"version": 2, "moved": 1}, MoneyTask.FIX,
         "Version 2 of the result moves money"),
        (PAID_OUT | {"to_hand": 1}, MoneyTask.HAND, "1 angler still to be paid out"),
        (PAID_OUT | {"tin": 2100}, MoneyTask.CLOSE, "£21 must be in the tin"),
        (PAID_OUT | {"tin": 2100, "closed": True}, MoneyTask.NOTHING,
         "The money of round 6 is closed"),
    ],
)  # fmt: skip
def test_one_thing_comes_next(known, task, headline) -> None:
    thing = next_money(MoneyDay(title="Round 6", **known))

    assert (thing.task, thing.headline) == (task, headline)


def test_who_still_owes_is_not_forgotten_when_the_money_is_closed() -> None:
    closed = MoneyDay(title="Round 6", tin=2100, closed=True, owe=1, **PAID_OUT)

    assert next_money(closed).lead == "£21 is in the tin. 1 angler still owes."


def test_only_those_whose_sum_changes_are_told_who_lose_most_first() -> None:
    moved = what_moves(
        {"a": 6900, "b": 4100, "c": 100}, {"a": 4100, "b": 6900, "c": 100}, {"a": 6900},
        {"a": "Ana", "b": "Ben", "c": "Cy"},
    )  # fmt: skip

    assert [say_money_moved(each) for each in moved] == [
        "Ana: £69 becomes £41. £69 was handed over, so £28 has to come back.",
        "Ben: £41 becomes £69. Nothing was handed over yet.",
    ]


def test_a_sum_that_was_handed_over_rightly_by_chance_is_told_so() -> None:
    assert say_money_moved(MoneyMoved("a", "Ana", 6900, 4100, 4100)).endswith(
        "£41 was handed over: that is right now."
    )


def test_pools_are_read_out_as_they_were_announced() -> None:
    plan = Plan(
        stake=1000, fees=(Fee("Peg fees", 200),), frame=400,
        frame_split=Split.parse("60/25/15; from 12: 40/30/20/10"), section=300, unit=50,
        optional=(OptionalPool("Super pool", 200),), golden=GoldenPeg(peg="14", of_stake=100),
    )  # fmt: skip

    said = read_out(plan)

    assert said[0] == (
        "£10 a head: £2 Peg fees, £4 to the frame, £3 to the sections and £1 to the golden peg."
    )
    assert said[1] == (
        "The frame: 60/25/15% to the first three; from 12 in the pool, 40/30/20/10% to the first "
        "four."
    )
    assert "Super pool, £2, for those who pay into it: all to the first." in said
    assert said[-1] == LAW


def test_what_the_scales_lack_is_named_up_to_eight_pegs() -> None:
    assert weights_missing(["3"], []) == ("Still to weigh: peg 3.",)
    assert weights_missing(["3", "5"], ["7"]) == (
        "Still to weigh: pegs 3 and 5.",
        "Peg 7: two weights, say which one stands.",
    )
    assert weights_missing([str(n) for n in range(1, 10)], []) == (
        "9 pegs still to weigh, the next is 1.",
    )


def test_phones_that_still_hold_weights_are_named() -> None:
    assert phones_missing({"Len’s phone": 1, "Ivy’s phone": 0}) == (
        "Len’s phone has 1 weight still to send.",
    )
