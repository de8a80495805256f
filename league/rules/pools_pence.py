"""Money in whole pence: read, written, and shared out so that not a penny is made or lost."""

from __future__ import annotations

import re
from collections.abc import Sequence

from league.rules.errors import RuleError

MOST = 100_000_00  # pence; more in one figure is a slip of the hand

TYPED = re.compile(r"£?\s*(\d{1,7})(?:[.,](\d{2}))?")
IN_PENCE = re.compile(r"(\d{1,6})\s*p")


class MoneyError(RuleError):
    """A sum that is no sum of money, or pools that contradict themselves."""


def pence(typed: str) -> int:
    """
    Read a sum as it is written on an envelope.

    >>> pence("£12.50"), pence("12"), pence("50p")
    (1250, 1200, 50)
    """
    text = typed.strip()
    if found := IN_PENCE.fullmatch(text):
        amount = int(found[1])
    elif found := TYPED.fullmatch(text):
        amount = int(found[1]) * 100 + int(found[2] or 0)
    else:
        raise MoneyError(f"Write a sum as 10 or 12.50, not {typed.strip()!r}.")
    if amount > MOST:
        raise MoneyError(f"{pounds(amount)} is more than a club's tin holds: look at the figure.")
    return amount


def pounds(amount: int) -> str:
    """
    Write *amount* pence as a sum.

    >>> pounds(1250), pounds(-50), pounds(123456)
    ('£12.50', '−£0.50', '£1,234.56')
    """
    whole, rest = divmod(abs(amount), 100)
    return f"{'−' if amount < 0 else ''}£{whole:,}.{rest:02d}"


def shortly(amount: int) -> str:
    """
    Write *amount* as it is said in a sentence, without pence where there are none.

    >>> shortly(1000), shortly(150), shortly(50)
    ('£10', '£1.50', '50p')
    """
    if 0 < amount < 100:
        return f"{amount}p"
    return pounds(amount).removesuffix(".00")


def plain(amount: int) -> str:
    """
    Write *amount* as a spreadsheet takes it, without a sign of the currency.

    >>> plain(1250), plain(-5)
    ('12.50', '-0.05')
    """
    whole, rest = divmod(abs(amount), 100)
    return f"{'-' if amount < 0 else ''}{whole}.{rest:02d}"


def apportion(total: int, shares: Sequence[int], unit: int = 1) -> tuple[int, ...]:
    """
    Share *total* out by *shares* in whole *units*; what is shared is the total to the penny.

    Each has its share rounded down, then the units left over go to the largest remainders, the
    earlier of equal ones first: the method of largest remainder, by which the seats of a house are
    shared out. Pence too few to make a unit go to the first.

    >>> apportion(5250, (40, 30, 20, 10), 50)
    (2100, 1600, 1050, 500)
    """
    whole = sum(shares)
    if whole <= 0 or unit <= 0 or total < 0 or min(shares) < 0:
        raise MoneyError("There is nothing to share by.")
    units, odd = divmod(total, unit)
    floors = [units * share // whole for share in shares]
    left = units - sum(floors)
    by_remainder = sorted(range(len(shares)), key=lambda at: -(units * shares[at] % whole))
    for at in by_remainder[:left]:
        floors[at] += 1
    sums = [floor * unit for floor in floors]
    sums[0] += odd
    return tuple(sums)


def evenly(total: int, count: int) -> tuple[int, ...]:
    """
    Share *total* out alike; odd pence go to the first, one each.

    >>> evenly(10000, 3)
    (3334, 3333, 3333)
    """
    return apportion(total, (1,) * count)
