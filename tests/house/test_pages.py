"""Every page: nothing inline in a template, and a stranger meets a sign-in page or a 404."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver

from league.models import Club, Season
from tests.builders import make_entry, make_fished_match, make_season
from tests.factories import ClubFactory

ROOT = Path(__file__).resolve().parent.parent.parent

INLINE = {
    "a style of its own": re.compile(r"<[^>{]*\sstyle\s*=", re.I),
    "a style sheet inside": re.compile(r"<style", re.I),
    "a script inside": re.compile(r"<script(?![^>]*\ssrc=)[^>]*>", re.I),
    "a script in an attribute": re.compile(r"<[^>{]*\son[a-z]+\s*=", re.I),
    "a script as an address": re.compile(r"javascript:", re.I),
}
# Data for a script, which no browser runs.
DATA = re.compile(r"<script[^>]*type=\"application/(?:ld\+)?json\"[^>]*>", re.I)

# Open to a phone without an account, so that they can be kept for a bank without signal; what
# they show of the club comes later, with the phone's token.
SHELLS = {"scales-phone", "scales-manifest", "forgotten-new"}


def test_templates_carry_no_style_and_no_script() -> None:
    found = [
        f"{path.relative_to(ROOT)}: {what}"
        for path in sorted((ROOT / "templates").rglob("*.html"))
        for what, pattern in INLINE.items()
        if pattern.search(DATA.sub("", path.read_text()))
    ]

    assert found == []


def _pages() -> Iterator[tuple[str, str]]:
    """Name and route of every page of ours."""

    def walk(patterns: list[URLPattern | URLResolver], before: str) -> Iterator[tuple[str, str]]:
        for each in patterns:
            route = before + str(each.pattern)
            if isinstance(each, URLResolver):
                if each.app_name != "admin":
                    yield from walk(each.url_patterns, route)
            elif each.name:
                yield each.name, route

    yield from walk(get_resolver().url_patterns, "")


PAGES = sorted(set(_pages()))


@pytest.fixture
def private(db: None) -> dict[str, object]:
    """Everything an address can name, of a club that shows strangers nothing."""
    club: Club = ClubFactory(public=False, slug="private", name="Brackenford AC")
    season: Season = make_season(club, teams=["Underhay Lane"])
    match = make_fished_match(season=season)
    entry = make_entry(match, name="Silas Underhay")
    return {
        "slug": club.slug,
        "match_id": match.pk,
        "season_id": season.pk,
        "angler_id": entry.angler_id,
        "entry_id": entry.pk,
        "league_id": season.league_id,
        "team_id": season.teams.get().pk,
        "water_id": match.water_id,
    }


def _address(route: str, known: dict[str, object]) -> str:
    def value(found: re.Match[str]) -> str:
        return str(known.get(found["name"], 1))

    return "/" + re.sub(r"<(?:\w+:)?(?P<name>\w+)>", value, route)


@pytest.mark.parametrize(("name", "route"), PAGES, ids=[name for name, _ in PAGES])
@pytest.mark.parametrize("method", ["get", "post"])
def test_a_private_clubs_pages_answer_a_stranger_with_a_sign_in_page_or_a_404(
    private: dict[str, object], name: str, route: str, method: str
) -> None:
    if "<" not in route:
        pytest.skip("Names nothing of a club: its own test says who may see it.")
    address = _address(route, private)

    answer = getattr(Client(), method)(address)

    signs_in = answer.status_code == 302 and answer["Location"].startswith("/sign-in/")
    refuses = answer.status_code in {400, 401, 403, 404, 405}
    assert signs_in or refuses or name in SHELLS, f"{address} answered {answer.status_code}"
    said = b"".join(answer) if answer.streaming else answer.content
    assert b"Brackenford" not in said
    assert b"Underhay" not in said
