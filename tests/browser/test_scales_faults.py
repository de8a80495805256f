"""Every way a send can go wrong, in Chromium against a real server."""

from __future__ import annotations

import json

import pytest
from playwright.sync_api import expect

from tests.between import Answer
from tests.browser.scales import rows, stored_once


def test_an_answer_lost_after_the_weight_was_stored_stores_it_once(between, phone, site):
    lost: list[int] = []

    def lose(forward):
        answer = forward()
        if len(lost) == 3:
            return answer
        lost.append(answer.status)
        return None

    between.fault = lose
    phone.open_peg(1)
    phone.weigh(12, 8)

    phone.says("All weights sent", timeout=40_000)
    assert lost == [200, 200, 200]
    stored_once(site, 1)


@pytest.mark.long
def test_every_request_sent_three_times_stores_each_weight_once(between, phone, site):
    statuses: list[int] = []

    def thrice(forward):
        answers = [forward() for _ in range(3)]
        statuses.extend(answer.status for answer in answers)
        return answers[-1]

    between.fault = thrice
    phone.open_peg(1)
    phone.weigh_pegs(1, 6)

    phone.says("All weights sent")
    assert len(statuses) >= 3
    assert set(statuses) == {200}
    stored_once(site, 6)


@pytest.mark.long
@pytest.mark.parametrize("year", [1970, 2031, 2106])
def test_a_phone_whose_clock_is_wrong_is_heard_all_the_same(new_phone, site, year):
    phone = new_phone()
    phone.page.clock.set_system_time(f"{year}-01-02T12:00:00Z")
    phone.come_in()
    phone.open_peg(1)
    phone.weigh(12, 8)

    phone.says("All weights sent")
    stored_once(site, 1)
    [(read, received, skew)] = site.ask(
        "select read_at, received_at, clock_skew from league_weighin"
    )
    assert read.startswith(str(year))
    assert not received.startswith(str(year))
    assert abs(skew) > 86_400


@pytest.mark.long
def test_a_sign_in_that_lapses_in_between_does_not_matter(new_phone, site):
    phone = new_phone()
    cookie = {"name": "sessionid", "value": site.scene["people"]["ivy"], "url": site.url}
    phone.context.add_cookies([cookie])
    phone.page.goto(phone.home)
    expect(phone.page.locator("h1")).to_contain_text("pegs weighed")
    site.change("delete from django_session")
    phone.context.clear_cookies()

    phone.open_peg(1)
    phone.weigh(12, 8)

    phone.says("All weights sent")
    [(person,)] = site.ask(
        "select username from auth_user u join league_weighin w on w.weighed_by_id = u.id"
    )
    assert person == "ivy"


@pytest.mark.long
def test_a_pass_taken_back_half_way_keeps_the_weights_until_there_is_a_new_one(phone, site):
    phone.open_peg(1)
    phone.weigh(12, 8)
    phone.says("All weights sent")
    site.change("update league_scalespass set revoked_at = '2027-01-24 12:00:00'"
                " where name = 'Len and Ivy'")  # fmt: skip

    phone.weigh_pegs(2, 4)

    phone.says("3 weights on this phone still to send")
    phone.says("The match secretary has stopped this phone.")
    phone.page.reload()
    phone.says("3 weights on this phone still to send")
    stored_once(site, 1)

    phone.page.goto(f"{phone.home}#pass={site.scene['passes']['ken']}")

    phone.says("All weights sent")
    stored_once(site, 4)
    # it is still the same phone
    assert site.ask("select count(distinct phone_id) from league_weighin") == [(1,)]


@pytest.mark.long
def test_a_network_that_answers_in_place_of_the_site_is_not_believed(between, phone, site):
    page = b"<!doctype html><title>Sign in to Bankside Wi-Fi</title>"
    between.fault = lambda forward: Answer(200, page, (("Content-Type", "text/html"),))
    phone.open_peg(1)
    phone.weigh(12, 8)

    phone.says("This network answers in place of the site.")
    phone.says("1 weight on this phone still to send")
    assert rows(site) == []
    between.fault = lambda forward: forward()
    phone.page.evaluate("dispatchEvent(new Event('online'))")

    phone.says("All weights sent")
    stored_once(site, 1)


# No two answers in a row are told in the same words: each is seen to have come.
NOT_THE_SITES_OWN = [
    (503, b'{"words": "The site cannot write just now."}', "The site cannot write just now."),
    (429, b"Too Many Requests", "This network answers in place of the site."),
    (500, b"<h1>Server Error</h1>", "The site has a fault just now."),
    (200, b'{"answers": []}', "Something answered in place of the site."),
    (413, b'{"words": "Too much at once."}', "Too much at once."),
    (200, b'{"answers": [{"key": "x", "result": "created"}]}', "Something answered in place"),
    (302, b"", "No signal since"),
]


def test_no_answer_but_the_sites_own_takes_a_weight_off_the_phone(between, phone, site):
    given = iter(NOT_THE_SITES_OWN)
    status, body, words = next(given)
    between.fault = lambda forward: Answer(status, body, (("Location", "/sign-in/"),))
    phone.open_peg(1)
    phone.weigh(12, 8)

    while True:
        phone.says(words)
        phone.says("1 weight on this phone still to send")
        assert [entry["state"] for entry in phone.kept()] == ["waiting"]
        status, body, words = next(given, (0, b"", ""))
        if not status:
            break
        phone.page.evaluate("dispatchEvent(new Event('online'))")

    between.fault = lambda forward: forward()
    phone.page.evaluate("dispatchEvent(new Event('online'))")
    phone.says("All weights sent")
    stored_once(site, 1)


@pytest.mark.long
def test_two_phones_on_one_peg_both_figures_are_kept_and_both_are_told(new_phone, site):
    len_, ken = new_phone(), new_phone()
    len_.come_in("len")
    ken.come_in("ken")
    for phone, pounds in ((len_, 17), (ken, 18)):
        phone.context.set_offline(True)
        phone.open_peg(13)
        phone.weigh(pounds, 3)
    for phone in (len_, ken):
        phone.context.set_offline(False)
        phone.page.evaluate("dispatchEvent(new Event('online'))")
        phone.says("All weights sent")

    stored_once(site, 2)
    for phone in (len_, ken):
        phone.page.goto(f"{phone.home}#peg={site.scene['entries'][12]}")
        phone.page.reload()
        expect(phone.page.get_by_role("alert")).to_contain_text("Peg 13 has two weights")


FULL = """() => {
  const real = IDBObjectStore.prototype.add;
  const full = new DOMException("No room.", "QuotaExceededError");
  IDBObjectStore.prototype.add = () => { throw full; };
  globalThis.makeRoom = () => { IDBObjectStore.prototype.add = real; };
}"""


@pytest.mark.long
def test_a_phone_without_room_says_so_and_loses_nothing(phone, site):
    """The browser's own refusal, given in its place: Chromium here has no way to make one."""
    phone.open_peg(1)
    phone.press(12, 8)
    phone.page.evaluate(FULL)

    phone.agree()

    alert = phone.page.get_by_role("alert")
    expect(alert).to_contain_text("Not saved: this phone has no room")
    expect(alert).to_contain_text("Write the weight on the paper sheet.")
    assert phone.kept() == []
    phone.page.evaluate("makeRoom()")
    phone.page.get_by_role("button", name="Try again").click()

    phone.says("All weights sent")
    stored_once(site, 1)
    assert json.loads(rows(site)[0][1]) == [12 * 256 + 8 * 16]


@pytest.mark.long
def test_a_site_put_back_from_a_copy_gets_what_it_has_lost(phone, site):
    phone.open_peg(1)
    phone.weigh_pegs(1, 4)
    phone.says("All weights sent")
    site.change("delete from league_weighin where nets in (select nets from league_weighin"
                " order by id desc limit 3)")  # fmt: skip
    stored_once(site, 1)

    with phone.page.expect_response("**/send/"):
        phone.page.reload()

    phone.says("All weights sent")
    stored_once(site, 4)
