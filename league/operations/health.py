"""Whether the installation is well: the database, its tables, the disk and the newest backup."""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from django.conf import settings
from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor
from django.utils import timezone

from league.operations import backups

LEAST_FREE = 500 * 1024 * 1024  # bytes: a season with its backups takes far less
OLDEST_BACKUP = timedelta(hours=30)  # one a day, and six hours for a machine that slept


@dataclass(frozen=True, slots=True)
class Part:
    """One thing that was looked at."""

    name: str
    good: bool
    words: str  # for anybody
    detail: str = ""  # numbers, for the match secretary
    stops: bool = False  # without it the site cannot work


def look(*, at: datetime | None = None) -> list[Part]:
    """Look at everything; what cannot be looked at is not good."""
    at = at or timezone.now()
    database = _database()
    if not database.good:
        return [database]
    return [database, _tables(), _disk(), _backup(at)]


def _database() -> Part:
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
            cursor.fetchone()
    except DatabaseError:
        return Part("database", False, "The database does not answer.", stops=True)
    return Part("database", True, "The database answers.", f"It is {connection.display_name}.")


def _tables() -> Part:
    executor = MigrationExecutor(connection)
    waiting = executor.migration_plan(executor.loader.graph.leaf_nodes())
    if waiting:
        return Part(
            "tables",
            False,
            "The database is older than the program.",
            f"{len(waiting)} steps are waiting: run migrate.",
            stops=True,
        )
    return Part("tables", True, "The tables are those of the program.")


def _disk() -> Part:
    free = shutil.disk_usage(_there(Path(settings.DATA_DIR))).free
    detail = f"{free // 1024**2} MB free."
    if free < LEAST_FREE:
        return Part("disk", False, "The disk is nearly full.", detail)
    return Part("disk", True, "There is room on the disk.", detail)


def _backup(at: datetime) -> Part:
    try:
        found = backups.newest()
    except OSError as fault:
        return Part("backup", False, "The backups cannot be looked at.", str(fault.strerror))
    if found is None:
        return Part("backup", False, "There is no daily backup yet.")
    made = timezone.localtime(found[1])
    detail = f"The newest is of {made:%d.%m.%Y %H:%M}, {found[0].stat().st_size // 1024} KB."
    if at - made > OLDEST_BACKUP:
        return Part("backup", False, "The newest backup is more than a day old.", detail)
    return Part("backup", True, "There is a backup of the last day.", detail)


def _there(path: Path) -> Path:
    """The folder, or the nearest one above it that is there."""
    while not path.exists() and path != path.parent:
        path = path.parent
    return path
