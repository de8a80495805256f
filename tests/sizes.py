"""
The smallest and the largest club, to look at every page of. Fill an empty folder by hand:

    DRAWBAG_DATA=/tmp/sizes python -m tests.sizes

The largest has forty teams of eight over sixteen rounds, all published, and a match of ninety-six
pegs; the tiny one twelve pegs in kilograms, three rounds of four planned, and a long name.
Everybody is made up. `secretary` runs both, with the password `look-at-sizes`.
"""

from __future__ import annotations

import datetime as dt
import os
import sys
import uuid
from collections.abc import Iterable, Sequence
from itertools import product
from random import Random
from typing import Any

from django.apps import apps
from django.core.management import call_command
from django.core.wsgi import get_wsgi_application

if not apps.ready:  # run by hand; in a test everything is set up
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "league.settings")
    get_wsgi_application()

from league.files import rulebook
from league.models import Angler, Club, Entry, Match, MatchPeg, Peg, Section, Stage, Team, WeighIn
from league.operations.publish import make_final, publish
from tests.builders import make_season
from tests.factories import (
    ClubFactory,
    MatchFactory,
    OfficeFactory,
    UserFactory,
    VenueFactory,
    WaterFactory,
)

FIRST = [
    "Ada", "Bryn", "Cerys", "Dov", "Edith", "Ferdia", "Gwen", "Hamish", "Ines", "Jem", "Kit",
    "Léonie", "Mirek", "Nell", "Osian", "Łucja",
]  # fmt: skip
LAST = [
    "Abberfold", "Brackendale-Wetherington", "Carrowmere", "Dunstell", "Everleigh", "Fothersby",
    "Garsidge", "Hollinsby", "Innesdale", "Jessamy", "Kelderwick", "Lambourneigh", "Midgeley",
    "Norrington", "Oxspringer", "Pikesworth", "Quarmleigh", "Rushbourne", "Szczygieł",
    "Thackerbridge",
]  # fmt: skip
PLACES = [
    "Alder", "Bracken", "Cutler", "Dyer", "Elm", "Foundry", "Gorse", "Hatcher", "Ivy", "Juniper",
]  # fmt: skip
KINDS = ["Lane", "Bridge", "Row Angling Society", "Wharf"]
LONG_NAME = "The Upper Marlbrook, Nether Sallow Cut and District Anglers’ Preservation Society"[:80]
FROM = dt.date(2026, 9, 6)
CHANCES = (("blank", 0.06), ("not weighed", 0.02), ("absent", 0.01))


def book(size: int, unit: str, best: int, teams: int) -> dict[str, Any]:
    """High points from the size of the section; the table adds up places, the best so many."""
    high = {"direction": "high", "blank": 0, "not_weighed": 0, "absent": 0, "disqualified": 0}
    lines = {"up": 2, "down": 3} if teams > 10 else {"up": 1, "down": 1}
    told = {
        "unit": unit,
        "section": high,
        "team": {"size": size, "ties": ["weight", "best weight"]},
        "season": {"score": "places", "best": best, "ties": ["weight"], **lines},
    }
    return rulebook.as_dict(rulebook.from_dict(told))


def names(count: int) -> list[str]:
    """So many people, no two alike."""
    return [f"{first} {last}" for last, first in product(LAST, FIRST)][:count]


def fish(match: Match, people: Sequence[Angler], teams: Sequence[Team], letters: str) -> None:
    """Peg, weigh and write down everybody: one of each team in a section, some pegs left out."""
    luck = Random(match.pk)
    pegs = list(Peg.objects.along(match.water).filter(left_out=False))
    size = len(people) // len(letters)
    sections = [
        Section.objects.create(match=match, letter=letter, order=at)
        for at, letter in enumerate(letters, 1)
    ]
    made = MatchPeg.objects.bulk_create(
        MatchPeg(match=match, section=sections[at // size], peg=peg)
        for at, peg in enumerate(pegs[: len(people)])
    )
    order = list(people)
    if not teams:
        luck.shuffle(order)
    else:  # an angler of each team, in the order of a draw, section by section
        order = []
        for at in range(len(letters)):
            drawn = list(range(len(teams)))
            luck.shuffle(drawn)
            order += [people[team * len(letters) + at] for team in drawn]
    of_team = {person.pk: teams[at // len(letters)] for at, person in enumerate(people) if teams}
    entries = Entry.objects.bulk_create(
        Entry(
            match=match,
            number=at,
            angler=person,
            team=of_team.get(person.pk),
            match_peg=match_peg,
            section=match_peg.section,
        )
        for at, (person, match_peg) in enumerate(zip(order, made, strict=True), 1)
    )
    WeighIn.objects.bulk_create(_weigh_ins(entries, match, luck))


def _weigh_ins(entries: Iterable[Entry], match: Match, luck: Random) -> Iterable[WeighIn]:
    at = dt.datetime.combine(match.date, dt.time(16), dt.UTC)
    for entry in entries:
        drawn, status = luck.random(), "weighed"
        for each, chance in CHANCES:
            if drawn < chance:
                status = each
                break
            drawn -= chance
        # Ounces in drams, or tens of grams: small figures meet now and then, so that some tie.
        step, most = (16, 700) if match.unit == "lb-oz" else (20, 600)
        heavy = 1 + int(most * luck.random() ** 2.2)
        nets = [step * heavy] if status == "weighed" else []
        yield WeighIn(key=uuid.UUID(int=luck.getrandbits(128)), entry=entry, status=status,
                      nets=nets, received_at=at)  # fmt: skip


def make_water(club: Club, name: str, pegs: int, left_out: Iterable[int] = ()) -> Any:
    """A bank with so many pegs to draw, besides those *left_out*."""
    water = WaterFactory(name=name, venue=VenueFactory(club=club, name=name))
    gone = set(left_out)
    Peg.objects.bulk_create(
        Peg(
            water=water,
            order=at,
            number=str(at),
            left_out=at in gone,
            left_out_why="reed bed" if at in gone else "",
        )
        for at in range(1, pegs + len(gone) + 1)
    )
    return water


def fill_league(
    club: Club,
    *,
    teams: Sequence[str],
    letters: str,
    planned: int,
    rounds: int,
    unit: str,
    best: int,
    open_last: bool = True,
) -> None:
    """A league of *teams* with an angler in each section, so many rounds of it published."""
    season = make_season(
        club, teams=teams, planned_rounds=planned, book=book(len(letters), unit, best, len(teams))
    )
    season.league.name = "Sunday League"
    season.league.save(update_fields=["name"])
    size = len(teams) * len(letters)
    people = Angler.objects.bulk_create(Angler(club=club, name=name) for name in names(size))
    if size > 1:
        Angler.objects.filter(pk=people[1].pk).update(junior=True)
    water = make_water(club, "Long Pool", size, left_out=[size // 3, size // 3 + 1, size // 2])
    sides = list(season.teams.order_by("pk"))
    for number in range(1, planned + 1):
        date = FROM + dt.timedelta(weeks=2 * (number - 1))
        fished = number <= rounds
        match = MatchFactory(
            club=club, season=season, round=number, water=water, date=date, unit=unit,
            stage=Stage.DRAWN if fished else Stage.PLANNED,
        )  # fmt: skip
        if not fished:
            continue
        fish(match, people, sides, letters)
        at = dt.datetime.combine(date, dt.time(17), dt.UTC)
        publish(match, by=None, at=at)
        if number < rounds or not open_last:
            make_final(match, by=None, at=at + dt.timedelta(days=8))


def fill_open(club: Club, *, pegs: int, letters: str, unit: str) -> Match:
    """A match of individuals, every peg weighed and the result published."""
    people = list(Angler.objects.filter(club=club).order_by("pk")[:pegs])
    water = make_water(club, "Far Bank", pegs, left_out=[pegs // 4, pegs // 2, pegs // 2 + 1])
    match = MatchFactory(
        club=club, name="Autumn Open", water=water, date=FROM, unit=unit, stage=Stage.DRAWN
    )
    fish(match, people, [], letters)
    publish(match, by=None, at=dt.datetime.combine(FROM, dt.time(17), dt.UTC))
    return match


def fill_largest(*, teams: int = 40, rounds: int = 16, planned: int = 16, pegs: int = 96) -> Club:
    """Forty teams of eight over sixteen rounds, and a match of ninety-six pegs."""
    club = ClubFactory(name="Association of Marl Vale Clubs", slug="largest")
    named = [f"{place} {kind}" for kind, place in product(KINDS, PLACES)][:teams]
    fill_league(club, teams=named, letters="ABCDEFGH", planned=planned, rounds=rounds,
                unit="lb-oz", best=max(1, planned - 3), open_last=False)  # fmt: skip
    fill_open(club, pegs=pegs, letters="ABCDEFGH", unit="lb-oz")
    return club


def fill_tiny() -> Club:
    """Twelve pegs in kilograms, a long name, and one round left to fish."""
    club = ClubFactory(name=LONG_NAME, slug="tiny")
    fill_league(club, teams=["Reeds", "Rushes", "Sallows", "Withies"], letters="ABC", planned=4,
                rounds=3, unit="kg", best=3)  # fmt: skip
    fill_open(club, pegs=12, letters="A", unit="kg")
    return club


def main() -> None:
    """Fill the folder named by DRAWBAG_DATA."""
    call_command("migrate", verbosity=0)
    if Club.objects.exists():
        sys.exit("There is a club in this folder already. Name an empty one: DRAWBAG_DATA=...")
    user = UserFactory(username="secretary")
    user.set_password("look-at-sizes")
    user.save()
    for club in (fill_tiny(), fill_largest()):
        OfficeFactory(club=club, user=user, name="secretary")
        for match in Match.objects.filter(club=club).order_by("date", "pk"):
            sys.stdout.write(f"{club.slug}: /matches/{match.pk}/result/ {match}\n")
        for season in club.leagues.get().seasons.all():
            sys.stdout.write(f"{club.slug}: /tables/{season.pk}/\n")


if __name__ == "__main__":
    main()
