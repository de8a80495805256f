"""The pages of setting up: what axe finds, what is too wide, and what common acts take."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Locator, Page, expect

from league.files import rulebook
from league.files.pasted_rounds import filled_in
from league.files.pasted_teams import read_teams
from league.models import Match, Peg, RulesChange, Season, Stage
from league.operations.publish import publish
from league.operations.rounds import Hours, plan_rounds
from league.operations.teams import enter_teams
from league.operations.waters import make_water
from league.rules.bank import parse_pegs
from league.rules.books import READY_MADE
from tests.browser.conftest import SMALLEST
from tests.browser.everybody import faults
from tests.builders import make_entry, make_match, make_season, make_weigh_in

SQUADS = read_teams("Old Quarry: Dave Scrimshire (c), Mick Oldacre\nMillrace: Len Cudworthy")


@pytest.fixture
def season(club):
    """A season with teams, one published round, and two to come."""
    season = make_season(
        club, book=rulebook.as_dict(READY_MADE["averaged-low"]), starts=dt.date(2026, 10, 4)
    )
    enter_teams(season, SQUADS, by=None)
    water = make_water(
        club,
        venue="Marl Park",
        name="Heron Lake",
        pegs=parse_pegs("1-60, not 13 (flooded), easy 1-4 and 60, gap after 24, overhead line 40"),
        by=None,
    )
    hours = Hours(None, dt.time(8, 30), dt.time(10), dt.time(15))
    plan_rounds(
        season, filled_in(season.starts, count=3, every=14), water=water, hours=hours, by=None
    )
    fished = Match.objects.rounds_of(season)[0]
    made = make_match(season=season, round=9, sections={"A": 2})
    for peg, team in zip(made.match_pegs.all(), season.teams.all(), strict=True):
        make_weigh_in(make_entry(made, peg=peg.peg.number, team=team), f"{peg.peg.order}-0")
    publish(made, by=None)
    assert fished.stage == Stage.PLANNED
    return season


def test_axe_finds_nothing_where_things_are_set_up_and_nothing_is_wider_than_the_screen(
    open_page, secretary, season
):
    desk = "/desk/marlbrook"
    match = Match.objects.rounds_of(season)[0]
    addresses = [
        f"{desk}/",
        f"{desk}/seasons/",
        f"{desk}/seasons/new/",
        f"{desk}/seasons/new/?from={season.pk}",
        f"{desk}/seasons/{season.pk}/",
        f"{desk}/seasons/{season.pk}/rules/",
        f"{desk}/seasons/{season.pk}/teams/{season.teams.first().pk}/",
        f"{desk}/matches/new/",
        f"{desk}/matches/{match.pk}/when/",
        f"{desk}/matches/{match.pk}/line-ups/",
        f"{desk}/waters/",
        f"{desk}/waters/new/",
        f"{desk}/waters/{match.water_id}/",
    ]
    page = open_page(f"{desk}/", as_user=secretary.user)
    found = []

    for address in addresses:
        page.goto(address)
        page.evaluate("document.querySelectorAll('details').forEach(each => (each.open = true))")
        found += faults(page, widths=(SMALLEST,))

    assert found == []


class Counted:
    """Clicks and boxes from the desk on."""

    def __init__(self, page: Page) -> None:
        self.page, self.count = page, 0

    def click(self, what: str, name: str | re.Pattern[str]) -> None:
        self.on(self.page.get_by_role(what, name=name, exact=True).first)

    def on(self, where: Locator) -> None:
        self.count += 1
        where.click()

    def fill(self, label: str, text: str) -> None:
        self.count += 1
        main = self.page.locator("main")
        box = main.get_by_label(label, exact=True)
        box.and_(self.page.locator("input, textarea")).fill(text)

    def choose(self, label: str, words: str) -> None:
        self.count += 1
        self.page.get_by_label(label, exact=True).select_option(label=words)


def copy_season(hand: Counted) -> None:
    hand.click("link", "Leagues and seasons")
    hand.click("link", re.compile("^Copy"))
    hand.click("button", "Set the season up")
    expect(hand.page.get_by_role("heading", level=1)).to_contain_text("2027–28")


def move_match(hand: Counted) -> None:
    hand.click("link", "Leagues and seasons")
    hand.click("link", "2026–27")
    hand.click("link", re.compile("^Move or cancel"))
    hand.fill("Day", "2026-10-11")
    hand.click("button", "Move the match")
    expect(hand.page.get_by_text("is moved.")).to_be_visible()


def call_off(hand: Counted) -> None:
    hand.click("link", "Leagues and seasons")
    hand.click("link", "2026–27")
    hand.click("link", re.compile("^Move or cancel"))
    hand.fill("Why it is cancelled", "Frozen over.")
    hand.click("button", "Cancel the match")
    expect(hand.page.get_by_text("is cancelled.")).to_be_visible()


def plan_match(hand: Counted) -> None:
    hand.click("link", "A match outside the league")
    hand.fill("What it is called", "Boxing Day Shield")
    hand.click("button", "Plan the match")
    expect(hand.page.get_by_text("Boxing Day Shield is planned.")).to_be_visible()


def take_pegs_out(hand: Counted) -> None:
    hand.click("link", "Waters and pegs")
    hand.click("link", "Heron Lake")
    hand.on(hand.page.get_by_text("Take pegs out of use", exact=True))
    hand.fill("Pegs", "5-6")
    hand.fill("Why", "Nesting swans")
    hand.click("button", "Take them out")
    expect(hand.page.get_by_text("2 pegs out of use.")).to_be_visible()


def change_rule(hand: Counted) -> None:
    hand.click("link", "Leagues and seasons")
    hand.click("link", "2026–27")
    hand.click("link", "Change the rules")
    hand.choose("Rounds that count", "The best two rounds count.")
    hand.click("button", "See what this moves")
    hand.fill("Why the rules change", "As voted.")
    hand.click("button", "Change the rules")
    expect(hand.page.get_by_text("These are the rules of the season from now on.")).to_be_visible()


# Counted from the desk: a click or a box filled is one.
COMMON_ACTS: dict[Callable[[Counted], None], int] = {
    copy_season: 3,
    move_match: 5,
    call_off: 5,
    plan_match: 3,
    take_pegs_out: 6,
    change_rule: 7,
}


@pytest.mark.long
def test_common_acts_take_few_interactions_from_the_desk(open_page, secretary, season):
    page = open_page("/desk/marlbrook/", as_user=secretary.user)
    counts = {}

    for act in COMMON_ACTS:
        page.goto("/desk/marlbrook/")
        hand = Counted(page)
        act(hand)
        counts[act] = hand.count

    assert counts == COMMON_ACTS
    assert Season.objects.count() == 2
    assert RulesChange.objects.get().why == "As voted."
    assert [peg.number for peg in Peg.objects.all() if peg.left_out] == ["5", "6", "13"]
