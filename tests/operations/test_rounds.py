"""Rounds planned from a list, and a season copied from the one before."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable

import pytest
from django.contrib.auth.models import User

from league.files import rulebook
from league.files.pasted_rounds import filled_in, read_rounds
from league.files.pasted_teams import read_teams
from league.models import Club, Match, Season, SquadMember, Team, Water
from league.operations.errors import RefusedError
from league.operations.rounds import Hours, change_season, copy_season, plan_rounds
from league.operations.season import cancel_match
from league.operations.teams import enter_teams
from league.rules.rulebook import Rulebook
from tests.builders import make_season
from tests.factories import VenueFactory, WaterFactory

EIGHTS = rulebook.as_dict(rulebook.changed(Rulebook(), {"team": {"size": 8, "per_section": 2}}))
STARTS = dt.date(2026, 10, 4)
HOURS = Hours(None, dt.time(8, 30), dt.time(10), dt.time(15))


@pytest.fixture
def season(club: Club) -> Season:
    return make_season(club, starts=STARTS, book=EIGHTS)


@pytest.fixture
def heron(club: Club) -> Water:
    water: Water = WaterFactory(name="Heron Lake", venue=VenueFactory(club=club, name="Marl Park"))
    return water


def lines(season: Season) -> list[str]:
    return [
        f"{match.round} {match.date} {match.water} {match.draw_at:%H:%M} {match.all_in:%H:%M}"
        for match in Match.objects.rounds_of(season)
    ]


def test_lines_get_what_they_leave_out(season: Season, heron: Water, sam: User) -> None:
    mere = WaterFactory(name="Fallow Mere", venue=heron.venue)
    pasted = read_rounds("4 Oct\n18 Oct, fallow mere, 9:30-14:30", starts=STARTS)

    made = plan_rounds(season, pasted, water=heron, hours=HOURS, by=sam)

    assert lines(season) == [
        "1 2026-10-04 Heron Lake 08:30 10:00",
        "2 2026-10-18 Fallow Mere 08:30 09:30",
    ]
    assert made[1].water == mere
    # Eight in a team, two of them in a section: so the rules say.
    assert {match.per_section for match in made} == {2}
    season.refresh_from_db()
    assert season.planned_rounds == 2


def test_more_rounds_take_the_numbers_that_are_free(
    season: Season, heron: Water, sam: User
) -> None:
    plan_rounds(season, read_rounds("2, 18 Oct", starts=STARTS), water=heron, hours=HOURS, by=sam)

    plan_rounds(
        season, read_rounds("4 Oct\n1 Nov", starts=STARTS), water=heron, hours=HOURS, by=sam
    )

    assert [line[:12] for line in lines(season)] == ["1 2026-10-04", "2 2026-10-18", "3 2026-11-01"]


def test_one_line_that_cannot_be_plans_nothing(season: Season, heron: Water, sam: User) -> None:
    with pytest.raises(RefusedError) as refusal:
        plan_rounds(season, read_rounds("4 Oct\n18 Oct, Hern Lake", starts=STARTS), by=sam)

    assert str(refusal.value).splitlines() == [
        "Row 1: no water is named. Write it behind the date.",
        "Row 2: Hern Lake is not a water of the club. Its waters are Heron Lake.",
    ]
    assert lines(season) == []
    plan_rounds(season, filled_in(STARTS, count=1, every=14), water=heron, hours=HOURS, by=sam)
    with pytest.raises(RefusedError, match="round 1 is planned already, for Sun 4 Oct 2026"):
        plan_rounds(season, filled_in(STARTS, count=2, every=14), water=heron, by=sam)


def test_last_season_is_copied_whole_weeks_later(
    season: Season, heron: Water, sam: User, journal: Callable[[], list[str]]
) -> None:
    enter_teams(season, read_teams("Old Quarry: Dave Scrimshire (c)\nMillrace"), by=sam)
    plan_rounds(season, filled_in(STARTS, count=3, every=14), water=heron, hours=HOURS, by=sam)
    cancel_match(Match.objects.rounds_of(season)[1], why="Frozen over.", by=sam)
    season.refresh_from_db()

    # 3 October 2027 is a Sunday too, 52 weeks later.
    new = copy_season(season, name="2027–28", starts=dt.date(2027, 10, 3), by=sam)

    assert new.book == season.book
    assert [(team.name, team.code) for team in Team.objects.of(new)] == [
        (team.name, team.code) for team in Team.objects.of(season)
    ]
    assert [str(each) for each in SquadMember.objects.of_season(new)] == [
        "Dave Scrimshire, Old Quarry"
    ]
    assert lines(new) == [
        "1 2027-10-03 Heron Lake 08:30 10:00",
        "2 2027-10-31 Heron Lake 08:30 10:00",
    ]
    assert journal()[-1].endswith("2 teams with squads and 2 rounds.")


def test_teams_alone_can_be_copied(season: Season, heron: Water, sam: User) -> None:
    enter_teams(season, read_teams("Old Quarry: Dave Scrimshire"), by=sam)
    plan_rounds(season, filled_in(STARTS, count=1, every=7), water=heron, hours=HOURS, by=sam)

    new = copy_season(
        season, name="Summer", starts=dt.date(2027, 5, 2), squads=False, rounds=False, by=sam
    )

    assert (Team.objects.of(new).count(), lines(new)) == (1, [])
    assert not SquadMember.objects.of_season(new).exists()


def test_a_season_is_written_otherwise(season: Season, heron: Water, sam: User) -> None:
    plan_rounds(season, filled_in(STARTS, count=3, every=7), water=heron, hours=HOURS, by=sam)

    changed = change_season(season, name="2026/27", starts=STARTS, planned_rounds=8, by=sam)

    assert (changed.name, changed.slug, changed.planned_rounds) == ("2026/27", "202627", 8)
    with pytest.raises(RefusedError, match="at least 3 rounds"):
        change_season(season, name="2026/27", starts=STARTS, planned_rounds=2, by=sam)
