"""The pages beside the phone: a section by keyboard, passes, the board; and what axe finds."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from league.models import OfficeName, WeighIn
from league.operations.passes import let_in, make_pass
from league.rules.walks import Walk
from tests.browser.conftest import PHONE, SMALLEST
from tests.browser.everybody import faults
from tests.builders import give_office, make_entry, make_match, make_season, make_weigh_in
from tests.factories import ClubFactory, UserFactory

pytestmark = pytest.mark.django_db(transaction=True)

SHEET = ["3-8", "2-4", "b", "4-1 + 2-9", "1-15", "dnw", "2-0", "3-3", "0-12", "5-6", "2-11", "3-0"]


@pytest.fixture
def sam(live_server):
    return UserFactory(username="sam")


@pytest.fixture
def match(sam):
    club = ClubFactory(name="Marlbrook & District AC", slug="marlbrook")
    give_office(club, sam, OfficeName.SECRETARY)
    season = make_season(club, teams=["Tannery Lane", "Old Quarry"])
    match = make_match(season=season, sections={"A": 12, "B": 2}, board_shown=True, per_section=99)
    teams = list(season.teams.all())
    for peg in range(1, 15):
        make_entry(match, peg=peg, team=teams[peg % 2])
    return match


def typing(open_page, match, sam) -> Page:
    """The page of section A, once the keyboard is where it belongs: in the first box."""
    page = open_page(f"/scales/{match.pk}/typed/A/", as_user=sam)
    expect(page.locator("input.box").first).to_be_focused()
    return page


def test_a_section_of_twelve_is_typed_from_paper_with_enter_alone(open_page, match, sam):
    page = typing(open_page, match, sam)

    for figure in SHEET:
        page.keyboard.type(figure)
        page.keyboard.press("Enter")

    expect(page.get_by_text("Section A: 12 weights kept.")).to_be_visible()
    assert WeighIn.objects.count() == 12


@pytest.mark.long
def test_tab_does_as_well(open_page, match, sam):
    page = typing(open_page, match, sam)

    for figure in SHEET:
        page.keyboard.type(figure)
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")

    expect(page.get_by_text("Section A: 12 weights kept.")).to_be_visible()


def test_a_slip_is_where_the_keyboard_goes_back_to(open_page, match, sam):
    page = typing(open_page, match, sam)

    for figure in ["3-8", "2-16", *SHEET[2:]]:
        page.keyboard.type(figure)
        page.keyboard.press("Enter")

    wrong = page.locator("input[aria-invalid]")
    expect(wrong).to_be_focused()
    expect(wrong).to_have_value("2-16")
    assert WeighIn.objects.count() == 11


@pytest.mark.long
def test_without_scripts_enter_saves_what_is_there(open_page, match, sam):
    page = open_page(f"/scales/{match.pk}/typed/A/", as_user=sam, java_script_enabled=False)

    page.locator("input.box").first.fill("3-8")
    page.locator("input.box").first.press("Enter")

    expect(page.get_by_text("Section A: 1 weight kept.")).to_be_visible()


@pytest.mark.long
def test_the_board_follows_without_being_loaded_again(open_page, match):
    page = open_page(f"/matches/{match.pk}/board/", size=PHONE)
    expect(page.get_by_role("heading", name="As it stands: 0 of 14 weighed")).to_be_visible()
    page.evaluate("globalThis.same = true")

    make_weigh_in(match.entries.first(), "12-8")

    expect(page.get_by_role("heading", name="As it stands: 1 of 14 weighed")).to_be_visible(
        timeout=15_000
    )
    expect(page.get_by_text("12-8")).to_be_visible()
    assert page.evaluate("globalThis.same") is True


@pytest.fixture
def in_use(match):
    """A pass with a phone, two figures for one peg, a blank."""
    _, secret = make_pass(match, name="Len and Ivy", walk=Walk(("A",)), by=None)
    let_in(match.pk, secret, name="Ivy’s phone")
    for peg, figure in ((1, "12-8"), (1, "12-9"), (2, "blank"), (13, "3-4")):
        make_weigh_in(match.entries.get(match_peg__peg__number=str(peg)), figure)
    return match


def test_nothing_for_axe_to_find_and_nothing_to_scroll_sideways(
    open_page: Callable[..., Page], in_use, sam
):
    page = open_page("", as_user=sam)
    for path in ("scales/{}/", "scales/{}/passes/", "scales/{}/typed/A/", "matches/{}/board/"):
        page.goto(f"/{path.format(in_use.pk)}")

        assert faults(page, widths=(SMALLEST,)) == []


def test_a_new_pass_is_shown_as_a_code_without_anything_inline(open_page, match, sam):
    page = open_page(f"/scales/{match.pk}/passes/", as_user=sam, size=PHONE)

    page.get_by_label("Whose walk").fill("Len and Ivy")
    page.get_by_role("button", name="Make a pass").click()

    code = page.get_by_role("img", name="Code of the link below")
    expect(code).to_be_visible()
    assert code.evaluate("code => code.getBoundingClientRect().width") >= 250
    assert faults(page, sizes=(PHONE,)) == []
