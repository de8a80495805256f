"""The first run: an installation with nobody in it becomes a club with its secretary."""

from __future__ import annotations

import base64
import hmac
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.contrib.auth.models import User
from django.utils.crypto import salted_hmac

from league.models import Club, Office, OfficeName, Season, Water
from league.operations.doors import refuse_weak
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.season import make_league, make_season, slug_of
from league.operations.store import add, writing
from league.operations.waters import make_water
from league.rules.pegs import Peg
from league.rules.rulebook import Rulebook

SALT = "league.first-run"
LETTERS = 16  # of 32 each: eighty bits, which nobody guesses over a network


@dataclass(frozen=True, slots=True)
class Person:
    """Who sits down first: the match secretary."""

    username: str
    password: str
    name: str = ""
    email: str = ""


@dataclass(frozen=True, slots=True)
class Begun:
    """What there is after the first run."""

    club: Club
    water: Water
    season: Season
    user: User


def is_first_run() -> bool:
    """Whether nobody and nothing is here yet; afterwards the first run is over for good."""
    return not Club.objects.exists() and not User.objects.exists()


def first_run_key() -> str:
    """
    The key that opens the first run; whoever reads the server's own screen has it.

    Made from the installation's secret, so that every process knows it and no file keeps it. It
    opens nothing once a club or a person is there.
    """
    digest = salted_hmac(SALT, "the first club", algorithm="sha256").digest()
    letters = base64.b32encode(digest).decode()[:LETTERS]
    return "-".join(letters[at : at + 4] for at in range(0, LETTERS, 4))


def opens(key: str) -> bool:
    """Whether *key* is that key, however it was typed."""
    plain = "".join(key.upper().split()).replace("-", "")
    return hmac.compare_digest(plain.encode(), first_run_key().replace("-", "").encode())


def begin(
    *,
    club: str,
    water: str,
    venue: str = "",
    pegs: Sequence[Peg],
    league: str,
    season: str,
    starts: date,
    book: Rulebook,
    person: Person,
) -> Begun:
    """Make the club, its first water, its first league and its secretary; refused after that."""
    club = " ".join(club.split())
    first, _, last = " ".join(person.name.split()).partition(" ")
    user = User(
        username=person.username.strip(),
        first_name=first[:150],
        last_name=last[:150],
        email=person.email.strip(),
    )
    refuse_weak(person.password, user)
    user.set_password(person.password)  # slow on purpose, so before the queue is held
    with writing():
        if not is_first_run():
            raise RefusedError("This site has its club already. Sign in instead.")
        add(user)
        found = add(Club(name=club, slug=slug_of(club) or "club"))
        add(Office(club=found, user=user, name=OfficeName.SECRETARY))
        write_down(f"{found} begun.", by=user, club=found)
        first_water = make_water(found, venue=venue or water, name=water, pegs=pegs, by=user)
        begun = make_league(found, name=league, by=user)
        first_season = make_season(begun, name=season, starts=starts, book=book, by=user)
    return Begun(found, first_water, first_season, user)
