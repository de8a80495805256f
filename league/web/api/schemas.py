"""
What the interface answers with, field by field; the description for programs is made of these.

A field is added, never taken away or given another meaning, as long as the address says 1.
Weights and points are text as in the result file: 12-8 or 5.640, exact decimals or fractions.
"""

from __future__ import annotations

import datetime as dt
from typing import Any, Literal

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


class MatchAbout(Schema):
    """What a result says of its match."""

    name: str | None
    date: dt.date | None
    unit: Unit
    club: str | None = None
    league: str | None = None
    season: str | None = None
    round: int | None = None
    rounds: int | None = None
    water: str | None = None
    venue: str | None = None
    match_id: int | None = None


class AnglerLine(Schema):
    """One angler in a section."""

    peg: str
    angler: str
    angler_id: str
    team: str
    team_id: str
    status: str
    nets: list[str]
    weight: str
    place: int | None
    equal: bool
    points: str | None
    why: str


class Section(Schema):
    """A section, best first."""

    section: str
    size: int
    with_fish: int
    anglers: list[AnglerLine]


class TeamLine(Schema):
    """A team in the match."""

    place: int
    equal: bool
    team: str
    team_id: str
    points: str
    weight: str
    section_points: dict[str, list[str | None]]
    why: str


class OverallLine(Schema):
    """An angler in the order of the whole match."""

    place: int | None
    equal: bool
    angler: str
    angler_id: str
    weight: str
    section: str
    peg: str
    status: str


class Checks(Schema):
    """The sum of all section points, and what it must be where the rules conserve it."""

    section_points: str
    expected: str | None


class Objection(Schema):
    """An objection to a result, and what came of it."""

    objection: str
    answer: str
    open: bool


class Result(Schema):
    """The result file: a version as it was published."""

    match: MatchAbout
    version: int | None
    state: str | None
    rules: dict[str, Any]
    sections: list[Section]
    teams: list[TeamLine]
    anglers: list[OverallLine]
    checks: Checks
    objections: list[Objection] = []  # as they stand now


class RoundScore(Schema):
    """What one round gave a row of the table."""

    round: int
    score: str | None
    dropped: bool
    status: str
    place: int | None
    weight: str


class TableLine(Schema):
    """A row of the table: `team`, or `angler` in a league without teams."""

    place: int
    equal: bool
    team: str | None = None
    angler: str | None = None
    key: str
    rounds: list[RoundScore]
    penalty: str
    total: str
    weight: str
    why: str


class SeasonAbout(Schema):
    """What a season's file says of the season."""

    name: str | None
    league: str | None = None
    club: str | None = None
    unit: Unit
    planned: int | None
    held: int
    cancelled: list[int]
    counting: int
    by_weight: bool


class Table(Schema):
    """The season's result file: its rounds as published, and the tables they make."""

    season: SeasonAbout
    rules: dict[str, Any]
    rounds: list[Result]
    table: list[TableLine]
    anglers: list[TableLine]


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
