"""The settings of the made-up club, read once."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any, TypeAlias

ROOT = Path(__file__).resolve().parents[3]
FIXTURES = ROOT / "fixtures"
DEMO = FIXTURES / "demo"

Settings: TypeAlias = dict[str, Any]


def read(path: Path = DEMO / "settings.toml") -> Settings:
    """The settings as they stand in the file."""
    return tomllib.loads(path.read_text(encoding="utf-8"))
