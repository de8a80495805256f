"""A private club's calendar and results, read by a member's own programs and by nobody else's."""

from __future__ import annotations

import datetime as dt

import feedparser
import pytest
from django.test import Client
from icalendar import Calendar

from league.models import Act, Club, OfficeName, Subscription
from league.operations.publish import publish
from league.operations.tidy import tidy
from tests.builders import give_office, make_match, make_season
from tests.factories import ClubFactory, UserFactory
from tests.web.reading import read
from tests.web.scene import JUNIOR, START, fish_round_6, make_league

PAGE = "/clubs/marlbrook/programs/"


@pytest.fixture
def club(db: None) -> Club:
    return ClubFactory(name="Marlbrook & District AC", slug="marlbrook", public=False)


def own(member: Client) -> list[str]:
    """The addresses a member has made, in the order of the page."""
    member.post(f"{PAGE}address/")
    page = read(member.get(PAGE))
    boxes = [each.get("value", "") for each in page.all("input")]
    return [value for value in boxes if value.startswith("http://testserver/subscribed/")]


def calendar_of(member: Client) -> str:
    return next(each for each in own(member) if each.endswith("matches.ics"))


def test_a_program_reads_the_calendar_by_the_members_own_address(
    member: Client, stranger: Client, club: Club
) -> None:
    match = make_match(season=make_season(club), drawn=False, sections={}, date=dt.date(2099, 6, 1))

    response = stranger.get(calendar_of(member))

    [event] = Calendar.from_ical(response.content).walk("VEVENT")
    assert event["url"] == f"http://testserver/matches/{match.pk}/"
    assert "private" in response["Cache-Control"]
    assert response["X-Robots-Tag"] == "noindex"


def test_a_feed_reader_reads_the_results_with_names_as_published(
    member: Client, stranger: Client, club: Club
) -> None:
    publish(fish_round_6(make_league(club), number=6), by=None, at=START)

    of_club, of_league = [each for each in own(member) if each.endswith("results.atom")]

    for address in (of_club, of_league):
        response = stranger.get(address)
        feed = feedparser.parse(response.content)
        assert feed.bozo is False
        assert [entry.title for entry in feed.entries] == ["Tannery Lane win on total weight"]
        assert JUNIOR not in response.content.decode()


def test_it_is_the_same_each_time_it_is_looked_at(member: Client, club: Club) -> None:
    assert own(member) == own(member) != []
    assert "no-store" in member.get(PAGE)["Cache-Control"]


def test_taken_back_it_says_so_and_the_next_one_is_another(
    member: Client, stranger: Client, club: Club
) -> None:
    old = calendar_of(member)

    member.post(f"{PAGE}address/take-back/")

    gone = stranger.get(old)
    assert (gone.status_code, gone["Content-Type"]) == (410, "text/plain; charset=utf-8")
    assert gone.content.decode().startswith("This address was taken back.")
    new = calendar_of(member)
    assert new != old
    assert (stranger.get(new).status_code, stranger.get(old).status_code) == (200, 410)
    said = [act.what for act in Act.objects.of(club)]
    assert sum("taken back" in what for what in said) == 1


def test_it_ends_with_the_membership(member: Client, stranger: Client, club: Club) -> None:
    address = calendar_of(member)

    member.user.offices.all().delete()  # type: ignore[attr-defined]
    left = stranger.get(address)
    give_office(club, member.user, OfficeName.MEMBER)  # type: ignore[attr-defined]
    again = stranger.get(address)
    member.user.is_active = False  # type: ignore[attr-defined]
    member.user.save()  # type: ignore[attr-defined]
    closed = stranger.get(address)

    assert [left.status_code, again.status_code, closed.status_code] == [410, 200, 410]
    assert "no longer a member" in left.content.decode()


@pytest.mark.parametrize("token", ["none", "1.x", "1", "x.y", "9" * 40 + ".x", "١.x", "1.é"])
def test_an_address_that_nobody_was_given_opens_nothing(
    member: Client, stranger: Client, club: Club, token: str
) -> None:
    own(member)

    answer = stranger.get(f"/subscribed/{token}/matches.ics")

    assert answer.status_code == 404
    assert answer.content.decode() == "This address opens nothing. A part of it may be missing.\n"


def test_the_same_number_given_to_somebody_else_has_another_address(
    member: Client, stranger: Client, club: Club
) -> None:
    """As after a backup is restored, when numbers are given out again."""
    address = calendar_of(member)

    Subscription.objects.update(user=UserFactory())

    assert stranger.get(address).status_code == 404


def test_it_opens_nothing_of_another_club(member: Client, stranger: Client, club: Club) -> None:
    other = make_season(ClubFactory(name="Otterby AC", slug="otterby", public=False))

    address = calendar_of(member).replace("matches.ics", f"leagues/{other.league_id}/matches.ics")

    assert stranger.get(address).status_code == 404


def test_it_signs_nobody_in(member: Client, stranger: Client, club: Club) -> None:
    stranger.get(calendar_of(member))

    assert stranger.get(PAGE).status_code == 302


def test_a_public_club_needs_none(member: Client, club: Club) -> None:
    club.public = True
    club.save()

    assert "Make my addresses" not in read(member.get(PAGE)).words
    refused = read(member.post(f"{PAGE}address/", follow=True))

    assert "every program can read them as they are" in refused.words
    assert not Subscription.objects.exists()


def test_taking_back_what_is_not_there_is_refused_in_words(member: Client, club: Club) -> None:
    page = read(member.post(f"{PAGE}address/take-back/", follow=True))

    assert "There is no address to take back" in page.words


def test_what_was_taken_back_is_kept_a_month(member: Client, club: Club) -> None:
    own(member)
    member.post(f"{PAGE}address/take-back/")
    own(member)
    ended = Subscription.objects.get(revoked_at__isnull=False).revoked_at

    tidy(at=ended + dt.timedelta(days=29))
    assert Subscription.objects.count() == 2
    tidy(at=ended + dt.timedelta(days=30))

    assert [each.revoked_at for each in Subscription.objects.all()] == [None]
