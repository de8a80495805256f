"""What a reader sees: nothing overlaps, nothing runs off a phone, colours stay as chosen."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import LAPTOP, PHONE, SMALLEST, TABLET
from tests.browser.everybody import faults

pytestmark = [pytest.mark.urls("tests.browser.look_pages"), pytest.mark.django_db(transaction=True)]
EVERY_SIZE = (SMALLEST, PHONE, TABLET, LAPTOP)

# Every text of a strip that is to be seen, strip by strip: left, top, right and bottom of its ink.
# Figures and capitals of both faces stand 0.69 em over the line and do not go under it.
TEXTS = """() => [...document.querySelectorAll(".bank-svg[role=img]")]
  .filter(svg => svg.getClientRects().length)
  .map(svg => [...svg.querySelectorAll(SELECTOR)]
    .filter(text => getComputedStyle(text).display !== "none")
    .map(text => {
      const start = text.getStartPositionOfChar(0).matrixTransform(text.getScreenCTM());
      const size = parseFloat(getComputedStyle(text).fontSize);
      return [text.textContent, start.x, start.y - 0.69 * size,
              start.x + text.getComputedTextLength(), start.y];
    }))"""


def texts(page: Page, selector: str) -> list[list[list]]:
    return page.evaluate(TEXTS.replace("SELECTOR", f'"{selector}"'))


def overlapping(strips: list[list[list]]) -> list[tuple[str, str]]:
    """Pairs of texts of one strip that lie over one another."""
    return [
        (one, other)
        for strip in strips
        for (one, l1, t1, r1, b1), (other, l2, t2, r2, b2) in combinations(strip, 2)
        if min(r1, r2) > max(l1, l2) and min(b1, b2) > max(t1, t2)
    ]


def test_nothing_written_on_a_strip_overlaps(open_page: Callable[..., Page]):
    page = open_page("/look/")

    for size in EVERY_SIZE:
        page.set_viewport_size(size)
        for selector in (".b-lab", ".b-peg", ".b-who, .b-whow"):
            assert overlapping(texts(page, selector)) == [], f"{selector} at {size['width']}"


@pytest.mark.long
def test_a_phone_shows_the_winners_weights_and_a_laptop_shows_all(open_page: Callable[..., Page]):
    phone, laptop = open_page("/look/", size=PHONE), open_page("/look/", size=LAPTOP)

    def weights(page: Page) -> int:
        return page.locator("#some-d").locator("xpath=..").locator(".b-lab:visible").count()

    assert weights(phone) == 4
    assert weights(laptop) == 22  # 24 pegs, two of them blank


@pytest.mark.long
def test_many_pegs_fold_on_a_phone_and_stand_in_one_row_on_a_laptop(open_page: Callable[..., Page]):
    phone, laptop = open_page("/look/", size=PHONE), open_page("/look/", size=LAPTOP)

    rows = "[aria-labelledby^='many-row-']:visible"
    assert phone.locator(rows).count() == 4
    assert laptop.locator(rows).count() == 0
    expect(laptop.locator("[aria-labelledby='many-t many-d']")).to_be_visible()
    expect(phone.locator("[aria-labelledby='many-t many-d']")).to_be_hidden()


def test_colours_stay_as_chosen_and_are_right_from_the_first_paint(open_page: Callable[..., Page]):
    page = open_page("/look/")
    paper = page.evaluate("getComputedStyle(document.body).backgroundColor")
    page.evaluate("document.fonts.ready")  # no line moves any more while the button is pressed
    page.get_by_role("button", name="Dusk").click()
    expect(page.get_by_role("button", name="Dusk")).to_have_attribute("aria-pressed", "true")

    # What is set on the page when its body begins is what it is first painted with.
    page.add_init_script(
        """new MutationObserver((_, watch) => { if (document.body) {
             window.atFirst = document.documentElement.dataset.theme; watch.disconnect(); }
           }).observe(document, { childList: true, subtree: true });"""
    )
    page.reload()

    assert page.evaluate("window.atFirst") == "dusk"
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(11, 27, 31)"
    page.get_by_role("button", name="As my phone").click()
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == paper
    page.reload()
    assert page.evaluate("window.atFirst") is None


@pytest.mark.long
def test_the_phone_in_the_dark_is_dusk_and_paper_can_be_chosen(open_page: Callable[..., Page]):
    page = open_page("/look/", theme="dark")
    ground = "getComputedStyle(document.body).backgroundColor"

    assert page.evaluate(ground) == "rgb(11, 27, 31)"
    page.get_by_role("button", name="Paper").click()
    assert page.evaluate(ground) == "rgb(241, 243, 234)"


def test_without_scripts_the_switch_is_not_there(open_page: Callable[..., Page]):
    page = open_page("/look/", java_script_enabled=False)

    expect(page.get_by_role("button", name="Dusk")).to_be_hidden()


def test_the_keyboard_meets_the_way_past_the_head_first(open_page: Callable[..., Page]):
    page = open_page("/form/")

    page.keyboard.press("Tab")

    expect(page.get_by_role("link", name="Skip to the page")).to_be_focused()
    expect(page.get_by_role("link", name="Skip to the page")).to_be_in_viewport()


def test_the_letters_are_our_own(open_page: Callable[..., Page]):
    page = open_page("/look/")

    loaded = page.evaluate(
        # What stands in until they come is the machine's, and named after it.
        "document.fonts.ready.then(all => [...all]"
        ".filter(f => f.status === 'loaded' && !f.family.includes(' by '))"
        ".map(f => f.family.replaceAll('\"', '') + ' ' + f.weight).sort())"
    )
    assert loaded == [
        "Archivo Narrow 400",
        "Archivo Narrow 600",
        "Archivo Narrow 700",
        "Literata 400",
    ]


@pytest.mark.parametrize("path", ["/look/", "/form/"])
def test_axe_finds_nothing_and_no_page_scrolls_sideways(open_page: Callable[..., Page], path):
    page = open_page(path)

    assert faults(page, widths=(SMALLEST, TABLET)) == []


def test_what_axe_looks_for_is_found_where_it_is_wrong(open_page: Callable[..., Page]):
    """Grey on grey in the dark alone, and a page that is too wide: both are told."""
    page = open_page("/form/", bypass_csp=True)
    page.add_style_tag(
        content="@media (prefers-color-scheme: dark) { h1 { color: #333 !important } }"
        "main { min-inline-size: 500px }"
    )

    found = " ".join(faults(page, thorough=True))

    assert "at 390 is wider than the screen" in found
    assert "at 1280, dark: color-contrast" in found
    assert "light" not in found


@pytest.mark.long
def test_on_paper_there_is_no_navigation_and_one_ink(open_page: Callable[..., Page]):
    page = open_page("/form/")

    page.emulate_media(media="print")

    expect(page.get_by_role("navigation")).to_be_hidden()
    expect(page.get_by_text("Sign out")).to_be_hidden()
    expect(page.locator("#colours")).to_be_hidden()
    expect(page.get_by_text("Marlbrook & District AC")).to_be_visible()
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
