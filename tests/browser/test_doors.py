"""The doors as they are seen: somebody asked in on a phone, and every page of them by everybody."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Page

from league.models import Office, OfficeName
from league.operations.doors import invite
from league.operations.journal import write_down
from tests.browser.conftest import LAPTOP, PHONE, SMALLEST
from tests.browser.everybody import faults
from tests.builders import give_office
from tests.factories import ClubFactory, UserFactory

pytestmark = pytest.mark.django_db(transaction=True)


def test_somebody_asked_in_takes_the_office_up_on_a_phone(open_page: Callable[..., Page]) -> None:
    club = ClubFactory(name="Marlbrook & District AC", slug="marlbrook")
    _, secret = invite(club, name="Ada Fenwick", offices=[OfficeName.SCALES], by=None)

    page = open_page(f"/invited/{secret}/", size=PHONE)
    page.get_by_label("Password").fill("willow-float-mere-29")
    page.get_by_role("button", name="Take it up").click()
    page.wait_for_url("**/account/")

    assert "You are in." in page.locator("main").inner_text()
    assert page.get_by_role("heading", level=1).inner_text() == "Ada Fenwick"
    assert Office.objects.get().user.username == "ada"
    page.get_by_role("button", name="Sign out", exact=True).click()
    page.goto("/account/")
    assert "/sign-in/" in page.url


def test_the_doors_suit_every_screen_and_everybody(open_page: Callable[..., Page]) -> None:
    club = ClubFactory(name="Marlbrook & District AC", slug="marlbrook")
    user = UserFactory(username="sam", first_name="Sam", email="sam@example.org")
    for office in (OfficeName.SECRETARY, OfficeName.TREASURER):
        give_office(club, user, office)
    _, secret = invite(club, name="Ada Fenwick", offices=[OfficeName.SCALES], by=user)
    write_down("Heron Lake round 7 drawn.", by=user, club=club)
    strangers = ("/sign-in/", "/forgotten/", "/forgotten/sent/", f"/invited/{secret}/")
    officers = (
        "/clubs/marlbrook/offices/",
        "/clubs/marlbrook/journal/",
        "/clubs/marlbrook/what-is-kept/",
        "/account/",
        "/health/",
    )

    for whose, addresses in ((None, strangers), (user, officers)):
        page = open_page("", as_user=whose)
        for address in addresses:
            page.goto(address)
            assert faults(page, sizes=(SMALLEST, LAPTOP)) == []
