"""Published pages as a browser has them: axe finds nothing, nothing shifts, a keyboard suffices."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from league.models import Match, SquadMember
from league.operations.publish import publish
from tests.browser.conftest import LAPTOP, PHONE, SMALLEST
from tests.browser.everybody import faults
from tests.factories import ClubFactory
from tests.web.scene import START, fish_round_6, make_league

pytestmark = pytest.mark.django_db(transaction=True)

PAGES = [
    "/teams/{team}/",
    "/tables/{season}/head-to-head/?a={team}&b={other}",
    "/waters/{water}/",
    "/records/",
    "/anglers/{angler}/",
    "/clubs/marlbrook/programs/",
    "/matches/{match}/result/1/share/",
]
# Watches for what moves after it was first painted, from before the first line of the page.
SHIFTS = """
  window.shifted = 0;
  new PerformanceObserver(list => {
    for (const each of list.getEntries()) if (!each.hadRecentInput) window.shifted += each.value;
  }).observe({type: "layout-shift", buffered: true});
"""


@pytest.fixture
def known(transactional_db: None) -> dict[str, Any]:
    season = make_league(ClubFactory(name="Marlbrook & District AC", slug="marlbrook"))
    match: Match = fish_round_6(season, number=6)
    publish(match, by=None, at=START)
    for entry in match.entries.all():
        SquadMember.objects.create(team=entry.team, angler=entry.angler)
    team, other = season.teams.order_by("-name")[:2]
    return {
        "season": season.pk,
        "match": match.pk,
        "team": team.pk,
        "other": other.pk,
        "angler": match.entries.first().angler_id,
        "water": match.water_id,
    }


def test_axe_finds_nothing_and_nothing_runs_off_the_smallest_phone(
    open_page: Callable[..., Page], known: dict[str, Any]
) -> None:
    page = open_page("/")
    for each in PAGES:
        page.goto(each.format(**known))
        assert faults(page, sizes=(SMALLEST, LAPTOP)) == []


@pytest.mark.long
@pytest.mark.parametrize("size", [PHONE, LAPTOP], ids=["phone", "laptop"])
def test_nothing_shifts_once_it_is_painted(
    open_page: Callable[..., Page], known: dict[str, Any], size: dict[str, int]
) -> None:
    page = open_page("/", size=size)
    page.add_init_script(SHIFTS)
    for each in ("/", "/matches/{match}/result/", "/tables/{season}/", *PAGES):
        page.goto(each.format(**known), wait_until="networkidle")
        page.evaluate("document.fonts.ready")
        # A shift of 0.1 is what a reader notices; the faces swap in at nearly the same widths.
        assert page.evaluate("window.shifted") < 0.1, each


def test_a_keyboard_alone_reads_a_result_and_passes_it_on(
    open_page: Callable[..., Page], known: dict[str, Any]
) -> None:
    page = open_page("/")

    _tab_to(page, "Every peg and every point")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Tannery Lane win")

    _tab_to(page, "27 lb 6 oz")  # a figure unfolds to its reason, and folds away again
    page.keyboard.press("Enter")
    reason = page.locator("tr.why:target")
    expect(reason).to_be_visible()
    assert page.evaluate("document.querySelector('tr.why:target').contains(document.activeElement)")
    _tab_to(page, "Fold away")
    page.keyboard.press("Enter")
    expect(reason).to_be_hidden()

    _tab_to(page, "Pass it on")
    page.keyboard.press("Enter")
    box = page.get_by_label("The result in a few lines")
    page.wait_for_url("**/share/")
    for _ in range(30):
        page.keyboard.press("Tab")
        if box.evaluate("each => each === document.activeElement"):
            break
    page.keyboard.press("Control+a")
    chosen = page.evaluate("""() => { const each = document.activeElement;
        return each.value.slice(each.selectionStart, each.selectionEnd) }""")
    assert chosen.startswith("Winter Team League, round 6")
    assert chosen.rstrip().endswith(f"/matches/{known['match']}/result/1/")


def _tab_to(page: Page, words: str) -> None:
    """Press Tab until what has these words has the focus, which must be seen to have it."""
    for _ in range(200):
        page.keyboard.press("Tab")
        said = page.evaluate("document.activeElement.textContent.trim().replace(/\\s+/g, ' ')")
        if words in said and said != page.evaluate("document.body.textContent"):
            outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
            assert outline != "none", f"{words} has the focus and does not show it"
            return
    raise AssertionError(f"Tab never came to “{words}”.")
