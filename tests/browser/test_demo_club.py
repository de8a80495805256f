"""The main job on the demo club, in a real browser: from the scales to the wall."""

from __future__ import annotations

import io
import re

import pytest
from django.utils import timezone
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from league.management.demo import fill, fill_matches
from league.management.demo.settings import read
from league.models import Entry, Match
from tests.browser.conftest import PHONE


@pytest.fixture
def demo(transactional_db):
    """The whole demo club."""
    settings = read()
    ground = fill.prepare(settings, timezone.localdate())
    fill_matches.fill_matches(ground, settings)
    return settings


def team_day() -> Match:
    """The match of teams of eight, drawn and ready for the scales."""
    return Match.objects.get(name="Team day")


def sign_in(page: Page, demo: dict, office: str) -> None:
    """Sign in as the demo's holder of an office, by the form."""
    who = next(told for told in demo["sign_in"] if told["office"] == office)
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


def test_a_team_day_goes_from_the_scales_to_the_sheet_on_the_wall(demo, open_page):
    match = team_day()
    page = open_page("", size=PHONE)
    sign_in(page, demo, "secretary")
    page.goto(f"/matches/{match.pk}/run/")
    page.get_by_role("link", name="To the scales").first.click()
    page.get_by_role("link", name=re.compile("Weigh peg")).click()

    pegs = Entry.objects.of(match).count()
    for turn in range(pegs):
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

    expect(page.get_by_role("heading", level=1)).to_have_text(
        re.compile(rf"All {pegs} pegs weighed|Every peg is weighed")
    )

    page.goto(f"/matches/{match.pk}/run/")
    page.get_by_role("link", name=re.compile("publish", re.IGNORECASE)).first.click()
    page.get_by_role("button", name="Publish the result").click()

    page.goto(f"/matches/{match.pk}/result/")
    headline = page.get_by_role("heading", level=1).inner_text()
    assert re.search(r"\b(win|share)\b", headline), headline
    address = page.get_by_role("link", name="Sheet to print").get_attribute("href")
    answer = page.context.request.get(address)
    assert answer.headers["content-type"] == "application/pdf"
    paper = PdfReader(io.BytesIO(answer.body()))
    assert headline.replace("’", "'") in " ".join(
        " ".join(sheet.extract_text().split()) for sheet in paper.pages
    ).replace("’", "'")

    page.goto(f"/tables/{match.season_id}/")
    winners = headline.split(" win")[0]
    expect(page.get_by_role("row").filter(has_text=winners).first).to_be_visible()
