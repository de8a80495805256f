"""The rules of a season changed on its desk, before and after a round is published."""

from __future__ import annotations

import html
import re

import pytest

from league.files import rulebook
from league.models import RulesChange, Season
from league.operations.publish import publish
from league.operations.score import book_of_season
from league.rules.books import READY_MADE
from league.web.forms.rules import questions
from tests.builders import make_entry, make_match, make_season, make_weigh_in

LOW = READY_MADE["averaged-low"]


@pytest.fixture
def season(club):
    return make_season(
        club, teams=["Old Quarry", "Millrace"], book=rulebook.as_dict(LOW), planned_rounds=3
    )


@pytest.fixture
def begun(season):
    """Two rounds, level on points: 11 lb against 10 lb, and the best single weight is 9 lb."""
    millrace, quarry = season.teams.order_by("name")
    for first, second in (("8-0", "9-0"), ("3-0", "1-0")):
        match = make_match(season=season, sections={"A": 2})
        pegs = [str(each.peg) for each in match.match_pegs.order_by("peg__order")]
        make_weigh_in(make_entry(match, peg=pegs[0], team=quarry), first)
        make_weigh_in(make_entry(match, peg=pegs[1], team=millrace), second)
        publish(match, by=None)
    return season


def said(answer):
    assert answer.status_code == 200
    return html.unescape(" ".join(answer.content.decode().split()))


def at(season):
    return f"/desk/marlbrook/seasons/{season.pk}/rules/"


def single(**changes):
    asked = {question.name: question.initial for question in questions(LOW, 3)}
    return {"way": "single"} | asked | changes


def test_before_the_first_round_a_rule_changes_at_once(secretary, season):
    assert "No round is published yet" in said(secretary.get(at(season)))

    answer = secretary.post(at(season), single(**{"season-counts": "drop 1"}))

    season.refresh_from_db()
    book = book_of_season(season)
    assert answer.url == f"/desk/marlbrook/seasons/{season.pk}/"
    assert book.season.drop == 1
    # No longer the ready-made book whose name it had.
    assert book.name == season.league.name
    assert not RulesChange.objects.exists()


def test_before_the_first_round_another_book_and_another_size_hold_at_once(secretary, season):
    ready = {"way": "ready", "size": "8", "per_section": "2", "unit": "kg"}

    secretary.post(at(season), ready | {"book": "aggregate-weight"})

    season.refresh_from_db()
    book = book_of_season(season)
    assert (book.name, book.team.size, book.unit.value) == ("Aggregate weight", 8, "kg")


def test_a_written_book_is_read_or_its_faults_are_told(secretary, season):
    shown = said(secretary.post(at(season), {"way": "own", "written": "[season]\nbest = 'x'"}))
    assert "best" in shown

    secretary.post(at(season), {"way": "own", "written": 'name = "Ours"\n[season]\nbest = 2'})

    season.refresh_from_db()
    assert book_of_season(season).season.best == 2


def test_after_a_round_it_shows_what_moves_and_changes_nothing(secretary, begun):
    asked = single(**{"season-ties": "best round weight"})

    shown = said(secretary.post(at(begun), asked))

    assert "<h1>Millrace would lead, not Old Quarry</h1>" in shown
    assert "From 2nd to 1st, past Old Quarry." in shown
    assert "Change the rules" in shown
    assert book_of_season(Season.objects.get(pk=begun.pk)) == LOW


def test_a_reason_makes_the_change_and_everybody_can_read_it(secretary, stranger, begun):
    shown = said(secretary.post(at(begun), single(**{"season-ties": "best round weight"})))
    written = re.search(r'name="written" value="([^"]+)"', secretary_page(secretary, begun))[1]
    confirm = {"way": "confirm", "written": html.unescape(written)}

    silent = said(secretary.post(at(begun), confirm | {"why": ""}))
    secretary.post(at(begun), confirm | {"why": "As voted on 3 February."})

    assert "Say why: it is printed with the rules." in silent
    assert "Millrace would lead" in silent
    change = RulesChange.objects.get()
    assert (change.after_round, change.by) == (2, secretary.user)
    page = said(secretary.get(f"/desk/marlbrook/seasons/{begun.pk}/"))
    assert "After round 2" in page
    assert "As voted on 3 February." in page
    assert "Millrace: From 2nd to 1st" in page
    assert "As voted on 3 February." in said(stranger.get(f"/tables/{begun.pk}/rules/"))
    assert shown


def secretary_page(secretary, season):
    answer = secretary.post(at(season), single(**{"season-ties": "best round weight"}))
    return answer.content.decode()


def test_how_the_season_was_drawn_cannot_change(secretary, begun):
    ready = {"way": "ready", "size": "8", "per_section": "1", "unit": "lb-oz"}

    shown = said(secretary.post(at(begun), ready | {"book": "aggregate-weight"}))

    assert "Round 1 was drawn in teams of 4 with 1 in a section" in shown
    assert "Change the rules" not in shown.split("<main")[1]


def test_a_confirmation_that_was_tampered_with_is_no_rule_book(secretary, begun):
    shown = said(secretary.post(at(begun), {"way": "confirm", "written": "[[", "why": "x"}))

    assert "These rules cannot be read any more. Choose them again below." in shown
    assert not RulesChange.objects.exists()
