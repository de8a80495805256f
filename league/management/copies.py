"""Copies of a SQLite database: made while it is in use, looked over before they are trusted."""

from __future__ import annotations

import os
import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from django.core.management.base import CommandError
from django.db import connection
from django.db.migrations.loader import MigrationLoader

FIRST_BYTES = b"SQLite format 3\x00"


def database_path() -> Path:
    """Where the database is; refused where it is not a file of ours."""
    if connection.vendor != "sqlite":
        raise CommandError(
            "These records are kept by PostgreSQL, which brings its own tools: use pg_dump and "
            "pg_restore."
        )
    return Path(str(connection.settings_dict["NAME"]))


def is_database(path: Path) -> bool:
    """Whether the file begins as SQLite's do."""
    with path.open("rb") as file:
        return file.read(len(FIRST_BYTES)) == FIRST_BYTES


def copy_out(source: Path, target: Path) -> None:
    """
    Write a whole, checked copy of *source* to *target*; what was there is replaced in one step.

    `VACUUM INTO` reads one moment of a database in use. A plain copy of the file would miss what
    has not been written back yet.
    """
    draft = target.with_name(f".{target.name}.{os.getpid()}")
    try:
        # Made empty first, and for its owner alone: it holds members' names.
        os.close(os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
        with _reading(source) as live:
            live.execute("VACUUM INTO ?", [str(draft)])
        look_over(draft)
        with draft.open("rb+") as file:
            os.fsync(file.fileno())
        draft.replace(target)
        _sync_folder(target.parent)
    finally:
        draft.unlink(missing_ok=True)


def look_over(path: Path) -> None:
    """Refuse a file that is no whole database of this program, or of a later one."""
    if not is_database(path):
        raise CommandError(f"{path} is no backup: it does not begin as a SQLite database does.")
    try:
        with _reading(path) as copy:
            sound = copy.execute("PRAGMA integrity_check").fetchone()[0]
            if sound != "ok":
                raise CommandError(f"{path} is damaged: {sound}. Take an earlier backup.")
            if copy.execute("PRAGMA foreign_key_check").fetchone():
                raise CommandError(f"{path} is damaged: a row refers to one that is not there.")
            done = {name for (name,) in copy.execute(APPLIED)}
    except sqlite3.DatabaseError as error:
        raise CommandError(f"{path} is no backup of these records: {error}.") from error
    if not done:
        raise CommandError(f"{path} holds no club's records. Look whether it is the right file.")
    ours = {name for app, name in MigrationLoader(None).disk_migrations if app == "league"}
    if later := sorted(done - ours):
        raise CommandError(
            f"{path} was made by a later version of the program ({later[-1]}). Install that one."
        )


APPLIED = "SELECT name FROM django_migrations WHERE app = 'league'"


def copy_in(source: Path, target: Path) -> None:
    """Put the pages of *source* in the place of those of *target*, as one transaction."""
    with (
        _reading(source) as copy,
        closing(sqlite3.connect(target, timeout=20)) as live,
    ):
        copy.backup(live)


@contextmanager
def _reading(path: Path) -> Iterator[sqlite3.Connection]:
    """Open the file for reading, with the one function its constraints call."""
    with closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)) as opened:
        opened.create_function("REGEXP", 2, _matches, deterministic=True)
        yield opened


def _matches(pattern: str, text: str | None) -> bool | None:
    return None if text is None else re.search(pattern, str(text)) is not None


def _sync_folder(folder: Path) -> None:
    """Make the new name survive a power cut; Windows has no such thing for folders."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
