"""Waters set up on their pages: said, drawn, looked at before they are kept."""

from __future__ import annotations

import datetime as dt
import html

import pytest

from league.models import Peg, Water
from league.operations.sections import make_sections, set_sections
from league.operations.waters import (
    bank_of,
    change_venue,
    change_water,
    make_water,
    take_out,
    usual_runs,
)
from league.rules.bank import parse_pegs, say_bank
from league.web.pages.said_bank import said_bank
from tests.factories import ClubFactory, MatchFactory
from tests.sheets.reading import words_of

SAID = "1-8, not 3 (flooded), easy 1 and 8, gap after 4"
NEW = {"name": "Heron Lake", "venue": "Marl Park", "pegs": SAID}


@pytest.fixture
def water(club):
    return make_water(club, venue="Marl Park", name="Heron Lake", pegs=parse_pegs(SAID), by=None)


def said(answer):
    assert answer.status_code == 200
    return html.unescape(" ".join(answer.content.decode().split()))


def at(water, rest=""):
    return f"/desk/{water.venue.club.slug}/waters/{water.pk}/{rest}"


def test_a_water_is_drawn_before_it_is_kept_and_kept_as_it_was_said(secretary, club):
    looked = said(secretary.post("/desk/marlbrook/waters/new/", NEW | {"look": "1"}))
    assert "7 pegs" in looked
    assert "The bank as it was understood" in looked
    assert "Left out: 3 (flooded)." in looked
    assert f"{SAID}</textarea>" in looked
    assert not Water.objects.exists()

    answer = secretary.post("/desk/marlbrook/waters/new/", NEW)

    water = Water.objects.get()
    assert answer.url == at(water)
    assert (water.name, water.venue.name) == ("Heron Lake", "Marl Park")
    assert say_bank(bank_of(water)) == SAID


def test_a_venue_that_is_not_named_is_called_as_its_water(secretary, club):
    secretary.post("/desk/marlbrook/waters/new/", NEW | {"venue": ""})

    assert Water.objects.get().venue.name == "Heron Lake"


def test_what_cannot_be_read_comes_back_with_every_slip(secretary, club):
    shown = said(secretary.post("/desk/marlbrook/waters/new/", NEW | {"pegs": "4-1, not 9"}))

    assert "'4-1' runs backwards. Write 1-4." in shown
    assert "Peg 9 is said to be 'not', but is not among the pegs." in shown
    assert "4-1, not 9</textarea>" in shown


def test_the_bank_is_drawn_while_it_is_said(secretary, stranger, water):
    page = "/desk/marlbrook/waters/look/"

    drawn = said(secretary.post(page, {"pegs": "1-3, easy 2"}))
    assert "3 pegs" in drawn
    assert "<svg" in drawn
    assert "is no peg" in said(secretary.post(page, {"pegs": "?"}))
    assert stranger.post(page, {"pegs": "1"}).url.startswith("/sign-in/")


def test_the_bank_changes_with_its_sentence(secretary, water):
    assert f"{SAID}</textarea>" in said(secretary.get(at(water)))

    looked = said(secretary.post(at(water, "bank/"), {"pegs": "1-9", "look": "1"}))
    assert "9 pegs" in looked
    assert Peg.objects.count() == 8
    secretary.post(at(water, "bank/"), {"pegs": "1-9, steep bank 2"})

    assert say_bank(bank_of(water)) == "1-9, steep bank 2"


def test_pegs_go_out_of_use_with_a_reason_and_come_back(secretary, water):
    shown = said(secretary.post(at(water, "out/"), {"numbers": "5-6", "why": ""}))
    assert "Say why: it stands on the peg plan." in shown

    typed = {"numbers": "5-6", "why": "Nesting swans", "starts": "2027-01-01"}
    secretary.post(at(water, "out/"), typed | {"ends": "2027-02-01"})

    shown = said(secretary.get(at(water)))
    assert "from 1 January 2027 until 1 February 2027" in shown
    assert [peg.number for peg in Peg.objects.along(water) if peg.left_out] == ["3", "5", "6"]
    secretary.post(at(water, "back/"), {"number": "3"})
    assert not Peg.objects.get(number="3").left_out


def test_limits_sections_rules_and_the_note_are_kept(secretary, water):
    about = {"name": "Heron Lake", "net_limit": "50 lb", "usual_sections": "1-4\n5-8"}
    secretary.post(at(water, "about/"), about)
    secretary.post(
        at(water, "venue/"), {"name": "Marl Park", "rules": "No braid.", "note_for_bailiff": "Key"}
    )

    shown = said(secretary.get(at(water)))
    assert "Limit on a net: 50 lb." in shown
    assert "No braid.</textarea>" in shown
    wrong = said(secretary.post(at(water, "about/"), about | {"usual_sections": "1-4\n4-9"}))
    assert "Section B: Heron Lake has no peg 9." in wrong
    assert "1-4 4-9</textarea>" in wrong


def test_the_usual_cautions_stand_on_the_page(secretary, water):
    shown = said(secretary.get(at(water)))

    for words in ("Overhead power lines", "Lightning", "Water-borne disease", "Fish welfare"):
        assert words in shown
    assert "Venue rules, local codes and the law come first." in shown


@pytest.mark.parametrize(
    ("pegs", "warns"),
    [
        ("1-3, overhead line 2", True),
        ("1-3, not 2, overhead line 2", False),
        ("1-3, beware 2 (power line, 25 m off)", True),
        ("1-3, beware 2 (power line 40 m off)", False),
        ("1-3, deep margin 2", False),
    ],
)
def test_a_peg_near_an_overhead_line_is_spoken_up_about(pegs, warns):
    assert bool(said_bank(parse_pegs(pegs)).warning) is warns


def test_another_clubs_water_is_not_reached(secretary, member, club):
    theirs = make_water(
        ClubFactory(slug="other"), venue="V", name="W", pegs=parse_pegs("1"), by=None
    )

    assert secretary.get(f"/desk/marlbrook/waters/{theirs.pk}/").status_code == 404
    assert member.get("/desk/marlbrook/waters/").status_code == 404
    assert (
        secretary.post(f"/desk/other/waters/{theirs.pk}/bank/", {"pegs": "1-2"}).status_code == 404
    )


@pytest.mark.parametrize("waters", [3, 30])
def test_the_list_asks_the_same_questions_however_many_waters(
    secretary, club, waters, django_assert_num_queries
):
    for n in range(waters):
        make_water(club, venue=f"V{n}", name=f"W{n}", pegs=parse_pegs("1-3"), by=None)

    with django_assert_num_queries(5):
        secretary.get("/desk/marlbrook/waters/")


@pytest.mark.parametrize("pegs", ["1-3", "1-60"])
def test_a_water_asks_the_same_questions_however_long_it_is(
    secretary, club, pegs, django_assert_num_queries
):
    water = make_water(club, venue="V", name="W", pegs=parse_pegs(pegs), by=None)

    with django_assert_num_queries(9):
        secretary.get(at(water))


def test_what_the_venue_wants_stands_on_the_peg_plan_with_the_usual_cautions(secretary, club):
    water = make_water(
        club,
        venue="Marl Park",
        name="Heron Lake",
        pegs=parse_pegs("1-6, not 3, overhead line 5, steep bank 6"),
        by=None,
    )
    change_water(water, name="Heron Lake", net_limit="50 lb", usual_sections="1-6", by=None)
    change_venue(
        water.venue, name="Marl Park", rules="No braid.", note_for_bailiff="Key at 7.", by=None
    )
    take_out(water, ["3"], why="Flooded", ends=dt.date(2027, 2, 1), by=None)
    match = MatchFactory(club=club, water=water, date=dt.date(2027, 2, 14))
    set_sections(
        match, {"A": [peg for peg in usual_runs(water)["A"] if peg.number != "2"]}, by=None
    )

    plan = words_of(secretary.get(f"/matches/{match.pk}/peg-plan.pdf").content)

    assert "Limit on a net at Heron Lake: 50 lb." in plan
    assert "No braid." in plan
    assert "Key at 7." in plan
    assert "overhead power line within 30 m" in plan
    assert "steep bank" in plan
    assert "Venue rules, local codes and the law come first." in plan
    assert "Water-borne disease" in plan
    # Back in use on the day, so peg 3 is fished; peg 2 is not used, for no fault of its own.
    assert "Flooded" not in plan
    assert "not used today" in plan


def test_a_peg_out_on_the_day_says_why_on_the_plan(secretary, water, club):
    match = MatchFactory(club=club, water=water, date=dt.date(2027, 1, 3))
    make_sections(match, count=1, pegs=list(Peg.objects.along(water)), by=None)

    plan = words_of(secretary.get(f"/matches/{match.pk}/peg-plan.pdf").content)

    assert "left out: flooded" in plan
