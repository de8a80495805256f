"""Clubs and leagues at the edge: no rounds planned, one team, the longest name there is."""

import pytest

from league.files import rulebook
from league.operations.publish import publish
from tests.factories import ClubFactory
from tests.sizes import LONG_NAME
from tests.web.reading import read
from tests.web.scene import BOOK, fish, make_league, publish_rounds

ALONE = BOOK | {"team": {"size": 1}}


def pages_of(season):
    return [f"/tables/{season.pk}/{rest}" for rest in ("", "anglers/", "honours/", "rules/")]


def test_a_league_without_rounds_says_that_it_waits(stranger, club):
    season = make_league(club, planned_rounds=0)

    for address in pages_of(season):
        read(stranger.get(address))
    assert read(stranger.get(pages_of(season)[0])).h1 == "The table starts after round 1"


def test_a_league_of_which_nobody_planned_the_rounds_counts_what_was_fished(stranger, club):
    season = make_league(club, planned_rounds=0)
    publish_rounds(season, 2)

    page = read(stranger.get(f"/tables/{season.pk}/"))

    assert page.h1.endswith("after two rounds")
    assert "Nobody has said how many rounds this season is to have" in page.words
    assert read(stranger.get(f"/tables/{season.pk}/honours/")).h1 == "The season is not over yet"


@pytest.mark.parametrize(
    ("planned", "headline"),
    [
        (2, "Old Quarry are alone in the league with one round to fish"),
        (1, "Old Quarry win the league"),
    ],
)
def test_a_league_with_one_team(stranger, club, planned, headline):
    season = make_league(
        club,
        teams=["Old Quarry"],
        planned_rounds=planned,
        book=rulebook.as_dict(rulebook.from_dict(ALONE)),
    )
    publish(fish(season, {"A": [("Ana Ferradas", "Old Quarry", "3-0")]}, number=1), by=None)

    for address in pages_of(season):
        read(stranger.get(address))
    assert read(stranger.get(f"/tables/{season.pk}/")).h1 == headline


def test_a_club_name_of_eighty_letters_stands_whole_on_its_pages(stranger, db):
    assert len(LONG_NAME) == 80
    season = make_league(ClubFactory(name=LONG_NAME))
    [result] = publish_rounds(season, 1)

    for address in (*pages_of(season), f"/matches/{result.match_id}/result/"):
        assert LONG_NAME in read(stranger.get(address)).head_words
