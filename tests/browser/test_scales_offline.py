"""Weighing without signal in Chromium against a real server: kept, sent once, found again."""

from __future__ import annotations

import json
import os
import re
import signal
from collections import Counter
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import FLAGS, PHONE
from tests.browser.scales import ScalesPhone, rows, stored_once
from tests.tools import CHROMIUM


def test_twelve_pegs_without_signal_survive_a_reload_and_are_each_sent_once(phone, site):
    phone.open_peg(1)
    phone.context.set_offline(True)
    phone.weigh_pegs(1, 12)
    phone.page.reload()
    phone.says("12 weights on this phone still to send")
    expect(phone.page.locator(".pegplate .p")).to_have_text("13")
    assert rows(site) == []

    phone.context.set_offline(False)

    phone.says("All weights sent")
    stored_once(site, 12)
    assert [json.loads(nets) for _, nets, *_ in rows(site)] == [
        [2 * 256 + peg * 16] for peg in range(1, 13)
    ]


@pytest.mark.long
def test_the_page_that_needs_signal_leads_to_the_one_that_does_not(phone, site):
    phone.context.set_offline(True)

    phone.page.goto(f"{site.url}/scales/{site.scene['match']}/")

    assert phone.page.url == phone.home
    expect(phone.page.locator("h1")).to_have_text("0 of 24 pegs weighed")


def test_the_secret_does_not_stay_in_the_address(phone):
    assert phone.page.url == phone.home


@pytest.mark.long
def test_a_server_that_is_stopped_and_started_again_gets_everything_once(phone, site):
    phone.open_peg(1)
    phone.weigh_pegs(1, 2)
    phone.says("All weights sent")
    site.stop()

    phone.weigh_pegs(3, 8)
    phone.says(re.compile("[56] weights on this phone still to send"))
    # the browser still believes that it is online: only an answer counts
    assert phone.page.evaluate("navigator.onLine") is True
    phone.page.reload()
    phone.says("6 weights on this phone still to send")
    site.start()
    phone.page.goto(f"{phone.home}#walk")
    phone.page.get_by_role("button", name="Send now").click()

    phone.says("All weights sent")
    stored_once(site, 8)


@pytest.mark.long
def test_a_server_killed_while_it_is_sent_to_has_everything_once(phone, site):
    phone.open_peg(1)
    phone.context.set_offline(True)
    phone.weigh_pegs(1, 24)
    phone.context.set_offline(False)
    site.stop(signal.SIGKILL)
    site.start()
    site.stop(signal.SIGKILL)
    site.start()

    phone.page.evaluate("dispatchEvent(new Event('online'))")

    phone.says("All weights sent")
    stored_once(site, 24)


@pytest.mark.long
def test_two_tabs_sending_at_once_store_each_weight_once(phone, site):
    phone.context.set_offline(True)
    phone.open_peg(1)
    phone.weigh_pegs(1, 5)
    # Opened only now: a tab in the background draws once a second.
    other = phone.context.new_page()
    other.goto(f"{phone.home}#peg={site.scene['entries'][5]}")
    second = phone.page
    phone.page = other
    phone.weigh_pegs(6, 10)

    phone.context.set_offline(False)
    for page in (other, second):
        page.evaluate("dispatchEvent(new Event('online'))")

    phone.says("All weights sent")
    expect(second.locator("#pill")).to_contain_text("All weights sent")
    stored_once(site, 10)
    assert len({entry["seq"] for entry in phone.kept()}) == 10


@pytest.mark.long
def test_a_new_release_in_the_middle_of_a_match_waits_until_everything_is_sent(phone, site):
    phone.open_peg(1)
    phone.context.set_offline(True)
    phone.weigh_pegs(1, 3)
    site.stop()
    names = json.loads((site.folder / "static" / "staticfiles.json").read_text())
    old = names["paths"]["league/scales_phone.css"]
    new = "league/scales_phone.0123456789ab.css"
    (site.folder / "static" / new).write_text("#screen { outline: 7px solid rgb(1, 2, 3) }")
    (site.folder / "static" / old).unlink()
    names["paths"]["league/scales_phone.css"] = new
    (site.folder / "static" / "staticfiles.json").write_text(json.dumps(names))
    site.start()

    phone.context.set_offline(False)
    phone.page.reload()

    phone.says("All weights sent")
    stored_once(site, 3)
    phone.page.goto(f"{phone.home}#walk")
    use = phone.page.get_by_role("button", name="Use the new version")
    expect(use).to_be_visible(timeout=15_000)
    caches = "caches.keys().then(names => names.filter(name => name.includes('-v')))"
    assert len(phone.page.evaluate(caches)) == 2
    use.click()
    expect(use).to_be_hidden(timeout=15_000)
    phone.context.set_offline(True)
    phone.page.reload()

    expect(phone.page.locator("#screen")).to_have_css("outline-color", "rgb(1, 2, 3)")
    assert len(phone.page.evaluate(caches)) == 1


@pytest.mark.long
def test_a_correction_made_without_signal_counts_and_the_slip_stays_on_record(phone, site):
    phone.open_peg(1)
    phone.context.set_offline(True)
    phone.weigh(3, 8)
    phone.open_peg(1)
    phone.page.get_by_role("button", name="It was typed wrong").click()
    phone.weigh(3, 9)
    phone.context.set_offline(False)
    phone.page.evaluate("dispatchEvent(new Event('online'))")

    phone.says("All weights sent")
    stored_once(site, 2)
    [(nets, why)] = site.ask(
        "select nets, why from league_setaside s join league_weighin w on w.id = s.weigh_in_id"
    )
    assert json.loads(nets) == [3 * 256 + 8 * 16]
    assert why == "Corrected at the scales: Typed wrong"


@pytest.mark.long
def test_a_browser_killed_with_thirty_weights_waiting_still_has_them(playwright, site, tmp_path):
    def opened():
        return playwright.chromium.launch_persistent_context(
            str(tmp_path / "phone"), executable_path=CHROMIUM, args=FLAGS, viewport=PHONE
        )

    phone = ScalesPhone(site, opened())
    phone.come_in()
    phone.ready()
    phone.context.set_offline(True)
    phone.open_peg(1)
    phone.weigh_pegs(1, 24)
    for peg in range(1, 7):
        phone.open_peg(peg)
        phone.page.get_by_role("button", name="Weighed again").click()
        phone.weigh(3, peg)
    kill(tmp_path / "phone")
    site.stop()

    again = ScalesPhone(site, opened())
    again.page.goto(f"{again.home}#walk")
    again.says("30 weights on this phone still to send")
    site.start()
    again.page.get_by_role("button", name="Send now").click()

    again.says("All weights sent")
    again.context.close()
    stored_once(site, 30)


def kill(profile: Path) -> None:
    """Pull the plug on the browser that runs in *profile*."""
    for process in Path("/proc").glob("[0-9]*"):
        try:
            command = (process / "cmdline").read_bytes().split(b"\0")
        except OSError:
            continue
        own = f"--user-data-dir={profile}".encode()
        if own in command and not any(part.startswith(b"--type=") for part in command):
            os.kill(int(process.name), signal.SIGKILL)


def test_a_walk_of_twenty_four_pegs_half_of_it_without_signal(phone, site):
    """With DRAWBAG_FILM set to a folder, a picture of every peg is left in it."""
    film = os.environ.get("DRAWBAG_FILM")
    phone.open_peg(1)
    for peg in range(1, 25):
        if peg in (7, 19):
            phone.context.set_offline(peg == 7)
        expect(phone.page.locator(".pegplate .p")).to_have_text(str(peg))
        if peg % 8 == 5:
            phone.page.get_by_role("button", name="Blank").click()
        else:
            phone.press(1 + peg % 4, peg % 16)
        if film:
            phone.page.screenshot(path=f"{film}/peg-{peg:02}.png")
        phone.agree()
        expect(phone.page.locator(".saved")).to_contain_text(f"Peg {peg}:")
    phone.says("All weights sent")
    if film:
        phone.page.screenshot(path=f"{film}/walk.png")

    stored_once(site, 24)
    statuses = Counter(status for *_, status in rows(site))
    assert statuses == {"weighed": 21, "blank": 3}
    assert len({entry for _, _, entry, _ in rows(site)}) == 24
