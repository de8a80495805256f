"""The payouts of a match: as they would be, what moves, fixed, handed over, on paper."""

from __future__ import annotations

from dataclasses import dataclass

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from league.operations.errors import RefusedError
from league.operations.money_account import account_of
from league.operations.payouts import (
    fix_payouts,
    hand_over,
    payees,
    preview,
    settled_of,
    take_back,
)
from league.rules.pools_moved import say_money_moved
from league.rules.pools_pence import pounds, shortly
from league.rules.pools_shares import Payout
from league.rules.pools_words import LAW, say_money, what_said
from league.web import downloads
from league.web.access import SEES_THE_MONEY, for_officers, match_with_money
from league.web.context import at_club
from league.web.money_tasks import money_next
from league.web.payout_sheets import payout_sheet_of


@dataclass(frozen=True, slots=True)
class Said:
    """One sum with its reason in words."""

    out: Payout
    sum: str
    why: str


@for_officers(*SEES_THE_MONEY)
@require_safe
def payouts(request: HttpRequest, match_id: int) -> HttpResponse:
    """Every sum with its reason; what a corrected result moves; what is still to be handed over."""
    match = match_with_money(request.user, match_id)
    at_club(request, match.club)
    account = account_of(match)
    looked = preview(account)
    sheet = account.sheet
    settled = settled_of(sheet) if sheet else looked.settled if looked else None
    now = preview(account, as_paid_now=True) if sheet else None
    context = {
        "match": match,
        "account": account,
        "looked": looked,
        "sheet": sheet,
        "thing": money_next(account, looked),
        "settled": settled,
        "prizes": [_said(each) for each in settled.prizes] if settled else [],
        "others": [_said(each) for each in settled.others] if settled else [],
        "came": [(what_said(each.what), each.heads, pounds(each.pence))
                 for each in settled.came_in] if settled else [],
        "total": pounds(settled.total) if settled else "",
        "prize_total": pounds(sum(each.pence for each in settled.prizes)) if settled else "",
        "moved": [say_money_moved(each) for each in looked.moved] if looked else [],
        "as_paid": bool(now and looked and now.settled != looked.settled),
        "late": looked.late if looked and sheet else 0,
        "hands": [(each, shortly(abs(each.balance)), shortly(each.handed))
                  for each in payees(account)
                  if not each.key.startswith("carried:")] if sheet else [],
        "law": LAW,
    }  # fmt: skip
    return render(request, "money/payouts.html", context)


@for_officers(*SEES_THE_MONEY)
@require_POST
def fix(request: HttpRequest, match_id: int) -> HttpResponse:
    """Fix the payouts from the newest version of the result."""
    match = match_with_money(request.user, match_id)
    number = request.POST.get("correcting", "")
    try:
        sheet = fix_payouts(
            match,
            by=request.user,
            correcting=int(number) if number.isdecimal() and len(number) < 6 else None,
            as_paid_now=request.POST.get("as_paid") == "1",
        )
    except RefusedError as refused:
        messages.error(request, str(refused))
    else:
        messages.success(
            request, f"The payouts are fixed from version {sheet.result.version} of the result."
        )
    return redirect("payouts", match.pk)


@for_officers(*SEES_THE_MONEY)
@require_POST
def hand(request: HttpRequest, match_id: int) -> HttpResponse:
    """Hand somebody their money, take back what was too much, or put all of it back."""
    match = match_with_money(request.user, match_id)
    key, typed = request.POST.get("key", "")[:80], request.POST.get("pence", "")
    try:
        if request.POST.get("back") == "1":
            handed = take_back(match, key, by=request.user)
        else:
            handed = hand_over(match, key, _whole(typed), by=request.user)
    except RefusedError as refused:
        messages.error(request, str(refused))
    else:
        said = "handed over to" if handed.pence > 0 else "came back from"
        messages.success(request, f"{shortly(abs(handed.pence))} {said} {handed.name}.")
    return redirect(f"{request.path.removesuffix('hand/')}#hand")


@for_officers(*SEES_THE_MONEY)
@require_safe
def sheet(request: HttpRequest, match_id: int) -> HttpResponse:
    """The payouts as fixed, on paper, with a line to sign on for each."""
    match = match_with_money(request.user, match_id)
    account = account_of(match)
    if account.sheet is None:
        raise Http404("The payouts are not fixed yet.")
    name = f"{match.date.isoformat()} {match.title} payouts {account.sheet.number}"
    return downloads.pdf_file(name, payout_sheet_of(request, match, account))


def _said(out: Payout) -> Said:
    return Said(out, pounds(out.pence), say_money(out.reason))


def _whole(typed: str) -> int:
    """The sum that stood on the button; 0 where it is none, which is then refused in words."""
    sign = -1 if typed.startswith("-") else 1
    digits = typed.removeprefix("-")
    return sign * int(digits) if digits.isdecimal() and len(digits) < 9 else 0
