"""A phone at the scales: the page opened, let in, keys pressed, and the network taken away."""

from __future__ import annotations

import re
from collections import Counter
from typing import Any

from playwright.sync_api import BrowserContext, Page, expect

from tests.serving import Site


class ScalesPhone:
    """One phone with one page, as a scalesman holds it."""

    def __init__(self, site: Site, context: BrowserContext) -> None:
        self.site = site
        self.context = context
        self.page: Page = context.new_page()

    @property
    def home(self) -> str:
        return f"{self.site.url}/scales/{self.site.scene['match']}/phone/"

    def come_in(self, who: str = "len") -> None:
        """Open the link of a pass and wait until the walk is there."""
        self.page.goto(f"{self.home}#pass={self.site.scene['passes'][who]}")
        expect(self.page.locator("h1")).to_contain_text("pegs weighed")

    def ready(self) -> None:
        """Wait until the page says that it needs no signal."""
        expect(self.page.get_by_role("heading", name="Ready for no signal")).to_be_visible(
            timeout=15_000
        )

    def open_peg(self, peg: int) -> None:
        self.page.goto(f"{self.home}#peg={self.site.scene['entries'][peg - 1]}")
        expect(self.page.locator(".pegplate .p")).to_have_text(str(peg))

    def press(self, pounds: int, ounces: int) -> None:
        """Pounds, then the board of ounces."""
        pad = self.page.locator(".pad")
        for figure in str(pounds):
            pad.locator(f"[data-digit='{figure}']").first.click()
        pad.locator("[data-on]").click()
        pad.locator(f"[data-ounce='{ounces}']").click()

    def agree(self) -> None:
        self.page.locator("[data-save]").click()

    def weigh(self, pounds: int, ounces: int) -> None:
        """One net, agreed, and saved on the phone."""
        self.press(pounds, ounces)
        self.agree()
        self.saved(f"{pounds} lb {ounces} oz")

    def saved(self, words: str) -> None:
        expect(self.page.locator(".saved")).to_contain_text(f"{words}. Saved on this phone.")

    def weigh_pegs(self, first: int, last: int) -> None:
        """Pegs in order, each 2 lb and as many ounces as its number leaves over sixteen."""
        for peg in range(first, last + 1):
            expect(self.page.locator(".pegplate .p")).to_have_text(str(peg))
            self.weigh(2, peg % 16)

    def pill(self) -> Any:
        return self.page.locator("#pill")

    def says(self, words: str | re.Pattern[str], timeout: float = 20_000) -> None:
        expect(self.pill()).to_contain_text(words, timeout=timeout)

    def kept(self) -> list[dict[str, Any]]:
        """Every entry on the phone."""
        found: list[dict[str, Any]] = self.page.evaluate(
            "match => Queue.entries(match)", self.site.scene["match"]
        )
        return found


def rows(site: Site) -> list[tuple[Any, ...]]:
    """What the site has: key and nets of every weigh-in, in the order they came."""
    return site.ask("select key, nets, entry_id, status from league_weighin order by id")


def stored_once(site: Site, count: int) -> None:
    keys = Counter(key for key, *_ in rows(site))
    assert len(keys) == count
    assert max(keys.values(), default=1) == 1
