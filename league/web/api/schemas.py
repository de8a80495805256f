"""
What the interface answers with, field by field; the description for programs is made of these.

A field is added, never taken away or given another meaning, as long as the address says 1.
Weights and points are text as in the result file: 12-8 or 5.640, exact decimals or fractions.
"""

from __future__ import annotations

import datetime as dt
from typing import Literal

from ninja import Field, Schema

Unit = Literal["lb-oz", "kg"]


class Error(Schema):
    """Why there is no answer."""

    detail: str


class Fault(Schema):
    """What is wrong with one part of a request."""

    where: str
    what: str


class Faults(Schema):
    """Everything that is wrong with a request."""

    detail: str
    faults: list[Fault]


class Club(Schema):
    """A club whose pages may be read."""

    slug: str
    name: str
    public: bool
    calendar: str = Field(description="Address of its matches as iCalendar.")
    feed: str = Field(description="Address of its results as Atom.")


class Clubs(Schema):
    """The clubs there are to read."""

    clubs: list[Club]


class Match(Schema):
    """A match: a round of a season, or a day of its own."""

    id: int
    name: str
    season_id: int | None
    league: str | None
    round: int | None
    venue: str
    water: str
    water_id: int
    date: dt.date
    book_in: str | None = Field(description="Times are of the club's own clocks, HH:MM.")
    draw_at: str | None
    all_in: str | None
    all_out: str | None
    unit: Unit
    stage: Literal["planned", "drawn", "published", "final", "cancelled"]
    moves: int = Field(description="How often its date, times or water have moved.")
    page: str


class Matches(Schema):
    """A part of a club's matches, in date order."""

    count: int
    matches: list[Match]


class ResultHead(Schema):
    """A published result, without its figures."""

    match_id: int
    match: str
    date: dt.date
    water: str
    season_id: int | None
    round: int | None
    version: int
    state: Literal["provisional", "final"]
    headline: str
    published_at: dt.datetime
    document: str = Field(description="Address of the whole result.")
    page: str


class Results(Schema):
    """A part of a club's results in force, newest match first."""

    count: int
    results: list[ResultHead]


class Season(Schema):
    """One running of a league."""

    id: int
    league_id: int
    league: str
    name: str
    starts: dt.date
    planned_rounds: int
    table: str = Field(description="Address of the table.")
    page: str


class Seasons(Schema):
    """A club's seasons, newest first."""

    seasons: list[Season]


class Member(Schema):
    """An angler of a squad, by the name that may be published."""

    angler_id: int
    name: str
    captain: bool


class Team(Schema):
    """A team of a season, and its squad."""

    id: int
    name: str
    season_id: int
    squad: list[Member]
    page: str


class Teams(Schema):
    """The teams of a season, by name."""

    teams: list[Team]


class Angler(Schema):
    """An angler, by the name that may be published."""

    id: int
    name: str
    page: str


class Anglers(Schema):
    """A part of a club's anglers, by name."""

    count: int
    anglers: list[Angler]


class Outing(Schema):
    """One match an angler fished, as published."""

    match_id: int
    match: str
    date: dt.date
    water: str
    season_id: int | None
    round: int | None
    version: int
    section: str
    peg: str
    team: str
    status: str
    weight: str
    unit: Unit
    place: int | None
    equal: bool
    points: str | None


class Outings(Schema):
    """An angler, and every published match, newest first."""

    angler: Angler
    outings: list[Outing]


class Peg(Schema):
    """A numbered fishing place."""

    number: str
    order: int
    easy_access: bool
    left_out: bool
    hazards: str


class Water(Schema):
    """A bank that is walked in one order, and its pegs along it."""

    id: int
    name: str
    venue: str
    pegs: list[Peg]
    page: str


class Waters(Schema):
    """A club's waters, by name."""

    waters: list[Water]
