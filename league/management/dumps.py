"""Copies of a PostgreSQL database, by its own tools: a dump is whole, and goes back as one step."""

from __future__ import annotations

import os
import re
import subprocess
from pathlib import Path

from django.core.management.base import CommandError
from django.db import connection
from django.db.migrations.loader import MigrationLoader

FIRST_BYTES = b"PGDMP"


def is_dump(path: Path) -> bool:
    """Whether the file begins as dumps of pg_dump's own format do."""
    with path.open("rb") as file:
        return file.read(len(FIRST_BYTES)) == FIRST_BYTES


def dump_out(target: Path) -> None:
    """
    Write a whole, checked dump to *target*; what was there is replaced in one step.

    pg_dump reads one moment of a database in use.
    """
    draft = target.with_name(f".{target.name}.{os.getpid()}")
    try:
        os.close(os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
        _run("pg_dump", "--format=custom", "--no-owner", "--no-privileges", "--file", str(draft))
        look_over(draft)
        with draft.open("rb+") as file:
            os.fsync(file.fileno())
        draft.replace(target)
    finally:
        draft.unlink(missing_ok=True)


def look_over(path: Path) -> None:
    """
    Refuse a file that is no whole dump of this program, or of a later one.

    Every row is read through: a dump that was cut off is heard of before anything is replaced.
    """
    if not is_dump(path):
        raise CommandError(f"{path} is no backup: it does not begin as a dump of pg_dump does.")
    try:
        said = _run("pg_restore", "--file=-", "--table=django_migrations", "--data-only", str(path))
        _run("pg_restore", f"--file={os.devnull}", str(path))
    except CommandError as error:
        raise CommandError(f"{path} is damaged: {error} Take an earlier backup.") from error
    done = set(re.findall(r"^\d+\tleague\t(\S+)\t", said, re.M))
    if not done:
        raise CommandError(f"{path} holds no club's records. Look whether it is the right file.")
    ours = {name for app, name in MigrationLoader(None).disk_migrations if app == "league"}
    if later := sorted(done - ours):
        raise CommandError(
            f"{path} was made by a later version of the program ({later[-1]}). Install that one."
        )


def dump_in(source: Path) -> None:
    """Put the records of *source* in the place of today's: all of it, or nothing."""
    _run(
        "pg_restore",
        "--single-transaction",
        "--exit-on-error",
        "--clean",
        "--if-exists",
        "--no-owner",
        "--no-privileges",
        *("--dbname", str(connection.settings_dict["NAME"]), str(source)),
    )


def _run(*command: str) -> str:
    told = connection.settings_dict
    environment = {
        **os.environ,
        **{
            name: str(value)
            for name, value in {
                "PGHOST": told["HOST"],
                "PGPORT": told["PORT"],
                "PGUSER": told["USER"],
                "PGPASSWORD": told["PASSWORD"],
                "PGDATABASE": told["NAME"],
            }.items()
            if value
        },
    }
    try:
        done = subprocess.run(  # noqa: S603  PostgreSQL's own tools, with a list and no shell
            command, env=environment, capture_output=True, text=True, check=False
        )
    except FileNotFoundError as error:
        raise CommandError(
            f"{command[0]} is not there. Install PostgreSQL's client programs, of the server's own "
            "version or a later one."
        ) from error
    if done.returncode:
        said = done.stderr.strip().splitlines()
        raise CommandError(f"{command[0]} says: {said[-1] if said else 'nothing'}.")
    return done.stdout
