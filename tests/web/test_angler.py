"""An angler's page, and the list of anglers."""

import datetime as dt

import pytest
from django.utils import timezone

from league.models import Angler
from league.operations.publish import publish
from tests.builders import make_entry, make_match, make_weigh_in
from tests.factories import AnglerFactory, ClubFactory
from tests.web.reading import read
from tests.web.scene import JUNIOR, fish, fish_round_6, make_league, publish_rounds

TEAMS = ["Tannery Lane", "Old Quarry"]


@pytest.fixture
def season(club):
    return make_league(club, teams=TEAMS, planned_rounds=4)


@pytest.fixture
def jo(season):
    """Jo Ormesher, who won a section, was second, and blanked."""
    for number, (mine, theirs) in enumerate(
        [("8-2", "9-0"), ("27-6", "3-0"), ("blank", "1-0")], start=1
    ):
        publish(
            fish(
                season,
                {"B": [("Jo Ormesher", "Tannery Lane", mine), ("Mick", "Old Quarry", theirs)]},
                number=number,
            ),
            by=None,
        )
    return Angler.objects.get(name="Jo Ormesher")


def address(angler):
    return f"/anglers/{angler.pk}/"


# ---- one angler --------------------------------------------------------------------------------


def test_a_season_is_summed_up(stranger, jo):
    page = read(stranger.get(address(jo)))

    assert page.h1 == "Jo Ormesher"
    assert "Tannery Lane, Winter Team League 2026–27" in page.words
    # 8-2 and 27-6 together are 35 lb 8 oz.
    assert (
        "Matches 3 Section wins 1 Best weight 27lb 6oz All together 35lb 8oz Blanks 1" in page.words
    )


def test_every_match_is_listed_with_the_newest_first(stranger, jo):
    page = read(stranger.get(address(jo)))

    # Where a phone has no column for the place, it stands under the water.
    in_2, in_1 = "first in section", "second in section"
    league = "Winter Team League"
    assert page.table() == [
        ["", "Water", "Peg", "lb oz", "In section", "Points"],
        ["3", f"Heron Lake Sun 15 Nov 2026, {league}", "B 1", "blank", "–", "0"],
        ["2", f"Marl Canal Sun 25 Oct 2026, {league} {in_2}", "B 1", "27 6", "first", "2"],
        ["1", f"Fallow Mere Sun 4 Oct 2026, {league} {in_1}", "B 1", "8 2", "second", "1"],
    ]  # fmt: skip


def test_the_season_is_drawn_and_described(stranger, jo):
    words = read(stranger.get(address(jo))).words

    assert (
        "Round 1: 8 lb 2 oz, second in section B. Round 2: 27 lb 6 oz, first in section B. "
        "Round 3: blank in section B. Round 4 to come." in words
    )


def test_the_points_lead_to_the_reason_behind_them(stranger, jo):
    page = read(stranger.get(address(jo)))
    match = jo.entries.get(match__round=2).match

    link = f"/matches/{match.pk}/result/#why-peg-1-points"
    assert link in page.links
    assert read(stranger.get(link.split("#")[0])).reason("why-peg-1-points").startswith("First")


def test_the_place_in_the_anglers_table_is_said(stranger, season):
    for number in (1, 2):
        publish(
            fish(
                season,
                {"A": [("Ana", "Tannery Lane", "9-0"), ("Mick", "Old Quarry", "3-0")]},
                number=number,
            ),
            by=None,
        )
    ana = Angler.objects.get(name="Ana")

    words = read(stranger.get(address(ana))).words

    # First of two in the match twice: 2 + 2.
    assert "First of 2 in the anglers’ table on 4 points." in words
    assert "Won section A last time out with 9 lb 0 oz off peg 1 at Marl Canal." in words


def test_a_junior_goes_by_first_name_and_is_not_said_to_be_anywhere(stranger, club):
    season = make_league(club)
    publish(fish_round_6(season, number=6), by=None)
    tom = Angler.objects.get(name=JUNIOR)
    coming = make_match(club, sections={"A": 1}, date=timezone.localdate() + dt.timedelta(days=7))
    make_entry(coming, peg=1, angler=tom)

    content = stranger.get(address(tom)).content.decode()

    assert "Tom K. (junior)" in content
    assert "Kettleby" not in content
    assert "Booked in for" not in content


def test_what_an_angler_is_booked_in_for_is_said(stranger, jo, club):
    match = make_match(club, sections={"A": 1}, date=timezone.localdate() + dt.timedelta(days=7))
    make_entry(match, peg=1, angler=jo)

    page = read(stranger.get(address(jo)))

    assert f"/matches/{match.pk}/" in page.links


def test_an_angler_without_a_result_has_a_page_that_says_so(stranger, club):
    angler = AnglerFactory(club=club, name="Ana Ferradas")

    page = read(stranger.get(address(angler)))

    assert page.h1 == "Ana Ferradas"
    assert "No result yet" in page.words


def test_kilograms_and_matches_outside_a_season_are_shown_too(stranger, club):
    match = make_match(club, sections={"": 1}, unit="kg", book={"unit": "kg"}, name="Sweepstake")
    entry = make_entry(match, peg=1, name="Ana Ferradas")
    make_weigh_in(entry, "5.640")
    publish(match, by=None)

    page = read(stranger.get(address(entry.angler)))

    assert "Best weight 5.640kg" in page.words
    assert page.table()[1][2:4] == ["1", "5.640"]


def test_a_private_clubs_angler_asks_a_stranger_to_sign_in(stranger, member, jo, club):
    club.public = False
    club.save()

    assert stranger.get(address(jo)).status_code == 302
    assert stranger.get("/anglers/").status_code == 302
    assert member.get(address(jo)).status_code == 200


def test_the_angler_of_another_private_club_does_not_exist(member, club):
    angler = AnglerFactory(club=ClubFactory(public=False))

    assert member.get(address(angler)).status_code == 404


@pytest.mark.parametrize("rounds", [1, 5])
def test_an_anglers_page_asks_the_same_however_long_the_season(
    stranger, club, rounds, django_assert_num_queries
):
    season = make_league(club)
    publish_rounds(season, rounds)
    angler = Angler.objects.of(club).first()
    stranger.get(address(angler))

    with django_assert_num_queries(4):  # angler, results, last publication, matches to come
        stranger.get(address(angler))


# ---- everybody ---------------------------------------------------------------------------------


def test_everybody_is_listed_by_the_name_that_is_shown(stranger, club):
    AnglerFactory(club=club, name="Jo Ormesher")
    AnglerFactory(club=club, name=JUNIOR, junior=True)

    content = stranger.get("/anglers/").content.decode()

    assert "Jo Ormesher" in content
    assert "Tom K. (junior)" in content
    assert "Kettleby" not in content


def test_a_name_is_found_by_a_part_of_it(stranger, club):
    AnglerFactory(club=club, name="Jo Ormesher")
    AnglerFactory(club=club, name="Mick Oldacre")

    page = read(stranger.get("/anglers/?name=orm"))

    assert "Jo Ormesher" in page.words
    assert "Mick Oldacre" not in page.words


def test_a_name_that_is_nobodys_suggests_whom_may_be_meant(stranger, club):
    jo = AnglerFactory(club=club, name="Jo Ormesher")

    page = read(stranger.get("/anglers/?name=Ormsher"))

    assert "Nobody here is called “Ormsher”. Did you mean Jo Ormesher?" in page.words
    assert address(jo) in page.links


def test_a_juniors_surname_cannot_be_found_out_by_trying(stranger, club):
    AnglerFactory(club=club, name=JUNIOR, junior=True)

    words = read(stranger.get("/anglers/?name=Kettleby")).words

    assert "Nobody here is called “Kettleby”." in words
    assert "Tom K." not in words


def test_the_clubs_best_weights_are_listed_heaviest_first(stranger, club):
    season = make_league(club)
    publish_rounds(season, 1)
    publish(fish_round_6(season, number=6), by=None)

    words = read(stranger.get("/anglers/")).words

    best = words[words.index("Best weights") :]
    assert "31 lb 6 oz Winston Arberry, peg 15, Heron Lake, Sun 17 Jan 2027" in best


def test_a_club_without_anglers_says_who_adds_them(stranger, club):
    assert "No anglers yet" in read(stranger.get("/anglers/")).words


@pytest.mark.parametrize("anglers", [3, 30])
def test_the_list_asks_the_same_however_many_there_are(
    stranger, club, anglers, django_assert_num_queries
):
    AnglerFactory.create_batch(anglers, club=club)
    stranger.get("/clubs/marlbrook/anglers/")

    with django_assert_num_queries(3):  # club, anglers, last publication
        stranger.get("/clubs/marlbrook/anglers/")
