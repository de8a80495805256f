"""Whole scenes in one call: a test names only what matters to it."""

from __future__ import annotations

import uuid
from collections.abc import Mapping, Sequence
from typing import Any

from league.models import (
    Angler,
    Club,
    Entry,
    Match,
    MatchPeg,
    Office,
    Peg,
    Season,
    Stage,
    Team,
    WeighIn,
)
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
    first = match.water.pegs.count() + 1
    for place, (letter, count) in enumerate((sections or {"A": 4}).items(), start=1):
        section = SectionFactory(match=match, letter=letter, order=place)
        orders = range(first, first + count)
        pegs = Peg.objects.bulk_create(
            PegFactory.build(water=match.water, order=order) for order in orders
        )
        MatchPeg.objects.bulk_create(
            MatchPegFactory.build(match=match, section=section, peg=peg) for peg in pegs
        )
        first = orders.stop
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


def seat(match: Match, anglers: Sequence[Angler], teams: Sequence[Team] = ()) -> list[Entry]:
    """Book *anglers* in on the pegs of *match*, along the bank, each for the team beside him."""
    return Entry.objects.bulk_create(
        EntryFactory.build(
            match=match,
            number=number,
            angler=angler,
            team=team,
            match_peg=match_peg,
            section=match_peg.section,
        )
        for number, (angler, team, match_peg) in enumerate(
            zip(anglers, teams or [None] * len(anglers), MatchPeg.objects.of(match), strict=True),
            start=match.entries.count() + 1,
        )
    )


def make_weigh_in(entry: Entry, figure: str = "12-8", **values: Any) -> WeighIn:
    """A weigh-in as it would be typed: 12-8, 48-12 + 31-4, or a status such as blank."""
    return WeighInFactory(**_as_typed(entry, figure) | values)


def weigh_all(entries: Sequence[Entry], figures: Sequence[str]) -> None:
    """One weigh-in an entry, as they would be typed."""
    WeighIn.objects.bulk_create(
        WeighInFactory.build(**_as_typed(entry, figure))
        for entry, figure in zip(entries, figures, strict=True)
    )


def make_fished_match(
    club: Club | None = None, *, weights: Mapping[str, Sequence[str]] | None = None, **values: Any
) -> Match:
    """A drawn match with every peg weighed: section letter to figures, in peg order."""
    weights = weights or {"A": ["12-8", "9-4", "blank"], "B": ["3-2", "3-2", "1-0"]}
    match = make_match(club, sections={s: len(w) for s, w in weights.items()}, **values)
    figures = [figure for section in weights.values() for figure in section]
    anglers = Angler.objects.bulk_create(AnglerFactory.build_batch(len(figures), club=match.club))
    weigh_all(seat(match, anglers), figures)
    return match


def _as_typed(entry: Entry, figure: str) -> dict[str, Any]:
    if figure in {status.value for status in Status}:
        return {"entry": entry, "key": uuid.uuid4(), "status": figure, "nets": ()}
    unit = Unit(entry.match.unit)
    nets = [Weight.parse(net, unit).amount for net in figure.split("+")]
    return {"entry": entry, "key": uuid.uuid4(), "nets": nets}
