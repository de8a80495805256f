"""What axe finds on a page as it stands, and whether it would have to be scrolled sideways."""

from __future__ import annotations

from collections.abc import Sequence

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page

from tests.browser.conftest import LAPTOP, PHONE
from tests.tools import IN_CI

WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
# A theme changes colours and nothing else: these are axe's rules that look at any.
OF_COLOURS = ["color-contrast", "link-in-text-block"]


def faults(
    page: Page,
    *,
    sizes: Sequence[dict[str, int]] = (PHONE, LAPTOP),
    widths: Sequence[dict[str, int]] = (),
    thorough: bool = IN_CI,
) -> list[str]:
    """
    Give what is wrong with the page as it stands, a line a fault: at which size, in which theme.

    One page load serves all: it is resized and its theme changed. In the light every rule is tried
    at each of *sizes*; in the dark those of colours, at the last. Unless *thorough* it is the first
    size and the light alone; `tests/web/test_colours.py` holds the colours of the dark. At *widths*
    it is only looked whether it would have to be scrolled sideways, as it is everywhere.
    """
    tried = sizes if thorough else sizes[:1]
    found: list[str] = []
    page.evaluate(AXE_SCRIPT)
    before = page.viewport_size or LAPTOP
    page.emulate_media(color_scheme="light")
    for size in (*widths, *sizes):
        page.set_viewport_size(size)
        if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
            found.append(f"{page.url} at {size['width']} is wider than the screen")
        if size in tried:
            found += _violations(page, "light", "tag", WCAG)
    if thorough:
        page.emulate_media(color_scheme="dark")
        found += _violations(page, "dark", "rule", OF_COLOURS)
        page.emulate_media(color_scheme="light")
    page.set_viewport_size(before)
    return found


def _violations(page: Page, theme: str, kind: str, values: list[str]) -> list[str]:
    options = {"runOnly": {"type": kind, "values": values}, "resultTypes": ["violations"]}
    width = (page.viewport_size or LAPTOP)["width"]
    return [
        f"{page.url} at {width}, {theme}: {each['id']} {each['nodes'][0]['html']}"
        for each in page.evaluate("given => axe.run(given)", options)["violations"]
    ]
