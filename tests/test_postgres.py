"""The same tests on PostgreSQL: facts, acts and pages, on a server made for the run."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests import postgres

ROOT = Path(__file__).resolve().parent.parent
FOLDERS = ("tests/models", "tests/operations", "tests/web")


@pytest.mark.postgres
def test_everything_that_meets_the_database_passes_on_postgresql_too() -> None:
    with postgres.server() as url:
        done = subprocess.run(
            [
                sys.executable,
                "-m",
                "pytest",
                "-q",
                "-m",
                "not postgres and not sqlite",
                *_side_by_side(),
                *_folders(),
            ],
            cwd=ROOT,
            env={**_alone(), "DATABASE_URL": url},
            capture_output=True,
            text=True,
            check=False,
        )

    assert done.returncode == 0, f"On PostgreSQL:\n{done.stdout[-6000:]}\n{done.stderr[-2000:]}"


def _folders() -> list[str]:
    return [folder for folder in FOLDERS if list((ROOT / folder).glob("test_*.py"))]


def _alone() -> dict[str, str]:
    """The environment without what makes this process one worker of several."""
    return {name: value for name, value in os.environ.items() if "XDIST" not in name}


def _side_by_side() -> list[str]:
    """
    Two at a time where nobody else runs tests beside this one.

    A file stays with one worker: the tests that send from many phones share the server's own
    database.
    """
    return [] if "PYTEST_XDIST_WORKER" in os.environ else ["-n", "2", "--dist", "loadfile"]
