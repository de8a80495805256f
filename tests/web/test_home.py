"""The front page of a club, and what stands at `/`."""

import datetime as dt

import pytest
from django.utils import timezone

from league.operations.publish import publish
from tests.builders import make_entry, make_match, make_weigh_in
from tests.factories import ClubFactory, UserFactory, VenueFactory, WaterFactory
from tests.web.reading import read
from tests.web.scene import START, fish_round_6, make_league, publish_rounds


def in_days(days: int) -> dt.date:
    return timezone.localdate() + dt.timedelta(days=days)


def plan(season, number, days, **values):
    """A round still to be fished."""
    water = WaterFactory(name="Fallow Mere", venue=VenueFactory(club=season.league.club))
    return make_match(
        season=season,
        round=number,
        sections={"A": 3, "B": 3},
        drawn=False,
        date=in_days(days),
        water=water,
        **values,
    )


# ---- the page ----------------------------------------------------------------------------------


def test_the_next_match_stands_first_with_its_times(stranger, club):
    match = plan(make_league(club), 7, 21, book_in=dt.time(8, 15), draw_at=dt.time(8, 30))

    page = read(stranger.get("/"))

    day = match.date
    assert f"Next match {day.day} {day:%A} {day:%B} in three weeks" in page.words
    assert "Fallow Mere, pegs 1 to 6 Round 7, the last of the Winter Team League" in page.words
    assert page.table() == [
        ["Book in by", "08:15"],
        ["Draw", "08:30"],
        ["All in", "10:00"],
        ["All out", "15:00"],
    ]
    assert f"/matches/{match.pk}/" in page.links


def test_the_last_result_says_who_won_and_how(stranger, club):
    publish(fish_round_6(make_league(club), number=6), by=None, at=START)

    page = read(stranger.get("/"))

    assert page.h1 == "Tannery Lane win round 6 on total weight"
    assert (
        "Level on 18 points with Old Quarry; ahead on total weight, 61-4 against 58-0. "
        "Winston Arberry had the best weight of the day, 31 lb 6 oz off peg 15." in page.words
    )
    assert "Provisional until Monday 5 October, 21:12" in page.words


def test_the_head_of_the_table_says_who_went_up_or_down(stranger, club):
    season = make_league(club)
    publish_rounds(season, 2)

    page = read(stranger.get("/"))

    rows = page.table()
    assert rows[0] == ["", "Team", "Since round 1", "lb oz", "Best five"]
    assert len(rows) == 7
    assert {row[2].split()[0] for row in rows[1:]} <= {"up", "down", "no"}
    assert "League table Winter Team League 2026–27. After round 2 of 7." in page.words


def test_the_matches_after_the_next_are_coming_up(stranger, club):
    season = make_league(club)
    for number, days in ((1, 7), (2, 28)):
        plan(season, number, days)

    words = read(stranger.get("/")).words

    coming = words[words.index("Coming up") :]
    assert coming.index("Round 1, Winter Team League") < coming.index("Round 2, Winter")


def test_a_match_that_is_over_is_not_the_next(stranger, club):
    plan(make_league(club), 1, -1)

    assert "No matches are planned" in read(stranger.get("/")).words


def test_a_club_with_nothing_yet_says_what_will_be_here(stranger, club):
    page = read(stranger.get("/"))

    assert page.h1 == "Marlbrook & District AC"
    assert "No matches are planned" in page.words
    assert "No result is published yet." in page.words


def test_a_season_with_nothing_fished_says_when_its_table_starts(stranger, club):
    match = plan(make_league(club), 1, 7)

    words = read(stranger.get("/")).words

    assert "The table starts after round 1" in words
    assert f"Round 1 is on {match.date:%A} {match.date.day} {match.date:%B}." in words


def test_everybody_blank_is_told_without_a_winner(stranger, club):
    match = make_match(club, sections={"A": 2}, book={})
    for peg in (1, 2):
        make_weigh_in(make_entry(match, peg=peg), "blank")
    publish(match, by=None)

    page = read(stranger.get("/"))

    assert page.h1 == "A blank for everybody"
    assert "Nobody had a fish." in page.words


def test_a_new_result_takes_the_place_of_the_one_that_was_kept(stranger, club):
    season = make_league(club)
    publish_rounds(season, 1)
    before = read(stranger.get("/")).h1
    publish(fish_round_6(season, number=6), by=None)

    after = read(stranger.get("/")).h1

    assert before != after
    assert after == "Tannery Lane win round 6 on total weight"


# ---- one club, several, none -------------------------------------------------------------------


def test_several_clubs_are_listed(stranger, club):
    ClubFactory(name="Ashcombe AC", slug="ashcombe")

    page = read(stranger.get("/"))

    assert page.h1 == "Clubs"
    assert [link for link in page.links if link.startswith("/clubs/")] == [
        "/clubs/ashcombe/",
        "/clubs/marlbrook/",
    ]
    assert read(stranger.get("/clubs/marlbrook/")).h1 == "Marlbrook & District AC"


def test_where_there_are_people_and_no_club_the_page_says_what_to_do_first(stranger, db):
    UserFactory()

    page = read(stranger.get("/"))

    assert page.h1 == "No club here yet"
    assert "python manage.py demo" in page.words
    assert "/admin/" in page.links


def test_a_private_club_asks_a_stranger_to_sign_in(stranger, member, club):
    club.public = False
    club.save()

    assert stranger.get("/")["Location"] == "/sign-in/?next=/"
    assert stranger.get("/clubs/marlbrook/").status_code == 302
    assert read(member.get("/")).h1 == "Marlbrook & District AC"


def test_a_private_club_cannot_be_told_from_one_that_never_was(stranger, club):
    club.public = False
    club.save()

    answers = [stranger.get(f"/clubs/{slug}/") for slug in ("marlbrook", "no-such-club")]

    assert [answer.status_code for answer in answers] == [302, 302]


def test_a_club_that_never_was_is_not_found_where_all_are_public(stranger, club):
    assert stranger.get("/clubs/no-such-club/").status_code == 404


# ---- the head of every page --------------------------------------------------------------------


def test_the_next_match_in_the_head_leads_to_it(stranger, club):
    assert stranger.get("/clubs/marlbrook/next/")["Location"] == "/clubs/marlbrook/"
    match = plan(make_league(club), 1, 7)

    assert stranger.get("/clubs/marlbrook/next/")["Location"] == f"/matches/{match.pk}/"


def test_only_officers_have_a_desk(secretary, treasurer, scalesman, member, stranger, club):
    heads = {
        who: read(client.get("/")).head_words
        for who, client in {
            "secretary": secretary,
            "treasurer": treasurer,
            "scalesman": scalesman,
            "member": member,
            "stranger": stranger,
        }.items()
    }

    assert [who for who, head in heads.items() if "Desk" in head] == [
        "secretary",
        "treasurer",
        "scalesman",
    ]
    assert "Sign in" in heads["stranger"]
    assert "Sign out" in heads["member"]


def test_the_page_one_is_on_is_marked(stranger, club):
    content = stranger.get("/clubs/marlbrook/results/").content.decode()

    assert '<a href="/clubs/marlbrook/results/" aria-current="page">Results</a>' in content
    assert content.count("aria-current") == 1


# ---- questions ---------------------------------------------------------------------------------


@pytest.mark.parametrize("rounds", [1, 5])
def test_a_front_page_that_is_kept_asks_six_questions(
    stranger, club, rounds, django_assert_num_queries
):
    season = make_league(club)
    publish_rounds(season, rounds)
    for number in (6, 7):
        plan(season, number, 7 * number)
    stranger.get("/")

    # clubs; matches to come, the next one's pegs; last result, its season's last publication
    with django_assert_num_queries(5):
        stranger.get("/")


@pytest.mark.parametrize("matches", [3, 30])
def test_the_front_page_asks_the_same_however_many_matches_are_planned(
    stranger, club, matches, django_assert_num_queries
):
    season = make_league(club, planned_rounds=matches)
    for number in range(1, matches + 1):
        plan(season, number, number)
    stranger.get("/")

    # clubs; matches to come, the next one's pegs; last result, newest season, its publication
    with django_assert_num_queries(6):
        stranger.get("/")


# ---- addresses without a club ------------------------------------------------------------------


@pytest.mark.parametrize("address", ["/next/", "/results/", "/leagues/", "/anglers/"])
def test_where_there_is_nothing_yet_every_address_leads_to_the_first_questions(
    stranger, db, address
):
    asked = stranger.get(address, follow=True)

    assert [where for where, _ in asked.redirect_chain] == ["/", "/start/"]


@pytest.mark.parametrize("address", ["/next/", "/results/", "/leagues/", "/anglers/"])
def test_where_there_are_several_clubs_an_address_without_one_leads_to_the_choice(
    stranger, club, address
):
    ClubFactory(name="Ashcombe AC", slug="ashcombe")

    assert read(stranger.get(address, follow=True)).h1 == "Clubs"


def test_the_next_match_of_a_club_without_one_is_the_front_page_that_says_so(stranger, club):
    page = read(stranger.get("/next/", follow=True))

    assert "No matches are planned When the match secretary adds the first one" in page.words
