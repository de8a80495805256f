"""A season sheet into a club that has records already, and out again."""

from __future__ import annotations

import pytest

from league.files.sheet import Sheet, read_sheet
from league.models import Club, Entry, League, Match, Peg, SquadMember, Stage, WeighIn
from league.operations.errors import RefusedError
from league.operations.load import load_season
from league.operations.unload import unload
from league.rules.rulebook import Rulebook
from tests.builders import make_season
from tests.factories import AnglerFactory, LeagueFactory, PegFactory, VenueFactory, WaterFactory

ROUND = """\
round,date,water,section,peg,angler,team,weight
1,2026-10-04,Heron Lake,A,2,Tom K. (junior),Bridge End,3-0
1,2026-10-04,Heron Lake,A,P1,Jo Ormesher,Tannery Lane,14-9
1,2026-10-04,Heron Lake,B,3,Hugh Amblerton,Bridge End,not weighed
1,2026-10-04,Heron Lake,B,4,Ray Tolliver,Tannery Lane,2-2
"""


def sheet(text: str = ROUND) -> Sheet:
    return read_sheet(text, Rulebook())


@pytest.fixture
def league(club: Club) -> League:
    return LeagueFactory(club=club, name="Winter")


def test_pegs_that_are_there_are_used_and_new_ones_stand_beyond_them(league: League):
    water = WaterFactory(venue=VenueFactory(club=league.club), name="heron lake")
    PegFactory(water=water, order=1, number="p1")
    PegFactory(water=water, order=2, number="2")

    load_season(league, sheet=sheet(), name="2026", by=None)

    assert [peg.number for peg in Peg.objects.along(water)] == ["p1", "2", "3", "4"]
    assert Match.objects.get().water == water


def test_an_angler_is_found_by_the_name_that_may_be_printed(league: League):
    tom = AnglerFactory(club=league.club, name="Tom Kerrow", junior=True)

    loaded = load_season(league, sheet=sheet(), name="2026", by=None)

    assert Entry.objects.get(match_peg__peg__number="2").angler == tom
    assert [angler.name for angler in loaded.new_anglers] == [
        "Jo Ormesher",
        "Hugh Amblerton",
        "Ray Tolliver",
    ]


def test_everybody_is_in_the_squad_of_the_team_they_first_fished_for(league: League):
    other_team = ROUND.replace("1,2026-10-04", "2,2026-11-04").replace(
        "P1,Jo Ormesher,Tannery Lane", "P1,Jo Ormesher,Lamplighters"
    )
    both = sheet(ROUND + other_team.split("\n", 1)[1])

    load_season(league, sheet=both, name="2026", by=None)

    squads = {str(member.angler): member.team.name for member in SquadMember.objects.all()}
    assert squads["Jo Ormesher"] == "Tannery Lane"
    assert len(squads) == 4


def test_a_season_that_was_set_up_takes_its_rounds_and_keeps_its_teams(club: Club):
    season = make_season(club, teams=["Bridge End", "Tannery Lane"], name="2026", slug="2026")

    loaded = load_season(season.league, sheet=sheet(), name="2026", by=None)

    assert loaded.season == season
    assert [team.code for team in season.teams.order_by("name")] == ["T1", "T2"]


def test_a_figure_changed_since_refuses_the_whole_sheet(league: League):
    load_season(league, sheet=sheet(), name="2026", by=None)
    more = ROUND.replace("14-9", "14-8") + ROUND.replace("\n1,", "\n2,").split("\n", 1)[1]

    with pytest.raises(RefusedError, match="Round 1 is on record with other figures"):
        load_season(league, sheet=sheet(more), name="2026", by=None)

    assert Match.objects.count() == 1


def test_a_later_season_of_the_same_league_stands_beside_it(league: League):
    load_season(league, sheet=sheet(), name="2026", by=None)

    load_season(league, sheet=sheet(), name="2027", by=None)

    assert Match.objects.filter(stage=Stage.FINAL).count() == 2
    assert WeighIn.objects.count() == 8


def test_everything_of_a_club_leaves_in_files_and_nothing_of_another(league: League):
    load_season(league, sheet=sheet(), name="2026", by=None)
    elsewhere = LeagueFactory(name="Elsewhere")
    load_season(elsewhere, sheet=sheet(), name="2026", by=None)

    files = dict(unload(league.club))

    assert set(files) == {
        "anglers.csv",
        "money.csv",
        "pegs.csv",
        "waters.csv",
        f"{league.slug}/2026/round-1/result-1.json",
        f"{league.slug}/2026/rules.toml",
        f"{league.slug}/2026/season.csv",
        f"{league.slug}/2026/season.json",
    }
    back = read_sheet(files[f"{league.slug}/2026/season.csv"], Rulebook()).matches[0]
    assert set(back.rows) == set(sheet().matches[0].rows)
