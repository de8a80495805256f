"""A decision that left in a season sheet and came back: the same figures, and said the same."""

from __future__ import annotations

import datetime as dt

from django.contrib.auth.models import User

from league.files.sheet import read_sheet
from league.models import Club, Decision, DecisionKind, Result
from league.operations.decide import decide
from league.operations.load import load_season
from league.operations.publish import publish
from league.operations.score import book_of_season
from league.operations.unload import unload
from tests.factories import LeagueFactory
from tests.web.scene import fish_round_6, make_league

WHEN = dt.datetime(2027, 1, 24, 17, 40, tzinfo=dt.UTC)


def said(result: Result) -> list[str]:
    return sorted(decision["says"] for decision in result.document["decisions"])


def test_every_kind_comes_back_as_it_was_said(club: Club, sam: User) -> None:
    season = make_league(club)
    match = fish_round_6(season, number=6)
    for name, kind, figure in (
        ("Jo Ormesher", DecisionKind.DISQUALIFIED, {}),
        ("Dave Scrimshire", DecisionKind.POINTS, {"points": 1}),
        ("Mick Oldacre", DecisionKind.WEIGHT, {"weight": 256}),
        ("Ron Tibbald", DecisionKind.LATE_WEIGHT, {"weight": 512}),
        ("Steve Dunnaway", DecisionKind.VOID_PEG, {"points": 3}),
        ("Alan Garrowby", DecisionKind.DISQUALIFIED, {}),
        ("Alan Garrowby", DecisionKind.POINTS, {"points": 2}),
    ):
        entry = match.entries.get(angler__name=name)
        decide(match, kind=kind, entry=entry, why=f"Rule of {kind}.", by=sam, **figure)
    Decision.objects.update(at=WHEN)
    before = publish(match, by=sam)
    sheet = next(text for path, text in unload(club) if path.endswith("season.csv"))
    book = book_of_season(season)

    loaded = load_season(
        LeagueFactory(club=club), sheet=read_sheet(sheet, book), name="Again", book=book, by=None
    )

    after = Result.objects.get(match__season=loaded.season)
    assert said(after) == said(before)
    assert Decision.objects.filter(match__season=loaded.season, by=None).count() == 7
    assert after.document["teams"][0]["points"] == before.document["teams"][0]["points"]
