"""An address of a result that is not there says which one is missing, and where to go."""

import pytest

from league.operations.publish import publish
from league.operations.season import cancel_match
from tests.builders import make_fished_match, make_match
from tests.factories import ClubFactory
from tests.web.reading import read


def address(match, version=""):
    return f"/matches/{match.pk}/result/{version}"


@pytest.fixture
def published(club):
    match = make_fished_match(club, name="Autumn Open")
    publish(match, by=None)
    return match


@pytest.mark.parametrize("version", ["9/", "9/sheet.pdf", "9/result.csv", "9/result.json", "0/"])
def test_a_version_that_never_was_is_a_404_that_names_the_newest(stranger, published, version):
    answer = stranger.get(address(published, version))

    page = read(answer, status=404)
    assert page.h1 == f"There is no version {version[0]}"
    assert "The newest is version 1, and it counts." in page.words
    assert address(published) in page.links


def test_a_match_not_fished_yet_says_when_it_is(stranger, club):
    match = make_match(club, drawn=False, name="Autumn Open")

    page = read(stranger.get(address(match)), status=404)

    assert page.h1 == "No result yet"
    assert f"Autumn Open is on {match.date:%A} {match.date.day} {match.date:%B %Y}" in page.words


def test_a_match_drawn_and_not_published_says_who_publishes_it(stranger, club):
    page = read(stranger.get(address(make_fished_match(club))), status=404)

    assert "as soon as the match secretary publishes it" in page.words


def test_a_match_called_off_says_why(stranger, club):
    match = make_match(club, drawn=False, name="Autumn Open")
    cancel_match(match, why="The bank is flooded.", by=None)

    page = read(stranger.get(address(match)), status=404)

    assert page.h1 == "Autumn Open was called off"
    assert "The bank is flooded." in page.words


def test_a_match_called_off_with_the_pegs_drawn_was_abandoned(stranger, club):
    match = make_fished_match(club, name="Autumn Open")
    cancel_match(match, why="Lightning at eleven.", by=None)

    page = read(stranger.get(address(match)), status=404)

    assert page.h1 == "Autumn Open was abandoned"
    assert "Lightning at eleven." in page.words


def test_a_private_clubs_stranger_hears_nothing_of_it(stranger, member, published):
    published.club.public = False
    published.club.save(update_fields=["public"])

    answer = stranger.get(address(published, "9/"))

    assert answer.status_code == 302
    assert answer["Location"].startswith("/sign-in/")
    assert read(member.get(address(published, "9/")), status=404).h1 == "There is no version 9"


def test_beside_a_private_club_a_public_clubs_words_are_the_same(stranger, published):
    ClubFactory(public=False)

    assert read(stranger.get(address(published, "9/")), status=404).h1 == "There is no version 9"


def test_no_match_at_all_stays_the_plain_404(stranger, published):
    assert stranger.get("/matches/987654/result/").status_code == 404


@pytest.mark.parametrize(
    "address",
    [
        "/matches/{0}/result/", "/matches/{0}/result/1/bank.png", "/matches/1/result/{0}/moved/",
        "/tables/{0}/", "/tables/{0}/honours/", "/teams/{0}/", "/leagues/{0}/matches.ics",
    ],
)  # fmt: skip
def test_a_number_no_database_can_hold_is_simply_not_there(client, club, address):
    assert client.get(address.format(2**63)).status_code == 404
    assert client.get(address.format(2**63 - 1)).status_code == 404
