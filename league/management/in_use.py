"""Whether the site is running on these records: a server holds a lock for as long as it lives."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import ModuleType

from django.conf import settings
from django.core.management.base import CommandError

fcntl: ModuleType | None
try:
    import fcntl
except ImportError:  # Windows has no such locks: there the handbook's word must do
    fcntl = None

# Held by number: a file object would be closed, and complained of, at the end.
_held: list[int] = []


def hold() -> None:
    """
    Say that this process serves the records, until it ends, whatever ends it.

    A server that starts while records are being restored waits until they are whole.
    """
    if fcntl is None:
        return
    try:
        lock = os.open(_path(), os.O_RDWR | os.O_CREAT, 0o600)
    except OSError:  # a folder that cannot be written is told of where it is written to
        return
    fcntl.flock(lock, fcntl.LOCK_SH)
    _held.append(lock)


@contextmanager
def nobody_serves() -> Iterator[None]:
    """Keep every server of these records out meanwhile; refused while one is running."""
    if fcntl is None:
        yield
        return
    _path().parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    with _path().open("a") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            raise CommandError(
                "The site is running on these records, and whoever is weighing would lose what "
                "was sent since the backup. Stop the site, restore, and start it again. Nothing "
                "is changed."
            ) from error
        yield


def _path() -> Path:
    return Path(settings.DATA_DIR) / "serving.lock"
