"""Setting a club of one's own up, in the order of the handbook and out of it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.commands.conftest import ROOT

SEASON = ROOT / "fixtures" / "demo" / "winter-team-league-2024-25.csv"
LOAD = ("load", SEASON, "--club", "Marlbrook", "--league", "Winter")


def set_up(data: Path, *args: object) -> subprocess.CompletedProcess[str]:
    """Run one command with the two secrets, on SQLite, with the records in *data*."""
    secrets = {"DRAWBAG_SECRET_KEY": "k" * 50, "DRAWBAG_DRAW_KEY": "d" * 50}
    return subprocess.run(
        [sys.executable, str(ROOT / "manage.py"), *map(str, args)],
        env={**os.environ, **secrets, "DRAWBAG_DATA": str(data), "DATABASE_URL": ""},
        cwd=data.parent,
        capture_output=True,
        text=True,
        timeout=240,
        check=False,
    )


def test_migrate_makes_the_folder_that_a_fresh_clone_lacks(tmp_path: Path):
    data = tmp_path / "var"

    made = [set_up(data, "migrate", "-v0") for _ in range(2)]

    assert [done.returncode for done in made] == [0, 0], made[0].stderr
    assert (data / "drawbag.sqlite3").is_file()
    assert data.stat().st_mode & 0o077 == 0


@pytest.mark.parametrize("command", [LOAD, ("unload", "out"), ("serve",)], ids=lambda each: each[0])
@pytest.mark.parametrize(
    "there",
    [
        pytest.param(False, id="no folder"),
        pytest.param(True, id="an empty file", marks=pytest.mark.long),
    ],
)
def test_before_migrate_every_command_says_so(tmp_path: Path, command: tuple[object, ...], there):
    data = tmp_path / "records"
    if there:
        data.mkdir()
        (data / "drawbag.sqlite3").touch()

    done = set_up(data, *command)

    assert done.returncode == 1
    assert "python manage.py migrate" in done.stderr
    assert "Traceback" not in done.stderr
    assert data.exists() == there
