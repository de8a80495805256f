"""Programs that some tests need, and what to say where they are missing."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

IN_CI = os.environ.get("CI", "").lower() in {"1", "true", "yes"}

CHROMIUM = next(
    (
        found
        for name in ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
        if (found := shutil.which(name))
    ),
    None,
)


def postgres_program(name: str) -> str | None:
    """Find a program of the PostgreSQL server: on the path, else where Debian keeps it."""
    if found := shutil.which(name):
        return found
    kept = sorted(Path("/usr/lib/postgresql").glob(f"*/bin/{name}"))
    return str(kept[-1]) if kept else None


NEEDS = {
    "browser": (CHROMIUM, "Chromium is not installed: the browser tests are skipped."),
    "postgres": (
        postgres_program("initdb"),
        "The PostgreSQL server is not installed: the tests against it are skipped.",
    ),
}
