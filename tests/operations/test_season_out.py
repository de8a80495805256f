"""A season set up by mistake is taken out; one in which something was done stays."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable

import pytest
from django.contrib.auth.models import User

from league.models import Angler, Club, League, Match, Season
from league.operations.draw import seal
from league.operations.errors import RefusedError
from league.operations.lineup import book_in
from league.operations.money import announce_pools, put_off
from league.operations.season import add_round, add_team, make_season, remove_season
from league.rules.pools_plan import Plan
from league.rules.rulebook import Rulebook
from tests.builders import make_entry, make_match
from tests.factories import AnglerFactory, LeagueFactory, VenueFactory, WaterFactory


@pytest.fixture
def season(club: Club) -> Season:
    league = LeagueFactory(club=club, name="Winter Team League")
    return make_season(
        league, name="2026–27", starts=dt.date(2026, 10, 4), book=Rulebook(), by=None
    )


def _owe_a_stake(match: Match) -> None:
    announce_pools(match, Plan(stake=1000, frame=1000), by=None)
    put_off(make_entry(match), by=None)


def test_a_season_made_by_mistake_is_taken_out_and_the_journal_keeps_its_lines(
    season: Season, club: Club, sam: User, journal: Callable[[], list[str]]
) -> None:
    heron = WaterFactory(venue=VenueFactory(club=club))
    add_team(season, name="Millrace", by=sam)
    round_ = add_round(season, number=1, water=heron, date=season.starts, by=sam)
    book_in(round_, AnglerFactory(club=club), team=season.teams.get(), by=sam)
    before = journal()

    said = remove_season(season, by=sam)

    assert said == (
        "Winter Team League 2026–27 is taken out, with 1 team and 1 round; nothing was drawn in "
        "it. Winter Team League has no season left and is taken out too."
    )
    assert [model.objects.count() for model in (Season, Match, League)] == [0, 0, 0]
    assert Angler.objects.count() == 1
    assert sorted(journal()) == sorted([*before, said])


@pytest.mark.parametrize(
    ("done", "words"),
    [
        (lambda match: seal(match, by=None), "has its draw sealed"),
        (lambda match: Match.objects.filter(pk=match.pk).update(stage="drawn"), "is drawn"),
        (_owe_a_stake, "Money is written down for Round 1"),
    ],
    ids=["sealed", "drawn", "paid"],
)
def test_a_season_in_which_something_was_drawn_or_paid_stays(
    season: Season, sam: User, done: Callable[[Match], object], words: str
) -> None:
    match = make_match(season=season, drawn=False)
    done(match)

    with pytest.raises(RefusedError, match=words):
        remove_season(season, by=sam)

    assert Season.objects.exists()
    assert Match.objects.exists()


def test_a_league_with_another_season_stays(season: Season, sam: User) -> None:
    make_season(season.league, name="2027–28", starts=season.starts, book=Rulebook(), by=sam)

    remove_season(season, by=sam)

    assert [each.name for each in Season.objects.all()] == ["2027–28"]
    assert League.objects.exists()
