"""Where daily backups lie, which is the newest, and which are old enough to go."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, datetime, timedelta
from pathlib import Path

from django.conf import settings

NAMED = re.compile(r"drawbag-(\d{4}-\d{2}-\d{2})\.(?:backup|dump)")


def folder() -> Path:
    """The folder of the daily backups."""
    return Path(settings.BACKUPS)


def name_for(day: date, vendor: str) -> str:
    """What the backup of that day is called: a SQLite file, or a dump of PostgreSQL."""
    return f"drawbag-{day:%Y-%m-%d}.{'backup' if vendor == 'sqlite' else 'dump'}"


def daily(found: Iterable[Path]) -> list[tuple[date, Path]]:
    """The daily backups among the files, oldest first; what has another name is not ours."""
    named = []
    for path in found:
        if match := NAMED.fullmatch(path.name):
            try:
                named.append((date.fromisoformat(match[1]), path))
            except ValueError:
                continue
    return sorted(named)


def newest() -> tuple[Path, datetime] | None:
    """The newest daily backup, and when it was made."""
    if not folder().is_dir():
        return None
    kept = daily(folder().iterdir())
    if not kept:
        return None
    path = kept[-1][1]
    return path, datetime.fromtimestamp(path.stat().st_mtime).astimezone()


def too_old(kept: list[tuple[date, Path]], today: date, days: int) -> list[Path]:
    """Those older than *days*; the newest always stays, however old it is."""
    return [path for day, path in kept[:-1] if day < today - timedelta(days=days)]
