"""Teams, two held together, the pegs of a water: pages and files from one set of columns."""

from __future__ import annotations

from io import StringIO
from typing import Any

import pandas as pd
import pytest
from django.test import Client

from league.models import Club, Season, SquadMember, Team, Water
from league.operations.publish import publish
from tests.factories import ClubFactory, TeamFactory
from tests.web.reading import read
from tests.web.scene import (
    JUNIOR,
    START,
    TEAMS,
    fish_round_6,
    make_league,
    publish_rounds,
)


@pytest.fixture
def season(club: Club) -> Season:
    season = make_league(club)
    publish(fish_round_6(season, number=6), by=None, at=START)
    for entry in season.matches.get().entries.all():
        SquadMember.objects.create(team=entry.team, angler=entry.angler)
    return season


def named(name: str) -> Team:
    return Team.objects.get(name=name)


def table(client: Client, address: str) -> pd.DataFrame:
    response = client.get(address)
    assert response.status_code == 200
    return pd.read_csv(StringIO(response.content.decode("utf-8-sig")), dtype=str)


def test_a_team_page_says_how_the_season_goes(stranger: Client, season: Season) -> None:
    page = read(stranger.get(f"/teams/{named('Tannery Lane').pk}/"))

    assert page.h1 == "Tannery Lane"
    assert "First in the table after one round." in page.words
    assert "First of six last time out, with 18 points and 61 lb 4 oz at Heron Lake." in page.words
    # A second, B first, C second, D fifth; the points of a section of six are 5, 6, 5 and 2.
    assert page.table()[1] == [
        "6",
        "Heron Lake Sun 17 Jan 2027",
        "1",
        "A 2 B 1 C 2 D 5",
        "61 4",
        "18",
    ]
    assert "Jo Ormesher One round and one section win" in page.words


def test_a_junior_of_the_squad_goes_by_the_name_that_may_be_published(
    stranger: Client, season: Season
) -> None:
    team = named("Bridge End")

    said = [
        stranger.get(f"/teams/{team.pk}/").content.decode(),
        stranger.get(f"/teams/{team.pk}/rounds.csv").content.decode(),
        stranger.get(f"/teams/{team.pk}/rounds.json").content.decode(),
    ]

    assert all(JUNIOR not in each for each in said)
    assert "Tom K. (junior)" in said[0]


def test_a_team_without_a_result_says_what_will_come(stranger: Client, club: Club) -> None:
    team = TeamFactory(season=make_league(club, teams=()), name="Late Comers")

    page = read(stranger.get(f"/teams/{team.pk}/"))

    assert "When a round with Late Comers in it is published" in page.words


def test_a_teams_rounds_open_in_a_spreadsheet(stranger: Client, season: Season) -> None:
    address = f"/teams/{named('Tannery Lane').pk}/rounds"
    rows = table(stranger, f"{address}.csv")
    data = stranger.get(f"{address}.json").json()

    assert rows.to_dict("records") == [
        {
            "Round": "6",
            "Date": season.matches.get().date.isoformat(),
            "Water": "Heron Lake",
            "Place": "1",
            "Of": "6",
            "In sections": "A 2, B 1, C 2, D 5",
            "Weight": "61 lb 4 oz",
            "Points": "18",
        }
    ]
    assert list(data["columns"].values()) == list(rows.columns)
    assert [list(row.values()) for row in data["rows"]] == rows.values.tolist()


def test_two_teams_are_held_together(stranger: Client, season: Season) -> None:
    ours, theirs = named("Tannery Lane"), named("Old Quarry")
    address = f"/tables/{season.pk}/head-to-head/"

    page = read(stranger.get(f"{address}?a={ours.pk}&b={theirs.pk}"))
    rows = table(stranger, f"{address}meetings.csv?a={ours.pk}&b={theirs.pk}")

    assert page.h1 == "Tannery Lane ahead in 1 of 1 round"
    assert "Tannery Lane 18 points and 61 lb 4 oz, Old Quarry 18 points and 58 lb 0 oz" in (
        page.words
    )
    assert "In the four sections they shared Tannery Lane were ahead in 2, behind in 2." in (
        page.words
    )
    assert rows["Sections"].tolist() == ["A behind, B ahead, C ahead, D behind"]


@pytest.mark.parametrize(
    ("query", "words"),
    [
        ("?a=1&b=zwei", "One of the two is not a team of this season."),
        ("?a={ours}&b={ours}", "Tannery Lane cannot be held against themselves."),
        ("?a={ours}", "One of the two is not a team of this season."),
        ("?a={ours}&b=99999999999999999999999", "One of the two is not a team of this season."),
    ],
)
def test_teams_that_are_none_are_refused_in_words_and_the_choice_stays(
    stranger: Client, season: Season, query: str, words: str
) -> None:
    ours = named("Tannery Lane").pk

    response = stranger.get(f"/tables/{season.pk}/head-to-head/{query.format(ours=ours)}")

    assert response.status_code == 400
    assert words in response.content.decode()
    kept = f'<option value="{ours}" selected>'
    assert (kept in response.content.decode()) == ("{ours}" in query)


def test_without_two_teams_there_is_a_form_or_a_word(stranger: Client, club: Club) -> None:
    alone = make_league(club, teams=("Only One",))

    page = read(stranger.get(f"/tables/{alone.pk}/head-to-head/"))

    assert "This season has one team." in page.words


def test_another_clubs_team_is_not_there(stranger: Client, season: Season) -> None:
    hidden = TeamFactory(season=make_league(ClubFactory(public=False), teams=()))

    assert stranger.get(f"/teams/{hidden.pk}/").status_code == 302


def _questions(client: Client, address: str, counted: Any) -> int:
    with counted as found:
        assert client.get(address).status_code == 200
    return len(found)


def test_a_teams_page_asks_as_often_for_seven_rounds_as_for_one(
    stranger: Client, club: Club, django_assert_max_num_queries: Any
) -> None:
    few, many = make_league(club), make_league(club, slug="many", name="2027–28")
    publish_rounds(few, 1)
    publish_rounds(many, 7)
    addresses = [f"/teams/{each.teams.get(name=TEAMS[0]).pk}/" for each in (few, many)]

    counts = [_questions(stranger, each, django_assert_max_num_queries(40)) for each in addresses]

    assert counts[0] == counts[1]


def test_a_water_says_that_there_is_too_little_to_say(stranger: Client, season: Season) -> None:
    water = Water.objects.get(name="Heron Lake")

    page = read(stranger.get(f"/waters/{water.pk}/"))
    rows = table(stranger, f"/waters/{water.pk}/pegs.csv")

    assert "One match is published here, and that is too little" in page.words
    assert page.table()[1][:5] == ["1", "1", "–", "6 0", "0"]
    assert rows["Best"].tolist()[:2] == ["6 lb 0 oz", "14 lb 9 oz"]
    assert rows["Median"].isna().all()
    assert len(rows) == 24
    assert "Overhead power lines." in page.words


def test_waters_are_listed(stranger: Client, season: Season) -> None:
    page = read(stranger.get("/waters/"))

    assert "Heron Lake" in page.words
