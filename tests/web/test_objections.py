"""Objections on the pages: taken down, answered, and beside the result for everybody."""

from __future__ import annotations

from io import BytesIO
from typing import Any

import pytest
from django.test import Client
from pypdf import PdfReader

from league.models import Club, Match, Objection
from league.operations.decide import decide
from league.operations.publish import publish
from tests.builders import make_fished_match, make_season


@pytest.fixture
def match(club: Club) -> Match:
    match = make_fished_match(season=make_season(club))
    publish(match, by=None)
    return match


def _take_down(secretary: Client, match: Match) -> str:
    entry = match.entries.first()
    answer = secretary.post(
        f"/matches/{match.pk}/run/objections/",
        {"entry": str(entry.pk), "what": "Peg 2 fished two rods."},
        follow=True,
    )
    return answer.content.decode()


def test_an_objection_stands_beside_the_result_at_once_and_its_answer_after(
    match: Match, secretary: Client, stranger: Client
) -> None:
    page = f"/matches/{match.pk}/result/"
    assert "Objections</h2>" not in stranger.get(page).content.decode()

    assert "1 objection to answer" in _take_down(secretary, match)

    said = stranger.get(page).content.decode()
    assert "Peg 2 fished two rods." in said
    assert "Not answered yet." in said
    objection = Objection.objects.get()
    secretary.post(
        f"/matches/{match.pk}/run/objections/{objection.pk}/answer/",
        {
            f"answer-{objection.pk}-outcome": "dismissed",
            f"answer-{objection.pk}-answer": "One was a rest.",
        },
    )
    said = stranger.get(page).content.decode()
    assert "Not upheld on" in said
    assert "One was a rest." in said


def test_the_sheet_and_the_file_carry_it_too(
    match: Match, secretary: Client, stranger: Client
) -> None:
    _take_down(secretary, match)

    sheet = stranger.get(f"/matches/{match.pk}/result/1/sheet.pdf")
    file = stranger.get(f"/matches/{match.pk}/result/1/result.json").json()

    content = b"".join(sheet) if sheet.streaming else sheet.content
    text = " ".join(page.extract_text() for page in PdfReader(BytesIO(content)).pages)
    assert "Peg 2 fished two rods." in " ".join(text.split())
    assert file["objections"][0]["open"]


def test_the_match_says_that_it_is_to_be_answered_and_is_not_made_final(
    match: Match, secretary: Client
) -> None:
    _take_down(secretary, match)

    run = secretary.get(f"/matches/{match.pk}/run/").content.decode()
    assert "An objection to round 1 to answer" in run
    answer = secretary.post(f"/matches/{match.pk}/run/final/", follow=True).content.decode()
    assert "Answer these objections before the result is final:" in answer


def test_the_page_asks_as_many_questions_for_one_objection_as_for_six(
    match: Match, secretary: Client, django_assert_max_num_queries: Any
) -> None:
    _take_down(secretary, match)
    page = f"/matches/{match.pk}/run/objections/"
    secretary.get(page)
    with django_assert_max_num_queries(20) as asked:
        secretary.get(page)
    few = len(asked)
    for _ in range(5):
        _take_down(secretary, match)
    secretary.get(page)

    with django_assert_max_num_queries(few):
        secretary.get(page)


def test_an_answer_names_the_decision_it_led_to(match: Match, secretary: Client) -> None:
    _take_down(secretary, match)
    objection = Objection.objects.get()
    decision = decide(
        match, kind="points", entry=match.entries.first(), points=1, why="Late.", by=None
    )  # type: ignore[arg-type]

    secretary.post(
        f"/matches/{match.pk}/run/objections/{objection.pk}/answer/",
        {
            f"answer-{objection.pk}-outcome": "upheld",
            f"answer-{objection.pk}-answer": "Seen by two.",
            f"answer-{objection.pk}-decision": str(decision.pk),
        },
    )

    objection.refresh_from_db()
    assert (objection.outcome, objection.decision) == ("upheld", decision)


def test_a_slip_comes_back_as_it_was_typed(match: Match, secretary: Client) -> None:
    answer = secretary.post(
        f"/matches/{match.pk}/run/objections/", {"what": "Peg 2 fished two rods."}
    )

    said = answer.content.decode()
    assert "Say who objects: one angler, or one team." in said
    assert "Peg 2 fished two rods." in said
    assert not Objection.objects.exists()


def test_before_a_result_there_is_nothing_to_object_to(club: Club, secretary: Client) -> None:
    match = make_fished_match(club)

    said = secretary.get(f"/matches/{match.pk}/run/objections/").content.decode()

    assert "No result is published yet." in said
    assert "Take it down" not in said
