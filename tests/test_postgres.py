"""
The same tests on PostgreSQL, on a server made for the run.

At the desk the facts, and the acts that many do at once; in CI every act and every page.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests import postgres
from tests.tools import IN_CI

ROOT = Path(__file__).resolve().parent.parent
# What many do at once, each in its file.
AT_ONCE = ("at_once", "draw", "lineup", "publish", "receive", "store", "weigh")
AT_THE_DESK = ("tests/models", *(f"tests/operations/test_{each}.py" for each in AT_ONCE))
IN_FULL = ("tests/models", "tests/operations", "tests/web")


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
                "not postgres and not sqlite" + ("" if IN_CI else " and not long"),
                *_side_by_side(),
                *(IN_FULL if IN_CI else AT_THE_DESK),
            ],
            cwd=ROOT,
            env={**_alone(), "DATABASE_URL": url},
            capture_output=True,
            text=True,
            check=False,
        )

    assert done.returncode == 0, f"On PostgreSQL:\n{done.stdout[-6000:]}\n{done.stderr[-2000:]}"


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
