"""The versions of a result: a list of them, and what each of them moved, in sentences."""

import datetime as dt

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from league.files import rulebook
from league.operations.publish import publish
from league.operations.weigh import set_aside
from tests.builders import make_weigh_in
from tests.web.reading import read
from tests.web.scene import BOOK, START, fish, make_league

TEAMS = ["Old Quarry", "Tannery Lane", "Pennyfold"]


@pytest.fixture
def season(club):
    book = BOOK | {"team": {"size": 1}, "season": BOOK["season"] | {"best": 3}}
    return make_league(
        club, teams=TEAMS, planned_rounds=3, book=rulebook.as_dict(rulebook.from_dict(book))
    )


def published(season, number=1):
    caught = {"A": [(f"{team} Angler", team, f"{20 - at}-0") for at, team in enumerate(TEAMS)]}
    match = fish(season, caught, number=number)
    publish(match, by=None, at=START + dt.timedelta(days=21 * (number - 1)))
    return match


@pytest.fixture
def corrected(season, secretary):
    """Pennyfold's 18-0 was 28-0: from last to first, and the others one down."""
    match = published(season)
    entry = match.entries.get(team__name="Pennyfold")
    weigh_in = entry.weigh_ins.get()
    make_weigh_in(entry, "28-0")
    set_aside(weigh_in, why="The 2 was read as a 1.", by=secretary.user)
    publish(match, by=secretary.user, correcting=1, why="The 2 was read as a 1.",
            at=START + dt.timedelta(hours=2))  # fmt: skip
    return match


def address(match, rest=""):
    return f"/matches/{match.pk}/result/{rest}"


def test_what_a_correction_moved_is_told_in_sentences_at_an_address(stranger, corrected):
    page = read(stranger.get(address(corrected, "2/moved/")))

    assert page.h1 == "What version 2 moved"
    assert "The 2 was read as a 1." in page.words
    assert "by the match secretary" in page.words
    for said in (
        "Peg 3, Pennyfold Angler: 18 lb 0 oz becomes 28 lb 0 oz.",
        "Section A, Pennyfold Angler: from 1 point to 3 points.",
        "Pennyfold, the whole team: from 1 point to 3 points.",
        "Pennyfold: from 3rd to 1st.",
        "Old Quarry: from 1st to 2nd.",
        # and in the table, where the first of three has 3
        "Pennyfold: 1 point becomes 3 points, from 3rd to 1st.",
        "Old Quarry: 3 points becomes 2 points, from 1st to 2nd.",
    ):
        assert said in page.words


def test_the_table_is_told_with_the_other_rounds_as_they_then_were(stranger, season, corrected):
    before = read(stranger.get(address(corrected, "2/moved/"))).words
    published(season, 2)

    assert read(stranger.get(address(corrected, "2/moved/"))).words == before


def test_the_first_version_moved_nothing(stranger, corrected):
    page = read(stranger.get(address(corrected, "1/moved/")))

    assert page.h1 == "As first published"
    assert "Version 2 has replaced version 1 since." in page.words


def test_every_version_is_listed_with_who_and_why(stranger, corrected):
    page = read(stranger.get(address(corrected, "versions/")))

    assert page.words.index("Version 2, Sunday 4 October, 20:12") < page.words.index("Version 1,")
    assert "Published by the match secretary." in page.words
    assert "Version 2 counts." in page.words
    assert address(corrected, "1/") in page.links
    assert address(corrected, "2/moved/") in page.links


def test_an_old_version_stays_readable_and_leads_to_the_newest(stranger, corrected):
    page = read(stranger.get(address(corrected, "1/")))

    assert "This is version 1. Version 2 has replaced it." in page.words
    assert "18 lb 0 oz" in page.words
    assert address(corrected) in page.links


@pytest.mark.parametrize("rest", ["9/moved/", "9/"])
def test_a_version_that_never_was_moved_nothing(stranger, corrected, rest):
    page = read(stranger.get(address(corrected, rest)), status=404)

    assert page.h1 == "There is no version 9"


def test_a_match_without_a_result_has_no_versions(stranger, season):
    match = fish(season, {"A": [("Ana Ferradas", "Pennyfold", "3-0")]}, number=1)

    assert read(stranger.get(address(match, "versions/")), status=404).h1 == "No result yet"


def test_a_private_clubs_versions_are_its_members_alone(stranger, member, corrected):
    corrected.club.public = False
    corrected.club.save(update_fields=["public"])

    for rest in ("versions/", "2/moved/"):
        assert stranger.get(address(corrected, rest)).status_code == 302
        assert member.get(address(corrected, rest)).status_code == 200


def test_the_list_costs_the_same_questions_however_many_versions(
    member, corrected, secretary, django_assert_num_queries
):
    with CaptureQueriesContext(connection) as asked:
        member.get(address(corrected, "versions/"))
    for pounds in range(3, 9):
        entry = corrected.entries.get(team__name="Pennyfold")
        for weigh_in in entry.weigh_ins.filter(set_aside=None):
            set_aside(weigh_in, why="Read again.", by=secretary.user)
        make_weigh_in(entry, f"{pounds}-0")
        publish(corrected, by=None, correcting=pounds - 1, why="Read again.")

    with django_assert_num_queries(len(asked)):
        member.get(address(corrected, "versions/"))
