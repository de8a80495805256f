"""Chromium against a live server: what a member's phone and a secretary's laptop see."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from django.contrib.auth import get_user_model
from django.test import Client
from playwright.sync_api import Browser, BrowserContext, Page, Playwright

from tests.between import Between, network
from tests.browser.scales import ScalesPhone
from tests.serving import Site, Standing
from tests.tools import CHROMIUM

# Playwright's own loop runs in this thread, which Django would take for asynchronous code.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]

PHONE = {"width": 390, "height": 844}
LAPTOP = {"width": 1280, "height": 900}
SMALLEST = {"width": 320, "height": 640}
TABLET = {"width": 768, "height": 1024}


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Everything in this folder needs the browser."""
    here = Path(__file__).parent
    for item in items:
        if here in item.path.parents:
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def chromium(playwright: Playwright) -> Iterator[Browser]:
    """One Chromium for the whole run."""
    browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
    yield browser
    browser.close()


@pytest.fixture
def open_page(chromium: Browser, live_server: Any) -> Iterator[Callable[..., Page]]:
    """Open pages as somebody, at some size and theme; a script error or a refused file fails."""
    contexts: list[BrowserContext] = []
    faults: list[str] = []

    def opened(
        path: str = "/",
        *,
        as_user: Any = None,
        size: dict[str, int] = LAPTOP,
        theme: str = "light",
        **options: Any,
    ) -> Page:
        context = chromium.new_context(
            base_url=live_server.url,
            viewport=size,
            color_scheme=theme,
            locale="en-GB",
            **options,
        )
        contexts.append(context)
        if as_user is not None:
            client = Client()
            client.force_login(as_user)
            cookie = client.cookies["sessionid"]
            context.add_cookies(
                [{"name": "sessionid", "value": cookie.value, "url": live_server.url}]
            )
        page = context.new_page()
        page.on("pageerror", lambda error: faults.append(f"{page.url}: {error}"))
        page.on(
            "console",
            lambda message: (
                faults.append(f"{page.url}: {message.text}")
                if "Content Security Policy" in message.text
                else None
            ),
        )
        if path:
            page.goto(path)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert faults == []


@pytest.fixture
def users(live_server: Any) -> Callable[[str], Any]:
    """Find a person of the scene by sign-in name."""
    return lambda username: get_user_model().objects.get(username=username)


@pytest.fixture(scope="session")
def standing(made: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Standing]:
    """The server that one test after another may use, as long as none has stopped it."""
    standing = Standing(made, tmp_path_factory)
    yield standing
    standing.end()


@pytest.fixture
def site(standing: Standing) -> Iterator[Site]:
    """A running site with the records as made; what a test does to it, the next does not meet."""
    site = standing.as_made()
    yield site
    standing.take_back(site)


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


@pytest.fixture
def between(site: Site) -> Iterator[Between]:
    """A network between the phones of a test and its site."""
    with network(site.port) as found:
        site.url = found.url
        yield found
