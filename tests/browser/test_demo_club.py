"""The main job on the demo club, in a real browser: from the scales to the wall."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from league.management.demo.settings import read
from tests.browser.conftest import PHONE
from tests.serving import Site
from tests.tools import IN_CI


@pytest.fixture
def demo(trial: Path, tmp_path: Path) -> Iterator[Site]:
    """The demo club as it is set up and served."""
    site = Site(tmp_path, like=trial)
    site.start()
    yield site
    site.stop()


def team_day(demo: Site) -> tuple[int, int, int]:
    """The match of teams of eight, drawn and ready for the scales: itself, its season, its pegs."""
    [found] = demo.ask(
        "select m.id, m.season_id, count(e.match_peg_id) from league_match m"
        " join league_entry e on e.match_id = m.id where m.name = 'Team day' group by m.id"
    )
    return found


def sign_in(page: Page, office: str) -> None:
    """Sign in as the demo's holder of an office, by the form."""
    who = next(told for told in read()["sign_in"] if told["office"] == office)
    page.goto("/sign-in/")
    page.get_by_label("Name").fill(who["username"])
    page.get_by_label("Password").fill(who["password"])
    page.get_by_role("main").get_by_role("button").click()


def press(page: Page, pounds: int, ounces: int) -> None:
    """Enter one net on the keys: the pounds figure by figure, then one press for the ounces."""
    pad = page.locator(".pad")
    for figure in str(pounds):
        pad.locator(f"[data-digit='{figure}']:visible").click()
    pad.locator("[data-on]:visible").click()
    pad.locator(f"[data-ounce='{ounces}']:visible").click()


def weigh_on_the_keys(page: Page, pegs: range) -> None:
    """Weigh so many pegs, one after another along the bank."""
    for turn in pegs:
        expect(page.get_by_role("heading", level=1)).not_to_be_empty()
        if turn % 12 == 11:
            page.get_by_role("button", name="Blank").click()
        else:
            press(page, 3 + turn % 17, turn % 16)
        before = page.url
        page.locator("[data-save]").click()
        if page.url == before:  # a figure far from the rest is asked about once
            page.locator("[data-save], .answers button, .answers .do").first.click()
        expect(page).not_to_have_url(before)


def type_from_paper(page: Page, match: int, section: str, pegs: int) -> None:
    """Type a whole section in by the keyboard, Enter after each figure."""
    page.goto(f"/scales/{match}/typed/{section}/")
    expect(page.locator("input.box").first).to_be_focused()
    for turn in range(pegs):
        page.keyboard.type("b" if turn == 7 else f"{4 + turn * 5 % 9}-{turn * 3 % 16}")
        page.keyboard.press("Enter")
    expect(page.get_by_text(f"Section {section}: {pegs} weights kept.")).to_be_visible()


def test_a_team_day_goes_from_the_scales_to_the_sheet_on_the_wall(demo, chromium):
    match, season, pegs = team_day(demo)
    sections = demo.ask(
        "select s.letter, count(*) from league_section s join league_entry e on"
        ' e.section_id = s.id where s.match_id = ? group by s.id order by s."order"',
        match,
    )
    page = chromium.new_page(base_url=demo.url, viewport=PHONE, locale="en-GB")
    sign_in(page, "secretary")
    page.goto(f"/matches/{match}/run/")
    page.get_by_role("link", name="To the scales").first.click()
    page.get_by_role("link", name=re.compile("Weigh peg")).click()

    # A section at the scales, peg by peg; the others come in on paper. In CI it is the scales all
    # the way.
    on_paper = [] if IN_CI else sections[1:]
    weigh_on_the_keys(page, range(pegs - sum(count for _, count in on_paper)))
    for section, count in on_paper:
        type_from_paper(page, match, section, count)

    page.goto(f"/scales/{match}/")
    expect(page.get_by_role("heading", level=1)).to_have_text(
        re.compile(rf"All {pegs} pegs weighed|Every peg is weighed")
    )

    page.goto(f"/matches/{match}/run/")
    page.get_by_role("link", name=re.compile("publish", re.IGNORECASE)).first.click()
    page.get_by_role("button", name="Publish the result").click()

    page.goto(f"/matches/{match}/result/")
    headline = page.get_by_role("heading", level=1).inner_text()
    assert re.search(r"\b(win|share)\b", headline), headline
    address = page.get_by_role("link", name="Sheet to print").get_attribute("href")
    answer = page.context.request.get(address)
    assert answer.headers["content-type"] == "application/pdf"
    paper = PdfReader(io.BytesIO(answer.body()))
    assert headline.replace("’", "'") in " ".join(
        " ".join(sheet.extract_text().split()) for sheet in paper.pages
    ).replace("’", "'")

    page.goto(f"/tables/{season}/")
    winners = headline.split(" win")[0]
    expect(page.get_by_role("row").filter(has_text=winners).first).to_be_visible()
    page.context.close()
