"""From the payouts as fixed to the sheet that is signed."""

from __future__ import annotations

from dataclasses import replace

from django.http import HttpRequest
from django.utils import timezone

from league.models import Match, PayoutSheet
from league.operations.money_account import Account
from league.operations.payouts import payees, settled_of
from league.rules.pools import Settlement
from league.rules.pools_pence import pounds, shortly
from league.rules.pools_words import read_out, say_money, what_said
from league.sheets.payout import PaidLine, SumLine, payout_sheet
from league.web.match_sheets import head_of
from league.web.sentences import moment


def payout_sheet_of(request: HttpRequest, match: Match, account: Account) -> bytes:
    """The payouts in force; the account must have a sheet."""
    sheet = account.sheet
    assert sheet is not None  # noqa: S101 -- for the type checker; the view has looked
    settled = settled_of(sheet)
    handed = {each.key: each.handed for each in payees(account)}
    head = replace(
        head_of(request, match, "payouts", ()),
        headline=f"{pounds(sum(each.pence for each in settled.prizes))} to anglers",
        state="",
        printed="",
        objections=_fixed(sheet),
        notes=(),
    )
    return payout_sheet(
        head,
        _paid(settled, handed),
        came=[
            SumLine(what_said(each.what), f"{each.heads} paid" if each.heads else "",
                    pounds(each.pence))
            for each in settled.came_in
        ],
        others=[
            SumLine(each.name, say_money(each.reason), pounds(each.pence))
            for each in settled.others
        ],
        totals=(pounds(settled.total), pounds(sum(each.pence for each in settled.prizes))),
        reasons=[
            f"{each.name}, {each.pool}: {say_money(each.reason)}"
            for each in settled.prizes
        ],
        pools=read_out(account.plan),
    )  # fmt: skip


def _paid(settled: Settlement, handed: dict[str, int]) -> list[PaidLine]:
    sums: dict[str, list[str]] = {}
    names: dict[str, str] = {}
    for each in settled.prizes:
        names[each.key] = each.name
        sums.setdefault(each.key, []).append(f"{each.pool} {shortly(each.pence)}")
    due = settled.by_angler()
    return [
        PaidLine(
            names[key],
            ", ".join(parts),
            pounds(due[key]),
            had=f"had {pounds(handed[key])}" if handed.get(key) else "",
        )
        for key, parts in sums.items()
    ]


def _fixed(sheet: PayoutSheet) -> str:
    at = timezone.localtime(sheet.at)
    return (
        f"Payouts {sheet.number}, fixed {moment(at)} from version {sheet.result.version} of the "
        "result."
    )
