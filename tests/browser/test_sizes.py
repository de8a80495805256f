"""Results and tables of a tiny and of a large club: nothing sideways, nothing that jumps."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Page

from league.models import Club, Match, Season
from tests.browser.conftest import LAPTOP, SMALLEST, TABLET
from tests.browser.everybody import faults
from tests.builders import give_office
from tests.factories import UserFactory
from tests.sizes import fill_largest, fill_tiny

pytestmark = pytest.mark.django_db(transaction=True)
# A machine's own faces stand in at the same widths until the letters come; from 0.1 readers call
# it a jump.
MOST_SHIFT = 0.01
SHIFTS = """() => new Promise(done => {
  let sum = 0;
  new PerformanceObserver(list => list.getEntries().forEach(each => { sum += each.value; }))
    .observe({type: "layout-shift", buffered: true});
  setTimeout(() => done(sum), 150);
})"""


def pages_of(club: Club) -> list[str]:
    match = Match.objects.filter(club=club, season__isnull=False).order_by("round").first()
    single = Match.objects.get(club=club, season=None)
    season = Season.objects.get(league__club=club)
    return [
        f"/matches/{match.pk}/result/",
        f"/matches/{match.pk}/result/versions/",
        f"/matches/{match.pk}/result/1/moved/",
        f"/matches/{match.pk}/result/9/",
        f"/matches/{single.pk}/result/",
        f"/tables/{season.pk}/",
        f"/tables/{season.pk}/anglers/",
        f"/tables/{season.pk}/honours/",
        f"/clubs/{club.slug}/results/",
    ]


@pytest.mark.long
def test_no_page_of_the_smallest_or_a_large_club_scrolls_sideways_or_jumps(
    open_page: Callable[..., Page],
):
    clubs = [fill_tiny(), fill_largest(teams=12, rounds=2, planned=9, pegs=40)]
    wide: list[str] = []
    for size in (SMALLEST, TABLET, LAPTOP):
        page = open_page("/", size=size)
        for path in (path for club in clubs for path in pages_of(club)):
            page.goto(path)
            if page.evaluate("document.documentElement.scrollWidth") > size["width"]:
                wide.append(f"{path} at {size['width']}")
            assert page.evaluate(SHIFTS) < MOST_SHIFT, f"{path} jumps at {size['width']}"

    assert wide == []


def test_every_page_of_a_result_is_open_to_everybody(open_page: Callable[..., Page]):
    club = fill_tiny()
    user = UserFactory()
    give_office(club, user, "secretary")
    match = Match.objects.filter(club=club, season__isnull=False).order_by("-round")[1]
    paths = [*pages_of(club), f"/matches/{match.pk}/run/publish/", "/clubs/tiny/results/by-email/"]
    page = open_page("/", as_user=user)
    for path in paths:
        page.goto(path)
        assert faults(page) == []
