"""The keys at the scales: with a thumb, with a keyboard, and what they send."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from league.models import Entry, Match, WeighIn
from tests.browser.conftest import PHONE, SMALLEST
from tests.browser.everybody import faults
from tests.builders import make_entry, make_match, make_season, make_weigh_in

Open = Callable[..., Page]


@pytest.fixture
def match(club: Any) -> Match:
    """Two pegs to weigh, with a limit of 40 lb a net."""
    season = make_season(club, teams=["Tannery Lane"], book={"net": {"limit": "40-0"}})
    match = make_match(club, season=season, sections={"D": 2})
    make_entry(match, peg=1, name="Keith Wraggley", team=season.teams.get())
    make_entry(match, peg=2, name="Tracy Fennimore")
    return match


def at_peg(open_page: Open, scalesman: Any, match: Match, peg: str, **size: Any) -> Page:
    entry = next(
        each for each in Entry.objects.of(match).in_peg_order() if str(each.match_peg.peg) == peg
    )
    return open_page(f"/scales/{match.pk}/{entry.pk}/", as_user=scalesman.user, **size)


def press(page: Page, *keys: str) -> None:
    for key in keys:
        page.locator(".keys:not([hidden])").get_by_role("button", name=key, exact=True).click()


def nets() -> list[tuple[int, ...]]:
    return [weigh_in.nets for weigh_in in WeighIn.objects.order_by("pk")]


def test_two_nets_are_weighed_with_a_thumb(open_page, scalesman, match):
    page = at_peg(open_page, scalesman, match, "1", size=PHONE)

    press(page, "3", "1", "ounces", "6")
    page.get_by_role("button", name="+ net 2").click()
    press(page, "1", "4")
    expect(page.locator("[data-left]")).to_have_text("26 lb left in this net")
    expect(page.locator("[data-total]")).to_have_text("45 lb 6 oz")
    press(page, "ounces", "12")
    save = page.get_by_role("button", name="Agreed: save 46 lb 2 oz then peg 2, Tracy Fennimore")
    save.click()

    expect(page.get_by_role("heading", name="Tracy Fennimore")).to_be_visible()
    expect(page.get_by_text("Peg 1, Keith Wraggley: 46 lb 2 oz. Saved.")).to_be_visible()
    assert nets() == [(31 * 256 + 6 * 16, 14 * 256 + 12 * 16)]


@pytest.mark.long
def test_a_keyboard_does_the_same(open_page, scalesman, match):
    page = at_peg(open_page, scalesman, match, "1", size=PHONE)

    page.keyboard.type("31-6+14-12")
    page.keyboard.press("Enter")

    expect(page.get_by_role("heading", name="Tracy Fennimore")).to_be_visible()
    assert nets() == [(31 * 256 + 6 * 16, 14 * 256 + 12 * 16)]


@pytest.mark.long
def test_sixteen_ounces_cannot_be_entered(open_page, scalesman, match):
    page = at_peg(open_page, scalesman, match, "1", size=PHONE)

    page.keyboard.type("5-16")
    expect(page.locator("[data-slot=part] b")).to_have_text("6")
    press(page, "15")

    expect(page.locator("[data-total]")).to_have_text("5 lb 15 oz")
    assert page.locator("[data-ounce='16']").count() == 0


@pytest.mark.long
def test_nothing_can_be_saved_before_the_ounces_are_read(open_page, scalesman, match):
    page = at_peg(open_page, scalesman, match, "1", size=PHONE)
    save = page.locator("[data-save]")

    press(page, "1", "4")
    expect(save).to_be_hidden()
    press(page, "ounces")
    expect(save).to_be_hidden()
    press(page, "0")

    expect(save).to_contain_text("Agreed: save 14 lb 0 oz")


@pytest.mark.long
def test_a_figure_is_rubbed_out_and_a_net_gone_back_to(open_page, scalesman, match):
    page = at_peg(open_page, scalesman, match, "1", size=PHONE)

    press(page, "3", "2", "rub out", "1", "ounces", "6")
    page.get_by_role("button", name="+ net 2").click()
    page.get_by_role("button", name="Net 1 31-6").click()
    press(page, "9", "ounces", "0")

    expect(page.locator("[data-save]")).to_contain_text("Agreed: save 9 lb 0 oz")


def test_a_blank_is_agreed_before_it_is_saved_and_can_be_taken_back(open_page, scalesman, match):
    page = at_peg(open_page, scalesman, match, "1", size=PHONE)
    blank = page.get_by_role("button", name="Blank", exact=True)

    blank.click()
    expect(page.locator("[data-save]")).to_contain_text("Agreed: save blank")
    blank.click()
    expect(page.locator("[data-save]")).to_be_hidden()
    blank.click()
    page.locator("[data-save]").click()

    expect(page.get_by_text("Peg 1, Keith Wraggley: blank. Saved.")).to_be_visible()
    assert [(each.status, each.nets) for each in WeighIn.objects.all()] == [("blank", ())]


def test_over_the_limit_the_server_says_what_counts_and_the_keys_come_back(
    open_page, scalesman, match
):
    page = at_peg(open_page, scalesman, match, "1", size=PHONE)

    press(page, "4", "3", "ounces", "6")
    page.get_by_role("button", name="Net 1 is over 40 lb: what counts?").click()
    expect(page.get_by_role("alert")).to_contain_text("40 lb counts, the rest does not")
    page.get_by_role("button", name="It was typed wrong").click()
    expect(page.locator("[data-slot=whole] b")).to_have_text("43")
    press(page, "3", "4")
    page.locator("[data-save]").click()

    expect(page.get_by_role("heading", name="Tracy Fennimore")).to_be_visible()
    assert nets() == [(34 * 256 + 6 * 16,)]


@pytest.mark.long
def test_kilograms_take_three_figures_of_grams(open_page, scalesman, club):
    match = make_match(club, sections={"A": 1}, unit="kg")
    make_entry(match, peg=1)
    page = at_peg(open_page, scalesman, match, "1", size=PHONE)

    press(page, "5", "grams", "6", "4")
    expect(page.locator("[data-save]")).to_be_hidden()
    press(page, "0")
    expect(page.locator("[data-save]")).to_contain_text("Agreed: save 5.640 kg")
    page.locator("[data-save]").click()

    expect(page.get_by_role("heading", name="Every peg is weighed")).to_be_visible()
    assert nets() == [(5640,)]


@pytest.mark.long
def test_without_a_script_the_boxes_do_it(open_page, scalesman, match):
    page = at_peg(open_page, scalesman, match, "1", size=PHONE, java_script_enabled=False)

    page.get_by_label("Net 1").fill("31-6")
    page.get_by_label("Net 2").fill("14-12")
    page.get_by_role("button", name="Agreed: save").click()

    expect(page.get_by_role("heading", name="Tracy Fennimore")).to_be_visible()
    assert nets() == [(31 * 256 + 6 * 16, 14 * 256 + 12 * 16)]


# The sizes a cold wet thumb needs: 58 px high everywhere, the save key 72.
@pytest.mark.parametrize("size", [PHONE, SMALLEST], ids=["390", "320"])
def test_the_keys_are_large_and_nothing_has_to_be_scrolled(open_page, scalesman, match, size):
    page = at_peg(open_page, scalesman, match, "1", size=size)

    def heights(selector: str) -> list[int]:
        return [
            int(box["height"])
            for each in page.locator(selector).all()
            if (box := each.bounding_box())
        ]

    pounds = heights(".keys:not([hidden]) button")
    press(page, "1", "4", "ounces", "12")
    ounces = heights(".keys:not([hidden]) button")

    assert (len(pounds), len(ounces)) == (12, 16)
    assert min(pounds + ounces) >= 58
    assert min(heights("[data-save]")) >= 72
    scrolled = "[document.documentElement.scrollHeight, document.documentElement.scrollWidth]"
    assert page.evaluate(scrolled) == [size["height"], size["width"]]


def test_axe_finds_nothing_at_the_scales(open_page, scalesman, match):
    page = at_peg(open_page, scalesman, match, "1", size=PHONE)
    found = []

    def look() -> None:
        found.extend(faults(page, sizes=(PHONE,)))

    look()
    press(page, "4", "3", "ounces", "6")
    look()
    page.locator("[data-save]").click()
    expect(page.get_by_role("alert")).to_be_visible()
    look()
    first = Entry.objects.of(match).in_peg_order()[0]
    make_weigh_in(first, "17-13")
    page.goto(f"/scales/{match.pk}/{first.pk}/")
    look()
    make_weigh_in(first, "17-3")
    page.goto(f"/scales/{match.pk}/{first.pk}/")
    look()
    page.goto(f"/scales/{match.pk}/")
    look()

    assert found == []
