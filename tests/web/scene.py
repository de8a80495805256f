"""The Winter Team League of the Marlbrook club: six teams of four, weighed and published."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Any

from league.files import rulebook
from league.models import Angler, Club, Match, Result, Season, Team
from league.operations.publish import publish
from tests.builders import make_match, make_season, seat, weigh_all
from tests.factories import AnglerFactory, VenueFactory, WaterFactory

BOOK: dict[str, Any] = {
    "name": "Winter Team League",
    "unit": "lb-oz",
    "section": {
        "direction": "high",
        "top": "section",
        "blank": 0,
        "not_weighed": 0,
        "absent": 0,
        "disqualified": 0,
    },
    "net": {"limit": "40-0"},
    "team": {"size": 4, "ties": ["weight", "section wins", "best weight"]},
    "season": {"score": "places", "best": 5, "ties": ["weight"]},
}

# Round 6 at Heron Lake: section, then angler, team and what was called, in peg order.
ROUND_6: Mapping[str, Sequence[tuple[str, str, str]]] = {
    "A": [
        ("Ana Ferradas", "Lamplighters", "6-0"),
        ("Keith Wraggley", "Tannery Lane", "14-9"),
        ("Hugh Amblerton", "Bridge End", "4-5"),
        ("Sue Hadlowe", "Millrace", "11-2"),
        ("Ian Peverill", "Pennyfold", "9-14"),
        ("Dave Scrimshire", "Old Quarry", "21-12"),
    ],
    "B": [
        ("Tracy Fennimore", "Old Quarry", "12-8"),
        ("Norma Stainsworth", "Bridge End", "5-13"),
        ("Pete Brackwell", "Millrace", "blank"),
        ("Jo Ormesher", "Tannery Lane", "15-11 + 11-11"),
        ("Barry Osgathorp", "Lamplighters", "8-11"),
        ("Alan Garrowby", "Pennyfold", "18-1"),
    ],
    "C": [
        ("Steve Dunnaway", "Pennyfold", "4-8"),
        ("Geoff Lathamby", "Bridge End", "9-10"),
        ("Winston Arberry", "Millrace", "19-10 + 11-12"),
        ("Colin Thurkettle", "Old Quarry", "7-5"),
        ("Ron Tibbald", "Lamplighters", "not weighed"),
        ("Ray Tolliver", "Tannery Lane", "16-3"),
    ],
    "D": [
        ("Tom Kettleby", "Bridge End", "2-15"),
        ("Len Cudworthy", "Millrace", "9-4"),
        ("Marek Wilczyk", "Pennyfold", "19-0"),
        ("Balvir Sandhar", "Tannery Lane", "3-2"),
        ("Chris Maddern", "Lamplighters", "9-4"),
        ("Mick Oldacre", "Old Quarry", "16-7"),
    ],
}
TEAMS = ["Bridge End", "Lamplighters", "Millrace", "Old Quarry", "Pennyfold", "Tannery Lane"]
WATERS = ["Heron Lake", "Fallow Mere", "Marl Canal"]
JUNIOR = "Tom Kettleby"
START = dt.datetime(2026, 10, 4, 17, 12, tzinfo=dt.UTC)


def make_league(club: Club, *, teams: Sequence[str] = TEAMS, **values: Any) -> Season:
    """The season, with nothing fished yet."""
    values = {"planned_rounds": 7, "book": rulebook.as_dict(rulebook.from_dict(BOOK))} | values
    season = make_season(club, teams=teams, **values)
    season.league.name = "Winter Team League"
    season.league.save(update_fields=["name"])
    return season


def fish_round_6(season: Season, *, number: int = 1) -> Match:
    """The match of the pictures, every peg weighed."""
    return fish(season, ROUND_6, number=number)


def fish(
    season: Season, caught: Mapping[str, Sequence[tuple[str, str, str]]], *, number: int
) -> Match:
    """A round with everybody on a peg and weighed."""
    club = season.league.club
    match = make_match(
        club,
        season=season,
        water=WaterFactory(name=WATERS[number % 3], venue=VenueFactory(club=club)),
        round=number,
        sections={section: len(rows) for section, rows in caught.items()},
        date=START.date() + dt.timedelta(days=21 * (number - 1)),
        unit="lb-oz",
    )
    rows = [row for section in caught.values() for row in section]
    teams = {team.name: team for team in season.teams.all()}
    people = _anglers(club, [name for name, _, _ in rows])
    entries = seat(match, people, [teams[team] for _, team, _ in rows])
    weigh_all(entries, [figure for _, _, figure in rows])
    return match


def made_up_round(teams: Sequence[str], number: int) -> dict[str, list[tuple[str, str, str]]]:
    """A round in which every team has an angler in each of four sections, all weights different."""
    return {
        section: [
            (
                f"{section}{at} of {team}",
                team,
                f"{(at * 7 + number * 5 + place * 3) % 40 + 1}-{(at + number) % 16}",
            )
            for at, team in enumerate(teams)
        ]
        for place, section in enumerate("ABCD")
    }


def publish_rounds(season: Season, rounds: int) -> list[Result]:
    """So many rounds, fished and published."""
    names = [team.name for team in Team.objects.of(season)]
    return [
        publish(
            fish(season, made_up_round(names, number), number=number),
            by=None,
            at=START + dt.timedelta(days=21 * (number - 1)),
        )
        for number in range(1, rounds + 1)
    ]


def _anglers(club: Club, names: Sequence[str]) -> list[Angler]:
    known = {angler.name: angler for angler in Angler.objects.filter(club=club, name__in=names)}
    new = [name for name in names if name not in known]
    made = Angler.objects.bulk_create(
        AnglerFactory.build(club=club, name=name, junior=name == JUNIOR) for name in new
    )
    known |= {angler.name: angler for angler in made}
    return [known[name] for name in names]
