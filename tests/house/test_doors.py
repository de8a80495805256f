"""
Every page and every file tried with every office.

A view states who may open it (`league/web/access.py`): `@for_officers` for the match secretary,
`@for_officers(*WORKS_THE_SCALES)` for more offices, `@for_readers`, or `@open_to(...)`. Whoever is
stated must get in, everybody else must be refused, by GET and by POST.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pytest
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver

from league.models import Act, Club, OfficeName
from league.web.access import EVERYBODY, HOLDERS, PHONES, READERS, SIGNED_IN
from tests.builders import give_office
from tests.factories import ClubFactory, UserFactory
from tests.house.everything import everything, rolled_back

# Answers whatever is asked for and is not there: a 404 for everybody.
NOWHERE = {"api-nothing", "api-root"}
# What a page cannot do without, as everything() names it.
ASKED_WITH = {
    "head-to-head-csv": "?a={team_id}&b={other_team}",
    "head-to-head-json": "?a={team_id}&b={other_team}",
}
STATED = {EVERYBODY, READERS, SIGNED_IN, HOLDERS, PHONES, *OfficeName.values}
OFFICES = tuple(OfficeName.values)
# Of those who hold one, who may open most and who least.
MOST_AND_LEAST = (OfficeName.SECRETARY.value, OfficeName.MEMBER.value)
BETWEEN = tuple(each for each in OFFICES if each not in MOST_AND_LEAST)


@dataclass(frozen=True)
class Page:
    """One address of the site."""

    name: str
    route: str
    open_to: frozenset[str]


def _pages() -> Iterator[Page]:
    def walk(patterns: list[URLPattern | URLResolver], before: str) -> Iterator[Page]:
        for each in patterns:
            route = before + str(each.pattern)
            if isinstance(each, URLResolver):
                if each.app_name != "admin":
                    yield from walk(each.url_patterns, route)
            elif each.name and each.name not in NOWHERE:
                yield Page(each.name, route, getattr(each.callback, "open_to", frozenset()))

    yield from walk(get_resolver().url_patterns, "/")


PAGES = sorted(set(_pages()), key=lambda page: page.route)


def test_every_page_states_who_may_open_it() -> None:
    silent = [page.route for page in PAGES if not page.open_to or page.open_to - STATED]

    assert silent == [], (
        "These pages do not say who may open them. Put @for_officers (the match secretary), "
        "@for_officers(*WORKS_THE_SCALES), @for_officers(*SEES_THE_MONEY), @for_readers or "
        "@open_to(...) from league/web/access.py outermost on the view."
    )


@pytest.fixture
def home_club(db: None) -> Club:
    """A club that shows strangers nothing."""
    return ClubFactory(public=False, slug="private", name="Brackenford AC")


def _client(club: Club | None, *offices: str) -> Client:
    client = Client(raise_request_exception=False)
    if club is None and not offices:
        return client
    user = UserFactory()
    for office in offices:
        give_office(club, user, office)
    client.force_login(user)
    return client


def _address(page: Page, known: dict[str, Any]) -> str:
    missing = [n for n in re.findall(r"<(?:\w+:)?(\w+)>", page.route) if n not in known]
    assert not missing, (
        f"{page.route} names {missing}: add what it names to everything() in "
        "tests/house/everything.py."
    )
    address = re.sub(r"<(?:\w+:)?(\w+)>", lambda found: str(known[found[1]]), page.route)
    return address + ASKED_WITH.get(page.name, "").format(**known)


def _refused(answer: Any) -> bool:
    if answer.status_code == 302:
        return str(answer["Location"]).startswith("/sign-in/")
    return answer.status_code in {400, 401, 403, 404, 405}


def _ask(client: Client, method: str, address: str) -> Any:
    """One request whose traces are undone, so that the next one meets the same club."""
    with rolled_back():
        return getattr(client, method)(address)


def _let_in(page: Page, held: frozenset[str]) -> bool:
    """Whether somebody of the club who holds these offices may open the page."""
    if EVERYBODY in page.open_to:
        return True
    return bool(page.open_to & ({READERS, SIGNED_IN} if held else set()) or page.open_to & held)


@pytest.mark.parametrize(
    "office",
    [
        None,
        *MOST_AND_LEAST,
        *(pytest.param(each, marks=pytest.mark.long) for each in BETWEEN),
    ],
)
def test_an_office_opens_its_pages_and_no_other(home_club: Club, office: str | None) -> None:
    known = everything(home_club)
    client = _client(home_club if office else None, *([office] if office else []))
    held = frozenset([office] if office else [])
    wrong = []

    for page in PAGES:
        if page.open_to & {HOLDERS, PHONES}:
            continue  # what opens these is no office: their own tests say
        address = _address(page, known)
        got = _ask(client, "get", address)
        if got.status_code == 500:
            wrong.append(f"GET {address} broke")
        if _let_in(page, held):
            if _refused(got) and got.status_code != 405:
                wrong.append(f"GET {address} refused {got.status_code}")
        elif "<" not in page.route and READERS in page.open_to:
            continue  # shows whoever asks what they may read, and a stranger nothing here
        else:
            if not _refused(got):
                wrong.append(f"GET {address} let in {got.status_code}")
            posted = _ask(client, "post", address)
            if not _refused(posted):
                wrong.append(f"POST {address} let in {posted.status_code}")

    assert wrong == [], "\n".join(
        [f"As {office or 'a stranger'}, not what the view states (league/web/access.py):", *wrong]
    )


def test_the_officers_of_another_club_are_strangers_here(home_club: Club) -> None:
    known = everything(home_club)
    client = _client(ClubFactory(name="Otterby AC"), *OFFICES)
    wrong = []

    for page in PAGES:
        if "<" not in page.route or page.open_to & {EVERYBODY, HOLDERS, PHONES}:
            continue  # names nothing of a club: shows one's own
        address = _address(page, known)
        for method in ("get", "post"):
            answer = _ask(client, method, address)
            if not _refused(answer):
                wrong.append(f"{method} {address} let in {answer.status_code}")

    assert wrong == []


def test_what_is_another_clubs_cannot_be_reached_through_ones_own(home_club: Club) -> None:
    other = ClubFactory(name="Otterby AC", slug="otterby")
    ours, theirs = everything(home_club), everything(other)
    client = _client(home_club, *OFFICES)
    wrong = []

    for page in PAGES:
        _, *rest = re.findall(r"<(?:\w+:)?(\w+)>", page.route) or [""]
        mixed = [name for name in rest if ours.get(name) != theirs.get(name)]
        if not mixed or page.open_to & {EVERYBODY, HOLDERS, PHONES}:
            continue
        address = _address(page, ours | {name: theirs[name] for name in mixed})
        for method in ("get", "post"):
            answer = _ask(client, method, address)
            if not _refused(answer):
                wrong.append(f"{method} {address} let in {answer.status_code}")

    assert wrong == []


def test_nothing_is_written_by_looking(home_club: Club) -> None:
    known = everything(home_club)
    client = _client(home_club, *OFFICES)
    before = Act.objects.count()
    wrote = []

    for page in PAGES:
        address = _address(page, known)
        with rolled_back():
            client.get(address)
            if Act.objects.count() != before:
                wrote.append(address)

    assert wrote == []


def test_what_a_link_or_a_phone_opens_is_shut_without_it(home_club: Club) -> None:
    known = everything(home_club)
    client = _client(home_club, *OFFICES)
    shut = [page for page in PAGES if PHONES in page.open_to]
    assert shut
    said = []

    for page in shut:
        address = _address(page, known)
        said += [_ask(client, method, address).status_code for method in ("get", "post")]

    # An office is no token either: 401, or 405 where that way of asking is not theirs.
    assert set(said) <= {401, 405}
    assert 401 in said


def test_a_public_clubs_pages_for_readers_are_open_to_strangers(db: None) -> None:
    club = ClubFactory(public=True)
    known = everything(club)
    wrong = []

    for page in PAGES:
        if READERS in page.open_to:
            address = _address(page, known)
            status = _ask(Client(), "get", address).status_code
            if status not in {200, 302}:
                wrong.append(f"{address} {status}")

    assert wrong == []
