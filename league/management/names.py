"""Clubs and leagues as they are named on the command line."""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from typing import TypeVar

from django.core.management.base import CommandError
from django.utils.text import slugify

from league.models import Club, League
from league.operations.store import add

T = TypeVar("T", Club, League)

# Nearer than this, a new name is more likely a slip of the pen.
ALIKE = 0.8


def club_called(name: str) -> Club | None:
    """The club by its name or its address; None where no name is near it."""
    return _called(name, list(Club.objects.by_name()), "club")


def league_called(club: Club, name: str) -> League | None:
    """The club's league by its name or its address; None where no name is near it."""
    return _called(name, list(League.objects.of(club)), "league")


def new_club(name: str) -> Club:
    """Enter a club under that name."""
    return add(Club(name=name.strip(), slug=_slug(name, "club")))


def new_league(club: Club, name: str) -> League:
    """Enter a league of *club* under that name."""
    return add(League(club=club, name=name.strip(), slug=_slug(name, "league")))


def _called(name: str, known: Sequence[T], kind: str) -> T | None:
    wanted = name.strip().casefold()
    if not wanted:
        raise CommandError(f"Write the name of the {kind}.")
    for one in known:
        if wanted in (one.name.casefold(), one.slug):
            return one
    near = difflib.get_close_matches(
        wanted, [one.name.casefold() for one in known], n=1, cutoff=ALIKE
    )
    for one in known:
        if one.name.casefold() in near:
            raise CommandError(
                f"There is no {kind} called {name.strip()}. Did you mean {one.name}? Write it just "
                "so, or choose a name that differs more."
            )
    return None


def _slug(name: str, instead: str) -> str:
    return slugify(name)[:50] or instead
