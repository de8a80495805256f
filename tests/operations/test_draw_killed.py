"""A server that dies between the reveal and the end: the draw happened whole, or not at all."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.serving import ROOT, Site

MADE = """
import django; django.setup()
from league.operations.draw import begin, call, freeze
from tests.builders import make_entry, make_match
from tests.factories import ClubFactory
club = ClubFactory(name="Brackenford AC", slug="brackenford")
match = make_match(club, sections={"A": 6}, drawn=False)
for _ in range(4):
    make_entry(match)
freeze(match, callers=[1, 2], by=None)
call(begin(match, by=None), {1: 4071, 2: 12}, by=None)
print(match.pk)
"""
FINISH = """
import os, sys, django; django.setup()
from league.models import DrawEvent
from league.operations import draw_events
dies = sys.argv[1]
if dies:
    plain = getattr(draw_events, dies)
    def killed(*args, **kwargs):
        plain(*args, **kwargs)  # done, and not yet kept
        os._exit(9)
    setattr(draw_events, dies, killed)
draw_events.finish(DrawEvent.objects.get(record__match=int(sys.argv[2])), by=None)
"""


def finish(site: Site, match: str, dies: str = "") -> int:
    """Finish the draw in a process of its own, which may die on the way."""
    command = [sys.executable, "-c", FINISH, dies, match]
    return subprocess.run(command, cwd=ROOT, env=site.env, check=False).returncode


@pytest.mark.sqlite
@pytest.mark.parametrize(
    "dies",
    [
        "_put_on_pegs",
        *(pytest.param(at, marks=pytest.mark.long) for at in ("_work_out", "_keep", "write_down")),
    ],
)
def test_killed_on_the_way_nothing_is_drawn_and_the_next_press_draws(
    made: Path, tmp_path: Path, dies: str
) -> None:
    site = Site(tmp_path / "site", like=made)
    match = site.run("-c", MADE).strip()

    def drawn() -> tuple[int, int, str]:
        [(pegs,)] = site.ask(
            "SELECT count(match_peg_id) FROM league_entry WHERE match_id = ?", match
        )
        [(text, stage)] = site.ask(
            "SELECT e.text, m.stage FROM league_drawevent e JOIN league_drawrecord r "
            "ON e.record_id = r.id JOIN league_match m ON r.match_id = m.id WHERE m.id = ?",
            match,
        )
        return pegs, len(text), stage

    assert finish(site, match, dies) == 9
    assert drawn() == (0, 0, "planned")

    assert finish(site, match) == 0
    pegs, length, stage = drawn()
    assert (pegs, stage) == (4, "drawn")
    assert length > 200
