"""What has to be done once a day while the site runs: a backup, and what is kept too long goes."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from datetime import date
from pathlib import Path

from django.conf import settings
from django.core.management.base import CommandError
from django.db import connection
from django.utils import timezone

from league.management import dumps
from league.management.copies import copy_out, database_path
from league.operations import backups
from league.operations.club import days_of_backups
from league.operations.tidy import tidy

EVERY = 10 * 60  # seconds between looks at the calendar; what failed is tried again then


def backup_to(target: Path) -> None:
    """A whole, checked copy of the records, whichever database holds them."""
    if connection.vendor == "postgresql":
        dumps.dump_out(target)
    else:
        copy_out(database_path().absolute(), target)


def todays(today: date | None = None) -> list[str]:
    """Do what is still to do of *today*; says what was done, a sentence each."""
    today = today or timezone.localdate()
    folder = backups.folder()
    target = folder / backups.name_for(today, connection.vendor)
    if target.exists():
        return []
    said = []
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        backup_to(target)
        said.append(f"Backed up to {target}.")
        kept = backups.daily(folder.iterdir())
        days = days_of_backups()
        for old in backups.too_old(kept, today, days):
            old.unlink()
            said.append(f"{old.name} was older than {days} days and is gone.")
    except OSError as error:
        raise CommandError(f"{target} cannot be written: {error.strerror}.") from error
    gone = {key: count for key, count in tidy().items() if count}
    if gone:
        said.append(
            "No longer kept: " + ", ".join(f"{key} {count}" for key, count in gone.items()) + "."
        )
    return said


def start_beside() -> None:
    """
    Start the daily round as a process of its own; it ends when this one does.

    It reads from a pipe that this process, and the web server it turns into, holds open: whatever
    ends the server, even a pulled plug, ends the pipe.
    """
    reads, writes = os.pipe()
    os.set_inheritable(writes, True)
    subprocess.Popen(  # noqa: S603  this very Python, and no shell
        [sys.executable, str(settings.BASE_DIR / "manage.py"), "daily", "--beside"],
        stdin=reads,
        close_fds=True,
    )
    os.close(reads)


def until_the_server_ends() -> threading.Event:
    """An event that is set once nobody holds the other end of standard input open."""
    ended = threading.Event()

    def listen() -> None:
        sys.stdin.buffer.read()
        ended.set()

    threading.Thread(target=listen, daemon=True).start()
    return ended
