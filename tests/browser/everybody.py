"""What axe finds on a page as it stands, and whether it would have to be scrolled sideways."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page

from tests.browser.conftest import LAPTOP, PHONE

WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
# A theme changes colours and nothing else: these are axe's rules that look at any.
OF_COLOURS = ["color-contrast", "link-in-text-block"]


def faults(
    page: Page,
    *,
    sizes: Sequence[dict[str, int]] = (PHONE, LAPTOP),
    themes: Sequence[str] = ("light", "dark"),
) -> list[str]:
    """
    Give what is wrong with the page as it stands, a line a fault: at which size, in which theme.

    One page load serves all: it is resized and its theme changed. Every rule is tried in the first
    theme, those of colours in the others.
    """
    found: list[str] = []
    page.evaluate(AXE_SCRIPT)
    before = page.viewport_size
    for size in sizes:
        page.set_viewport_size(size)
        if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
            found.append(f"{page.url} at {size['width']} is wider than the screen")
        for theme in themes:
            page.emulate_media(color_scheme=theme)
            only = ("tag", WCAG) if theme == themes[0] else ("rule", OF_COLOURS)
            found += [
                f"{page.url} at {size['width']}, {theme}: {each['id']} {each['nodes'][0]['html']}"
                for each in _violations(page, *only)
            ]
    page.set_viewport_size(before or LAPTOP)
    page.emulate_media(color_scheme=themes[0])
    return found


def _violations(page: Page, kind: str, values: list[str]) -> list[dict[str, Any]]:
    options = {"runOnly": {"type": kind, "values": values}, "resultTypes": ["violations"]}
    found: list[dict[str, Any]] = page.evaluate("given => axe.run(given)", options)["violations"]
    return found
