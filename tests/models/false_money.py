"""False things about money, each with the words in which it is refused."""

from __future__ import annotations

import datetime as dt

from django.db import models

from league.models import (
    Club,
    Handed,
    Payment,
    PaymentSetAside,
    PayoutSheet,
    Pools,
    Result,
    TinCount,
)
from tests.builders import make_entry, make_match

NOW = dt.datetime(2027, 1, 24, 16, tzinfo=dt.UTC)


def a_payment_is_something(club: Club) -> models.Model:
    entry = make_entry(make_match(club), peg=1)
    return Payment(match=entry.match, entry=entry, what="stake", pence=0, at=NOW)


def a_payment_set_aside_says_why(club: Club) -> models.Model:
    entry = make_entry(make_match(club), peg=1)
    payment = Payment.objects.create(
        match=entry.match, entry=entry, what="stake", pence=1000, at=NOW
    )
    return PaymentSetAside(payment=payment, why="", at=NOW)


def one_payout_sheet_a_number(club: Club) -> models.Model:
    match = make_match(club)
    result = Result.objects.create(
        match=match, version=1, document={}, headline="Ana wins", published_at=NOW
    )
    values = {"match": match, "number": 1, "result": result, "document": {"a": 1}, "at": NOW}
    PayoutSheet.objects.create(**values)
    return PayoutSheet(**values)


def pools_of_a_season_or_a_match(club: Club) -> models.Model:
    return Pools(plan={}, at=NOW)


def handed_over_is_something(club: Club) -> models.Model:
    return Handed(match=make_match(club), key="1", name="Ana", pence=0, at=NOW)


def a_tin_that_differs_says_why(club: Club) -> models.Model:
    return TinCount(match=make_match(club), counted=2000, expected=2100, at=NOW)


FALSE_MONEY = [
    (a_payment_is_something, "There is nothing to pay here."),
    (a_payment_set_aside_says_why, "Say why: it stands in the account."),
    (one_payout_sheet_a_number, "The payouts were fixed meanwhile; look again."),
    (pools_of_a_season_or_a_match, "Pools belong to a season or to a match."),
    (handed_over_is_something, "There is nothing to hand over."),
    (a_tin_that_differs_says_why, "The tin and the lines differ: say why."),
]
