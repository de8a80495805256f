"""Payouts fixed, handed over, moved by a correction; the tin counted: never a penny wrong."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from django.contrib.auth.models import User
from django.db.models import Case, When

from league.models import Angler, Club, Match, TinCount
from league.operations.errors import RefusedError
from league.operations.money import announce_pools, set_payment_aside, take
from league.operations.money_account import account_of
from league.operations.payouts import fix_payouts, hand_over, payees, preview, take_back
from league.operations.publish import publish
from league.operations.tin import close
from league.rules.pools_moved import say_money_moved
from league.rules.pools_plan import Plan
from tests.money_scene import PLAN, correct, key, match_with_pools, on_peg, pay


@pytest.fixture
def match(club: Club, sam: User) -> Match:
    """Everybody has paid, and version 1 is published."""
    match = match_with_pools(club, by=sam)
    pay(match, by=sam)
    publish(match, by=sam)
    return match


def due_by_peg(match: Match) -> dict[str, int]:
    """What everybody is due, anglers by peg."""
    pegs = {key(match, number): str(number) for number in range(1, 7)}
    return {pegs.get(each.key, each.name): each.due for each in payees(account_of(match))}


def hand_everybody(match: Match, by: User) -> None:
    for payee in payees(account_of(match)):
        if payee.prize and payee.balance:
            hand_over(match, payee.key, payee.balance, by=by)


def test_the_payouts_are_those_worked_by_hand_and_make_up_what_came_in(
    match: Match, sam: User
) -> None:
    fix_payouts(match, by=sam)

    assert due_by_peg(match) == {
        "1": 1800, "2": 1200, "4": 450, "5": 450, "Peg fees": 1200, "Club fund": 900,
    }  # fmt: skip
    assert sum(due_by_peg(match).values()) == account_of(match).taken == 6000


def test_before_a_result_is_published_nothing_is_paid_out(club: Club, sam: User) -> None:
    match = match_with_pools(club, by=sam)
    pay(match, by=sam)

    assert preview(account_of(match)) is None
    with pytest.raises(RefusedError, match="not published yet"):
        fix_payouts(match, by=sam)


def test_money_is_handed_over_once_and_leaves_the_tin(match: Match, sam: User) -> None:
    fix_payouts(match, by=sam)

    hand_over(match, key(match, 1), 1800, by=sam)

    assert account_of(match).tin == 4200
    last = next(each.last for each in payees(account_of(match)) if each.key == key(match, 1))
    assert last is not None
    assert (last.by, last.pence) == (sam, 1800)
    with pytest.raises(RefusedError, match="nothing was handed over twice"):
        hand_over(match, key(match, 1), 1800, by=sam)


def test_a_sum_that_moved_meanwhile_is_not_handed_over(match: Match, sam: User) -> None:
    fix_payouts(match, by=sam)

    with pytest.raises(RefusedError, match=r"was down for £20\.00, and now it is £18\.00"):
        hand_over(match, key(match, 1), 2000, by=sam)

    assert account_of(match).tin == 6000


def test_a_correction_says_what_moves_in_money_beside_what_was_handed_out(
    match: Match, sam: User
) -> None:
    fix_payouts(match, by=sam)
    hand_everybody(match, sam)
    correct(match, 2, "2-4", by=sam)
    publish(match, by=sam, correcting=1, why="Peg 2 was misread.")

    # Second place in the frame is now level between pegs 4 and 5: £12 is £6 each, so that both
    # leave section B to peg 6 and peg 2 takes section A by default.
    looked = preview(account_of(match))
    assert looked is not None
    said = {say_money_moved(each) for each in looked.moved}
    two, four, six = (on_peg(match, number).angler for number in (2, 4, 6))
    assert f"{two}: £12 becomes £9. £12 was handed over, so £3 has to come back." in said
    assert f"{four}: £4.50 becomes £6. £4.50 was handed over, so £1.50 is still to come." in said
    assert f"{six}: nothing becomes £9. Nothing was handed over yet." in said
    assert due_by_peg(match)["2"] == 1200  # what was fixed stays fixed

    sheet = fix_payouts(match, by=sam, correcting=1)
    hand_everybody(match, sam)

    assert (sheet.number, sheet.result.version) == (2, 2)
    assert due_by_peg(match) == {
        "1": 1800, "2": 900, "4": 600, "5": 600, "6": 900, "Peg fees": 1200,
        }  # fmt: skip
    assert account_of(match).tin == 1200  # the peg fees
    assert close(match, 1200, by=sam).difference == 0


def test_a_tin_that_agrees_is_closed(
    match: Match, sam: User, journal: Callable[[], list[str]]
) -> None:
    fix_payouts(match, by=sam)
    hand_everybody(match, sam)

    close(match, 2100, by=sam)

    assert account_of(match).closed
    assert journal()[-1] == "The tin was counted, £21.00, and the money closed."


def test_a_tin_that_does_not_agree_is_refused_with_the_sum_step_by_step(
    match: Match, sam: User
) -> None:
    fix_payouts(match, by=sam)
    hand_everybody(match, sam)

    with pytest.raises(RefusedError) as refused:
        close(match, 2000, by=sam)

    assert str(refused.value).startswith(
        "The tin was counted at £20.00, and the lines come to £21.00: £60.00 paid in; £39.00 "
        "handed over. £1.00 short."
    )
    assert not TinCount.objects.exists()


def test_or_it_is_closed_with_why_and_the_difference_stands(match: Match, sam: User) -> None:
    fix_payouts(match, by=sam)
    hand_everybody(match, sam)

    count = close(match, 2000, why="A pound rolled into the lake.", by=sam)

    assert (count.expected, count.counted, count.difference) == (2100, 2000, -100)
    assert count.why == "A pound rolled into the lake."


def test_before_the_payouts_are_fixed_nothing_is_closed(match: Match, sam: User) -> None:
    with pytest.raises(RefusedError, match="not fixed yet"):
        close(match, 6000, by=sam)


def test_after_a_correction_the_old_payouts_close_nothing(match: Match, sam: User) -> None:
    fix_payouts(match, by=sam)
    correct(match, 2, "2-4", by=sam)
    publish(match, by=sam, correcting=1, why="Peg 2 was misread.")

    with pytest.raises(RefusedError, match="Version 2 of the result was published after"):
        close(match, 6000, by=sam)


def test_money_that_comes_after_the_payouts_moves_nobodys(club: Club, sam: User) -> None:
    match = match_with_pools(club, by=sam)
    pay(match, 1, 2, 3, 4, 5, by=sam)
    publish(match, by=sam)
    fix_payouts(match, by=sam)
    before = due_by_peg(match)

    take(on_peg(match, 6), by=sam)

    late = due_by_peg(match)
    assert {who: late[who] for who in before} == before
    assert late["Club fund, paid in after the payouts"] == 1000
    assert sum(late.values()) == account_of(match).taken == 6000
    assert close(match, 6000, by=sam).difference == 0


def test_a_payment_set_aside_after_the_payouts_has_them_fixed_again(
    match: Match, sam: User
) -> None:
    fix_payouts(match, by=sam)
    payment = account_of(match).dues[5].payment
    assert payment is not None
    set_payment_aside(payment, "Peg 6 never paid.", by=sam)

    with pytest.raises(RefusedError, match="less came in than goes out"):
        close(match, 5000, by=sam)
    fix_payouts(match, by=sam, correcting=1, as_paid_now=True)

    assert sum(due_by_peg(match).values()) == account_of(match).taken == 5000


def test_no_more_is_paid_out_than_came_in_where_a_junior_comes_of_age(
    club: Club, sam: User
) -> None:
    match = match_with_pools(club, by=sam)
    junior = on_peg(match, 6).angler
    Angler.objects.filter(pk=junior.pk).update(junior=True)
    pay(match, by=sam)
    Angler.objects.filter(pk=junior.pk).update(junior=False)
    publish(match, by=sam)

    fix_payouts(match, by=sam)

    # Five stakes of £10 and fees of £2: of the frame's £25 pegs 1 and 2 take £15 and £10.
    assert account_of(match).taken == 5200
    assert sum(due_by_peg(match).values()) == 5200
    assert (due_by_peg(match)["1"], due_by_peg(match)["2"]) == (1500, 1000)


def test_a_birthday_after_the_payouts_moves_nobodys_money(club: Club, sam: User) -> None:
    match = match_with_pools(club, by=sam)
    junior = on_peg(match, 6).angler
    Angler.objects.filter(pk=junior.pk).update(junior=True)
    pay(match, 1, 2, 3, 4, 5, by=sam)
    publish(match, by=sam)
    fix_payouts(match, by=sam)

    Angler.objects.filter(pk__in=[junior.pk, on_peg(match, 1).angler_id]).update(
        junior=Case(When(pk=junior.pk, then=False), default=True)
    )

    looked = preview(account_of(match))
    assert looked is not None
    assert looked.moved == ()


def test_after_the_tin_moves_it_is_open_again(match: Match, sam: User) -> None:
    fix_payouts(match, by=sam)
    close(match, 6000, by=sam)

    hand_over(match, key(match, 1), 1800, by=sam)

    assert not account_of(match).closed
    assert close(match, 4200, by=sam).difference == 0


def test_what_was_handed_to_the_wrong_one_comes_back(
    match: Match, sam: User, journal: Callable[[], list[str]]
) -> None:
    fix_payouts(match, by=sam)
    hand_over(match, key(match, 1), 1800, by=sam)

    take_back(match, key(match, 1), by=sam)

    assert account_of(match).tin == 6000
    assert journal()[-1] == f"£18.00 came back from {on_peg(match, 1).angler}."
    with pytest.raises(RefusedError, match="nothing can come back"):
        take_back(match, key(match, 1), by=sam)


def test_no_more_comes_out_of_the_tin_than_lies_in_it(match: Match, sam: User) -> None:
    fix_payouts(match, by=sam)
    hand_everybody(match, sam)
    for payee in payees(account_of(match)):
        if payee.balance:
            hand_over(match, payee.key, payee.balance, by=sam)
    payment = account_of(match).dues[2].payment
    assert payment is not None

    with pytest.raises(RefusedError, match=r"There is £0\.00 in the tin"):
        set_payment_aside(payment, "Wants it back.", by=sam)


def test_change_brought_along_is_in_the_tin_and_in_no_pool(club: Club, sam: User) -> None:
    match = match_with_pools(club, by=sam, plan=replace(PLAN, brought=2000))
    pay(match, by=sam)
    publish(match, by=sam)
    fix_payouts(match, by=sam)

    assert sum(due_by_peg(match).values()) == 6000
    assert account_of(match).tin == 8000


def test_the_same_payouts_are_not_fixed_twice(match: Match, sam: User) -> None:
    fix_payouts(match, by=sam)

    with pytest.raises(RefusedError, match="Nothing has changed"):
        fix_payouts(match, by=sam, correcting=1)
    with pytest.raises(RefusedError, match="fixed meanwhile"):
        fix_payouts(match, by=sam)


def test_pools_do_not_change_once_the_payouts_are_fixed(match: Match, sam: User) -> None:
    fix_payouts(match, by=sam)

    with pytest.raises(RefusedError, match="cannot be changed afterwards"):
        announce_pools(match, Plan(stake=1000, frame=1000), by=sam)
