"""What comes next with the money of a match, in words, whoever sits down at it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from league.rules.figures import so_many
from league.rules.pools_pence import shortly
from league.rules.stages import in_a_sentence


class MoneyTask(StrEnum):
    """The one thing to do with the money."""

    ANNOUNCE = "announce"
    TAKE = "take"
    WAIT = "wait"
    FIX = "fix"
    HAND = "hand"
    CLOSE = "close"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True, kw_only=True)
class MoneyDay:
    """What is known about the money of a match at one moment; sums in pence."""

    title: str
    asks: bool  # pools are announced
    booked: int = 0
    paid: int = 0  # anglers whose stake is in
    owe: int = 0  # anglers whose stake is still to come
    owed: int = 0
    taken: int = 0
    version: int = 0  # of the result; 0 where none is published
    fixed: int = 0  # the version the payouts were fixed from; 0 where they are not
    moved: int = 0  # payees whose sum is another by the newest version
    to_hand: int = 0  # anglers with something still to be handed over, or to come back
    tin: int = 0
    closed: bool = False


@dataclass(frozen=True, slots=True)
class MoneyNext:
    """The next thing with the money: where it stands, and what the button does."""

    task: MoneyTask
    headline: str
    lead: str
    button: str = ""


def next_money(day: MoneyDay) -> MoneyNext:
    """What the treasurer does next; a secretary who stands in reads the same."""
    if not day.asks and not day.taken:
        return MoneyNext(
            MoneyTask.ANNOUNCE,
            f"No pools are announced for {in_a_sentence(day.title)}",
            "Say what it costs and how the pools are paid before anybody pays. Where there are "
            "none, leave it as it is.",
            "Announce the pools",
        )
    if not day.version:
        return _before_the_result(day)
    if not day.fixed or day.moved:
        return _to_fix(day)
    if day.to_hand:
        return MoneyNext(
            MoneyTask.HAND,
            f"{so_many(day.to_hand, 'angler')} still to be paid out",
            f"The payouts are fixed from version {day.fixed} of the result. Have each of them "
            "sign the sheet.",
            "To the payouts",
        )
    if not day.closed:
        return MoneyNext(
            MoneyTask.CLOSE,
            f"{shortly(day.tin)} must be in the tin",
            "Everybody is paid out. Count the tin, then close the money of the match.",
            "Count the tin",
        )
    return MoneyNext(
        MoneyTask.NOTHING,
        f"The money of {in_a_sentence(day.title)} is closed",
        f"{shortly(day.tin)} is in the tin."
        + (f" {so_many(day.owe, 'angler')} still owe{_s(day.owe)}." if day.owe else ""),
    )


def _before_the_result(day: MoneyDay) -> MoneyNext:
    if day.owe:
        if not day.paid:
            headline = f"Nobody has paid for {in_a_sentence(day.title)} yet"
        else:
            headline = f"{day.owe} of {day.paid + day.owe} still to pay"
        return MoneyNext(
            MoneyTask.TAKE,
            headline,
            f"{shortly(day.owed)} to come. One press as each of them pays.",
            "Take the money",
        )
    if not day.booked:
        return MoneyNext(MoneyTask.WAIT, "Nobody is booked in yet", "Stakes are taken at book-in.")
    return MoneyNext(
        MoneyTask.WAIT,
        "Everybody has paid",
        f"{shortly(day.taken)} is in. The payouts come with the result.",
    )


def _to_fix(day: MoneyDay) -> MoneyNext:
    if day.fixed:
        many = "One sum is" if day.moved == 1 else f"{day.moved} sums are"
        return MoneyNext(
            MoneyTask.FIX,
            f"Version {day.version} of the result moves money",
            f"{many} not what was fixed from version {day.fixed}. Look at who gets more and who "
            "less before anything else is handed over.",
            "Look at what moves",
        )
    late = (
        f" {so_many(day.owe, 'angler')} not paid: take the money first, or they are in no pool."
        if day.owe
        else ""
    )
    return MoneyNext(
        MoneyTask.FIX,
        f"The payouts of {in_a_sentence(day.title)} are ready to be fixed",
        f"Look them over by version {day.version} of the result.{late}",
        "Look the payouts over",
    )


def _s(number: int) -> str:
    return "s" if number == 1 else ""
