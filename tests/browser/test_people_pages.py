"""A captain names a line-up on a phone; the pages of people, letters and objections for all."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from typing import Any

import pytest
from django.utils import timezone
from playwright.sync_api import Locator, Page, expect

from league.models import Entry, Match, OfficeName, Reserve, SquadMember, Team
from league.operations.captains import make_link
from league.operations.lineup import rang_in
from league.operations.objections import object_to
from league.operations.publish import publish
from tests.browser.conftest import LAPTOP, PHONE, SMALLEST
from tests.browser.everybody import faults
from tests.builders import give_office, make_entry, make_fished_match, make_match, make_season
from tests.factories import AnglerFactory, UserFactory

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def match(club: Any) -> Match:
    """A round of teams of four a week from now; Reds have a squad of six, and Ivy is captain."""
    season = make_season(club, teams=["Reds", "Blues"])
    match = make_match(
        season=season,
        sections={"A": 2, "B": 2, "C": 2, "D": 2},
        drawn=False,
        date=timezone.localdate() + dt.timedelta(days=7),
        draw_at=dt.time(8, 30),
    )
    for name in ("Ivy Marsh", "Len Noakes", "Maud Perrin", "Ned Sparrow", "Sal Fenn", "Tom Kerr"):
        angler = AnglerFactory(club=club, name=name, email=f"{name.split()[0]}@example.test")
        SquadMember.objects.create(team=_reds(match), angler=angler, captain=name == "Ivy Marsh")
    return match


def _reds(match: Match) -> Team:
    return Team.objects.get(season=match.season, name="Reds")


def _box(page: Page, label: str) -> Locator:
    """The box of a place; after its name stands, for those who hear it, that it may be empty."""
    return page.get_by_label(re.compile(f"^{label}\\b"))


def test_a_captain_names_a_line_up_on_a_phone_and_changes_it(
    open_page: Callable[..., Page], match: Match
) -> None:
    _, token = make_link(match, _reds(match), by=None)
    page = open_page(f"/line-up/{token}/", size=PHONE, has_touch=True)
    expect(page.get_by_role("heading", name="Who fishes for Reds?")).to_be_visible()

    for label, name in [
        ("Section A", "Len Noakes"),
        ("Section B", "Ivy Marsh"),
        ("Section C", "Maud Perrin"),
        ("Section D", "Ned Sparrow"),
        ("Reserve 1", "Ivy Marsh"),  # named twice
    ]:
        _box(page, label).select_option(label=name)
    page.get_by_role("button", name="Name this line-up").tap()
    expect(page.get_by_role("alert")).to_contain_text("Ivy Marsh is named twice.")
    expect(_box(page, "Section D")).to_have_value(
        str(Team.objects.get(name="Reds").squad.get(angler__name="Ned Sparrow").angler_id)
    )
    _box(page, "Reserve 1").select_option(label="Sal Fenn")
    page.get_by_role("button", name="Name this line-up").tap()

    expect(page.get_by_role("status")).to_contain_text("The line-up of Reds is named.")
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    named = Entry.objects.of(match).order_by("section__order")
    assert [(str(entry.section), entry.angler.name) for entry in named] == [
        ("A", "Len Noakes"),
        ("B", "Ivy Marsh"),
        ("C", "Maud Perrin"),
        ("D", "Ned Sparrow"),
    ]
    assert Reserve.objects.of_team(match, _reds(match)).get().angler.name == "Sal Fenn"


def test_the_pages_can_be_read_by_everybody(
    open_page: Callable[..., Page], match: Match, club: Any
) -> None:
    user = give_office(club, UserFactory(username="maud"), OfficeName.SECRETARY).user
    AnglerFactory(club=club, name="I. Marsh", user=user, easy_access=True)
    tom = AnglerFactory(club=club, name="Tom Kerrow-Featherstonehaugh", junior=True)
    entry = make_entry(match, angler=tom, team=_reds(match), section=match.sections.first())
    rang_in(entry, "late, about 08:45", by=None)
    _, token = make_link(match, _reds(match), by=None)
    fished = make_fished_match(season=match.season)
    publish(fished, by=None)
    object_to(fished, entry=fished.entries.first(), what="Two rods on peg 2.", by=None)
    run = f"/matches/{match.pk}/run"
    page = open_page("", as_user=user)

    found = []
    for path in (
        f"/line-up/{token}/",
        "/line-up/gone/",
        f"{run}/line-ups/",
        f"{run}/letters/",
        f"{run}/waiting/",
        f"{run}/morning/",
        f"{run}/morning/{entry.pk}/",
        f"/matches/{match.pk}/booking/",
        f"/matches/{fished.pk}/run/objections/",
        f"/matches/{fished.pk}/result/",
        "/clubs/marlbrook/people/",
        f"/clubs/marlbrook/people/{tom.pk}/",
        f"/clubs/marlbrook/people/{tom.pk}/erase/",
        "/clubs/marlbrook/people/doubles/",
        "/clubs/marlbrook/people/bring-in/",
    ):
        page.goto(path)
        found += faults(page, sizes=(SMALLEST, LAPTOP))
    page.goto("/clubs/marlbrook/people/bring-in/")
    page.get_by_label("Paste the rows").fill("name,junior\nIvor Marsh,\nTom Kerrow,yes")
    page.get_by_role("button", name="Look it over").click()
    found += faults(page, sizes=(SMALLEST, LAPTOP))
    page.goto(f"{run}/letters/")
    page.get_by_role("button", name="Look at it").click()
    found += faults(page, sizes=(SMALLEST, LAPTOP))

    assert found == []
