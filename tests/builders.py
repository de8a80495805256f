"""Whole scenes in one call: a test names only what matters to it."""

from __future__ import annotations

import uuid
from collections.abc import Mapping, Sequence
from typing import Any

from league.models import Club, Entry, Match, MatchPeg, Office, Season, Stage, Team, WeighIn
from league.rules.lines import Status
from league.rules.weights import Unit, Weight
from tests.factories import (
    AnglerFactory,
    EntryFactory,
    LeagueFactory,
    MatchFactory,
    MatchPegFactory,
    OfficeFactory,
    PegFactory,
    SeasonFactory,
    SectionFactory,
    TeamFactory,
    VenueFactory,
    WaterFactory,
    WeighInFactory,
)


def give_office(club: Club, user: Any, name: str) -> Office:
    """Put *user* in an office of *club*."""
    return OfficeFactory(club=club, user=user, name=name)


def make_season(club: Club | None = None, *, teams: Sequence[str] = (), **values: Any) -> Season:
    """A season with its teams; codes are T1, T2 ..."""
    league = LeagueFactory(club=club) if club else LeagueFactory()
    season = SeasonFactory(league=league, **values)
    for count, name in enumerate(teams, start=1):
        TeamFactory(season=season, name=name, code=f"T{count}")
    return season


def make_match(
    club: Club | None = None,
    *,
    season: Season | None = None,
    sections: Mapping[str, int] | None = None,
    drawn: bool = True,
    **values: Any,
) -> Match:
    """
    A match with so many pegs in each of its *sections*, numbered along the bank.

    With *drawn* it stands at the stage after the draw; entries still have to be made.
    """
    club = club or (season.league.club if season else None)
    if club is not None:
        values["club"] = club
        values.setdefault("water", WaterFactory(venue=VenueFactory(club=club)))
    if season is not None:
        values.setdefault("round", season.matches.count() + 1)
        values["season"] = season
    match = MatchFactory(stage=Stage.DRAWN if drawn else Stage.PLANNED, **values)
    order = match.water.pegs.count()
    for place, (letter, pegs) in enumerate((sections or {"A": 4}).items(), start=1):
        section = SectionFactory(match=match, letter=letter, order=place)
        for _ in range(pegs):
            order += 1
            peg = PegFactory(water=match.water, order=order, number=str(order))
            MatchPegFactory(match=match, section=section, peg=peg)
    return match


def make_entry(
    match: Match, *, peg: str | int | None = None, team: Team | None = None, **values: Any
) -> Entry:
    """An entry, on the peg of that number if one is named."""
    if peg is not None:
        match_peg = MatchPeg.objects.select_related("section").get(
            match=match, peg__number=str(peg)
        )
        values |= {"match_peg": match_peg, "section": match_peg.section}
    if name := values.pop("name", None):
        values["angler"] = AnglerFactory(club=match.club, name=name)
    values.setdefault("number", match.entries.count() + 1)
    return EntryFactory(match=match, team=team, **values)


def make_weigh_in(entry: Entry, figure: str = "12-8", **values: Any) -> WeighIn:
    """A weigh-in as it would be typed: 12-8, 48-12 + 31-4, or a status such as blank."""
    unit = Unit(entry.match.unit)
    if figure in {status.value for status in Status}:
        values |= {"status": figure, "nets": ()}
    else:
        values["nets"] = [Weight.parse(net, unit).amount for net in figure.split("+")]
    values.setdefault("key", uuid.uuid4())
    return WeighInFactory(entry=entry, **values)


def make_fished_match(
    club: Club | None = None, *, weights: Mapping[str, Sequence[str]] | None = None, **values: Any
) -> Match:
    """A drawn match with every peg weighed: section letter to figures, in peg order."""
    weights = weights or {"A": ["12-8", "9-4", "blank"], "B": ["3-2", "3-2", "1-0"]}
    match = make_match(club, sections={s: len(w) for s, w in weights.items()}, **values)
    figures = [figure for section in weights.values() for figure in section]
    for match_peg, figure in zip(MatchPeg.objects.of(match), figures, strict=True):
        entry = make_entry(match, peg=match_peg.peg.number)
        make_weigh_in(entry, figure)
    return match
