"""Teams and squads entered from a list."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.contrib.auth.models import User

from league.files.pasted_teams import PastedName, read_squad, read_teams
from league.models import Angler, Club, Season, SquadMember, Team
from league.operations.errors import RefusedError
from league.operations.teams import (
    asks_about,
    enter_teams,
    remove_team,
    rename_team,
    set_squad,
)
from tests.builders import make_entry, make_match, make_season
from tests.factories import AnglerFactory, ClubFactory

TWO_TEAMS = read_teams("Tannery Lane: Jo Ormesher (c), Ray Tolliver\nOld Quarry: Dave Scrimshire")


@pytest.fixture
def season(club: Club) -> Season:
    return make_season(club)


def squads(season: Season) -> dict[str, list[str]]:
    return {
        team.name: [
            f"{each.angler.name}{' (c)' if each.captain else ''}"
            for each in SquadMember.objects.of(team)
        ]
        for team in Team.objects.of(season)
    }


def test_teams_come_with_their_squads_and_known_anglers_are_found(
    season: Season, club: Club, sam: User, journal: Callable[[], list[str]]
) -> None:
    ray = AnglerFactory(club=club, name="ray tolliver")
    AnglerFactory(club=ClubFactory(), name="Jo Ormesher")

    entered = enter_teams(season, TWO_TEAMS, by=sam)

    assert squads(season) == {
        "Old Quarry": ["Dave Scrimshire"],
        "Tannery Lane": ["Jo Ormesher (c)", "ray tolliver"],
    }
    assert [angler.name for angler in entered.anglers] == ["Jo Ormesher", "Dave Scrimshire"]
    assert ray.squads.count() == 1
    assert journal()[-1].startswith("2 anglers new to the club")


def test_pasting_the_same_list_again_changes_nothing(season: Season, sam: User) -> None:
    enter_teams(season, TWO_TEAMS, by=sam)

    again = enter_teams(season, TWO_TEAMS, by=sam)

    assert (again.teams, again.anglers, again.placed) == ((), (), 0)
    assert Angler.objects.count() == 3


def test_a_list_with_one_impossible_squad_enters_nothing(
    season: Season, club: Club, sam: User
) -> None:
    enter_teams(season, read_teams("Millrace: Jo Ormesher"), by=sam)

    with pytest.raises(RefusedError) as refusal:
        enter_teams(season, TWO_TEAMS, by=sam)

    assert "Jo Ormesher is in the squad of Millrace this season" in str(refusal.value)
    assert list(squads(season)) == ["Millrace"]
    assert Angler.objects.count() == 1


def test_a_name_like_somebodys_is_asked_about_and_the_answer_holds(
    season: Season, club: Club, sam: User
) -> None:
    joe = AnglerFactory(club=club, name="Joe Ormesher")
    AnglerFactory(club=club, name="Winston Arberry")
    names = read_squad("Jo Ormesher, Ray Tolliver, Winston Arberry")

    (question,) = asks_about(club, names)
    enter_teams(season, read_teams("A: Jo Ormesher"), answers={"Jo Ormesher": joe.pk}, by=sam)

    assert (question.name, question.candidates) == ("Jo Ormesher", (joe,))
    assert squads(season) == {"A": ["Joe Ormesher"]}


def test_two_anglers_of_one_name_are_asked_about_too(club: Club) -> None:
    both = [AnglerFactory(club=club, name="Tom Kerrow") for _ in range(2)]

    (question,) = asks_about(club, read_squad("tom kerrow"))

    assert set(question.candidates) == set(both)


def test_somebody_new_may_have_the_name_of_somebody_else(
    season: Season, club: Club, sam: User
) -> None:
    AnglerFactory(club=club, name="Tom Kerrow")

    enter_teams(season, read_teams("A: Tom Kerrow"), answers={"Tom Kerrow": None}, by=sam)

    assert Angler.objects.of(club).count() == 2


def test_a_squad_is_made_just_as_it_is_written(
    season: Season, sam: User, journal: Callable[[], list[str]]
) -> None:
    enter_teams(season, TWO_TEAMS, by=sam)
    team = Team.objects.get(name="Tannery Lane")

    set_squad(team, read_squad("Ray Tolliver (c)\nAna Ferradas"), by=sam)

    assert squads(season)["Tannery Lane"] == ["Ray Tolliver (c)", "Ana Ferradas"]
    assert "Jo Ormesher taken out of the squad of Tannery Lane." in journal()


def test_a_team_is_written_otherwise_but_not_as_another(season: Season, sam: User) -> None:
    enter_teams(season, TWO_TEAMS, by=sam)
    team = Team.objects.get(name="Tannery Lane")

    assert str(rename_team(team, name=" Tannery  Row", code="trw", by=sam)) == "Tannery Row"
    assert Team.objects.get(pk=team.pk).code == "TRW"
    for name, code in (("Old Quarry", "TRW"), ("Tannery Row", "OLD"), ("Tannery Row", "no!")):
        with pytest.raises(RefusedError):
            rename_team(team, name=name, code=code, by=sam)


def test_a_team_nobody_was_booked_in_for_can_go_and_another_cannot(
    season: Season, sam: User
) -> None:
    enter_teams(season, TWO_TEAMS, by=sam)
    gone, stays = Team.objects.of(season)
    make_entry(make_match(season=season), team=stays)

    remove_team(gone, by=sam)
    with pytest.raises(RefusedError) as refusal:
        remove_team(stays, by=sam)

    assert list(Team.objects.of(season)) == [stays]
    assert "Anglers have been booked in for Tannery Lane" in str(refusal.value)


def test_a_list_without_a_team_is_refused(season: Season, sam: User) -> None:
    with pytest.raises(RefusedError, match="No team is written down yet"):
        enter_teams(season, (), by=sam)
    assert PastedName("Jo") == PastedName("Jo", captain=False)
