"""The pages of a draw from the choices to the check: axe, and nothing to scroll sideways."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page

from league.models import Match
from league.operations.draw import begin, call, finish, freeze, give_peg
from league.operations.draw_cards import turn
from league.operations.lineup import book_in
from tests.browser.everybody import faults
from tests.builders import make_match, make_season
from tests.factories import AnglerFactory

TEAMS = ["Tannery Lane", "Old Quarry", "Lamplighters"]
SECTIONS = "ABCDEFGH"


def scene(club: Any) -> Match:
    """Eight sections, and three teams of eight of whom nobody has said who fishes where."""
    season = make_season(club, teams=TEAMS)
    match = make_match(club, season=season, sections=dict.fromkeys(SECTIONS, 4), drawn=False)
    for team in season.teams.order_by("pk"):
        for n, letter in enumerate(SECTIONS):
            angler = AnglerFactory(club=club, name=f"Norma Stainsworth-{letter}")
            book_in(match, angler, team=team, easy_access=False if n else None, by=None)
    return match


@pytest.mark.django_db(transaction=True)
def test_axe_finds_nothing_in_a_whole_draw_and_nothing_is_wider_than_the_screen(
    open_page: Callable[..., Page], secretary: Any, club: Any
) -> None:
    match = scene(club)
    page = open_page("", as_user=secretary.user)
    draw, check, day = (f"/matches/{match.pk}/{part}" for part in ("draw/", "draw/check/", ""))
    found: list[tuple[str, str]] = []

    def look(stage: str, *addresses: str) -> None:
        for address in addresses:
            page.goto(address)
            page.evaluate("document.querySelectorAll('details').forEach(e => (e.open = true))")
            found.extend((stage, fault) for fault in faults(page))

    look("choices", draw)
    freeze(match, callers=[1, 9], line_up="shared", end_pegs_shared=True, by=None)
    look("calls", draw)
    finish(call(begin(match, by=None), {1: 4071, 9: 12}, by=None), by=None, face_down=True)
    turn(match, 5, by=None)
    look("cards", draw, check, day)
    turn(match, None, by=None)
    late = book_late(match)
    give_peg(late, match.match_pegs.without_angler()[0], why="Came late.", by=secretary.user)
    look("all turned", draw, check)

    assert page.get_by_text("End pegs went first").is_visible()
    assert page.locator(".placed tbody tr").count() == 24
    assert page.get_by_text("given by hand").first.is_visible()
    assert found == []


def book_late(match: Match) -> Any:
    """Somebody without a team who comes when the cards are turned."""
    angler = AnglerFactory(club=match.club, name="Hugh Amblerton")
    return match.entries.create(number=25, angler=angler)
