"""Kept pages: sent packed, sent once, and never after anything they show has changed."""

from __future__ import annotations

import datetime as dt
import gzip
from typing import Any

import pytest
from django.test import Client

from league.models import Club, Match, OfficeName
from league.operations.publish import make_final, publish
from tests.builders import give_office
from tests.factories import UserFactory
from tests.web.scene import START, fish_round_6, make_league

PACKED = {"Accept-Encoding": "gzip, br"}


@pytest.fixture
def match(club: Club) -> Match:
    match = fish_round_6(make_league(club), number=6)
    publish(match, by=None, at=START)
    return match


@pytest.fixture(params=["result", "version", "table"])
def address(request: pytest.FixtureRequest, match: Match) -> str:
    return {
        "result": f"/matches/{match.pk}/result/",
        "version": f"/matches/{match.pk}/result/1/",
        "table": f"/tables/{match.season_id}/",
    }[request.param]


def test_a_stranger_costs_one_question_from_the_second_on(
    stranger: Client, address: str, django_assert_num_queries: Any
) -> None:
    stranger.get(address)

    with django_assert_num_queries(1):
        assert stranger.get(address).status_code == 200
    packed = stranger.get(address, headers=PACKED)
    with django_assert_num_queries(1):
        assert stranger.get(address, headers=PACKED).content == packed.content


def test_the_kept_page_is_the_page_with_all_its_headers(stranger: Client, address: str) -> None:
    first = stranger.get(address)
    kept = stranger.get(address)
    packed = stranger.get(address, headers=PACKED)

    assert kept.content == first.content
    assert gzip.decompress(packed.content) == first.content
    assert packed["Content-Encoding"] == "gzip"
    assert packed["Content-Length"] == str(len(packed.content))
    assert dict(kept.headers) == dict(first.headers)
    assert "default-src 'none'" in kept["Content-Security-Policy"]
    assert kept["X-Frame-Options"] == "DENY"
    assert kept["Vary"] == "Cookie, Accept-Encoding"


def test_what_a_stranger_has_is_not_sent_again(stranger: Client, address: str) -> None:
    first = stranger.get(address)

    for _ in range(2):
        again = stranger.get(address, headers={"If-None-Match": first["ETag"]})
        assert (again.status_code, again.content) == (304, b"")
        assert again["ETag"] == first["ETag"]
        assert again["Vary"] == "Cookie, Accept-Encoding"


def test_a_club_that_goes_private_is_private_at_once(
    stranger: Client, address: str, club: Club
) -> None:
    etag = stranger.get(address)["ETag"]
    stranger.get(address)

    Club.objects.filter(pk=club.pk).update(public=False)

    for headers in ({}, {"If-None-Match": etag}):
        refused = stranger.get(address, headers=headers)
        assert refused.status_code == 302
        assert refused["Location"].startswith("/sign-in/")


def test_a_page_shows_what_changed_at_once(stranger: Client, address: str, match: Match) -> None:
    etag = stranger.get(address)["ETag"]
    stranger.get(address)

    make_final(match, by=None, at=START + dt.timedelta(days=2))

    changed = stranger.get(address, headers={"If-None-Match": etag})
    assert changed.status_code == 200
    assert "inal" in changed.content.decode()


def test_two_hosts_have_two_pages(stranger: Client, match: Match) -> None:
    address = f"/matches/{match.pk}/result/"
    stranger.get(address, SERVER_NAME="one.example")

    other = stranger.get(address, SERVER_NAME="two.example").content.decode()

    assert "http://two.example/" in other
    assert "one.example" not in other


def test_somebody_signed_in_gets_the_page_packed_and_once(member: Client, address: str) -> None:
    member.get(address)  # the first visit brings the cookie of the forms
    first = member.get(address, headers=PACKED)
    again = member.get(address, headers={**PACKED, "If-None-Match": first["ETag"]})

    assert first["Content-Encoding"] == "gzip"
    assert "Sign out" in gzip.decompress(first.content).decode()
    assert "private" in first["Cache-Control"]
    assert (again.status_code, again.content) == (304, b"")


def test_the_length_of_what_is_packed_for_one_reader_tells_nothing(
    member: Client, match: Match
) -> None:
    address = f"/matches/{match.pk}/result/"

    lengths = {len(member.get(address, headers=PACKED).content) for _ in range(12)}

    assert len(lengths) > 3


def test_another_reader_office_or_token_is_another_page(
    member: Client, match: Match, club: Club
) -> None:
    address = f"/matches/{match.pk}/result/"
    before = member.get(address)["ETag"]

    give_office(club, member.user, OfficeName.SECRETARY)  # type: ignore[attr-defined]
    with_office = member.get(address, headers={"If-None-Match": before})
    other = Client()
    other.force_login(UserFactory())
    somebody_else = other.get(address, headers={"If-None-Match": before})

    assert (with_office.status_code, somebody_else.status_code) == (200, 200)
    assert "/desk/" in with_office.content.decode()
    member.cookies["csrftoken"] = "a" * 32
    token = member.get(address, headers={"If-None-Match": with_office["ETag"]})
    assert token.status_code == 200


def test_a_page_made_for_somebody_is_never_a_strangers(
    member: Client, stranger: Client, address: str
) -> None:
    member.get(address)

    assert "Sign out" not in stranger.get(address).content.decode()
    assert "Sign out" not in stranger.get(address).content.decode()


@pytest.mark.parametrize(
    "address",
    ["/", "/anglers/", "/records/", "/clubs/marlbrook/matches.ics", "/api/1/openapi.json"],
)
def test_what_every_stranger_gets_is_packed(stranger: Client, match: Match, address: str) -> None:
    plain = stranger.get(address)
    packed = stranger.get(address, headers=PACKED)

    assert "Content-Encoding" not in plain.headers
    assert packed["Content-Encoding"] == "gzip"
    assert gzip.decompress(packed.content) == plain.content
    assert packed["Content-Length"] == str(len(packed.content))
    assert "Accept-Encoding" in plain["Vary"]
    assert "Accept-Encoding" in packed["Vary"]


@pytest.mark.parametrize(
    "address",
    ["/desk/", "/anglers/?name=Jo", "/api/1/openapi.json", "/clubs/marlbrook/matches.ics"],
)
def test_what_is_somebodys_own_is_not_packed_beside_words_of_the_request(
    secretary: Client, match: Match, address: str
) -> None:
    secretary.get(address)  # the first visit brings the cookie of the forms

    assert "Content-Encoding" not in secretary.get(address, headers=PACKED).headers


def test_a_form_that_brings_its_token_is_not_packed(stranger: Client, club: Club) -> None:
    response = stranger.get("/sign-in/", headers=PACKED)

    assert "csrftoken" in response.cookies
    assert "Content-Encoding" not in response.headers
