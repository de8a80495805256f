"""
The handbook's pictures, taken from a demo of their own.

    python -m tests.pictures

writes fixtures/pictures/result.png and fixtures/pictures/scales.png anew. Needs Chromium.
"""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from league.management.demo.settings import read
from tests.tools import CHROMIUM

ROOT = Path(__file__).resolve().parent.parent
PICTURES = ROOT / "fixtures" / "pictures"
LAPTOP, PHONE = {"width": 1180, "height": 980}, {"width": 390, "height": 844}


@contextmanager
def demo() -> Iterator[tuple[str, Path]]:
    """A demo in a folder of its own: its address, and the folder."""
    with (
        tempfile.TemporaryDirectory() as data,
        subprocess.Popen(
            [sys.executable, str(ROOT / "manage.py"), "demo", "--port", "0"],
            env={**os.environ, "DRAWBAG_DATA": data},
            stdout=subprocess.PIPE,
            text=True,
        ) as served,
    ):
        assert served.stdout is not None
        try:
            address = next(line.strip() for line in served.stdout if line.startswith("http://"))
            _wait_for(address)
            yield address, Path(data)
        finally:
            served.terminate()


def _wait_for(address: str) -> None:
    for _ in range(120):
        try:
            urllib.request.urlopen(address, timeout=30).close()  # noqa: S310  our own
        except urllib.error.URLError:
            time.sleep(0.5)
        else:
            return


def take_result(browser: Browser, address: str, data: Path) -> None:
    """The last result that may still be objected to, as a stranger sees it."""
    (match,) = _found(data, "SELECT id FROM league_match WHERE stage = 'published'")
    page = browser.new_page(viewport=LAPTOP, device_scale_factor=1)
    page.goto(f"{address}matches/{match}/result/")
    _settled(page)
    page.screenshot(path=PICTURES / "result.png")


def take_scales(browser: Browser, address: str, data: Path) -> None:
    """The scales of the team day on a phone, one peg about to be weighed."""
    told = next(each for each in read()["sign_in"] if each["office"] == "scales")
    match, entry = _found(
        data,
        "SELECT m.id, e.id FROM league_match m JOIN league_entry e ON e.match_id = m.id "
        "JOIN league_matchpeg mp ON mp.id = e.match_peg_id JOIN league_peg p ON p.id = mp.peg_id "
        "WHERE m.stage = 'drawn' ORDER BY p.\"order\" LIMIT 1",
    )
    page = browser.new_page(viewport=PHONE, device_scale_factor=1)
    page.goto(f"{address}sign-in/?next=/scales/{match}/{entry}/")
    page.locator("[name=username]").fill(told["username"])
    page.locator("[name=password]").fill(told["password"])
    page.get_by_role("button", name="Sign in").click()
    _settled(page)
    page.screenshot(path=PICTURES / "scales.png")


def _found(data: Path, question: str) -> tuple[int, ...]:
    with closing(sqlite3.connect(data / "drawbag.sqlite3")) as kept:
        return tuple(kept.execute(question).fetchone())


def _settled(page: Page) -> None:
    page.wait_for_load_state("networkidle")


def main() -> None:
    """Take both."""
    if CHROMIUM is None:
        raise SystemExit("Chromium is not installed, and the pictures are taken with it.")
    PICTURES.mkdir(exist_ok=True)
    with demo() as (address, data), sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        take_result(browser, address, data)
        take_scales(browser, address, data)
        browser.close()


if __name__ == "__main__":
    main()
