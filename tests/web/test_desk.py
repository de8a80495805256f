"""The desk: what comes next in the club, and nothing that leads nowhere."""

from __future__ import annotations

import datetime as dt
import re

import pytest
from django.utils import timezone

from league.models import Result, Stage
from league.operations.publish import publish
from tests.builders import (
    give_office,
    make_entry,
    make_fished_match,
    make_match,
    make_season,
    make_weigh_in,
)
from tests.factories import ClubFactory
from tests.money_scene import match_with_pools, pay


def said(answer) -> str:
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def test_the_next_thing_is_the_headline_and_the_only_orange_button(secretary, club):
    match = make_match(club, sections={"A": 2}, name="Boxing Day Shield")
    make_weigh_in(make_entry(match, peg=1), "12-8")
    second = make_entry(match, peg=2)

    shown = said(secretary.get("/desk/"))

    assert "<h1>1 peg still to weigh in Boxing Day Shield</h1>" in shown
    assert re.findall(r'class="next" href="([^"]+)"', shown) == [f"/scales/{match.pk}/{second.pk}/"]


def test_the_oldest_thing_that_can_be_done_comes_before_what_can_wait(secretary, club):
    waiting = make_fished_match(club, name="Waiting", date=dt.date(2027, 1, 3))
    publish(waiting, by=None)
    make_match(club, name="Next one", drawn=False, date=dt.date(2027, 1, 10))
    make_match(club, name="Later one", drawn=False, date=dt.date(2027, 1, 17))

    assert "<h1>Nobody is booked in for Next one</h1>" in said(secretary.get("/desk/"))


def test_a_result_that_can_be_made_final_is_made_so_from_here(secretary, club):
    match = make_fished_match(club, name="Boxing Day Shield")
    publish(match, by=None)
    Result.objects.update(objections_until=timezone.now() - dt.timedelta(minutes=1))

    shown = said(secretary.get("/desk/"))

    assert "<h1>Boxing Day Shield is ready to be made final</h1>" in shown
    assert f'<form method="post" action="/matches/{match.pk}/run/final/">' in shown


def test_where_nothing_is_left_to_do_it_says_so(secretary, club):
    match = make_match(club)
    match.stage = Stage.FINAL
    match.save()

    assert "<h1>Nothing is left to do</h1>" in said(secretary.get("/desk/"))


def test_a_club_just_set_up_is_sent_to_its_season_and_not_told_that_all_is_done(secretary, club):
    season = make_season(club, teams=[])

    shown = said(secretary.get("/desk/"))

    assert f"<h1>{season} has no rounds yet</h1>" in shown
    assert f'class="next" href="/desk/{club.slug}/seasons/{season.pk}/"' in shown


def test_every_link_on_the_desk_leads_somewhere(secretary, club):
    make_fished_match(club, name="Weighed")
    make_match(club, name="Open", drawn=False)
    published = make_fished_match(club, name="Published")
    publish(published, by=None)
    shown = said(secretary.get("/desk/")).split("<main")[1].split("</main>")[0]

    links = {link.split("#")[0] for link in re.findall(r'<a [^>]*href="(/[^"]+)"', shown)}

    assert links
    assert {secretary.get(link).status_code for link in links} == {200}


def test_the_scales_have_a_desk_with_the_way_to_the_scales_and_no_acts(scalesman, club):
    match = make_match(club, sections={"A": 1})
    make_entry(match, peg=1)

    shown = said(scalesman.get("/desk/"))

    assert re.findall(r'class="next" href="([^"]+)"', shown) == [f"/scales/{match.pk}/"]
    assert "/run/" not in shown


def test_the_desk_of_one_club_shows_nothing_of_another(secretary, club):
    other = ClubFactory(slug="other")
    make_match(other, name="Theirs")

    assert "Theirs" not in said(secretary.get("/desk/"))
    assert secretary.get("/desk/other/").status_code == 404
    give_office(other, secretary.user, "secretary")
    assert "Theirs" in said(secretary.get("/desk/other/"))


def test_the_pools_of_the_match_in_hand_stand_on_the_desk_of_who_may_see_the_money(
    secretary, treasurer, scalesman, club
):
    match = match_with_pools(club, by=treasurer.user)
    pay(match, 1, 2, by=treasurer.user)

    for officer in (secretary, treasurer):
        shown = said(officer.get("/desk/"))
        assert "Pools, Match</h2>" in shown
        assert '<th scope="row">In the tin</th><td class="num total">£20.00</td>' in shown
    assert "£20.00" not in said(scalesman.get("/desk/"))


def test_a_stranger_signs_in_and_a_member_without_an_office_has_no_desk(stranger, member, club):
    assert stranger.get("/desk/").url == "/sign-in/?next=/desk/"
    assert member.get("/desk/").status_code == 404


# the session, the member, the club, the offices, the matches, their entries, weigh-ins, their
# pegs, their results; of the match in hand alone its pools, entries, payments, payouts, what was
# handed over and the count of the tin
@pytest.mark.parametrize("matches", [3, 30])
def test_the_desk_asks_the_same_questions_however_many_matches(
    secretary, club, matches, django_assert_num_queries
):
    for number in range(matches):
        make_fished_match(club, date=dt.date(2027, 1, 1) + dt.timedelta(days=number))

    with django_assert_num_queries(15):
        secretary.get("/desk/")
