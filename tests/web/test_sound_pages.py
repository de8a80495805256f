"""Every page a stranger may read is sound HTML, small, and says what it is."""

from __future__ import annotations

import gzip
import re
from itertools import pairwise

import pytest
from django.test import Client

from league.models import Club, Match, SquadMember
from league.operations.publish import publish
from tests.web.reading import read
from tests.web.scene import START, fish_round_6, make_league

PAGE = re.compile(r"/(?!static/)")  # of ours, and no file of the program's

PAGES = [
    "/",
    "/clubs/marlbrook/",
    "/results/",
    "/clubs/marlbrook/results/",
    "/leagues/",
    "/anglers/",
    "/anglers/?name=nobody",
    "/anglers/{angler}/",
    "/teams/{team}/",
    "/tables/{season}/",
    "/tables/{season}/anglers/",
    "/tables/{season}/rules/",
    "/tables/{season}/what-if/",
    "/tables/{season}/head-to-head/",
    "/tables/{season}/head-to-head/?a={team}&b={other}",
    "/waters/",
    "/waters/{water}/",
    "/records/",
    "/clubs/marlbrook/programs/",
    "/matches/{match}/",
    "/matches/{match}/result/",
    "/matches/{match}/result/1/",
    "/matches/{match}/result/1/share/",
    "/draw-recipe/",
    "/sign-in/",
]


@pytest.fixture
def known(club: Club) -> dict[str, int]:
    season = make_league(club)
    match: Match = fish_round_6(season, number=6)
    publish(match, by=None, at=START)
    for entry in match.entries.all():
        SquadMember.objects.create(team=entry.team, angler=entry.angler)
    team, other = season.teams.order_by("name")[:2]
    return {
        "season": season.pk,
        "match": match.pk,
        "team": team.pk,
        "other": other.pk,
        "angler": match.entries.first().angler_id,
        "water": match.water_id,
    }


def test_every_public_page_is_sound_and_its_links_lead_somewhere(
    stranger: Client, known: dict[str, int]
) -> None:
    ours: set[str] = set()
    for page in PAGES:
        address = page.format(**known)
        # HTML without a fault, no address twice, no link within the page to nowhere.
        found = read(stranger.get(address))
        assert len(list(found.all("h1"))) == 1, address
        assert len(list(found.all("main"))) == 1, address
        [title] = list(found.all("title"))
        assert (title.text or "").strip(), address
        levels = [
            int(each.tag[-1])
            for each in found.root.iter()
            if isinstance(each.tag, str) and each.tag[-2:] in {"h1", "h2", "h3", "h4"}
        ]
        assert all(after - before <= 1 for before, after in pairwise(levels))
        ours |= {link.partition("#")[0] for link in found.links if PAGE.match(link)}

    for address in sorted(ours - {""}):
        assert stranger.get(address, follow=True).status_code == 200, address


def test_no_public_page_is_larger_than_a_hundred_kilobytes_as_sent(
    stranger: Client, known: dict[str, int]
) -> None:
    sizes = {}
    for page in PAGES:
        response = stranger.get(page.format(**known), headers={"Accept-Encoding": "gzip"})
        sizes[page] = len(response.content)
        if response.get("Content-Encoding") == "gzip":
            assert gzip.decompress(response.content).startswith(b"<!doctype html>")

    assert {page: size for page, size in sizes.items() if size > 100_000} == {}
