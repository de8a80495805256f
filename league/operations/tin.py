"""The tin counted, and the money of a match closed with what lies in it."""

from __future__ import annotations

from datetime import datetime

from django.contrib.auth.models import User
from django.utils import timezone

from league.models import Match, Result, Stage, TinCount
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.money_account import Account, account_of
from league.operations.payouts import LATE, payees
from league.operations.store import add, writing
from league.rules.pools_pence import pounds


def close(
    match: Match, counted: int, *, why: str = "", by: User | None, at: datetime | None = None
) -> TinCount:
    """
    Close the money of *match* with the tin as counted.

    Refused while the payouts are not those of the result in force, and where the tin differs from
    the lines, unless *why* says how that came: the difference then stands in the account for ever.
    """
    with writing():
        match = Match.objects.locked(match.pk)
        account = account_of(match)
        _may_be_closed(account)
        difference = counted - account.tin
        if difference and not why.strip():
            raise RefusedError(_differs(account, counted))
        if account.closed and account.count and account.count.counted == counted:
            raise RefusedError("The tin was counted and closed with this sum already.")
        count = add(
            TinCount(
                match=match,
                counted=counted,
                expected=account.tin,
                why=why.strip() if difference else "",
                by=by,
                at=at or timezone.now(),
            )
        )
        said = f" {_too_much(difference)}: {why.strip()}" if difference else ""
        write_down(
            f"The tin was counted, {pounds(counted)}, and the money closed.{said}",
            by=by,
            club=match.club,
            match=match,
            at=at,
        )
    return count


def _may_be_closed(account: Account) -> None:
    if not account.plan.asks and not account.payments:
        raise RefusedError("No pools are announced for this match, so there is nothing to close.")
    newest = Result.objects.of(account.match).first()
    if account.taken and newest is None and account.match.stage != Stage.CANCELLED:
        raise RefusedError("The result is not published yet: close the money after the payouts.")
    if newest is None:
        return
    if account.sheet is None:
        raise RefusedError("The payouts are not fixed yet. Look them over and fix them first.")
    if account.sheet.result_id != newest.pk:
        raise RefusedError(
            f"Version {newest.version} of the result was published after the payouts were fixed. "
            "Look at what moves, and fix them again first."
        )
    too_little = [each for each in payees(account) if each.key == LATE and each.due < 0]
    if too_little:
        raise RefusedError(
            "Payments were set aside after the payouts were fixed, so less came in than goes out. "
            "Fix them again with the payments as they stand."
        )


def _differs(account: Account, counted: int) -> str:
    """Why it cannot be closed like this: both sums, and the sum of the lines step by step."""
    steps = [f"{pounds(account.start)} at the start"] if account.start else []
    steps.append(f"{pounds(account.taken)} paid in")
    if account.gone:
        steps.append(f"{pounds(account.gone)} handed over")
    return (
        f"The tin was counted at {pounds(counted)}, and the lines come to {pounds(account.tin)}: "
        f"{'; '.join(steps)}. {_too_much(counted - account.tin)}. Count again, or look for the "
        "line that is missing. If it stays so, say why, and it is closed with that."
    )


def _too_much(difference: int) -> str:
    if difference < 0:
        return f"{pounds(-difference)} short"
    return f"{pounds(difference)} too much"
