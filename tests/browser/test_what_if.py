"""A season under other rules as it is seen: on a phone and a laptop, in both themes, unscripted."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from itertools import pairwise

import pytest
from playwright.sync_api import Page

from league.operations.publish import publish
from league.web.pages.crossings import ROW
from tests.browser.conftest import LAPTOP, PHONE, SMALLEST
from tests.browser.everybody import faults
from tests.factories import ClubFactory
from tests.web.scene import START, fish, made_up_round, make_league

pytestmark = pytest.mark.django_db(transaction=True)
TEAMS = [
    "Bridge End",
    "Lamplighters",
    "Millrace Specimen and Veterans Group",
    "Old Quarry",
    "Pennyfold",
    "Tannery Lane",
    *(f"Marlbrook Angling Society {letter}" for letter in "ABCDEF"),
]
# Left, right and middle height of everything written and marked in the drawing, in page pixels.
DRAWN = """() => [...document.querySelectorAll(".crossings text, .crossings circle")].map(each => {
  const box = each.getBoundingClientRect();
  return [each.textContent || "o", box.left, box.right, Math.round(box.top + box.height / 2)];
})"""


@pytest.fixture
def address(live_server) -> str:
    season = make_league(ClubFactory(), teams=TEAMS)
    for number in range(1, 5):
        publish(
            fish(season, made_up_round(TEAMS, number), number=number),
            by=None,
            at=START + dt.timedelta(days=21 * number),
        )
    return f"/tables/{season.pk}/what-if/"


def test_the_page_suits_the_screen_and_everybody(open_page: Callable[..., Page], address: str):
    page = open_page("")
    for query in ("", "?book=capped-low", "?net-limit=fifty"):
        page.goto(address + query)

        assert faults(page, widths=(SMALLEST,)) == []


@pytest.mark.long
def test_nothing_in_the_drawing_lies_over_its_neighbour_or_off_the_screen(
    open_page: Callable[..., Page], address: str
):
    page = open_page(f"{address}?book=capped-low")

    for size in (SMALLEST, PHONE, LAPTOP):
        page.set_viewport_size(size)
        lies_well(page.evaluate(DRAWN), size["width"])


def lies_well(drawn: list[tuple[str, float, float, int]], width: int) -> None:
    assert len(drawn) == 6 * len(TEAMS)
    assert min(left for _, left, _, _ in drawn) >= 0
    assert max(right for _, _, right, _ in drawn) <= width
    top = min(middle for *_, middle in drawn)
    rows: dict[int, list[tuple[float, float, str]]] = {}
    for text, left, right, middle in drawn:
        rows.setdefault(round((middle - top) / ROW), []).append((left, right, text))
    assert {len(row) for row in rows.values()} == {6}
    for row in rows.values():
        beside = pairwise(sorted(row))
        assert [(one[2], other[2]) for one, other in beside if one[1] > other[0]] == []


@pytest.mark.long
def test_rules_are_chosen_one_by_one_without_a_script(open_page: Callable[..., Page], address: str):
    page = open_page(address, java_script_enabled=False, size=PHONE)

    page.get_by_text("Choose rule by rule").click()
    page.get_by_label("Rounds that count").select_option("drop 1")
    page.locator("#single").get_by_role("button", name="Look at the table").click()

    assert "season-counts=drop+1" in page.url
    assert "The worst round is dropped." in page.locator("main").inner_text()
    assert page.get_by_label("Rounds that count").input_value() == "drop 1"


def test_a_total_unfolds_to_its_sum(open_page: Callable[..., Page], address: str):
    page = open_page(f"{address}?book=capped-low", size=PHONE)

    figure = page.locator("#what-if .total a.fig").first
    figure.click()

    assert page.locator(page.url[page.url.index("#") :]).is_visible()
