"""A season is set up: rules, teams, squads, rounds."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable

import pytest
from django.contrib.auth.models import User

from league.files import rulebook
from league.models import Club, Season, Stage
from league.operations.errors import RefusedError
from league.operations.publish import publish
from league.operations.score import book_of, book_of_season
from league.operations.season import (
    add_match,
    add_round,
    add_team,
    add_to_squad,
    cancel_match,
    make_season,
)
from league.rules.rulebook import Rulebook
from league.rules.weights import Unit
from tests.builders import make_fished_match, make_match
from tests.factories import AnglerFactory, ClubFactory, LeagueFactory

FIRST = dt.date(2026, 10, 4)
KILOS = rulebook.changed(Rulebook(), {"unit": "kg", "section": {"equal": "better"}})


@pytest.fixture
def season(club: Club, sam: User) -> Season:
    league = LeagueFactory(club=club, name="Winter Team League")
    return make_season(league, name="2026–27", starts=FIRST, book=KILOS, planned_rounds=7, by=sam)


def test_a_season_keeps_the_rules_that_were_announced(
    season: Season, journal: Callable[[], list[str]]
) -> None:
    assert (season.slug, season.planned_rounds) == ("2026-27", 7)
    assert book_of_season(season) == KILOS
    assert journal() == ["Season Winter Team League 2026–27 set up."]


def test_a_second_season_of_the_name_is_refused(season: Season, sam: User) -> None:
    with pytest.raises(RefusedError) as refusal:
        make_season(season.league, name="2026-27", starts=FIRST, book=Rulebook(), by=sam)

    assert str(refusal.value) == "The league already has a season of this name."
    assert Season.objects.count() == 1


def test_a_season_without_a_name_is_refused(season: Season, sam: User) -> None:
    with pytest.raises(RefusedError) as refusal:
        make_season(season.league, name=" ", starts=FIRST, book=Rulebook(), by=sam)

    assert "Name: This field cannot be blank." in str(refusal.value)


def test_teams_get_a_code_from_their_name(season: Season, sam: User) -> None:
    names = ["Tannery Lane", "Tan & Sons", "Tanners", "Écluse AC", "¿?"]

    codes = [add_team(season, name=name, by=sam).code for name in names]

    assert codes == ["TAN", "TAN2", "TAN3", "ECL", "TEAM"]


def test_a_code_of_the_clubs_own_is_kept_and_a_wrong_one_refused(season: Season, sam: User) -> None:
    assert add_team(season, name="Old Quarry", code="QUARRY", by=sam).code == "QUARRY"

    with pytest.raises(RefusedError) as refusal:
        add_team(season, name="Tannery Lane", code="tan!", by=sam)

    assert str(refusal.value) == "A team's code is one to eight capitals or digits."


def test_a_team_is_entered_once(season: Season, sam: User) -> None:
    add_team(season, name="Old Quarry", by=sam)

    with pytest.raises(RefusedError) as refusal:
        add_team(season, name="Old Quarry ", by=sam)

    assert str(refusal.value) == "The season already has a team of this name."


def test_nobody_is_in_two_squads_of_a_season(season: Season, sam: User) -> None:
    ours = add_team(season, name="Old Quarry", by=sam)
    theirs = add_team(season, name="Tannery Lane", by=sam)
    angler = AnglerFactory(club=season.league.club, name="Dave Scrimshire")
    member = add_to_squad(theirs, angler, captain=True, by=sam)

    with pytest.raises(RefusedError) as refusal:
        add_to_squad(ours, angler, by=sam)

    assert member.captain
    assert str(refusal.value) == (
        "Dave Scrimshire is in the squad of Tannery Lane this season; take them out of it first."
    )
    with pytest.raises(RefusedError) as again:
        add_to_squad(theirs, angler, by=sam)
    assert str(again.value) == "This angler is already in the squad."


def test_an_angler_of_another_club_is_in_no_squad(season: Season, sam: User) -> None:
    team = add_team(season, name="Old Quarry", by=sam)
    stranger = AnglerFactory(club=ClubFactory(), name="Ana Ferradas")

    with pytest.raises(RefusedError) as refusal:
        add_to_squad(team, stranger, by=sam)

    assert str(refusal.value) == "Ana Ferradas is not an angler of the club."


def test_a_round_is_weighed_in_the_unit_of_the_rules(season: Season, sam: User) -> None:
    water = make_match(season.league.club).water

    match = add_round(season, number=6, water=water, date=FIRST, by=sam, per_section=2)

    assert (match.title, match.unit, match.per_section, match.stage) == (
        "Round 6",
        "kg",
        2,
        Stage.PLANNED,
    )
    assert book_of(match) == KILOS


def test_a_round_is_planned_once_and_numbered_from_one(season: Season, sam: User) -> None:
    water = make_match(season.league.club).water
    add_round(season, number=6, water=water, date=FIRST, by=sam)

    with pytest.raises(RefusedError) as twice:
        add_round(season, number=6, water=water, date=FIRST, by=sam)
    with pytest.raises(RefusedError) as zero:
        add_round(season, number=0, water=water, date=FIRST, by=sam)

    assert str(twice.value) == "The season already has this round."
    assert str(zero.value) == "Rounds are numbered 1, 2, 3 ..."


def test_a_round_on_another_clubs_water_is_refused(season: Season, sam: User) -> None:
    water = make_match(ClubFactory()).water

    with pytest.raises(RefusedError) as refusal:
        add_round(season, number=1, water=water, date=FIRST, by=sam)

    assert str(refusal.value) == f"{water.name} is not a water of the club."


def test_all_out_comes_after_all_in(season: Season, sam: User) -> None:
    water = make_match(season.league.club).water

    with pytest.raises(RefusedError) as refusal:
        add_round(
            season,
            number=1,
            water=water,
            date=FIRST,
            by=sam,
            all_in=dt.time(15),
            all_out=dt.time(10),
        )

    assert str(refusal.value) == "All out at 10:00 is not after all in at 15:00."


def test_a_match_outside_a_league_has_its_own_rules_or_the_default(club: Club, sam: User) -> None:
    water = make_match(club).water
    cup = add_match(club, water=water, date=FIRST, name="Cup", unit=Unit.KG, book=KILOS, by=sam)
    open_match = add_match(club, water=water, date=FIRST, name="Open", unit=Unit.KG, by=sam)

    assert book_of(cup) == KILOS
    assert book_of(open_match) == rulebook.changed(Rulebook(), {"unit": "kg"})


def test_rules_in_pounds_for_a_match_in_kilograms_are_refused(club: Club, sam: User) -> None:
    with pytest.raises(RefusedError) as refusal:
        add_match(
            club,
            water=make_match(club).water,
            date=FIRST,
            name="Cup",
            unit=Unit.LB_OZ,
            book=KILOS,
            by=sam,
        )

    assert str(refusal.value) == (
        "The rules are written for kg and the match is weighed in lb-oz: choose one unit for both."
    )


def test_a_match_is_called_off_with_a_reason_and_once(
    season: Season, sam: User, journal: Callable[[], list[str]]
) -> None:
    match = make_match(season=season, drawn=False)

    with pytest.raises(RefusedError) as silent:
        cancel_match(match, why=" ", by=sam)
    cancel_match(match, why="Frozen over.", by=sam)
    with pytest.raises(RefusedError) as twice:
        cancel_match(match, why="Frozen over.", by=sam)

    assert str(silent.value) == "Say why the match is cancelled: anglers will ask."
    assert str(twice.value) == "The match is cancelled already."
    assert journal()[-1] == "Round 1 cancelled: Frozen over."


def test_a_published_match_cannot_be_called_off(club: Club, sam: User) -> None:
    match = make_fished_match(club)
    publish(match, by=sam)

    with pytest.raises(RefusedError) as refusal:
        cancel_match(match, why="Rain.", by=sam)

    assert str(refusal.value) == "The result is published, so the match cannot be cancelled."


def test_what_can_change_the_table_is_counted(season: Season, sam: User) -> None:
    water = make_match(season.league.club).water
    match = add_round(season, number=1, water=water, date=FIRST, by=sam)
    season.refresh_from_db()
    before = season.table_version

    cancel_match(match, why="Frozen over.", by=sam)

    season.refresh_from_db()
    assert season.table_version == before + 1
