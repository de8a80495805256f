"""The order of the day on the secretary's screen: done, next, missing, and who did it when."""

from __future__ import annotations

import re

import pytest
from django.contrib.auth.models import User
from django.test import Client

from league.models import OfficeName
from league.operations.money import announce_pools, put_off, take
from league.operations.money_account import account_of
from league.operations.payouts import fix_payouts, hand_over, payees
from league.operations.publish import make_final, publish
from league.operations.tin import close
from tests.builders import (
    give_office,
    make_entry,
    make_fished_match,
    make_match,
    make_season,
    make_weigh_in,
)
from tests.factories import UserFactory
from tests.money_scene import PLAN, match_with_pools, on_peg, pay


def day(browser: Client, match) -> dict[str, tuple[str, str]]:
    """Every line of the day: its step, its state and its words."""
    page = browser.get(f"/matches/{match.pk}/run/").content.decode()
    block = page[page.index('class="day running"') : page.index("</ol>", page.index("running"))]
    found = {}
    for state, line in re.findall(r'<li class="([\w-]+)">(.*?)</li>', block, re.S):
        step = re.search(r"<h3>([^<]+)", line)
        words = re.search(r"<p>(.*)</p>", line, re.S)
        assert step is not None
        assert words is not None
        found[step[1]] = (state, " ".join(re.sub(r"<[^>]+>", " ", words[1]).split()))
    return found


@pytest.fixture
def by(secretary) -> User:
    user: User = secretary.user
    return user


def test_before_the_draw_the_day_says_which_teams_are_short(secretary, club, by) -> None:
    season = make_season(club, teams=["Millrace", "Old Quarry", "Pennyfold"])
    match = make_match(season=season, drawn=False, sections={"A": 3, "B": 3})
    millrace, quarry, _ = season.teams.order_by("name")
    for _ in range(4):
        make_entry(match, team=millrace)
    for _ in range(3):
        make_entry(match, team=quarry)

    lines = day(secretary, match)

    assert lines["Book in"] == (
        "now",
        "Next. 7 booked in. Pennyfold has nobody in yet. Old Quarry is one short. Line-up",
    )
    assert lines["Draw"][1] == (
        "Six pegs in two sections. 7 anglers have no section yet. Pegs and sections"
    )
    assert list(lines) == [
        "Book in", "Draw", "All in", "All out", "Scales", "Provisional result", "Final result",
    ]  # fmt: skip


def test_without_pegs_the_day_says_that_they_are_missing(secretary, club) -> None:
    match = make_match(club, drawn=False)
    match.match_pegs.all().delete()

    assert "The pegs and sections are not chosen yet." in day(secretary, match)["Draw"][1]


def test_stakes_stand_after_booking_in_with_what_is_still_to_come(secretary, club, by) -> None:
    match = make_match(club, drawn=False)
    announce_pools(match, PLAN, by=by)
    first, second = make_entry(match), make_entry(match)

    before = day(secretary, match)
    take(first, by=by)
    put_off(second, by=by)
    after = day(secretary, match)
    take(second, by=by)

    assert list(before)[:3] == ["Book in", "Stakes", "Draw"]
    assert before["Stakes"][1].startswith("None taken yet. 2 anglers still to pay, £20.")
    assert after["Stakes"][0] == "to-come"
    assert after["Stakes"][1].startswith("£10 is in. 1 angler still to pay, £10. Take the money")
    assert day(secretary, match)["Stakes"][0] == "done"


def test_the_scales_say_who_weighed_and_what_is_left(secretary, club, by) -> None:
    match = make_match(club, sections={"A": 3})
    for peg in (1, 2, 3):
        make_entry(match, peg=peg)
    make_weigh_in(on_peg(match, 1), "4-0", weighed_by=by)
    make_weigh_in(on_peg(match, 2), "5-0", weighed_by=by)
    make_weigh_in(on_peg(match, 2), "6-0", weighed_by=by)

    words = day(secretary, match)["Scales"][1]

    assert words.startswith("2 of 3 pegs weighed. Still to weigh: peg 3.")
    assert "Peg 2: two weights, say which one stands." in words
    assert f"{by}, " in words


def test_the_result_says_its_version_and_by_whom_and_the_final_one_too(secretary, club, by) -> None:
    match = make_fished_match(club)
    result = publish(match, by=by)
    published = day(secretary, match)
    make_final(match, by=by, at=result.objections_until)
    final = day(secretary, match)

    assert published["Provisional result"][0] == "done"
    assert f"Version 1: {result.headline}. Result {by}, " in published["Provisional result"][1]
    assert published["Final result"][1].startswith("Next. Objections are heard until ")
    assert final["Final result"][0] == "done"
    assert f"The result is final. {by}, " in final["Final result"][1]


def test_payouts_stand_after_the_result_until_the_tin_is_closed(secretary, club, by) -> None:
    match = match_with_pools(club, by=by)
    pay(match, by=by)
    seen = [day(secretary, match)["Payouts"]]
    publish(match, by=by)
    seen.append(day(secretary, match)["Payouts"])
    fix_payouts(match, by=by)
    seen.append(day(secretary, match)["Payouts"])
    for payee in payees(account_of(match)):
        if payee.prize:
            hand_over(match, payee.key, payee.balance, by=by)
    seen.append(day(secretary, match)["Payouts"])
    close(match, 2100, by=by)
    seen.append(day(secretary, match)["Payouts"])

    assert [state for state, _ in seen] == ["to-come"] * 4 + ["done"]
    said = [words for _, words in seen]
    assert said[0] == "With the result. Payouts"
    assert "are ready to be fixed. Look the payouts over" in said[1]
    assert "Fixed from version 1. 4 anglers still to be paid out. To the payouts" in said[2]
    assert "£21 must be in the tin. Count the tin" in said[3]
    assert "The tin is counted and closed." in said[4]


def test_the_money_never_takes_the_one_orange_button(secretary, club, by) -> None:
    match = match_with_pools(club, by=by)
    pay(match, by=by)
    publish(match, by=by)

    page = secretary.get(f"/matches/{match.pk}/run/").content.decode()

    assert page.count('class="next"') <= 1
    assert f'<a class="do" href="/matches/{match.pk}/money/payouts/">' in page


def test_the_screen_names_who_else_can_take_over(secretary, club) -> None:
    match = make_match(club, drawn=False)
    alone = secretary.get(f"/matches/{match.pk}/run/").content.decode()
    deputy = UserFactory(first_name="Della", last_name="Scarth")
    give_office(club, deputy, OfficeName.SECRETARY)

    page = secretary.get(f"/matches/{match.pk}/run/").content.decode()

    assert "Nobody else holds the office of match secretary." in alone
    assert "Della Scarth can take over at any moment from this same screen" in page


def test_of_two_figures_each_says_whose_it_is_also_where_a_phone_sent_it(secretary, club, by):
    entry = make_entry(make_match(club), peg=1)
    make_weigh_in(entry, "17-13", device="Len and Ivy", weighed_by=None)
    make_weigh_in(entry, "17-3", weighed_by=by)

    shown = secretary.get(f"/matches/{entry.match_id}/run/").content.decode()

    assert "17 lb 13 oz: Len and Ivy, " in shown
    assert f"17 lb 3 oz: {by}, " in shown
