"""The board: off until wanted, as it stands, and cheap to ask again."""

from __future__ import annotations

import pytest

from league.models import Act
from league.operations.publish import publish
from tests.builders import make_entry, make_match, make_weigh_in
from tests.factories import ClubFactory


@pytest.fixture
def match(club):
    match = make_match(club, sections={"A": 3})
    for peg, name in enumerate(["Ray Tolliver", "Jo Ormesher", "Len Cudworthy"], 1):
        make_entry(match, peg=peg, name=name)
    return match


def show(secretary, match, shown=True):
    secretary.post(f"/scales/{match.pk}/board/", {"show": "1"} if shown else {})


def now(client, match, etag=""):
    headers = {"If-None-Match": etag} if etag else {}
    return client.get(f"/matches/{match.pk}/board/now/", headers=headers)


def said(answer) -> str:
    return " ".join(answer.content.decode().split())


def test_it_is_off_until_the_secretary_wants_it(stranger, secretary, match):
    make_weigh_in(match.entries.first(), "12-8")

    before = said(stranger.get(f"/matches/{match.pk}/board/"))
    show(secretary, match)
    shown = said(stranger.get(f"/matches/{match.pk}/board/"))
    show(secretary, match, shown=False)
    after = said(now(stranger, match))

    assert "The board is not shown" in before
    assert "12-8" not in before
    assert "12-8" in shown
    assert "12-8" not in after
    assert [act.what for act in Act.objects.order_by("pk")] == [
        "The board is shown.",
        "The board is not shown any more.",
    ]


def test_it_says_how_many_are_weighed_and_who_leads_as_it_stands(stranger, secretary, match):
    show(secretary, match)
    first, second, _ = match.entries.order_by("number")
    make_weigh_in(first, "3-2")
    make_weigh_in(second, "12-8")

    shown = said(now(stranger, match))

    assert "As it stands: 2 of 3 weighed" in shown
    assert "Not the result" in shown
    assert shown.index("Jo Ormesher") < shown.index("Ray Tolliver")
    assert "Len Cudworthy" not in shown


def test_a_peg_in_question_says_so(stranger, secretary, match):
    show(secretary, match)
    make_weigh_in(match.entries.first(), "3-2")
    make_weigh_in(match.entries.first(), "3-3")

    assert "1 peg in question." in said(now(stranger, match))
    assert ". In question" in said(now(stranger, match))


def test_asked_again_it_answers_304_until_something_comes_in(
    stranger, secretary, match, django_assert_max_num_queries
):
    show(secretary, match)
    first = now(stranger, match)

    with django_assert_max_num_queries(7):  # the match, what it shows, and whether it has moved
        same = now(stranger, match, first["ETag"])
    make_weigh_in(match.entries.first(), "3-2")
    other = now(stranger, match, first["ETag"])

    assert (same.status_code, same.content) == (304, b"")
    assert other.status_code == 200
    assert "3-2" in said(other)


def test_after_the_result_it_leads_there(stranger, secretary, match):
    show(secretary, match)
    for entry in match.entries.all():
        make_weigh_in(entry, "3-2")
    publish(match, by=secretary.user)

    assert f'href="/matches/{match.pk}/result/"' in said(now(stranger, match))


def test_a_private_clubs_board_is_for_its_members(stranger, db):
    match = make_match(ClubFactory(public=False), board_shown=True)

    assert stranger.get(f"/matches/{match.pk}/board/").status_code == 302


def test_only_the_secretary_shows_it(scalesman, match):
    answer = scalesman.post(f"/scales/{match.pk}/board/", {"show": "1"})

    match.refresh_from_db()
    assert answer.status_code == 404
    assert not match.board_shown
