"""Acts on the money of a match: announce its pools, take a payment, put it off, set it aside."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.contrib.auth.models import User
from django.utils import timezone

from league.files.money import plan_as_dict
from league.models import Entry, Match, Payment, PaymentKind, PaymentSetAside, Pools, Season, Stage
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.money_account import (
    FOLLOWS,
    Account,
    account_of,
    plan_of,
    plan_of_season,
)
from league.operations.store import add, writing
from league.rules.errors import RuleError
from league.rules.pools_pence import pounds, shortly
from league.rules.pools_plan import STAKE, Plan, checked
from league.rules.pools_words import what_said


def announce_pools(match: Match, plan: Plan, *, by: User | None) -> Pools:
    """
    Say what *match* asks and how it is paid out.

    Refused once money has been taken that would then be another sum, and once the payouts are
    fixed: what was announced before an angler paid is what is paid.
    """
    _adds_up(plan)
    with writing():
        match = Match.objects.locked(match.pk)
        account = account_of(match)
        _may_be_announced(account, plan)
        if account.count or account.sheet:
            raise RefusedError(
                "The payouts of this match are fixed by the pools as announced. They cannot be "
                "changed afterwards."
            )
        pools = _keep(plan, by=by, match=match)
        write_down(f"Pools announced: {shortly_said(plan)}", by=by, club=match.club, match=match)
    return pools


def announce_for_season(season: Season, plan: Plan, *, by: User | None) -> Pools:
    """
    Say what every round of *season* asks that has no pools of its own.

    A round for which money has been taken keeps what was announced when it was paid.
    """
    _adds_up(plan)
    with writing():
        season = Season.objects.locked(season.pk)
        # Held, so that nobody pays by the old pools between the look and the act.
        Match.objects.rounds_of(season).held()
        old = plan_of_season(season)
        for match in Match.objects.rounds_of(season).with_money():
            pools = Pools.objects.of_match(match)
            if pools is not None and pools.match_id is None:
                _keep(old, by=by, match=match, more={FOLLOWS: True})
        pools = _keep(plan, by=by, season=season)
        write_down(
            f"Pools announced for {season}: {shortly_said(plan)}", by=by, club=season.league.club
        )
    return pools


def take(
    entry: Entry, what: str = STAKE, *, by: User | None, at: datetime | None = None
) -> Payment:
    """Take an angler's money for *what*; one who owed it owes it no more."""
    return _write_payment(entry, what, PaymentKind.PAID, by, at)


def put_off(
    entry: Entry, what: str = STAKE, *, by: User | None, at: datetime | None = None
) -> Payment:
    """Write down that an angler owes the money for *what*: they are in no pool until it comes."""
    return _write_payment(entry, what, PaymentKind.OWED, by, at)


def set_payment_aside(payment: Payment, why: str, *, by: User | None) -> PaymentSetAside:
    """Let a payment stand no longer: pressed for the wrong angler, or given back."""
    if not why.strip():
        raise RefusedError("Say why: it stands in the account.")
    with writing():
        Match.objects.locked(payment.match_id)  # the tin is the match's: one hand in it at a time
        entry = Entry.objects.locked(payment.entry_id)
        standing = Payment.objects.about(entry, payment.what)
        if standing is None or standing.pk != payment.pk:
            raise RefusedError("That payment was set aside meanwhile; look again.")
        account = account_of(entry.match)
        if payment.kind == PaymentKind.PAID and payment.pence > account.tin:
            raise RefusedError(
                f"There is {pounds(account.tin)} in the tin, so {pounds(payment.pence)} cannot be "
                "given back out of it."
            )
        aside = add(PaymentSetAside(payment=payment, why=why.strip(), by=by, at=timezone.now()))
        write_down(
            f"{entry.angler}: {what_of(payment.what)}, {pounds(payment.pence)} "
            f"{payment.get_kind_display().lower()}, set aside. {why.strip()}",
            by=by,
            club=entry.match.club,
            match=entry.match,
        )
    return aside


def what_of(what: str) -> str:
    """What money is for, inside a sentence: stake, or the optional pool's own name."""
    return "stake" if what == STAKE else what


def shortly_said(plan: Plan) -> str:
    """The pools in a few words, for the journal."""
    if not plan.asks:
        return "nothing to pay."
    parts = [f"{shortly(plan.stake)} a head"] if plan.stake else []
    parts += [f"{shortly(fee.each)} {fee.name}" for fee in plan.fees]
    for each, name, split in (
        (plan.frame, "frame", plan.frame_split),
        (plan.section, "sections", plan.section_split),
        (plan.team, "teams", plan.team_split),
    ):
        if each:
            parts.append(f"{shortly(each)} {name} {split}")
    parts += [f"{what_said(name)} {shortly(pence)}" for name, pence in plan.extras.items()]
    return f"{'; '.join(parts)}."


def _write_payment(
    entry: Entry, what: str, kind: PaymentKind, by: User | None, at: datetime | None
) -> Payment:
    # No line in the journal: each payment is kept with who, where and when, as a weigh-in is.
    now = at or timezone.now()
    with writing():
        # The match first: what it asks does not change between the look and the act.
        match = Match.objects.locked(entry.match_id)
        entry = Entry.objects.locked(entry.pk)
        if match.stage == Stage.CANCELLED:
            raise RefusedError("The match is cancelled: nobody pays. Give back what was taken.")
        if entry.withdrawn_at:
            raise RefusedError(f"{entry.angler} has withdrawn, so there is nothing to pay.")
        pence = plan_of(match).due(what, junior=entry.angler.junior)
        if not pence:
            raise RefusedError(f"{entry.angler} has nothing to pay for {what_of(what)}.")
        standing = Payment.objects.about(entry, what)
        if standing and standing.kind == PaymentKind.PAID:
            raise RefusedError(f"{entry.angler} has paid already; nothing was taken twice.")
        if standing and standing.kind == kind:
            raise RefusedError(f"{entry.angler} is down as owing already.")
        if standing:
            why = "Paid." if kind == PaymentKind.PAID else "Owed."
            add(PaymentSetAside(payment=standing, why=why, by=by, at=now))
        return add(
            Payment(match=match, entry=entry, what=what, kind=kind, pence=pence, by=by, at=now)
        )


def _adds_up(plan: Plan) -> None:
    try:
        checked(plan)
    except RuleError as error:
        raise RefusedError(str(error)) from error


def _may_be_announced(account: Account, plan: Plan) -> None:
    moved = [
        due
        for due in account.dues
        if due.payment and due.payment.pence != plan.due(due.what, junior=due.entry.angler.junior)
    ]
    if moved:
        first = moved[0]
        raise RefusedError(
            f"Money has been taken by what was announced: {first.entry.angler} has "
            f"{pounds(first.payment.pence if first.payment else 0)} down, {what_of(first.what)}. "
            "How the pools are shared can still be changed, but what an angler pays cannot, unless "
            "those payments are set aside first."
        )


def _keep(
    plan: Plan,
    *,
    by: User | None,
    match: Match | None = None,
    season: Season | None = None,
    more: Mapping[str, Any] | None = None,
) -> Pools:
    kept, _ = Pools.objects.update_or_create(
        match=match,
        season=season,
        defaults={"plan": {**plan_as_dict(plan), **(more or {})}, "by": by, "at": timezone.now()},
    )
    return kept
