"""`demo`: twice harmless, secrets kept close, and the club as its pages tell it."""

from __future__ import annotations

import datetime as dt
import json
import os
import sqlite3
import stat
import subprocess
import sys
import time
import urllib.error
import urllib.request
from contextlib import closing
from pathlib import Path

import pytest

from league.management.demo import sheets
from league.management.demo.fill import later_by
from league.management.demo.settings import DEMO, read
from tests.commands.conftest import ROOT, run_manage


def counted(data: Path) -> list[int]:
    with closing(sqlite3.connect(data / "drawbag.sqlite3")) as kept:
        return [
            kept.execute(f"SELECT count(*) FROM {table}").fetchone()[0]  # noqa: S608  our own names
            for table in ("league_club", "league_match", "league_entry", "auth_user")
        ]


def test_the_season_sheets_are_what_the_settings_make():
    made = sheets.sheets(read())

    assert len(made) == 4
    for name, text in made.items():
        assert (DEMO / name).read_bytes() == text.encode(), name


def test_the_demo_says_who_may_sign_in(trial: Path):
    said = (trial.parent / "said.txt").read_text(encoding="utf-8")

    for word in ("secretary", "scales", "treasurer", "member", "trial-heron-41"):
        assert word in said
    assert "known to everybody" in said


def test_the_secrets_are_for_the_owner_alone(trial: Path):
    for name in ("secret-key", "draw-key"):
        assert stat.S_IMODE((trial / name).stat().st_mode) == 0o600
        assert len((trial / name).read_text().strip()) >= 50
    assert (trial / "secret-key").read_text() != (trial / "draw-key").read_text()


def test_a_second_run_changes_nothing_and_serves(own_trial: Path):
    before, key = counted(own_trial), (own_trial / "secret-key").read_text()
    environment = {**os.environ, "DRAWBAG_DATA": str(own_trial), "PYTHONUTF8": "1"}
    with subprocess.Popen(
        [sys.executable, str(ROOT / "manage.py"), "demo", "--port", "0"],
        env={name: value for name, value in environment.items() if "DRAWBAG_S" not in name},
        stdout=subprocess.PIPE,
        text=True,
    ) as served:
        assert served.stdout is not None
        try:
            address = next(line.strip() for line in served.stdout if line.startswith("http://"))
            page = opened(address)
        finally:
            served.terminate()

    assert "Marlbrook &amp; District AC" in page
    assert counted(own_trial) == before
    # Anglers: 6 x 24, 7 x 28, 6 x 24 so far, 2 x 36; 24 and 9 booked in, 96 drawn.
    assert before == [1, 24, 685, 4]
    assert (own_trial / "secret-key").read_text() == key


def opened(address: str) -> str:
    """The page, once the server answers: the address is printed before it does."""
    for _ in range(60):
        try:
            with urllib.request.urlopen(address, timeout=30) as answer:  # noqa: S310  our own
                return str(answer.read().decode())
        except urllib.error.URLError:
            time.sleep(0.5)
    raise AssertionError(f"Nothing answers at {address}.")


@pytest.mark.long
def test_a_database_with_a_real_club_is_left_alone(tmp_path: Path):
    data = tmp_path / "var"
    sheet = tmp_path / "season.csv"
    sheet.write_text("round,date,section,peg,angler,weight\n1,2026-10-04,A,1,Ana,6-0\n")
    data.mkdir()
    for name in ("secret-key", "draw-key"):
        (data / name).write_text("of a real club\n")
    run_manage(data, "migrate")
    loaded = run_manage(data, "load", sheet, "--club", "Real AC", "--league", "Winter")
    assert loaded.returncode == 0, loaded.stderr

    refused = run_manage(data, "demo", "--no-serve")

    assert refused.returncode == 1
    assert "This database holds Real AC." in refused.stderr
    assert counted(data) == [1, 1, 1, 0]


def test_the_table_is_the_one_the_pages_tell(trial: Path, tmp_path: Path):
    done = run_manage(trial, "unload", tmp_path / "out")
    assert done.returncode == 0, done.stderr
    club = tmp_path / "out" / "marlbrook"

    season = json.loads((club / "winter-team-league" / "2026-27" / "season.json").read_text())
    told = [
        (row["team"], [each["score"] for each in row["rounds"]], row["total"], row["weight"])
        for row in season["table"]
    ]
    assert told == [
        ("Old Quarry", ["6", "4", "5", "6", "1", "5"], "26", "246-3"),
        ("Tannery Lane", ["3", "6", "4", "2", "5", "6"], "24", "233-0"),
        ("Pennyfold", ["5", "5", "3", "4", "6", "4"], "24", "227-9"),
        ("Millrace", ["4", "2", "6", "5", "3", "3"], "21", "225-1"),
        ("Lamplighters", ["2", "1", "2", "3", "2", "2"], "11", "112-13"),
        ("Bridge End", ["1", "3", "1", "1", "4", "1"], "10", "119-4"),
    ]
    drawn = run_manage(trial, "check_draw", club / "team-day" / "2027" / "round-1" / "draw.json")
    assert drawn.returncode == 0


def test_round_six_was_put_right(trial: Path, tmp_path: Path):
    run_manage(trial, "unload", tmp_path / "out")
    folder = tmp_path / "out" / "marlbrook" / "winter-team-league" / "2026-27" / "round-6"

    versions = [json.loads((folder / f"result-{number}.json").read_text()) for number in (1, 2)]

    maddern = [
        next(
            row
            for section in version["sections"]
            for row in section["anglers"]
            if row["angler"] == "Chris Maddern"
        )
        for version in versions
    ]
    assert [(row["weight"], row["place"], row["points"]) for row in maddern] == [
        ("9-14", 3, "4"),
        ("9-4", 3, "3.5"),
    ]
    assert [version["state"] for version in versions] == ["provisional", "provisional"]
    assert "Tom Kerrow" not in json.dumps(versions)
    assert "Tom K. (junior)" in json.dumps(versions)


@pytest.mark.parametrize(
    ("today", "days"),
    [("2026-11-25", 0), ("2027-08-31", 0), ("2027-09-02", 364), ("2029-12-24", 3 * 364)],
)
def test_the_club_moves_on_with_the_years_and_sundays_stay_sundays(today: str, days: int):
    assert later_by(dt.date.fromisoformat(today)).days == days
