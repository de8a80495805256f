"""The interface for programs: its description, its answers, its refusals."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import jsonschema
import pytest
import schemathesis
from django.core.signals import request_finished, request_started
from django.db import close_old_connections
from django.test import Client
from schemathesis import GenerationMode

from league.models import Club, Match, Season
from league.operations.publish import publish
from league.wsgi import application
from tests.builders import make_match
from tests.web.calls import make_calls
from tests.web.scene import JUNIOR, START, fish_round_6, make_league

DESCRIPTION = "/api/1/openapi.json"
CALLS = 6  # made-up calls an address; thousands are made by tests/benchmarks/api.py


@pytest.fixture
def season(club: Club) -> Season:
    return make_league(club)


@pytest.fixture
def published(season: Season) -> Match:
    match = fish_round_6(season, number=6)
    publish(match, by=None, at=START)
    return match


def get(client: Client, address: str, status: int = 200, **headers: str) -> Any:
    response = client.get(address, headers=headers)
    assert response.status_code == status, response.content
    assert response["Content-Type"].startswith("application/json")
    return response.json()


def test_every_answer_is_as_its_description_says(
    stranger: Client, published: Match, season: Season
) -> None:
    team = season.teams.first()
    entry = published.entries.first()
    description = get(stranger, DESCRIPTION)
    known = {
        "{slug}": "marlbrook",
        "{match_id}": published.pk,
        "{version}": 1,
        "{season_id}": season.pk,
        "{team_id}": team.pk,
        "{angler_id}": entry.angler_id,
    }

    for route, operations in description["paths"].items():
        address = route
        for name, value in known.items():
            address = address.replace(name, str(value))
        answer = get(stranger, address)
        reference = operations["get"]["responses"]["200"]["content"]["application/json"]["schema"]
        jsonschema.validate(
            answer,
            {**reference, "components": description["components"]},
            format_checker=jsonschema.FormatChecker(),
        )

    assert len(description["paths"]) == 15


def test_a_result_is_the_same_file_as_on_its_page(stranger: Client, published: Match) -> None:
    from_page = json.loads(stranger.get(f"/matches/{published.pk}/result/1/result.json").content)

    assert get(stranger, f"/api/1/matches/{published.pk}/result") == from_page
    assert get(stranger, f"/api/1/matches/{published.pk}/result/1") == from_page


def test_a_table_is_the_same_file_as_on_its_page(
    stranger: Client, published: Match, season: Season
) -> None:
    from_page = json.loads(stranger.get(f"/tables/{season.pk}/table.json").content)

    assert get(stranger, f"/api/1/seasons/{season.pk}/table") == from_page


def test_a_junior_goes_by_the_name_that_may_be_published(
    stranger: Client, published: Match, season: Season, club: Club
) -> None:
    junior = club.anglers.get(name=JUNIOR)
    addresses = [
        "/api/1/clubs/marlbrook/anglers",
        f"/api/1/anglers/{junior.pk}",
        f"/api/1/matches/{published.pk}/result",
        f"/api/1/seasons/{season.pk}/table",
        f"/api/1/seasons/{season.pk}/teams",
    ]

    said = [stranger.get(address).content.decode() for address in addresses]

    assert all("Kettleby" not in each for each in said)
    assert "Tom K. (junior)" in said[0]


@pytest.mark.parametrize(
    ("address", "status", "words"),
    [
        ("/api/1/clubs/nobody", 404, "There is nothing here."),
        ("/api/1/matches/999999", 404, "There is nothing here."),
        ("/api/1/matches/999999/result/3", 404, "There is nothing here."),
        ("/api/1/nothing/of/the/kind", 404, "The addresses are described"),
        ("/api/1/matches/seven", 422, "match_id: Input should be a valid integer"),
        ("/api/1/matches/0", 422, "greater than or equal to 1"),
        ("/api/1/matches/99999999999999999999999", 422, "less than or equal to"),
        ("/api/1/clubs/marlbrook/matches?limit=0", 422, "limit: Input should be greater"),
        ("/api/1/clubs/marlbrook/matches?since=tomorrow", 422, "since: "),
    ],
)
def test_a_refusal_is_json_and_says_what_is_wrong(
    stranger: Client, club: Club, address: str, status: int, words: str
) -> None:
    assert words in get(stranger, address, status)["detail"]


@pytest.mark.parametrize("method", ["post", "put", "patch", "delete"])
def test_nothing_can_be_changed(secretary: Client, method: str) -> None:
    response = getattr(secretary, method)("/api/1/clubs")

    assert response.status_code == 405
    assert response.json() == {"detail": "This can only be read: ask with GET."}
    assert response["Allow"] == "GET, HEAD"


def test_a_private_clubs_facts_are_for_its_members(
    stranger: Client, member: Client, published: Match, club: Club
) -> None:
    Club.objects.filter(pk=club.pk).update(public=False)
    address = f"/api/1/matches/{published.pk}/result"

    refused = get(stranger, address, 401)
    allowed = member.get(address)

    assert refused == {"detail": "There is nothing here, or it is for members: sign in."}
    assert get(stranger, "/api/1/clubs") == {"clubs": []}
    assert allowed.status_code == 200
    assert "private" in allowed["Cache-Control"]


def test_what_has_not_changed_is_not_sent_again(stranger: Client, published: Match) -> None:
    address = f"/api/1/matches/{published.pk}/result"
    etag = stranger.get(address)["ETag"]

    again = stranger.get(address, headers={"If-None-Match": etag})
    without_body = stranger.head(address)

    assert (again.status_code, again.content) == (304, b"")
    assert (without_body.status_code, without_body["ETag"]) == (200, etag)


def test_lists_ask_as_often_for_thirty_as_for_three(
    stranger: Client, season: Season, django_assert_num_queries: Any
) -> None:
    for number in range(1, 4):
        make_match(season=season, round=number, drawn=False, sections={"A": 1})
    with django_assert_num_queries(3):
        assert get(stranger, "/api/1/clubs/marlbrook/matches")["count"] == 3
    for number in range(4, 31):
        make_match(season=season, round=number, drawn=False, sections={"A": 1})
    with django_assert_num_queries(3):
        assert get(stranger, "/api/1/clubs/marlbrook/matches")["count"] == 30


@pytest.fixture
def one_connection() -> Iterator[None]:
    """A request closes what it finds open; Django's own client does not, inside a test."""
    for signal in (request_started, request_finished):
        signal.disconnect(close_old_connections)
    yield
    for signal in (request_started, request_finished):
        signal.connect(close_old_connections)


@pytest.mark.usefixtures("one_connection")
@pytest.mark.parametrize("mode", list(GenerationMode))
def test_no_made_up_call_breaks_it(published: Match, mode: GenerationMode) -> None:
    schema = schemathesis.openapi.from_wsgi(DESCRIPTION, application)

    known = {"slug": "marlbrook", "match_id": published.pk, "season_id": published.season_id}
    answers = make_calls(schema, mode, each=CALLS, known=known)

    wanted = {GenerationMode.POSITIVE: {200, 404}, GenerationMode.NEGATIVE: {422}}
    assert set(answers) >= wanted[mode]
