"""Where the money of a match stands and where its next thing is done: one place for every page."""

from __future__ import annotations

from django.urls import reverse

from league.models import Match
from league.operations.money_account import Account
from league.operations.payouts import Preview, payees
from league.rules.pools_next import MoneyDay, MoneyNext, MoneyTask, next_money
from league.rules.pools_plan import STAKE


def money_next(account: Account, looked: Preview | None) -> MoneyNext:
    """What comes next with the money, from the account and the payouts as they would be."""
    paid_out = payees(account)
    return next_money(
        MoneyDay(
            title=account.match.title,
            asks=account.plan.asks,
            booked=len({due.entry.pk for due in account.dues}),
            paid=sum(due.paid for due in account.dues if due.what == STAKE),
            owe=len(account.outstanding),
            owed=account.owed,
            taken=account.taken,
            version=looked.result.version if looked else 0,
            fixed=account.sheet.result.version if account.sheet else 0,
            moved=len(looked.moved) if looked else 0,
            to_hand=sum(each.prize and each.balance != 0 for each in paid_out),
            tin=account.tin,
            closed=account.closed,
        )
    )


def where(thing: MoneyNext, match: Match) -> str:
    """The address at which the next thing is done."""
    page, anchor = {
        MoneyTask.ANNOUNCE: ("money-pools", ""),
        MoneyTask.TAKE: ("money", "#to-pay"),
        MoneyTask.FIX: ("payouts", ""),
        MoneyTask.HAND: ("payouts", "#hand"),
        MoneyTask.CLOSE: ("money-count", ""),
    }.get(thing.task, ("money", ""))
    return f"{reverse(page, args=[match.pk])}{anchor}"
