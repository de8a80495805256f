"""The screens of the phone: questions without signal, kilograms, plain http, and what axe finds."""

from __future__ import annotations

import json
import uuid

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import FLAGS, PHONE, SMALLEST
from tests.browser.everybody import faults
from tests.browser.scales import ScalesPhone, rows, stored_once
from tests.tools import CHROMIUM


def test_the_guard_asks_without_signal_too(phone, site):
    phone.open_peg(1)
    phone.context.set_offline(True)
    phone.weigh_pegs(1, 6)
    phone.press(43, 6)
    phone.agree()

    alert = phone.page.get_by_role("alert")
    expect(alert).to_contain_text("This net is over 40 lb")
    expect(alert).to_contain_text("The rule here: 40 lb counts, the rest does not.")
    assert len(phone.kept()) == 6
    phone.page.get_by_role("button", name="It was typed wrong").click()
    phone.page.locator("[data-slot=whole]").click()
    phone.press(33, 6)
    phone.agree()
    expect(alert).to_contain_text("33 lb 6 oz is a long way over the usual")
    phone.page.get_by_role("button", name="It was 3 lb 6 oz").click()

    expect(phone.page.locator(".pegplate .p")).to_have_text("8")
    assert phone.kept()[-1]["nets"] == [3 * 256 + 6 * 16]


@pytest.mark.long
def test_two_nets_that_read_the_same_are_asked_about_once(phone):
    phone.open_peg(1)
    phone.context.set_offline(True)
    phone.press(12, 8)
    phone.page.locator(".nets .add").click()
    phone.press(12, 8)
    phone.agree()

    expect(phone.page.get_by_role("alert")).to_contain_text("Net 1 and net 2 read the same")
    phone.page.get_by_role("button", name="Two nets: count both").click()

    expect(phone.page.locator(".pegplate .p")).to_have_text("2")
    assert phone.kept()[0]["nets"] == [3200, 3200]


@pytest.mark.long
def test_a_match_in_kilograms_has_kilogram_keys_and_its_own_limit(new_phone, site):
    site.change("update league_match set unit = 'kg'")
    site.change(
        "update league_season set book = ?",
        json.dumps({"name": "Kilos", "unit": "kg", "net": {"limit": "20.000", "over": "net out"}}),
    )
    phone = new_phone()
    phone.come_in()
    phone.open_peg(1)
    phone.context.set_offline(True)
    board = phone.page.locator("[data-board=whole]")
    thousandths = phone.page.locator("[data-board=part]")
    for figure in "21":
        board.locator(f"[data-digit='{figure}']").click()
    board.locator("[data-on]").click()
    for figure in "500":
        thousandths.locator(f"[data-digit='{figure}']").click()
    phone.agree()

    alert = phone.page.get_by_role("alert")
    expect(alert).to_contain_text("This net is over 20 kg")
    expect(alert).to_contain_text("The rule here: the whole net does not count.")
    phone.page.get_by_role("button", name="Count nothing of it").click()
    phone.saved("21.500 kg")
    phone.context.set_offline(False)
    phone.page.evaluate("dispatchEvent(new Event('online'))")

    phone.says("All weights sent")
    # what was read is kept; what counts of it is the rule's
    assert json.loads(rows(site)[0][1]) == [21_500]


@pytest.mark.long
def test_without_https_the_weights_are_kept_and_the_page_says_what_is_not(playwright, site):
    site.stop()
    site.env["DRAWBAG_HOSTS"] = "scales.example"
    site.start()
    browser = playwright.chromium.launch(
        executable_path=CHROMIUM,
        args=[*FLAGS, "--host-resolver-rules=MAP scales.example 127.0.0.1"],
    )
    try:
        site.url = f"http://scales.example:{site.port}"
        phone = ScalesPhone(site, browser.new_context(viewport=PHONE, locale="en-GB"))
        phone.come_in()
        expect(phone.page.get_by_text("Not over plain http: leave this page open")).to_be_visible()
        assert phone.page.evaluate("[isSecureContext, 'serviceWorker' in navigator]") == [
            False,
            False,
        ]
        phone.page.locator("a.next").click()
        phone.context.set_offline(True)
        phone.weigh_pegs(1, 3)
        phone.says("3 weights on this phone still to send")
        phone.says("Keep this page open until they are sent.")
        keys = [uuid.UUID(entry["key"]).version for entry in phone.kept()]
        phone.context.set_offline(False)
        phone.page.evaluate("dispatchEvent(new Event('online'))")
        phone.says("All weights sent")
    finally:
        browser.close()

    assert keys == [4, 4, 4]
    stored_once(site, 3)


def test_the_screens_of_the_phone_have_nothing_for_axe_to_find(new_phone):
    phone = new_phone()
    looked = [look(phone, "not let in", lambda phone: phone.page.goto(phone.home))]
    phone.come_in()
    phone.ready()
    looked.append(look(phone, "walk"))
    phone.open_peg(1)
    looked.append(look(phone, "pounds"))
    phone.press(43, 6)
    looked.append(look(phone, "ounces"))
    phone.agree()
    expect(phone.page.get_by_role("alert")).to_be_visible()
    looked.append(look(phone, "over"))
    phone.page.get_by_role("button", name="Count 40 lb").click()
    phone.saved("43 lb 6 oz")
    phone.open_peg(1)
    expect(phone.page.get_by_role("button", name="Weighed again")).to_be_visible()
    looked.append(look(phone, "weighed"))

    assert len(looked) == 6
    assert [each for each in looked if each[1]] == []


def look(phone, name, act=lambda phone: None):
    """What is wrong with a screen."""
    act(phone)
    expect(phone.page.locator("#screen h1")).to_be_visible()
    return name, faults(phone.page, sizes=(SMALLEST, PHONE))
