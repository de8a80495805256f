"""Sections by hand: typed, looked at along the bank, kept when asked, and told what is wrong."""

from __future__ import annotations

import pytest

from league.models import MatchPeg
from league.operations.draw import freeze
from tests.builders import make_entry, make_match, make_season
from tests.factories import PegFactory


@pytest.fixture
def match(club):
    season = make_season(club, teams=["Tannery Lane", "Old Quarry"])
    match = make_match(club, season=season, sections={"A": 3, "B": 3}, drawn=False)
    PegFactory(water=match.water, order=7, number="7")
    PegFactory(water=match.water, order=8, number="8", left_out=True, left_out_why="reed bed")
    return match


def at(match) -> str:
    return f"/matches/{match.pk}/run/sections/by-hand/"


def said(answer) -> str:
    return " ".join(answer.content.decode().split())


def runs(match) -> dict[str, str]:
    found: dict[str, str] = {}
    for each in MatchPeg.objects.of(match):
        letter = each.section.letter
        found[letter] = f"{found.get(letter, '')} {each.peg.number}".strip()
    return found


def test_the_sections_as_they_are_can_be_typed_over(secretary, match):
    shown = said(secretary.get(at(match)))

    assert 'name="section_A" value="1-3"' in shown
    assert 'name="section_B" value="4-6"' in shown
    assert 'name="section_C"' in shown
    assert "section A, 3 pegs; section B, 3 pegs" in shown


def test_looking_changes_the_strip_and_keeps_nothing(secretary, match):
    typed = {"section_A": "1-4", "section_B": "5-7", "section_C": "", "look": "1"}

    shown = said(secretary.post(at(match), typed))

    assert "section A, 4 pegs; section B, 3 pegs" in shown
    assert 'value="1-4"' in shown
    assert runs(match) == {"A": "1 2 3", "B": "4 5 6"}


def test_keeping_makes_the_sections_and_a_third_can_be_added(secretary, match):
    typed = {"section_A": "1, 2", "section_B": "4 and 3", "section_C": "5-7", "keep": "1"}

    answer = secretary.post(at(match), typed, follow=True)

    assert "Three sections made." in said(answer)
    assert runs(match) == {"A": "1 2", "B": "3 4", "C": "5 6 7"}


@pytest.mark.parametrize(
    ("a", "b", "words"),
    [
        ("1-3", "3-6", "Peg 3 is in section A and in section B."),
        ("1-3", "8", "Peg 8 is left out: reed bed."),
        ("1-3", "9-11", "has no peg 9, 10, 11."),
        ("1-3", "6-4", "runs backwards. Write 4-6."),
        ("", "", "A match has at least one section."),
    ],
)
def test_a_slip_is_told_in_words_and_what_was_typed_stays(secretary, match, a, b, words):
    shown = said(secretary.post(at(match), {"section_A": a, "section_B": b, "keep": "1"}))

    assert words in shown
    assert f'name="section_B" value="{b}"' in shown or not b
    assert runs(match) == {"A": "1 2 3", "B": "4 5 6"}


def test_a_section_too_short_for_the_teams_is_told_before_anything_is_kept(secretary, match):
    for team in match.season.teams.all():
        make_entry(match, team=team)

    shown = said(secretary.post(at(match), {"section_A": "1", "section_B": "4-6", "look": "1"}))

    assert "Section A has 1 peg for 2 anglers." in shown


def test_a_frozen_sheet_keeps_its_sections(secretary, match):
    make_entry(match, section=match.sections.get(letter="A"))
    freeze(match, callers=[1], by=None)

    shown = said(secretary.post(at(match), {"section_A": "1-6", "keep": "1"}))

    assert "The draw sheet is frozen with these sections." in shown
    assert runs(match) == {"A": "1 2 3", "B": "4 5 6"}


def test_only_the_secretary_changes_sections(stranger, scalesman, match):
    assert stranger.get(at(match)).status_code == 302
    assert scalesman.get(at(match)).status_code == 404
