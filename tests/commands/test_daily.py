"""The daily round: one backup a day while the site runs, kept as long as told."""

from __future__ import annotations

import os
import signal
import sqlite3
import subprocess
import sys
import time
import urllib.request
from contextlib import closing
from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.commands.conftest import ROOT, run_manage
from tests.commands.test_backup import club_in


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def today_is_called() -> str:
    return f"drawbag-{date.today():%Y-%m-%d}.backup"  # noqa: DTZ011  the machine's own day


def test_a_day_has_one_backup_and_the_second_round_finds_nothing_to_do(own_trial: Path):
    first = run_manage(own_trial, "daily")
    second = run_manage(own_trial, "daily")

    assert first.returncode == 0, first.stderr
    assert "Backed up to" in first.stdout
    assert second.stdout.strip() == "Nothing is left to do today."
    assert names(own_trial / "backups") == [today_is_called()]
    assert club_in(own_trial / "backups" / today_is_called()) == "Marlbrook & District AC"


def test_backups_go_when_they_are_older_than_told_and_nothing_else_does(own_trial: Path):
    folder = own_trial / "backups"
    folder.mkdir()
    today = date.today()  # noqa: DTZ011
    for days in (1, 29, 30, 31, 400):
        (folder / f"drawbag-{today - timedelta(days=days):%Y-%m-%d}.backup").write_bytes(b"old")
    for other in ("by-hand.backup", "drawbag-2020-13-99.backup", "letter.txt"):
        (folder / other).write_bytes(b"not ours")

    done = run_manage(own_trial, "daily")

    assert done.returncode == 0, done.stderr
    kept = [today_is_called()] + [
        f"drawbag-{today - timedelta(days=days):%Y-%m-%d}.backup" for days in (1, 29, 30)
    ]
    others = ["by-hand.backup", "drawbag-2020-13-99.backup", "letter.txt"]
    assert names(folder) == sorted(kept + others)


def test_backups_are_kept_as_long_as_the_club_that_asks_longest_says(own_trial: Path):
    folder = own_trial / "backups"
    folder.mkdir()
    today = date.today()  # noqa: DTZ011
    for days in (31, 90, 91):
        (folder / f"drawbag-{today - timedelta(days=days):%Y-%m-%d}.backup").write_bytes(b"old")
    with closing(sqlite3.connect(own_trial / "drawbag.sqlite3")) as kept, kept:
        kept.execute("UPDATE league_club SET keep_backups = 90")

    done = run_manage(own_trial, "daily")

    assert f"drawbag-{today - timedelta(days=91):%Y-%m-%d}.backup was older than 90" in done.stdout
    assert names(folder) == sorted(
        [today_is_called()]
        + [f"drawbag-{today - timedelta(days=days):%Y-%m-%d}.backup" for days in (31, 90)]
    )


@pytest.mark.long
def test_a_backup_that_cannot_be_written_takes_no_old_one_away(own_trial: Path):
    folder = own_trial / "backups"
    folder.mkdir()
    (folder / "drawbag-2020-01-01.backup").write_bytes(b"old")
    (own_trial / "drawbag.sqlite3").write_bytes(b"SQLite format 3\x00 and then nothing")

    done = run_manage(own_trial, "daily")

    assert done.returncode == 1
    assert "Traceback" not in done.stderr
    assert names(folder) == ["drawbag-2020-01-01.backup"]


@pytest.mark.long
@pytest.mark.skipif(os.name != "posix", reason="Signals and process groups are POSIX's.")
@pytest.mark.parametrize("how", [signal.SIGTERM, signal.SIGKILL])
def test_serve_backs_up_by_itself_and_leaves_no_process_behind(own_trial: Path, how: int):
    environment = {**os.environ, "DRAWBAG_DATA": str(own_trial)}
    environment.pop("DATABASE_URL", None)
    with (own_trial / "said.txt").open("wb") as said:
        server = subprocess.Popen(
            [sys.executable, str(ROOT / "manage.py"), "serve", "--port", "0"],
            env=environment,
            stdout=said,
            stderr=said,
        )
    try:
        _until(lambda: (own_trial / "backups" / today_is_called()).is_file(), own_trial)
        address = (own_trial / "said.txt").read_text().split()[0]
        _until(lambda: _answers(address + "health.json"), own_trial)
        beside = _beside(server.pid)
        assert len(beside) == 1
    finally:
        os.kill(server.pid, how)
        server.wait(timeout=30)

    # Killed, the workers of the web server end by themselves within seconds, and then the pipe.
    _until(lambda: not Path(f"/proc/{beside[0]}").exists(), own_trial)


def _beside(parent: int) -> list[int]:
    """The daily rounds that *parent* has started."""
    found = []
    for path in Path("/proc").glob("[0-9]*"):
        try:
            words = (path / "cmdline").read_bytes()
            stat = (path / "stat").read_text().rpartition(")")[2].split()
        except OSError:
            continue
        if b"--beside" in words and int(stat[1]) == parent:
            found.append(int(path.name))
    return found


def _answers(address: str) -> bool:
    try:
        with urllib.request.urlopen(address, timeout=2) as answer:  # noqa: S310  our own server
            return answer.status == 200
    except OSError:
        return False


def _until(true, data: Path) -> None:
    for _ in range(1200):
        if true():
            return
        time.sleep(0.05)
    raise AssertionError((data / "said.txt").read_text()[-2000:])


@pytest.mark.long
def test_a_restored_backup_of_the_day_has_the_same_tables(own_trial: Path, tmp_path: Path):
    run_manage(own_trial, "daily")

    done = run_manage(tmp_path / "new", "restore", own_trial / "backups" / today_is_called())

    assert done.returncode == 0, done.stderr
    assert _rows(tmp_path / "new") == _rows(own_trial)


def _rows(data: Path) -> dict[str, list[tuple[object, ...]]]:
    with closing(sqlite3.connect(data / "drawbag.sqlite3")) as kept:
        tables = [name for (name,) in kept.execute(
            "SELECT name FROM sqlite_master WHERE type = 'table' AND name LIKE 'league_%'"
        )]  # fmt: skip
        return {
            name: kept.execute(f"SELECT * FROM {name} ORDER BY id").fetchall()  # noqa: S608
            for name in tables
        }
