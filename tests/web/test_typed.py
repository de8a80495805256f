"""A section typed from paper, slips in their boxes, and the same sheet keyed again as a check."""

from __future__ import annotations

import datetime as dt
import uuid

import pytest

from league.models import WeighIn
from league.operations.facts import standing
from tests.builders import make_entry, make_match, make_season, make_weigh_in

EARLIER = dt.datetime(2026, 1, 4, 15, 30, tzinfo=dt.UTC)


@pytest.fixture
def match(club):
    season = make_season(club, book={"net": {"limit": "40-0"}})
    match = make_match(season=season, sections={"A": 4, "B": 1})
    for peg in range(1, 6):
        make_entry(match, peg=peg)
    return match


def entry(match, peg):
    return match.entries.get(match_peg__peg__number=str(peg))


def filled(match, *typed, **more):
    data = {}
    for peg, figure in enumerate(typed, 1):
        pk = entry(match, peg).pk
        data[f"peg-{pk}"] = figure
        data[f"key-{pk}"] = str(uuid.uuid5(uuid.NAMESPACE_URL, f"{peg}"))
    return data | more


def page(match, letter="A", check=False):
    return f"/scales/{match.pk}/typed/{letter}/{'?check=1' if check else ''}"


def said(answer) -> str:
    return " ".join(answer.content.decode().split())


def figures(match):
    return [
        [(each.status, each.nets) for each in standing(entry(match, peg)).figures]
        for peg in range(1, 5)
    ]


def test_a_section_is_kept_as_the_pencil_wrote_it(scalesman, match):
    answer = scalesman.post(
        page(match), filled(match, "3-8", "2-4 + 1-12", "b", "dnw"), follow=True
    )

    assert "Section A: 4 weights kept." in said(answer)
    assert figures(match) == [
        [("weighed", (3 * 256 + 128,))],
        [("weighed", (2 * 256 + 64, 256 + 192))],
        [("blank", ())],
        [("not weighed", ())],
    ]
    assert {each.weighed_by for each in WeighIn.objects.all()} == {scalesman.user}
    assert {each.note for each in WeighIn.objects.all()} == {"From the paper sheet."}


def test_posted_twice_it_is_kept_once(scalesman, match):
    for _ in range(2):
        scalesman.post(page(match), filled(match, "3-8", "2-4"))

    assert WeighIn.objects.count() == 2


def test_a_slip_stays_in_its_box_with_what_it_may_have_been_and_the_rest_is_kept(scalesman, match):
    answer = scalesman.post(page(match), filled(match, "3-8", "12-16", "5.640", "2-0"))

    shown = said(answer)
    assert shown.count(" on the site now") == 2  # pegs 1 and 4, which were read
    assert "2 weights kept. 2 to look at." in shown
    assert 'value="12-16"' in shown
    assert "Was it 13-0 (12 lb and 16 oz together)" in shown
    assert "12-6-15 (read off a kilogram scale as 5.640)?" in shown
    assert WeighIn.objects.count() == 2


def test_a_strange_figure_is_asked_about_and_kept_when_told_it_is_right(scalesman, match):
    typed = filled(match, "2-8", "3-0", "2-12", "33-8")
    asked = scalesman.post(page(match), typed)
    pk = entry(match, 4).pk

    scalesman.post(page(match), typed | {f"yes-{pk}": f"far-{33 * 256 + 128} "})

    assert "33 lb 8 oz is a long way over the usual" in said(asked)
    assert figures(match)[3] == [("weighed", (33 * 256 + 128,))]
    assert WeighIn.objects.count() == 4


def test_a_net_over_the_limit_and_nets_alike_are_asked_about_too(scalesman, match):
    shown = said(scalesman.post(page(match), filled(match, "43-0", "2-8 + 2-8")))

    assert "This net is over 40 lb" in shown
    assert "Net 1 and net 2 read the same" in shown
    assert not WeighIn.objects.exists()


def test_empty_boxes_change_nothing(scalesman, match):
    scalesman.post(page(match), filled(match, "", "2-4", "", ""))

    assert WeighIn.objects.count() == 1


def test_the_check_hides_what_is_on_the_site(scalesman, match):
    make_weigh_in(entry(match, 1), "7-13")

    assert "7 lb 13 oz on the site" in said(scalesman.get(page(match)))
    assert "7 lb 13 oz" not in said(scalesman.get(page(match, check=True)))


def test_the_check_lists_what_differs_and_keeps_both(scalesman, secretary, match):
    for peg, figure in enumerate(["7-13", "3-0", "blank"], 1):
        make_weigh_in(entry(match, peg), figure, received_at=EARLIER)

    answer = secretary.post(page(match, check=True), filled(match, "7-3", "3-0", "b", "4-1"))

    shown = said(answer)
    assert "1 peg differs in section A" in shown
    assert "7 lb 13 oz or 7 lb 3 oz" in shown
    assert "2 agree, 1 had not been weighed before." in shown
    assert standing(entry(match, 1)).in_question
    assert standing(entry(match, 2)).checked


def test_a_check_without_a_difference_says_so(secretary, match):
    make_weigh_in(entry(match, 1), "7-13")

    shown = said(secretary.post(page(match, check=True), filled(match, "7-13")))

    assert "Section A agrees with the paper" in shown
    assert "1 agrees." in shown


def test_kilograms_are_typed_as_kilograms(scalesman, club):
    match = make_match(club, sections={"A": 1}, unit="kg")
    make_entry(match, peg=1)

    scalesman.post(page(match), filled(match, "5,640 + 1.2"))

    assert WeighIn.objects.get().nets == (5640, 1200)


def test_a_section_that_is_not_there_and_a_stranger(scalesman, member, stranger, match):
    assert scalesman.get(page(match, "Z")).status_code == 404
    assert member.get(page(match)).status_code == 404
    assert stranger.get(page(match)).status_code == 302
