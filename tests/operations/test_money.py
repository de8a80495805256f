"""Stakes are announced, taken, owed and set aside, and the account adds up at every step."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import replace

import pytest
from django.contrib.auth.models import User

from league.models import Club, Match, Payment
from league.operations.errors import RefusedError
from league.operations.lineup import withdraw
from league.operations.money import (
    announce_for_season,
    announce_pools,
    put_off,
    set_payment_aside,
    take,
)
from league.operations.money_account import account_of, carried_into, plan_of
from league.operations.payouts import fix_payouts
from league.operations.publish import publish
from league.rules.pools_plan import GoldenPeg, OptionalPool, Plan
from tests.builders import make_entry, make_fished_match, make_match, make_season
from tests.factories import AnglerFactory
from tests.money_scene import PLAN, WEIGHTS, match_with_pools, on_peg, pay


@pytest.fixture
def match(club: Club, sam: User) -> Match:
    return match_with_pools(club, by=sam)


def test_a_stake_is_taken_with_by_whom_and_lies_in_the_tin(match: Match, sam: User) -> None:
    payment = take(on_peg(match, 1), by=sam)

    account = account_of(match)
    assert (payment.pence, payment.by, account.taken, account.tin) == (1000, sam, 1000, 1000)
    assert [due.paid for due in account.dues] == [True, *[False] * 5]
    assert account.owed == 5000


def test_a_second_press_takes_nothing_twice(match: Match, sam: User) -> None:
    take(on_peg(match, 1), by=sam)

    with pytest.raises(RefusedError, match="has paid already; nothing was taken twice"):
        take(on_peg(match, 1), by=sam)

    assert account_of(match).taken == 1000


def test_who_owes_brings_nothing_into_the_tin_until_they_pay(match: Match, sam: User) -> None:
    put_off(on_peg(match, 2), by=sam)
    owing = account_of(match)
    take(on_peg(match, 2), by=sam)
    paid = account_of(match)

    assert (owing.tin, owing.dues[1].owed, owing.dues[1].paid) == (0, True, False)
    assert (paid.tin, paid.dues[1].owed, paid.dues[1].paid) == (1000, False, True)
    assert Payment.objects.all_of(match).count() == 2  # both lines are kept


def test_a_payment_set_aside_is_kept_with_why_and_leaves_the_tin(
    match: Match, sam: User, journal: Callable[[], list[str]]
) -> None:
    payment = take(on_peg(match, 3), by=sam)

    set_payment_aside(payment, "Pressed for the wrong one.", by=sam)

    assert account_of(match).tin == 0
    assert [line.set_aside.why for line in Payment.objects.all_of(match)] == [
        "Pressed for the wrong one."
    ]
    assert journal()[-1].endswith("£10.00 paid, set aside. Pressed for the wrong one.")
    with pytest.raises(RefusedError, match="set aside meanwhile"):
        set_payment_aside(payment, "Again.", by=sam)
    take(on_peg(match, 3), by=sam)
    assert account_of(match).tin == 1000


def test_without_a_reason_no_payment_is_set_aside(match: Match, sam: User) -> None:
    payment = take(on_peg(match, 3), by=sam)

    with pytest.raises(RefusedError, match="Say why"):
        set_payment_aside(payment, "  ", by=sam)

    assert account_of(match).taken == 1000


def test_what_an_angler_pays_cannot_change_once_money_is_taken(match: Match, sam: User) -> None:
    take(on_peg(match, 1), by=sam)

    with pytest.raises(RefusedError, match=r"has £10\.00 down, stake"):
        announce_pools(match, Plan(stake=1200, frame=1200), by=sam)
    announce_pools(match, replace(PLAN, frame=700, section=100), by=sam)

    assert plan_of(match).frame == 700


def test_pools_that_do_not_add_up_are_refused_and_nothing_changes(match: Match, sam: User) -> None:
    with pytest.raises(RefusedError, match=r"come to £9\.00, and the stake is £10\.00"):
        announce_pools(match, Plan(stake=1000, frame=900), by=sam)

    assert plan_of(match) == PLAN


def test_a_round_takes_its_seasons_pools_unless_it_has_its_own(club: Club, sam: User) -> None:
    season = make_season(club)
    first, second = make_match(season=season), make_match(season=season)
    announce_for_season(season, PLAN, by=sam)
    own = Plan(stake=500, frame=500)
    announce_pools(second, own, by=sam)

    assert (plan_of(first), account_of(first).inherited) == (PLAN, True)
    assert (plan_of(second), account_of(second).inherited) == (own, False)


def test_a_round_already_paid_for_keeps_what_was_announced(club: Club, sam: User) -> None:
    season = make_season(club)
    paid_for, to_come = make_match(season=season), make_match(season=season)
    announce_for_season(season, PLAN, by=sam)
    take(make_entry(paid_for, peg=1), by=sam)

    announce_for_season(season, Plan(stake=2000, frame=2000), by=sam)

    assert plan_of(paid_for) == PLAN
    assert plan_of(to_come).stake == 2000


def test_a_junior_pays_the_fees_alone(match: Match, sam: User) -> None:
    junior = make_entry(match, angler=AnglerFactory(club=match.club, junior=True))

    assert take(junior, by=sam).pence == 200


def test_a_junior_has_no_optional_pool_to_pay_for(club: Club, sam: User) -> None:
    plan = replace(PLAN, optional=(OptionalPool("Super pool", 200),))
    match = match_with_pools(club, by=sam, plan=plan)
    junior = make_entry(match, angler=AnglerFactory(club=club, junior=True))

    with pytest.raises(RefusedError, match="nothing to pay for Super pool"):
        take(junior, "Super pool", by=sam)

    assert take(on_peg(match, 1), "Super pool", by=sam).pence == 200


def test_who_withdrew_after_paying_stays_in_the_account_until_given_back(
    club: Club, sam: User
) -> None:
    match = make_match(club, drawn=False)
    announce_pools(match, PLAN, by=sam)
    entry = make_entry(match)
    payment = take(entry, by=sam)
    withdraw(entry, by=sam)

    still = account_of(match)
    set_payment_aside(payment, "Withdrew: given back.", by=sam)

    assert [due.entry for due in still.dues] == [entry]
    assert (still.tin, account_of(match).tin, account_of(match).dues) == (1000, 0, ())


def test_the_golden_peg_that_was_not_won_is_carried_into_the_next_round(
    club: Club, sam: User
) -> None:
    season = make_season(club)
    first = make_fished_match(season=season, weights=WEIGHTS, date=dt.date(2027, 1, 3))
    second = make_match(season=season, date=dt.date(2027, 1, 10))
    plan = Plan(stake=100, golden=GoldenPeg(of_stake=100, peg="3"))
    announce_for_season(season, plan, by=sam)
    pay(first, by=sam)
    publish(first, by=sam)
    fix_payouts(first, by=sam)

    assert carried_into(second) == 600
    assert account_of(second).tin == 600
    golden = plan_of(second).golden
    assert golden is not None
    assert golden.carried == 600


def test_the_golden_pegs_fund_waits_through_a_round_without_one(club: Club, sam: User) -> None:
    season = make_season(club)
    days = [dt.date(2027, 1, day) for day in (3, 10, 17)]
    first, between = (
        make_fished_match(season=season, weights=WEIGHTS, date=day) for day in days[:2]
    )
    third = make_match(season=season, date=days[2])
    announce_for_season(season, Plan(stake=100, golden=GoldenPeg(of_stake=100, peg="3")), by=sam)
    announce_pools(between, Plan(stake=500, frame=500), by=sam)
    for match in (first, between):
        pay(match, by=sam)
        publish(match, by=sam)
        fix_payouts(match, by=sam)

    assert carried_into(third) == 600


def test_a_round_paid_for_beforehand_still_takes_the_golden_pegs_fund_over(
    club: Club, sam: User
) -> None:
    season = make_season(club)
    first = make_fished_match(season=season, weights=WEIGHTS, date=dt.date(2027, 1, 3))
    second = make_match(season=season, date=dt.date(2027, 1, 10))
    plan = Plan(stake=100, golden=GoldenPeg(of_stake=100, peg="3"))
    announce_for_season(season, plan, by=sam)
    take(make_entry(second, peg=1), by=sam)
    pay(first, by=sam)

    announce_for_season(season, Plan(stake=200, golden=GoldenPeg(of_stake=200)), by=sam)
    publish(first, by=sam)
    fix_payouts(first, by=sam)

    golden = plan_of(second).golden
    assert golden is not None
    assert (plan_of(second).stake, golden.carried) == (100, 600)


def test_an_account_asks_as_often_for_thirty_as_for_three(
    club: Club, sam: User, django_assert_num_queries: Callable[..., object]
) -> None:
    few = make_match(club, sections={"A": 3})
    many = make_match(club, sections={"A": 30})
    for match in (few, many):
        announce_pools(match, PLAN, by=sam)
        for peg in match.match_pegs.select_related("peg"):
            take(make_entry(match, peg=peg.peg.number), by=sam)

    for match in (few, many):
        # pools, sheet, payments, entries, handed, count
        with django_assert_num_queries(6):
            account_of(match)
