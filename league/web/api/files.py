"""The result file and the season's file, field by field: the same as at the foot of their pages."""

from __future__ import annotations

import datetime as dt
from typing import Any

from ninja import Schema

from league.web.api.schemas import Unit


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
