"""
The throttle: after so many tries that did not open, a door stays shut for a while.

Counted in the database, so that every process of the site and a restart count alike. A guesser is
held up; whoever owns the account is not locked out by one for longer than the while, and a letter
for a new password opens the door at once.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.utils import timezone
from django.utils.crypto import salted_hmac

from league.models import Knock
from league.operations.store import writing


@dataclass(frozen=True, slots=True)
class Limit:
    """So many tries of one kind in so long."""

    kind: str
    most: int
    within: timedelta


# From one place at one account: a person who has forgotten. From one place at any account, or at
# one account from anywhere: somebody who tries lists.
ACCOUNT_HERE = Limit("sign-in here", 8, timedelta(minutes=15))
ACCOUNT = Limit("sign-in", 40, timedelta(minutes=30))
PLACE = Limit("sign-in place", 60, timedelta(minutes=15))
LETTERS = Limit("letter", 3, timedelta(hours=1))
LETTERS_PLACE = Limit("letter place", 20, timedelta(hours=1))
LINKS_PLACE = Limit("link place", 30, timedelta(minutes=15))
LONGEST = max(limit.within for limit in (ACCOUNT_HERE, ACCOUNT, PLACE, LETTERS, LETTERS_PLACE))

Door = tuple[Limit, str]


def sign_in_doors(username: str, place: str) -> list[Door]:
    """What a sign-in as *username* from the address *place* is counted under."""
    name = username.strip().casefold()
    return [(ACCOUNT_HERE, f"{name} {place}"), (ACCOUNT, name), (PLACE, place)]


def letter_doors(address: str, place: str) -> list[Door]:
    """What a letter for a new password is counted under."""
    return [(LETTERS, address.strip().casefold()), (LETTERS_PLACE, place)]


def shut_until(doors: Iterable[Door], *, at: datetime | None = None) -> datetime | None:
    """When the last of the doors opens again; None where they all stand open."""
    at = at or timezone.now()
    until = None
    for limit, name in doors:
        tries = list(Knock.objects.since(limit.kind, _key(limit, name), at - limit.within))
        if len(tries) >= limit.most:
            opens = tries[-limit.most].at + limit.within
            until = max(until, opens) if until else opens
    return until


def knocked(doors: Iterable[Door], *, at: datetime | None = None) -> None:
    """Count a try that did not open."""
    at = at or timezone.now()
    with writing():
        Knock.objects.bulk_create(
            [Knock(kind=limit.kind, key=_key(limit, name), at=at) for limit, name in doors]
        )


def opened(doors: Iterable[Door]) -> None:
    """
    Forget the tries of somebody who got in.

    Those of the place stay: one account of one's own must not pay for guesses at others.
    """
    with writing():
        for limit, name in doors:
            if limit is not PLACE:
                Knock.objects.under(limit.kind, _key(limit, name)).delete()


def _key(limit: Limit, name: str) -> str:
    return salted_hmac(f"knock {limit.kind}", name, algorithm="sha256").hexdigest()
