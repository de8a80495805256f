"""The draw on a bank with a bad signal: nothing drawn twice, nothing lost, any device goes on."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from league.models import Angler, DrawEvent, DrawRecord, Match
from league.operations.draw import begin, call, finish, freeze
from league.operations.draw_cards import turn
from league.operations.lineup import book_in
from tests.browser.conftest import LAPTOP, PHONE
from tests.builders import make_match, make_season, seat
from tests.factories import AnglerFactory

Open = Callable[..., Page]
TABLET = {"width": 1024, "height": 768}
PROJECTOR = {"width": 1920, "height": 1080}


@pytest.fixture
def match(club: Any, secretary: Any) -> Match:
    """Two teams in two sections, the sheet frozen, entries 1 and 2 to call."""
    season = make_season(club, teams=["Tannery Lane", "Old Quarry"])
    match = make_match(club, season=season, sections={"A": 3, "B": 3}, drawn=False)
    for section in match.sections.all():
        for team in season.teams.order_by("pk"):
            book_in(match, AnglerFactory(club=club), team=team, section=section, by=None)
    freeze(match, callers=[1, 2], by=None)
    return match


def at(match: Match) -> str:
    return f"/matches/{match.pk}/draw/"


@pytest.mark.django_db(transaction=True)
def test_numbers_typed_without_signal_stay_and_the_second_press_draws_once(
    open_page: Open, secretary: Any, match: Match
) -> None:
    page = open_page(at(match), as_user=secretary.user, size=PHONE)
    page.fill("[name=call_1]", "4071")
    page.fill("[name=call_2]", "12")

    page.context.set_offline(True)
    page.get_by_role("button", name="Take the numbers down").click()
    expect(page.get_by_text("The numbers are still in their boxes")).to_be_visible()
    assert page.input_value("[name=call_1]") == "4071"
    assert not DrawEvent.objects.exists()

    page.context.set_offline(False)
    page.get_by_role("button", name="Take the numbers down").click()
    expect(page.get_by_text("0 turned, 4 still face down")).to_be_visible()
    assert DrawEvent.objects.count() == 1


@pytest.mark.long
@pytest.mark.django_db(transaction=True)
def test_an_answer_lost_on_the_way_is_found_again_and_nothing_is_drawn_twice(
    open_page: Open, secretary: Any, match: Match
) -> None:
    page = open_page(at(match), as_user=secretary.user, size=PHONE)
    page.fill("[name=call_1]", "4071")
    page.fill("[name=call_2]", "12")

    def reaches_and_is_lost(route: Any) -> None:
        route.fetch(max_redirects=0)  # the server hears it; its answer never comes back
        route.abort()

    page.route("**/draw/calls/", reaches_and_is_lost)
    page.get_by_role("button", name="Take the numbers down").click()
    expect(page.get_by_text("Nothing is drawn twice")).to_be_visible()
    event = DrawEvent.objects.get()
    drawn = (event.seed, event.pegs)
    assert event.finished_at is not None

    page.unroute("**/draw/calls/")
    page.get_by_role("button", name="Take the numbers down").click()
    expect(page.get_by_text("0 turned, 4 still face down")).to_be_visible()
    event = DrawEvent.objects.get()
    assert (event.seed, event.pegs) == drawn


@pytest.mark.long
@pytest.mark.django_db(transaction=True)
def test_a_phone_that_dies_half_way_is_taken_over_by_a_tablet(
    open_page: Open, secretary: Any, match: Match
) -> None:
    phone = open_page(at(match), as_user=secretary.user, size=PHONE)
    phone.fill("[name=call_1]", "4071")
    phone.get_by_role("button", name="Take the numbers down").click()
    expect(phone.get_by_text("Taken down. Still to call:")).to_be_visible()
    phone.close()

    tablet = open_page(at(match), as_user=secretary.user, size=TABLET)
    assert tablet.input_value("[name=call_1]") == "4071"
    tablet.fill("[name=call_2]", "12")
    tablet.get_by_role("button", name="Take the numbers down").click()
    expect(tablet.get_by_text("0 turned, 4 still face down")).to_be_visible()

    assert "call=1|4071.\ncall=2|12." in DrawEvent.objects.get().text
    assert DrawRecord.objects.get().events.count() == 1


@pytest.mark.long
@pytest.mark.django_db(transaction=True)
def test_cards_stay_without_signal_and_go_on_on_another_device(
    open_page: Open, secretary: Any, match: Match
) -> None:
    page = open_page(at(match), as_user=secretary.user, size=TABLET)
    page.fill("[name=call_1]", "4071")
    page.fill("[name=call_2]", "12")
    page.get_by_role("button", name="Take the numbers down").click()
    page.get_by_role("button", name="Turn Tannery Lane’s card").click()
    expect(page.get_by_text("1 turned, 3 still face down")).to_be_visible()

    page.context.set_offline(True)
    page.get_by_role("button", name="Turn Old Quarry’s card").click()
    expect(page.get_by_text("No signal. The pegs are drawn")).to_be_visible()
    expect(page.get_by_text("1 turned, 3 still face down")).to_be_visible()
    page.close()

    phone = open_page(at(match), as_user=secretary.user, size=PHONE)
    expect(phone.get_by_text("1 turned, 3 still face down")).to_be_visible()
    phone.get_by_role("button", name="Turn Old Quarry’s card").click()
    expect(phone.get_by_text("2 turned, 2 still face down")).to_be_visible()


@pytest.mark.long
@pytest.mark.django_db(transaction=True)
def test_a_turn_whose_answer_is_lost_is_pressed_again_and_turns_one_card(
    open_page: Open, secretary: Any, match: Match
) -> None:
    event = begin(match, by=None)
    finish(call(event, {1: 4071, 2: 12}, by=None), by=None, face_down=True)
    page = open_page(at(match), as_user=secretary.user, size=PHONE)

    def reaches_and_is_lost(route: Any) -> None:
        route.fetch()
        route.abort()

    page.route("**/draw/turn/", reaches_and_is_lost)
    page.get_by_role("button", name="Turn Tannery Lane’s card").click()
    expect(page.get_by_text("No signal. The pegs are drawn")).to_be_visible()
    page.unroute("**/draw/turn/")
    page.get_by_role("button", name="Turn Tannery Lane’s card").click()

    expect(page.get_by_text("1 turned, 3 still face down")).to_be_visible()


@pytest.mark.long
@pytest.mark.django_db(transaction=True)
def test_everybody_elses_screen_follows_by_itself(open_page: Open, match: Match) -> None:
    event = begin(match, by=None)
    finish(call(event, {1: 4071, 2: 12}, by=None), by=None, face_down=True)
    page = open_page(at(match), size=PHONE)
    expect(page.get_by_text("0 turned, 4 still face down")).to_be_visible()

    turn(match, 2, by=None)

    expect(page.get_by_text("2 turned, 2 still face down")).to_be_visible(timeout=15000)


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize(("teams", "sections"), [(6, 4), (12, 6), (12, 8), (24, 8)])
def test_every_card_fits_whole_on_the_screen(
    open_page: Open, club: Any, teams: int, sections: int
) -> None:
    season = make_season(club, teams=[f"Team of {n}" for n in range(100, 100 + teams)])
    match = make_match(club, season=season, sections=dict.fromkeys("ABCDEFGH"[:sections], teams))
    pegs = teams * sections
    anglers = Angler.objects.bulk_create(AnglerFactory.build_batch(pegs, club=club))
    seat(match, anglers, list(season.teams.order_by("pk")) * sections)

    page = open_page(f"{at(match)}?turned={pegs - 1}", size=PROJECTOR)

    for size in (PROJECTOR, LAPTOP, TABLET, PHONE):
        page.set_viewport_size(size)
        every_card_fits(page, size, cards=pegs - 1)


def every_card_fits(page: Page, size: dict[str, int], *, cards: int) -> None:
    found = page.evaluate(
        """() => [...document.querySelectorAll(".cards td.card b")].map((b) => {
            const figure = b.getBoundingClientRect();
            const card = b.closest("td").getBoundingClientRect();
            const range = document.createRange(); range.selectNodeContents(b);
            return [range.getClientRects().length, figure.right <= card.right + 1,
                    figure.bottom <= card.bottom + 2, parseFloat(getComputedStyle(b).fontSize)];
        })"""
    )
    assert len(found) == cards
    assert all(lines == 1 and across and down for lines, across, down, _ in found)
    assert min(letters for *_, letters in found) >= 13
    wide, high = page.evaluate(
        "[document.documentElement.scrollWidth, document.documentElement.scrollHeight]"
    )
    assert wide <= size["width"]
    if size is not PHONE:
        assert high <= size["height"]
        table, foot = (
            page.locator(which).bounding_box() for which in (".cards table", ".hall > footer")
        )
        assert table["y"] + table["height"] <= foot["y"] + 12


@pytest.mark.django_db(transaction=True)
def test_the_check_works_without_signal_once_loaded_and_a_false_record_is_told_peg_by_peg(
    open_page: Open, secretary: Any, match: Match
) -> None:
    event = begin(match, by=None)
    finish(call(event, {1: 4071, 2: 12}, by=None), by=None)
    page = open_page(f"{at(match)}check/", as_user=secretary.user, size=PHONE)
    page.wait_for_load_state("networkidle")

    page.context.set_offline(True)
    page.get_by_role("button", name="Work it out here").click()
    expect(page.get_by_text("Your browser agrees.")).to_be_visible()
    page.context.set_offline(False)

    def falsify(route: Any) -> None:
        record = route.fetch().json()
        pegs = record["events"][0]["pegs"]
        pegs["1"], pegs["2"] = pegs["2"], pegs["1"]
        route.fulfill(json=record)

    page.route("**/record.json", falsify)
    page.reload()
    page.get_by_role("button", name="Work it out here").click()
    expect(page.get_by_text("It does not agree.")).to_be_visible()
    told = page.locator("[data-differs] li").all_inner_texts()
    assert len(told) == 2
    assert "entry 1 is on peg" in told[0]
    assert "and comes out on" in told[0]
    expect(page.get_by_text("ask the match secretary")).to_be_visible()
