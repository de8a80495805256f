"""Payouts: as they would be, fixed from a version of the result, handed over."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.contrib.auth.models import User
from django.utils import timezone

from league.files.money import (
    plan_as_dict,
    settlement_as_dict,
    settlement_from_dict,
)
from league.models import Handed, Match, PayoutSheet, Result
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.money_account import Account, account_of
from league.operations.score import read
from league.operations.store import add, writing
from league.rules.figures import so_many
from league.rules.pools import Settlement, settle
from league.rules.pools_moved import MoneyMoved, what_moves
from league.rules.pools_pence import pounds
from league.rules.pools_plan import Plan

LATE = "fund:late"


@dataclass(frozen=True, slots=True)
class Payee:
    """Somebody, or something, that money goes to: what is due, and what they have had."""

    key: str
    name: str
    due: int
    handed: int
    prize: bool  # an angler; else a fee, a fund or what is carried
    last: Handed | None = None  # the last time money changed hands

    @property
    def balance(self) -> int:
        """What is still to be handed over; less than nothing has to come back."""
        return self.due - self.handed


@dataclass(frozen=True, slots=True)
class Preview:
    """The payouts as a version of the result gives them."""

    result: Result
    settled: Settlement
    paid: dict[str, frozenset[str]]  # who is in which pool
    juniors: frozenset[str]  # who paid the fees alone and is in none
    late: int  # taken after the payouts were fixed: it goes into no pool
    moved: tuple[MoneyMoved, ...]  # against the sheet in force


def preview(account: Account, *, as_paid_now: bool = False) -> Preview | None:
    """
    The payouts by the newest version of the result; None before one is published.

    Once fixed, who is in the pools stays: money that comes later goes to the fund, so that nobody
    is asked for pence back. *as_paid_now* takes the payments as they stand instead.
    """
    result = Result.objects.of(account.match).first()
    if result is None:
        return None
    sheet, plan = account.sheet, account.plan
    fixed = None if as_paid_now else sheet
    paid, juniors = _who_paid(account, fixed), _out_of_the_pools(account, fixed)
    settled = settle(read(result), plan, paid, juniors=juniors)
    late = _late(account, settled)
    before = payees(account)
    after = _sums(settled, late, plan)
    moved = what_moves(
        {each.key: each.due for each in before},
        {key: due for key, (_, due, _) in after.items()},
        {each.key: each.handed for each in before},
        {each.key: each.name for each in before}
        | {key: name for key, (name, _, _) in after.items()},
    )
    return Preview(result, settled, paid, juniors, late, moved if sheet is not None else ())


def moved_between(before: Result, after: Result) -> tuple[MoneyMoved, ...]:
    """
    Whose sum another version of a result changes, with who is in the pools as it stands now.

    Nothing where no pools are announced.
    """
    account = account_of(after.match)
    if not account.plan.asks:
        return ()
    paid, out = _who_paid(account, account.sheet), _out_of_the_pools(account, account.sheet)
    was, now = (
        _sums(settle(read(each), account.plan, paid, juniors=out), 0, account.plan)
        for each in (before, after)
    )
    return what_moves(
        {key: due for key, (_, due, _) in was.items()},
        {key: due for key, (_, due, _) in now.items()},
        account.had,
        {key: name for sums in (was, now) for key, (name, _, _) in sums.items()},
    )


def payees(account: Account) -> tuple[Payee, ...]:
    """Everybody the sheet in force pays, or who has had money, anglers first."""
    handed = account.had
    last = {each.key: each for each in account.handed}
    sums: dict[str, tuple[str, int, bool]] = {}
    if account.sheet is not None:
        settled = settled_of(account.sheet)
        sums = _sums(settled, _late(account, settled), account.plan)
    found = [
        Payee(key, name, due, handed.get(key, 0), prize, last.get(key))
        for key, (name, due, prize) in sums.items()
    ]
    found += [
        Payee(key, last[key].name, 0, sum_, prize=True, last=last[key])
        for key, sum_ in handed.items()
        if key not in sums and sum_
    ]
    return tuple(sorted(found, key=lambda each: not each.prize))


def settled_of(sheet: PayoutSheet) -> Settlement:
    """The payouts as fixed."""
    return settlement_from_dict(sheet.document["settlement"])


def fix_payouts(
    match: Match,
    *,
    by: User | None,
    correcting: int | None = None,
    as_paid_now: bool = False,
    at: datetime | None = None,
) -> PayoutSheet:
    """
    Fix the payouts of *match* by the newest version of its result, as the next numbered sheet.

    *correcting* is the number of the sheet that was looked at; if another was fixed meanwhile, it
    is refused. Nothing is handed over yet.
    """
    with writing():
        match = Match.objects.locked(match.pk)
        account = account_of(match)
        looked = preview(account, as_paid_now=as_paid_now)
        if looked is None:
            raise RefusedError("The result is not published yet, so nothing can be paid out.")
        if not account.plan.asks:
            raise RefusedError("No pools are announced for this match, so nothing is paid out.")
        number = account.sheet.number if account.sheet else None
        if number != correcting:
            raise RefusedError("The payouts were fixed meanwhile; look again.")
        if account.sheet and account.sheet.result_id == looked.result.pk and not looked.moved:
            raise RefusedError("Nothing has changed since the payouts were fixed.")
        sheet = add(
            PayoutSheet(
                match=match,
                number=(number or 0) + 1,
                result=looked.result,
                document=_document(account, looked),
                by=by,
                at=at or timezone.now(),
            )
        )
        prizes = sum(each.pence for each in looked.settled.prizes)
        write_down(
            f"Payouts {sheet.number} fixed from version {looked.result.version}: "
            f"{pounds(prizes)} to {so_many(len(looked.settled.by_angler()), 'angler')}.",
            by=by,
            club=match.club,
            match=match,
            at=at,
        )
    return sheet


def hand_over(
    match: Match, key: str, pence: int, *, by: User | None, at: datetime | None = None
) -> Handed:
    """
    Hand a payee what is still due, or take back what was too much.

    *pence* is the sum that was looked at: if something moved meanwhile, nothing is handed over.
    """
    with writing():
        match = Match.objects.locked(match.pk)
        account = account_of(match)
        payee = next((each for each in payees(account) if each.key == key), None)
        if payee is None:
            raise RefusedError("Nobody of that name is paid here; look again.")
        if not payee.balance:
            raise RefusedError(f"{payee.name} has had everything; nothing was handed over twice.")
        if payee.balance != pence:
            raise RefusedError(
                f"{payee.name} was down for {pounds(pence)}, and now it is "
                f"{pounds(payee.balance)}. Nothing was handed over; look again."
            )
        return _write_handed(account, payee, payee.balance, by, at or timezone.now())


def take_back(match: Match, key: str, *, by: User | None) -> Handed:
    """Put back into the tin all that a payee has had: pressed for the wrong one, or returned."""
    with writing():
        match = Match.objects.locked(match.pk)
        account = account_of(match)
        payee = next((each for each in payees(account) if each.key == key), None)
        if payee is None or payee.handed <= 0:
            raise RefusedError("Nothing was handed over there, so nothing can come back.")
        return _write_handed(account, payee, -payee.handed, by, timezone.now())


def _sums(settled: Settlement, late: int, plan: Plan) -> dict[str, tuple[str, int, bool]]:
    """Every payee of a settlement by key: name, sum, and whether an angler."""
    found: dict[str, tuple[str, int, bool]] = {}
    for each in settled.outs:
        key = each.key or f"{each.kind}:{each.name}"
        before = found.get(key, ("", 0, False))[1]
        found[key] = (each.name, before + each.pence, bool(each.key))
    if late:
        found[LATE] = (f"{plan.fund}, paid in after the payouts", late, False)
    return found


def _late(account: Account, settled: Settlement) -> int:
    """What came in that *settled* does not share out, or is short of."""
    return account.start - account.plan.brought + account.taken - settled.total


def _document(account: Account, looked: Preview) -> dict[str, Any]:
    return {
        "plan": plan_as_dict(account.plan),
        "paid": {what: sorted(keys) for what, keys in looked.paid.items()},
        "juniors": sorted(looked.juniors),
        "settlement": settlement_as_dict(looked.settled),
    }


def _who_paid(account: Account, sheet: PayoutSheet | None) -> dict[str, frozenset[str]]:
    """Who is in which pool: as the *sheet* has it, else by the payments as they stand."""
    if sheet is None:
        return account.paid_by()
    return {what: frozenset(keys) for what, keys in sheet.document["paid"].items()}


def _out_of_the_pools(account: Account, sheet: PayoutSheet | None) -> frozenset[str]:
    """
    Who is in no pool as a junior: as the *sheet* has them, else those who are or who paid as one.

    A junior who has come of age since, or whose name was taken out, is not paid for afterwards:
    what never came in cannot go out.
    """
    if sheet is not None and "juniors" in sheet.document:
        return frozenset(sheet.document["juniors"])
    found = {due.entry.pk: due.entry for due in account.dues}
    now = frozenset(str(each.angler_id) for each in found.values() if each.angler.junior)
    return now | account.part_payers() if not account.plan.juniors else now


def _write_handed(
    account: Account, payee: Payee, pence: int, by: User | None, at: datetime
) -> Handed:
    if pence > account.tin:
        raise RefusedError(
            f"There is {pounds(account.tin)} in the tin, so {pounds(pence)} cannot come out of it."
        )
    match = account.match
    handed = add(Handed(match=match, key=payee.key, name=payee.name, pence=pence, by=by, at=at))
    if pence < 0:  # what goes out is kept with who and when; what comes back is told besides
        said = f"{pounds(-pence)} came back from {payee.name}."
        write_down(said, by=by, club=match.club, match=match, at=at)
    return handed
