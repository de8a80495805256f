"""A treasurer closes a match from a phone, press by press; and what axe finds on the way."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from django.contrib.auth.models import User
from playwright.sync_api import Page

from league.models import Match, OfficeName
from league.operations.money_account import account_of
from league.operations.payouts import fix_payouts
from league.operations.publish import publish
from tests.browser.conftest import PHONE, SMALLEST
from tests.browser.everybody import faults
from tests.builders import give_office, make_season
from tests.factories import ClubFactory, UserFactory
from tests.money_scene import PLAN, correct, match_with_pools, on_peg, pay

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def clive(live_server: Any) -> User:
    """The treasurer of a club of its own."""
    user: User = UserFactory(username="clive")
    give_office(ClubFactory(), user, OfficeName.TREASURER)
    return user


@pytest.fixture
def match(clive: User) -> Match:
    return match_with_pools(clive.offices.get().club, by=clive)


def test_a_treasurer_closes_a_match_from_a_phone(
    open_page: Callable[..., Page], match: Match, clive: User
) -> None:
    page = open_page(f"/matches/{match.pk}/money/", as_user=clive, size=PHONE)
    presses = 0

    def press(name: str, role: Any = "button") -> None:
        nonlocal presses
        presses += 1
        page.get_by_role(role, name=name).first.click()

    assert page.locator("h1").inner_text() == "Nobody has paid for Match yet"
    for _ in range(6):
        press("Paid £10")
    assert page.locator("h1").inner_text() == "Everybody has paid"
    assert presses == 6  # one a payer, nothing else

    publish(match, by=clive)
    page.goto(f"/matches/{match.pk}/money/")
    press("Look the payouts over", "link")
    press("Fix the payouts")
    assert page.locator("h1").inner_text() == "£39.00 to anglers"
    for _ in range(4):
        press("Hand over £")
    press("Back to the money", "link")
    press("Count the tin", "link")
    page.get_by_label("Counted in the tin").fill("20.50")
    press("Close the money")
    told = page.locator(".err").inner_text()
    assert "The tin was counted at £20.50, and the lines come to £21.00" in told
    assert "£0.50 short" in told
    page.get_by_label("Counted in the tin").fill("21")
    press("Close the money")

    assert page.locator("h1").inner_text() == "The money of Match is closed"
    assert account_of(match).closed
    assert presses == 16


def test_axe_finds_nothing_about_money_and_nothing_is_wider_than_the_screen(
    open_page: Callable[..., Page], match: Match, clive: User
) -> None:
    pay(match, 1, 2, 4, 5, 6, by=clive)
    publish(match, by=clive)
    fix_payouts(match, by=clive)
    correct(match, 2, "2-4", by=clive)
    publish(match, by=clive, correcting=1, why="Misread.")
    season = make_season(match.club)
    payment = account_of(match).dues[0].payment
    assert payment is not None
    at = f"/matches/{match.pk}/money/"
    pages = [
        at, f"{at}payouts/", f"{at}count/", f"{at}set-aside/{payment.pk}/",
        f"/tables/{season.pk}/money/", f"/tables/{season.pk}/money/pools/",
    ]  # fmt: skip
    page = open_page(at, as_user=clive)
    give_office(match.club, clive, OfficeName.SECRETARY)
    pages.append(f"/matches/{match.pk}/run/")

    found: list[str] = []
    for path in pages:
        page.goto(path)
        found += faults(page, widths=(SMALLEST,))

    assert found == []
    assert on_peg(match, 3).angler  # nobody has paid for peg 3, who is still on the list


def test_the_money_is_taken_without_a_script(
    open_page: Callable[..., Page], match: Match, clive: User
) -> None:
    page = open_page(f"/matches/{match.pk}/money/", as_user=clive, java_script_enabled=False)

    page.get_by_role("button", name="Paid £10").first.click()

    assert account_of(match).taken == PLAN.stake
