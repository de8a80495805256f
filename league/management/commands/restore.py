"""`restore`: the records of a backup in the place of today's."""

from __future__ import annotations

import sqlite3
from pathlib import Path
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import connection
from django.utils import timezone

from league.management import dumps
from league.management.copies import copy_in, copy_out, database_path, look_over
from league.operations import backups


class Command(BaseCommand):
    """A backup is looked over before it replaces anything, and today's records are kept aside."""

    help = (
        "Put the records of the backup FILE in the place of today's. FILE is checked first; "
        "today's records are copied aside, beside the database. Stop the site before: whoever is "
        "weighing meanwhile would lose what was sent since the backup."
    )
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", metavar="FILE")

    def handle(self, *args: Any, **options: Any) -> None:
        source = Path(options["file"])
        if not source.is_file():
            raise CommandError(f"There is no file {source}. Look at the spelling.")
        if connection.vendor == "postgresql":
            self.into_postgres(source)
        else:
            self.into_file(source, database_path())
        call_command("migrate", verbosity=0, interactive=False)
        self.stdout.write(f"Restored from {source}.")

    def into_postgres(self, source: Path) -> None:
        """By PostgreSQL's own tools, as one transaction; today's records are dumped aside first."""
        dumps.look_over(source)
        aside = backups.folder() / f"before-{timezone.localtime():%Y%m%d-%H%M%S}.dump"
        try:
            aside.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        except OSError as error:
            raise CommandError(f"{aside} cannot be written: {error.strerror}.") from error
        dumps.dump_out(aside)
        self.stdout.write(f"Today's records are kept in {aside}.")
        connection.close()
        dumps.dump_in(source)

    def into_file(self, source: Path, target: Path) -> None:
        """Page by page into the file, as one transaction."""
        connection.close()
        try:
            if target.exists() and source.samefile(target):
                raise CommandError("That is the database itself. Name a backup.")
            look_over(source)
            if target.exists():
                now = timezone.localtime()
                aside = target.with_name(f"{target.name}.before-{now:%Y%m%d-%H%M%S}")
                copy_out(target.absolute(), aside.absolute())
                self.stdout.write(f"Today's records are kept in {aside}.")
            else:
                target.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            copy_in(source, target)
        except OSError as error:
            raise CommandError(f"{source} is not restored: {error.strerror}.") from error
        except sqlite3.DatabaseError as error:
            raise CommandError(
                f"{source} is not restored: {error}. Stop the site and try again."
            ) from error
