"""Every team's line-up booked in from one page."""

from __future__ import annotations

import re

import pytest

from league.files import rulebook
from league.files.pasted_teams import read_teams
from league.models import Entry
from league.operations.teams import enter_teams
from league.rules.rulebook import Rulebook
from tests.builders import make_match, make_season

SQUADS = """
Old Quarry: Dave Scrimshire (c), Mick Oldacre, Tracy Fennimore
Millrace: Len Cudworthy (c), Sue Hadlowe
Pennyfold: Ian Peverill
"""


@pytest.fixture
def match(club):
    book = rulebook.changed(Rulebook(), {"team": {"size": 2}})
    season = make_season(club, book=rulebook.as_dict(book))
    enter_teams(season, read_teams(SQUADS), by=None)
    return make_match(season=season, sections={"A": 3, "B": 3}, drawn=False)


def at(match):
    return f"/desk/{match.club.slug}/matches/{match.pk}/line-ups/"


def filled_in(page):
    """The boxes as a browser would send them."""
    boxes = {}
    for name, options in re.findall(
        r'<select name="(place_[^"]+)"[^>]*>(.*?)</select>', page, re.S
    ):
        chosen = re.search(r'<option value="([^"]*)" selected', options)
        boxes[name] = chosen[1] if chosen else ""
    return boxes


def line_up(match):
    return [
        f"{entry.team} {entry.section} {entry.angler}"
        for entry in Entry.objects.of(match).in_booking_order()
    ]


def test_one_press_books_what_the_squads_suggest(secretary, match):
    page = secretary.get(at(match)).content.decode()

    answer = secretary.post(at(match), filled_in(page), follow=True)

    assert "Five anglers of three teams booked in." in answer.content.decode()
    assert line_up(match) == [
        "Millrace A Len Cudworthy",
        "Millrace B Sue Hadlowe",
        "Old Quarry A Dave Scrimshire",
        "Old Quarry B Mick Oldacre",
        "Pennyfold A Ian Peverill",
    ]
    assert "squad too small" in page


def test_who_is_booked_in_already_is_shown_where_they_fish_and_can_change_places(secretary, match):
    secretary.post(at(match), filled_in(secretary.get(at(match)).content.decode()))
    boxes = filled_in(secretary.get(at(match)).content.decode())
    first, second = (
        name
        for name in boxes
        if name.startswith(f"place_{match.season.teams.get(name='Old Quarry').pk}_")
    )
    boxes[first], boxes[second] = boxes[second], boxes[first]

    secretary.post(at(match), boxes)

    assert "Old Quarry A Mick Oldacre" in line_up(match)
    assert "Old Quarry B Dave Scrimshire" in line_up(match)
    assert len(line_up(match)) == 5


def test_somebody_named_twice_is_refused_and_nobody_is_booked(secretary, match):
    boxes = filled_in(secretary.get(at(match)).content.decode())
    first, second, *_ = boxes
    boxes[second] = boxes[first]

    shown = secretary.post(at(match), boxes).content.decode()

    assert "is named twice" in shown
    assert line_up(match) == []


def test_somebody_of_another_squad_is_no_choice(secretary, match):
    boxes = filled_in(secretary.get(at(match)).content.decode())
    first, *_ = boxes
    other = next(value for name, value in boxes.items() if name[:-1] != first[:-1] and value)
    boxes[first] = other

    assert "Choose somebody of the squad." in secretary.post(at(match), boxes).content.decode()


def test_it_is_the_secretarys_page_and_only_of_a_league(secretary, member, match, club):
    assert member.get(at(match)).status_code == 404
    assert secretary.get(at(make_match(club))).status_code == 404


@pytest.mark.parametrize("teams", [3, 30])
def test_the_page_asks_the_same_questions_however_many_teams(
    secretary, club, teams, django_assert_num_queries
):
    season = make_season(club, book=rulebook.as_dict(Rulebook()))
    lines = "\n".join(f"Team {n}: Angler A{n}, Angler B{n}" for n in range(teams))
    enter_teams(season, read_teams(lines), by=None)
    match = make_match(season=season, drawn=False)

    with django_assert_num_queries(9):
        secretary.get(at(match))
