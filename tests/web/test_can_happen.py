"""What can still happen, under the league table."""

import datetime as dt

import pytest

from league.files import rulebook
from league.operations.publish import publish
from tests.web.reading import read, said
from tests.web.scene import BOOK, START, fish, make_league

TEAMS = ["Old Quarry", "Tannery Lane", "Pennyfold"]
HEADING = "What can still happen"


def publish_in_order(season, number, *teams):
    """A round of one section won by the first of *teams*, a pound between each and the next."""
    caught = {"A": [(f"Angler of {team}", team, f"{20 - at}-0") for at, team in enumerate(teams)]}
    publish(
        fish(season, caught, number=number),
        by=None,
        at=START + dt.timedelta(days=21 * (number - 1)),
    )


@pytest.fixture
def season(club):
    book = BOOK | {"team": {"size": 1}, "season": BOOK["season"] | {"best": 3}}
    return make_league(
        club, teams=TEAMS, planned_rounds=4, book=rulebook.as_dict(rulebook.from_dict(book))
    )


def lines(page):
    return [(said(dt), said(dd)) for dt, dd in zip(page.all("dt"), page.all("dd"), strict=True)]


def test_with_a_round_to_fish_the_page_says_who_needs_what(stranger, season):
    for number in (1, 2, 3):
        publish_in_order(season, number, *TEAMS)

    page = read(stranger.get(f"/tables/{season.pk}/"))

    # Three wins of three, and the best three count: 9 stands. 2 + 2 + 3 = 7, and 1 + 1 + 3 = 5.
    assert HEADING in page.words
    assert "true however it goes, if it is fished and no penalty points come" in page.words
    assert lines(page) == [
        ("Old Quarry Champions",
         "Whatever happens: 9 at least, and Tannery Lane, the nearest, 7 at most."),
        ("Tannery Lane Cannot win", "7 at most; Old Quarry already have 9."),
        ("Pennyfold Cannot win", "5 at most; Old Quarry already have 9."),
    ]  # fmt: skip


def test_before_half_way_the_page_says_when_and_after_the_last_round_nothing(stranger, season):
    publish_in_order(season, 1, *TEAMS)
    early = read(stranger.get(f"/tables/{season.pk}/"))
    for number in (2, 3, 4):
        publish_in_order(season, number, *TEAMS)
    over = read(stranger.get(f"/tables/{season.pk}/"))

    assert "Said here after round 2: before, nearly everybody can win." in early.words
    assert lines(early) == []
    assert HEADING not in over.words


def test_anglers_are_spoken_of_one_by_one(stranger, season):
    for number in (1, 2, 3):
        publish_in_order(season, number, *TEAMS)

    page = read(stranger.get(f"/tables/{season.pk}/anglers/"))

    assert lines(page) == [
        ("Angler of Old Quarry Champion",
         "Whatever happens: 9 at least, and Angler of Tannery Lane, the nearest, 7 at most."),
        ("Angler of Tannery Lane Cannot win", "7 at most; Angler of Old Quarry already has 9."),
        ("Angler of Pennyfold Cannot win", "5 at most; Angler of Old Quarry already has 9."),
    ]  # fmt: skip


def test_where_weights_are_added_up_the_page_says_why_nobody_is_out_of_it(stranger, club):
    book = BOOK | {"team": {"size": 1}, "season": {"score": "weight"}}
    season = make_league(
        club, teams=TEAMS, planned_rounds=2, book=rulebook.as_dict(rulebook.from_dict(book))
    )
    publish_in_order(season, 1, *TEAMS)

    page = read(stranger.get(f"/tables/{season.pk}/"))

    assert "Totals are weights, and nobody can say how heavy a round will be" in page.words
