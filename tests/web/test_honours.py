"""The honours of a season, on a page of their own."""

import datetime as dt

import pytest

from league.files import rulebook
from league.operations.publish import make_final, publish
from league.operations.season import cancel_match
from tests.builders import make_match
from tests.web.reading import read
from tests.web.scene import BOOK, START, fish, make_league

TEAMS = ["Old Quarry", "Tannery Lane", "Pennyfold", "Millrace"]


@pytest.fixture
def season(club):
    book = BOOK | {"team": {"size": 1}, "season": BOOK["season"] | {"best": 2, "up": 1, "down": 1}}
    return make_league(
        club, teams=TEAMS, planned_rounds=2, book=rulebook.as_dict(rulebook.from_dict(book))
    )


def publish_in_order(season, number, *teams, heaviest=20):
    caught = {
        "A": [(f"{team} Angler", team, f"{heaviest - at}-0") for at, team in enumerate(teams)]
    }
    match = fish(season, caught, number=number)
    publish(match, by=None, at=START + dt.timedelta(days=21 * (number - 1)))
    return match


def address(season):
    return f"/tables/{season.pk}/honours/"


def test_before_the_last_round_the_page_says_that_it_waits(stranger, season):
    publish_in_order(season, 1, *TEAMS)

    page = read(stranger.get(address(season)))

    assert page.h1 == "The season is not over yet"
    assert "One round fished, one round to fish." in page.words
    assert "Champions" not in page.words
    assert address(season) not in read(stranger.get(f"/tables/{season.pk}/")).links


def test_a_round_called_off_is_no_round_to_fish(stranger, season):
    season.planned_rounds = 3
    season.save()
    publish_in_order(season, 1, *TEAMS)
    cancel_match(make_match(season=season, round=2, drawn=False), why="Ice.", by=None)

    page = read(stranger.get(address(season)))

    assert "One round fished, one round to fish." in page.words


def test_after_the_last_round_everybody_is_read_out_with_counts(stranger, season):
    """By hand: 4 + 4, 3 + 3, 2 + 2 and 1 + 1; 20-0 and 30-0 are the best, off peg 1 each."""
    publish_in_order(season, 1, *TEAMS)
    publish_in_order(season, 2, *TEAMS, heaviest=30)

    page = read(stranger.get(address(season)))

    assert page.h1 == "Old Quarry win the league by two"
    for said in (
        "Two rounds fished, 188 lb 0 oz in all.",
        "Old Quarry 8 points, 50 lb 0 oz, two rounds fished, two won.",
        "Old Quarry Promoted.",
        "Millrace Relegated.",
        "30 lb 0 oz Old Quarry Angler Old Quarry, peg 1, round 2, Marl Canal, Sun 25 Oct.",
        "2 Old Quarry Angler Old Quarry. Of two rounds fished.",
    ):
        assert said in page.words
    assert address(season) in read(stranger.get(f"/tables/{season.pk}/")).links


def test_honours_are_provisional_until_every_round_is_final(stranger, season):
    matches = [publish_in_order(season, number, *TEAMS) for number in (1, 2)]
    assert "Provisional" in read(stranger.get(address(season))).words

    for match in matches:
        make_final(match, by=None, at=START + dt.timedelta(days=90))

    assert "Provisional" not in read(stranger.get(address(season))).words


def test_a_season_of_no_rounds_has_a_page_all_the_same(stranger, season):
    assert read(stranger.get(address(season))).h1 == "The season is not over yet"


def test_the_page_asks_the_database_a_dozen_questions_at_most(
    stranger, season, django_assert_max_num_queries
):
    for number in (1, 2):
        publish_in_order(season, number, *TEAMS)

    with django_assert_max_num_queries(12):
        stranger.get(address(season))
