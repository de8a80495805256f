"""The money of a match on one screen: who has paid, who owes, what lies in the tin."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from league.models import Entry, Payment
from league.operations.errors import RefusedError
from league.operations.money import (
    announce_for_season,
    announce_pools,
    put_off,
    set_payment_aside,
    take,
)
from league.operations.money_account import Account, Due, account_of, plan_of_season
from league.operations.payouts import payees, preview
from league.operations.tin import close
from league.rules.pools_pence import shortly
from league.rules.pools_plan import STAKE
from league.rules.pools_words import LAW, read_out
from league.sheets.pegs import by_surname
from league.web.access import (
    SEES_THE_MONEY,
    for_officers,
    match_with_money,
    season_with_money,
)
from league.web.context import at_club
from league.web.forms.money import AsideForm, CloseForm, PlanForm
from league.web.forms.publish import slips
from league.web.money_tasks import money_next, where
from league.web.sentences import short_day


@dataclass(frozen=True, slots=True)
class Payer:
    """One angler's line: the stake, and what may be paid beside it."""

    entry: Entry
    stake: Due
    extras: tuple[Due, ...]


@for_officers(*SEES_THE_MONEY)
@require_safe
def money(request: HttpRequest, match_id: int) -> HttpResponse:
    """Who has paid and who owes; one press as each of them pays."""
    match = match_with_money(request.user, match_id)
    at_club(request, match.club)
    account = account_of(match)
    thing = money_next(account, preview(account))
    payers = _payers(account)
    context = {
        "match": match,
        "account": account,
        "thing": thing,
        "where": where(thing, match),
        "to_pay": [each for each in payers if each.stake.pence and not each.stake.paid],
        "paid": [each for each in payers if each.stake.paid or not each.stake.pence],
        "paid_stakes": sum(each.stake.paid for each in payers),
        "said": read_out(account.plan),
        "may_change": account.sheet is None,
    }
    return render(request, "money/money.html", context)


@for_officers(*SEES_THE_MONEY)
@require_POST
def take_one(request: HttpRequest, match_id: int, entry_id: int) -> HttpResponse:
    """One press as an angler pays."""
    return _press(request, match_id, entry_id, "paid", take)


@for_officers(*SEES_THE_MONEY)
@require_POST
def owe_one(request: HttpRequest, match_id: int, entry_id: int) -> HttpResponse:
    """One press where an angler pays later."""
    return _press(request, match_id, entry_id, "down as owing", put_off)


def _press(
    request: HttpRequest, match_id: int, entry_id: int, said: str, act: Callable[..., Payment]
) -> HttpResponse:
    match = match_with_money(request.user, match_id)
    entry = get_object_or_404(Entry.objects.of(match).with_names(), pk=entry_id)
    try:
        payment = act(entry, request.POST.get("what", STAKE)[:60], by=request.user)
    except RefusedError as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"{entry.angler}: {shortly(payment.pence)} {said}.")
    return redirect(f"{reverse('money', args=[match.pk])}#to-pay")


@for_officers(*SEES_THE_MONEY)
@require_http_methods(["GET", "HEAD", "POST"])
def aside(request: HttpRequest, match_id: int, payment_id: int) -> HttpResponse:
    """Let a payment stand no longer, with why."""
    match = match_with_money(request.user, match_id)
    at_club(request, match.club)
    payment = get_object_or_404(Payment.objects.in_force(match), pk=payment_id)
    form = AsideForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            set_payment_aside(payment, form.cleaned_data["why"], by=request.user)
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            messages.success(request, f"{payment.entry.angler}: the payment is set aside.")
            return redirect("money", match.pk)
    return render(request, "money/aside.html", {"match": match, "payment": payment, "form": form})


@for_officers(*SEES_THE_MONEY)
@require_http_methods(["GET", "HEAD", "POST"])
def pools(request: HttpRequest, match_id: int) -> HttpResponse:
    """What the match asks and how it is paid out."""
    match = match_with_money(request.user, match_id)
    at_club(request, match.club)
    account = account_of(match)
    form = PlanForm(request.POST or None, plan=account.plan)
    if request.method == "POST" and form.is_valid():
        try:
            announce_pools(match, form.plan, by=request.user)
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            messages.success(request, "The pools are announced.")
            return redirect("money", match.pk)
    context = {
        "match": match,
        "title": f"{match.title}, {match.water.name}, {short_day(match.date)}",
        "form": form,
        "back": reverse("money", args=[match.pk]),
        "law": LAW,
        "fixed": account.sheet is not None,
        "note": "These are the season’s. Saved here, they are this match’s own."
        if account.inherited and account.plan.asks
        else "",
    }
    return render(request, "money/pools.html", context)


@for_officers(*SEES_THE_MONEY)
@require_http_methods(["GET", "HEAD", "POST"])
def season_pools(request: HttpRequest, season_id: int) -> HttpResponse:
    """What every round of a season asks that has no pools of its own."""
    season = season_with_money(request.user, season_id)
    at_club(request, season.league.club)
    form = PlanForm(request.POST or None, plan=plan_of_season(season))
    if request.method == "POST" and form.is_valid():
        try:
            announce_for_season(season, form.plan, by=request.user)
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            messages.success(request, "The pools are announced for the season.")
            return redirect("season-money", season.pk)
    context = {
        "title": str(season),
        "form": form,
        "back": reverse("season-money", args=[season.pk]),
        "law": LAW,
        "note": "They hold for every round that has none of its own. A round somebody has paid "
        "for keeps what was announced then.",
    }
    return render(request, "money/pools.html", context)


@for_officers(*SEES_THE_MONEY)
@require_http_methods(["GET", "HEAD", "POST"])
def count(request: HttpRequest, match_id: int) -> HttpResponse:
    """Count the tin and close the money of the match."""
    match = match_with_money(request.user, match_id)
    at_club(request, match.club)
    form = CloseForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            close(match, form.cleaned_data["counted"], why=form.cleaned_data["why"],
                  by=request.user)  # fmt: skip
        except RefusedError as refused:
            form.add_error(None, slips(refused))
        else:
            messages.success(request, "The money of the match is closed.")
            return redirect("money", match.pk)
    account = account_of(match)
    left = [each for each in payees(account) if each.prize and each.balance]
    return render(
        request,
        "money/count.html",
        {"match": match, "account": account, "form": form, "left": left},
    )


def _payers(account: Account) -> list[Payer]:
    dues: dict[int, list[Due]] = {}
    for due in account.dues:
        dues.setdefault(due.entry.pk, []).append(due)
    found = [
        Payer(each[0].entry, each[0], tuple(due for due in each[1:] if due.pence))
        for each in dues.values()
    ]
    return sorted(found, key=lambda each: by_surname(each.entry.angler.shown_name))
