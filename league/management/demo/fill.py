"""Fill an empty database with the made-up club: its waters, its people and who signs in."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Any

from django.contrib.auth.models import User

from league.management.demo import people
from league.management.demo.settings import Settings
from league.models import Angler, Club, Office, Peg, Venue, Water
from league.operations.errors import RefusedError
from league.operations.store import add

# The story stands between rounds 6 and 7 of winter 2026-27. From the summer after it everything
# moves on by whole years of 52 weeks, so that Sundays stay Sundays.
STORY_OVER = dt.date(2027, 9, 1)
YEAR = dt.timedelta(weeks=52)


@dataclass(frozen=True)
class Ground:
    """The club as it stands before any match: what the matches are made from."""

    club: Club
    waters: dict[str, Water]
    anglers: dict[str, Angler]
    secretary: User
    treasurer: User
    later: dt.timedelta


def later_by(today: dt.date) -> dt.timedelta:
    """How much later than told everything has to happen to be of this year."""
    years = max(0, -((STORY_OVER - today) // YEAR))
    return years * YEAR


def demo_club(settings: Settings) -> Club | None:
    """The made-up club where it is there already; refuses a database that holds another club."""
    clubs = list(Club.objects.by_name())
    for club in clubs:
        if club.slug == settings["club"]["slug"]:
            return club
    if clubs:
        raise RefusedError(
            f"This database holds {clubs[0]}. The demo would put a made-up club and known "
            "passwords beside it. Set DRAWBAG_DATA to an empty folder and run the demo there."
        )
    return None


def prepare(settings: Settings, today: dt.date) -> Ground:
    """Everything but the matches."""
    club = add(Club(name=settings["club"]["name"], slug=settings["club"]["slug"]))
    waters = {water["name"]: _water(club, water) for water in settings["water"]}
    anglers = _anglers(club, settings)
    users = {told["office"]: _sign_in(club, anglers, told) for told in settings["sign_in"]}
    return Ground(club, waters, anglers, users["secretary"], users["treasurer"], later_by(today))


def _water(club: Club, told: dict[str, Any]) -> Water:
    venue = add(Venue(club=club, name=told["venue"], rules=told["rules"]))
    water = add(Water(venue=venue, name=told["name"]))
    first, last = told["pegs"]
    Peg.objects.bulk_create(
        Peg(
            water=water,
            number=str(number),
            order=order,
            gap_after=number in told["gaps_after"],
            easy_access=number in told["easy_access"],
            left_out=str(number) in told["left_out"],
            left_out_why=told["left_out"].get(str(number), ""),
            hazards=told["hazards"].get(str(number), ""),
        )
        for order, number in enumerate(range(first, last + 1), start=1)
    )
    return water


def _anglers(club: Club, settings: Settings) -> dict[str, Angler]:
    told = settings["people"]
    made = Angler.objects.bulk_create(
        Angler(
            club=club,
            name=name,
            junior=name in told["juniors"],
            consent_to_publish=told["juniors"].get(name) == "consent",
            easy_access=name in told["easy_access"],
        )
        for name in people.anglers(settings)
    )
    return {angler.name: angler for angler in made}


def _sign_in(club: Club, anglers: dict[str, Angler], told: dict[str, str]) -> User:
    """Somebody who signs in, and the angler they are."""
    first, _, last = told["name"].partition(" ")
    user = User.objects.create_user(
        told["username"], password=told["password"], first_name=first, last_name=last
    )
    add(Office(club=club, user=user, name=told["office"]))
    angler = anglers[told["name"]]
    angler.user = user
    angler.save(update_fields=["user"])
    return user
