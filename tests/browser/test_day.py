"""A match day through the secretary's hands: booked in, drawn, weighed, published, made final."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from typing import Any

from django.utils import timezone
from playwright.sync_api import Page, expect

from league.models import Entry, Match, Result, Stage
from tests.browser.everybody import faults
from tests.builders import make_entry, make_fished_match, make_match, make_season
from tests.factories import AnglerFactory, PegFactory

Open = Callable[..., Page]


def on_a_bank(club: Any) -> Match:
    """Two teams of two, a bank of six pegs of which one is left out, nothing done yet."""
    season = make_season(club, teams=["Tannery Lane", "Old Quarry"])
    match = make_match(club, season=season, drawn=False)
    match.sections.all().delete()
    match.match_pegs.all().delete()
    for order in range(11, 17):
        out = order == 13
        PegFactory(
            water=match.water,
            order=order,
            number=str(order),
            left_out=out,
            left_out_why="reed bed" if out else "",
        )
    match.water.pegs.get(number="1").delete()
    for number in ("2", "3", "4"):
        match.water.pegs.get(number=number).delete()
    return match


def test_from_an_empty_match_to_a_final_result(open_page, secretary, club):
    match = on_a_bank(club)
    page = open_page("/desk/", as_user=secretary.user)
    page.set_default_timeout(8000)

    # book in
    for name, team in (
        ("Ray Tolliver", "Tannery Lane"),
        ("Dave Scrimshire", "Old Quarry"),
        ("Jo Ormesher", "Tannery Lane"),
        ("Colin Thurkettle", "Old Quarry"),
    ):
        AnglerFactory(club=club, name=name)
        page.goto(f"/matches/{match.pk}/run/")
        page.get_by_label("Angler").first.select_option(label=name)
        page.get_by_label("Team").first.select_option(label=team)
        page.get_by_role("button", name="Book in", exact=True).click()
        expect(page.get_by_text(f"{name} is booked in")).to_be_visible()

    # pegs, sections, who fishes which
    page.locator("#id_pegs").fill("11-16")
    page.locator("#id_count").fill("2")
    page.get_by_role("button", name="Make the sections").click()
    expect(page.get_by_text("Left out: 13 (reed bed).")).to_be_visible()
    page.get_by_role("button", name="Save the sections").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Round 1 is ready to be drawn")

    # the draw
    page.get_by_role("link", name="To the draw").first.click()
    page.get_by_role("button", name="Freeze the draw sheet").click()
    page.get_by_label("Ray Tolliver, Tannery Lane").fill("4071")
    page.get_by_label("Dave Scrimshire, Old Quarry").fill("12")
    page.get_by_role("button", name="Take the numbers down").click()
    expect(page.get_by_text("0 turned, 4 still face down")).to_be_visible()
    for turned in range(1, 4):
        page.get_by_role("button", name="Turn").first.click()
        expect(page.get_by_text(f"{turned} turned, {4 - turned} still face down")).to_be_visible()
    page.get_by_role("button", name="Turn them all").click()
    expect(page.get_by_text("All 4 cards turned")).to_be_visible()
    page.get_by_role("link", name="Check this draw on your own phone").click()
    page.get_by_role("button", name="Work it out here").click()
    expect(page.get_by_text("Worked out here: all 4 pegs come out as published.")).to_be_visible()

    # the scales
    page.goto(f"/scales/{match.pk}/")
    page.get_by_role("link", name="Weigh peg").click()
    for pounds in ("12", "9", "3", "1"):
        expect(page.locator("[data-total]")).to_have_text("0 lb 0 oz")
        page.keyboard.type(f"{pounds}-8")
        page.get_by_role("button", name=f"Agreed: save {pounds} lb 8 oz").click()
    expect(page.get_by_role("heading", name="Every peg is weighed")).to_be_visible()

    # the result
    page.goto("/desk/")
    page.get_by_role("link", name="Publish the result").click()
    page.get_by_role("button", name="Publish the result").click()
    expect(page.get_by_text("Version 1 is published")).to_be_visible()
    Result.objects.update(objections_until=timezone.now() - dt.timedelta(minutes=1))
    page.goto("/desk/")
    page.get_by_role("button", name="Make round 1 final").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Round 1 is final")

    match.refresh_from_db()
    assert match.stage == Stage.FINAL


def test_axe_finds_nothing_on_the_day_and_nothing_is_wider_than_the_screen(
    open_page, secretary, club
):
    fished = make_fished_match(club)
    entry = Entry.objects.of(fished).in_peg_order()[0]
    planned = make_match(club, drawn=False, sections={"A": 4})
    for name in ("Ray Tolliver", "Jo Ormesher"):
        make_entry(planned, name=name)
    addresses = [
        "/desk/",
        f"/matches/{fished.pk}/",
        f"/matches/{planned.pk}/",
        f"/matches/{fished.pk}/run/",
        f"/matches/{planned.pk}/run/",
        f"/matches/{fished.pk}/run/publish/",
        f"/matches/{fished.pk}/run/correct/{entry.pk}/",
        f"/matches/{planned.pk}/draw/",
        f"/matches/{fished.pk}/draw/",
        f"/matches/{fished.pk}/draw/?turned=2",
    ]
    page = open_page("/desk/", as_user=secretary.user)
    found = []

    for address in addresses:
        page.goto(address)
        page.evaluate("document.querySelectorAll('details').forEach(each => (each.open = true))")
        found += faults(page)

    assert found == []
