"""Commands run as a person runs them: another process, another folder, a bare environment."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]

Manage = Callable[..., "subprocess.CompletedProcess[str]"]


def run_manage(
    data: Path, *args: object, typed: str = "", more: dict[str, str] | None = None
) -> subprocess.CompletedProcess[str]:
    """Run one command with its records in *data*; of ours only *more* is in the environment."""
    kept = ("PATH", "HOME", "LANG", "TMPDIR", "SYSTEMROOT", "COVERAGE_PROCESS_START")
    environment = {name: os.environ[name] for name in kept if name in os.environ}
    return subprocess.run(
        [sys.executable, str(ROOT / "manage.py"), *map(str, args)],
        env={**environment, "DRAWBAG_DATA": str(data), "PYTHONUTF8": "1", **(more or {})},
        cwd=data.parent,
        input=typed,
        capture_output=True,
        text=True,
        timeout=240,
        check=False,
    )


@pytest.fixture
def manage(tmp_path: Path) -> Manage:
    """Run a command whose records would be in a folder that is not there yet."""
    return lambda *args, **options: run_manage(tmp_path / "records", *args, **options)


@pytest.fixture
def own_trial(trial: Path, tmp_path: Path) -> Path:
    """A copy of those records to change."""
    data = tmp_path / "var"
    data.mkdir()
    for path in trial.iterdir():
        if path.is_file():
            shutil.copy2(path, data / path.name)
    # What is served is never written to again: another name for it is enough.
    shutil.copytree(trial / "static", data / "static", copy_function=os.link)
    return data
