"""A backup while weights are coming in: whole, and every table the same after it is restored."""

from __future__ import annotations

import json
import sqlite3
import threading
import time
import urllib.request
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest

from tests.commands.conftest import run_manage
from tests.serving import Site

SECRETS = {
    "DRAWBAG_SECRET_KEY": "for tests only, never for a club",
    "DRAWBAG_DRAW_KEY": "for tests",
}


@pytest.mark.long
def test_a_backup_while_weights_come_in_is_restored_to_the_ounce(tmp_path: Path) -> None:
    site = Site(tmp_path / "site", pegs=24)
    backup = tmp_path / "club.backup"
    kept: list[int] = []
    done = threading.Event()

    site.start()
    try:
        phones = [
            threading.Thread(target=_weigh, args=(site, kept, done, who)) for who in ("len", "ken")
        ]
        for phone in phones:
            phone.start()
        _until(lambda: len(kept) >= 20)
        at_least = len(kept)
        site.run("manage.py", "backup", str(backup))
        at_most_then = len(kept)
        _until(lambda: len(kept) > at_most_then)
        refused = run_manage(site.folder, "restore", backup, more=SECRETS)
        done.set()
        for phone in phones:
            phone.join(timeout=60)
    finally:
        done.set()
        site.stop()

    # While the site runs nothing is restored over its head, in words.
    assert refused.returncode == 1
    assert "The site is running on these records" in refused.stderr
    assert list(site.folder.glob("*.before-*")) == []
    total = site.ask("SELECT count(*) FROM league_weighin")[0][0]
    assert total == len(kept)
    site.run("manage.py", "restore", str(backup))

    restored = site.ask("SELECT count(*) FROM league_weighin")[0][0]
    # What a phone had heard was kept before the backup began is in it, and nothing twice.
    assert at_least <= restored < total
    keys = site.ask("SELECT key FROM league_weighin")
    assert len(set(keys)) == len(keys)
    weights = {net for (net,) in site.ask("SELECT json_extract(nets, '$[0]') FROM league_weighin")}
    assert weights <= set(kept)
    assert len(weights) == restored
    assert _tables(site.folder / "drawbag.sqlite3") == _tables(backup)


def _weigh(site: Site, kept: list[int], done: threading.Event, whose: str) -> None:
    """A phone that sends one figure after another until it is told to stop."""
    match = site.scene["match"]
    told = _post(site, f"/scales/{match}/enter/", {"secret": site.scene["passes"][whose]})
    entries = site.scene["entries"]
    seq = 0
    while not done.is_set():
        seq += 1
        nets = [16 * (seq + (500 if whose == "ken" else 0))]
        entry = {
            "key": str(uuid4()),
            "entry": entries[seq % len(entries)],
            "seq": seq,
            "status": "weighed",
            "nets": nets,
        }
        said = _post(site, f"/scales/{match}/send/", {"entries": [entry]}, told["token"])
        assert said["answers"][0]["result"] == "created", said
        kept.append(nets[0])


def _post(site: Site, address: str, body: dict[str, object], token: str = "") -> dict[str, Any]:
    request = urllib.request.Request(  # noqa: S310  our own server
        site.url + address,
        json.dumps(body).encode(),
        {"Content-Type": "application/json", "Authorization": f"Bearer {token}"},
    )
    with urllib.request.urlopen(request, timeout=60) as answer:  # noqa: S310
        found: dict[str, Any] = json.loads(answer.read())
    return found


def _until(true: Callable[[], bool]) -> None:
    for _ in range(1200):
        if true():
            return
        time.sleep(0.05)
    raise AssertionError("It did not come.")


def _tables(path: Path) -> dict[str, list[tuple[Any, ...]]]:
    with closing(sqlite3.connect(path)) as file:
        names = file.execute(
            "SELECT name FROM sqlite_master WHERE type = 'table' AND name LIKE 'league_%'"
        ).fetchall()
        return {
            name: file.execute(f"SELECT * FROM {name} ORDER BY id").fetchall()  # noqa: S608
            for (name,) in names
        }
