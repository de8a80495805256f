"""Weighing without signal, and every way a send can go wrong, in Chromium against a real server."""

from __future__ import annotations

import json
import os
import re
import signal
import uuid
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.between import Answer, Between, network
from tests.browser.conftest import FLAGS, PHONE, SMALLEST
from tests.browser.scales import ScalesPhone, rows
from tests.serving import Site
from tests.tools import CHROMIUM


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Site:
    """An installation with 24 pegs to weigh, never started: each test copies it."""
    site = Site(tmp_path_factory.mktemp("made") / "site")
    site.collect_static()
    return site


@pytest.fixture
def site(made: Site, tmp_path: Path) -> Iterator[Site]:
    site = Site(tmp_path / "site", like=made)
    site.start()
    yield site
    site.stop()


@pytest.fixture
def new_phone(chromium: Browser, site: Site) -> Iterator[Callable[..., ScalesPhone]]:
    """Phones of their own; a script error or a refused file on any of them fails the test."""
    contexts: list[BrowserContext] = []
    faults: list[str] = []

    def watch(page: Page) -> None:
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.on(
            "console",
            lambda said: faults.append(said.text) if "Security Policy" in said.text else None,
        )

    def made_phone(**options: object) -> ScalesPhone:
        context = chromium.new_context(**{"viewport": PHONE, "locale": "en-GB"} | options)
        context.on("page", watch)
        contexts.append(context)
        return ScalesPhone(site, context)

    yield made_phone
    for context in contexts:
        context.close()
    assert faults == []


@pytest.fixture
def phone(new_phone: Callable[..., ScalesPhone]) -> ScalesPhone:
    """One phone, let in by a pass and ready for no signal."""
    phone = new_phone()
    phone.come_in()
    phone.ready()
    return phone


def stored_once(site: Site, count: int) -> None:
    keys = Counter(key for key, *_ in rows(site))
    assert len(keys) == count
    assert max(keys.values(), default=1) == 1


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


def test_the_page_that_needs_signal_leads_to_the_one_that_does_not(phone, site):
    phone.context.set_offline(True)

    phone.page.goto(f"{site.url}/scales/{site.scene['match']}/")

    assert phone.page.url == phone.home
    expect(phone.page.locator("h1")).to_have_text("0 of 24 pegs weighed")


def test_the_secret_does_not_stay_in_the_address(phone):
    assert phone.page.url == phone.home


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


@pytest.fixture
def between(site: Site) -> Iterator[Between]:
    """A network between the phones of a test and its site."""
    with network(site.port) as found:
        site.url = found.url
        yield found


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


def test_two_tabs_sending_at_once_store_each_weight_once(phone, site):
    other = phone.context.new_page()
    phone.context.set_offline(True)
    phone.open_peg(1)
    phone.weigh_pegs(1, 5)
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


@pytest.mark.parametrize(
    ("status", "body", "words"),
    [
        (503, b'{"words": "The site cannot write just now."}', "The site cannot write just now."),
        (500, b"<h1>Server Error</h1>", "The site has a fault just now."),
        (413, b'{"words": "Too much at once."}', "Too much at once."),
        (429, b"Too Many Requests", "This network answers in place of the site."),
        (200, b'{"answers": []}', "Something answered in place of the site."),
        (200, b'{"answers": [{"key": "x", "result": "created"}]}', "Something answered in place"),
        (302, b"", "No signal since"),
    ],
)
def test_no_answer_but_the_sites_own_takes_a_weight_off_the_phone(
    between, phone, status, body, words
):
    between.fault = lambda forward: Answer(status, body, (("Location", "/sign-in/"),))
    phone.open_peg(1)
    phone.weigh(12, 8)

    phone.says(words)
    phone.says("1 weight on this phone still to send")
    assert [entry["state"] for entry in phone.kept()] == ["waiting"]


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


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("size", [SMALLEST, PHONE], ids=["smallest", "phone"])
def test_the_screens_of_the_phone_have_nothing_for_axe_to_find(new_phone, size, theme):
    phone = new_phone(viewport=size, color_scheme=theme)
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
    """What axe finds on a screen, and whether it would have to be scrolled sideways."""
    act(phone)
    expect(phone.page.locator("#screen h1")).to_be_visible()
    found = Axe().run(
        phone.page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]}
    )
    wide = phone.page.evaluate("document.documentElement.scrollWidth > innerWidth")
    return name, [each["id"] for each in found.response["violations"]] + ["wide"] * wide
