"""Calendars and feeds, read back by the libraries that people's programs are made of."""

from __future__ import annotations

import datetime as dt

import feedparser
import pytest
from django.test import Client
from icalendar import Calendar, Event

from league.models import Club, Match, Season, Team
from league.operations.dates import When, move_match
from league.operations.publish import make_final, publish
from league.operations.season import cancel_match
from league.operations.weigh import set_aside
from tests.builders import make_match, make_season, make_weigh_in
from tests.factories import ClubFactory, VenueFactory, WaterFactory
from tests.web.scene import JUNIOR, START, fish_round_6, make_league

DAY = dt.date.today() + dt.timedelta(days=30)  # noqa: DTZ011 -- any day to come


def calendar(client: Client, address: str) -> Calendar:
    response = client.get(address)
    assert response.status_code == 200
    assert response["Content-Type"] == "text/calendar; charset=utf-8"
    # RFC 5545 3.1: lines end in CRLF and are no longer than 75 octets.
    assert all(len(line) <= 75 for line in response.content.split(b"\r\n"))
    assert b"\n" not in response.content.replace(b"\r\n", b"")
    return Calendar.from_ical(response.content)


def events(client: Client, address: str) -> list[Event]:
    found = list(calendar(client, address).walk("VEVENT"))
    assert all(not each.errors for each in found)
    return found


@pytest.fixture
def season(club: Club) -> Season:
    return make_season(club, teams=["Tannery Lane", "Old Quarry"])


def planned(season: Season, **values: object) -> Match:
    venue = season.league.club.venues.first() or VenueFactory(
        club=season.league.club, name="Heron Fishery"
    )
    lake = venue.waters.first() or WaterFactory(name="Heron Lake", venue=venue)
    values = {
        "date": DAY,
        "draw_at": dt.time(8, 30),
        "book_in": dt.time(8),
        "sections": {},
        "water": lake,
    } | values
    return make_match(season=season, drawn=False, **values)


def test_a_match_stands_in_the_calendar_from_the_draw_to_all_out(
    stranger: Client, season: Season
) -> None:
    match = planned(season, date=dt.date(2027, 6, 20))

    [event] = events(stranger, "/clubs/marlbrook/matches.ics")

    # British summer time is an hour ahead of universal time.
    assert event.decoded("dtstart") == dt.datetime(2027, 6, 20, 7, 30, tzinfo=dt.UTC)
    assert event.decoded("dtend") == dt.datetime(2027, 6, 20, 14, 0, tzinfo=dt.UTC)
    assert event["summary"] == f"{season.league.name}, Round 1"
    assert event["location"] == "Heron Lake, Heron Fishery"
    assert event["status"] == "CONFIRMED"
    assert event["sequence"] == 0
    assert event["uid"] == f"match-{match.pk}@marlbrook.drawbag"
    assert event["url"] == f"http://testserver/matches/{match.pk}/"
    assert "Book in by 08:00, Draw 08:30, All in 10:00, All out 15:00." in event["description"]
    assert "overhead power lines" in event["description"]


def test_a_match_that_moves_keeps_its_name_and_raises_its_number(
    stranger: Client, season: Season
) -> None:
    match = planned(season)
    [before] = events(stranger, "/clubs/marlbrook/matches.ics")

    move_match(match, when=When(DAY + dt.timedelta(days=7), draw_at=dt.time(9)), by=None)

    [after] = events(stranger, "/clubs/marlbrook/matches.ics")
    assert after["uid"] == before["uid"]
    assert (before["sequence"], after["sequence"]) == (0, 1)
    assert after.decoded("dtstart").date() == DAY + dt.timedelta(days=7)
    assert after.decoded("dtstamp") >= before.decoded("dtstamp")


def test_a_match_called_off_stays_and_says_so(stranger: Client, season: Season) -> None:
    cancel_match(planned(season), why="Flood.", by=None)

    [event] = events(stranger, "/clubs/marlbrook/matches.ics")

    assert event["status"] == "CANCELLED"
    assert event["summary"].startswith("Cancelled: ")
    assert event["sequence"] == 1


def test_a_match_without_times_takes_the_whole_day(stranger: Client, season: Season) -> None:
    planned(season, draw_at=None, book_in=None, all_in=None, all_out=None)

    [event] = events(stranger, "/clubs/marlbrook/matches.ics")

    assert event.decoded("dtstart") == DAY
    assert event.decoded("dtend") == DAY + dt.timedelta(days=1)


def test_a_league_and_a_team_have_calendars_of_their_own(stranger: Client, season: Season) -> None:
    mine = planned(season)
    planned(make_season(season.league.club, slug="other"), name="The other league")
    team = Team.objects.get(name="Old Quarry")

    of_league = events(stranger, f"/leagues/{season.league_id}/matches.ics")
    of_team = calendar(stranger, f"/teams/{team.pk}/matches.ics")

    assert [each["url"] for each in of_league] == [f"http://testserver/matches/{mine.pk}/"]
    assert [each["uid"] for each in of_team.walk("VEVENT")] == [of_league[0]["uid"]]
    assert of_team["x-wr-calname"] == f"Old Quarry, {season}"
    assert len(events(stranger, "/clubs/marlbrook/matches.ics")) == 2


def test_a_name_with_commas_and_lines_survives(stranger: Client, season: Season) -> None:
    name = "Boxing Day; pairs, roving\\pegs " + "é" * 40
    planned(season, name=name)

    [event] = events(stranger, "/clubs/marlbrook/matches.ics")

    assert event["summary"] == f"{season.league.name}, {name}"


def test_a_calendar_is_not_sent_twice_and_is_sent_again_when_a_match_moves(
    stranger: Client, season: Season
) -> None:
    match = planned(season)
    etag = stranger.get("/clubs/marlbrook/matches.ics")["ETag"]

    unchanged = stranger.get("/clubs/marlbrook/matches.ics", headers={"If-None-Match": etag})
    move_match(match, when=When(DAY + dt.timedelta(days=1)), by=None)
    changed = stranger.get("/clubs/marlbrook/matches.ics", headers={"If-None-Match": etag})

    assert (unchanged.status_code, changed.status_code) == (304, 200)


@pytest.mark.parametrize("name", ["matches.ics", "results.atom"])
def test_a_private_clubs_feeds_are_for_its_members(club: Club, stranger: Client, name: str) -> None:
    ClubFactory(slug="private", public=False)

    answer = stranger.get(f"/clubs/private/{name}")

    assert answer.status_code == 302
    assert answer["Location"].startswith("/sign-in/")


def test_a_calendar_asks_as_often_for_thirty_matches_as_for_three(
    stranger: Client, season: Season, django_assert_max_num_queries: object
) -> None:
    for _ in range(30):
        planned(season)

    with django_assert_max_num_queries(2):  # type: ignore[operator]
        assert len(events(stranger, "/clubs/marlbrook/matches.ics")) == 30


def test_results_come_as_an_atom_feed(stranger: Client, club: Club) -> None:
    season = make_league(club)
    result = publish(fish_round_6(season, number=6), by=None, at=START)

    response = stranger.get("/clubs/marlbrook/results.atom")
    feed = feedparser.parse(response.content)

    assert response["Content-Type"].startswith("application/atom+xml")
    assert (feed.bozo, feed.version) == (False, "atom10")
    assert feed.feed.title == "Marlbrook & District AC: results"
    [entry] = feed.entries
    assert entry.title == "Tannery Lane win on total weight"
    assert entry.link == f"http://testserver/matches/{result.match_id}/result/1/"
    assert entry.published_parsed[:5] == (2026, 10, 4, 17, 12)
    assert "Winston Arberry had the best weight of the day" in entry.summary
    assert JUNIOR not in response.content.decode()


def test_a_corrected_result_comes_again_under_the_same_name(stranger: Client, club: Club) -> None:
    season = make_league(club)
    match = fish_round_6(season, number=6)
    first = publish(match, by=None, at=START)
    before = feedparser.parse(stranger.get("/clubs/marlbrook/results.atom").content).entries[0]

    entry = match.entries.first()
    set_aside(entry.weigh_ins.get(), why="Misread.", by=None)
    make_weigh_in(entry, "7-0")
    publish(
        match,
        by=None,
        correcting=first.version,
        why="Peg 3 was misread.",
        at=START + dt.timedelta(hours=2),
    )

    after = feedparser.parse(stranger.get("/clubs/marlbrook/results.atom").content).entries
    assert [each.id for each in after] == [before.id]
    assert after[0].title == f"Corrected (version 2): {before.title}"
    assert after[0].updated_parsed > before.updated_parsed


def test_a_leagues_feed_has_its_own_results_alone(stranger: Client, club: Club) -> None:
    season = make_league(club)
    publish(fish_round_6(season, number=6), by=None, at=START)
    other = make_season(club, slug="other")

    mine = feedparser.parse(stranger.get(f"/leagues/{season.league_id}/results.atom").content)
    theirs = feedparser.parse(stranger.get(f"/leagues/{other.league_id}/results.atom").content)

    assert (len(mine.entries), len(theirs.entries)) == (1, 0)
    assert (mine.bozo, theirs.bozo) == (False, False)


def test_the_feed_says_when_a_result_is_final(stranger: Client, club: Club) -> None:
    match = fish_round_6(make_league(club), number=6)
    publish(match, by=None, at=START)

    make_final(match, by=None, at=START + dt.timedelta(days=2))

    [entry] = feedparser.parse(stranger.get("/clubs/marlbrook/results.atom").content).entries
    assert entry.updated_parsed[:3] == (2026, 10, 6)
    assert "Version 1, final." in entry.summary
