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
from league.management.in_use import nobody_serves
from league.operations import backups


class Command(BaseCommand):
    """A backup is looked over before it replaces anything, and today's records are kept aside."""

    help = (
        "Put the records of the backup FILE in the place of today's. FILE is checked first; "
        "today's records are copied aside, beside the database. Stop the site before: while it "
        "runs nothing is restored, for whoever is weighing would lose what was sent since."
    )
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", metavar="FILE")

    def handle(self, *args: Any, **options: Any) -> None:
        source = Path(options["file"])
        if not source.is_file():
            raise CommandError(f"There is no file {source}. Look at the spelling.")
        with nobody_serves():
            if connection.vendor == "postgresql":
                aside = self.into_postgres(source)
            else:
                aside = self.into_file(source, database_path())
            try:
                call_command("migrate", verbosity=0, interactive=False)
            except Exception as error:
                # Records that this program cannot read are no restore: today's come back.
                self.put_back(aside)
                raise CommandError(
                    f"{source} is not restored: it cannot be brought up to this version of the "
                    f"program ({error}). Today's records stand as they were."
                ) from error
        self.stdout.write(f"Restored from {source}.")

    def put_back(self, aside: Path | None) -> None:
        """Today's records again, from where they were kept aside."""
        connection.close()
        if connection.vendor == "postgresql" and aside:
            dumps.dump_in(aside)
        elif aside:
            copy_in(aside, database_path())
        else:
            database_path().unlink(missing_ok=True)

    def into_postgres(self, source: Path) -> Path:
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
        return aside

    def into_file(self, source: Path, target: Path) -> Path | None:
        """Page by page into the file, as one transaction."""
        connection.close()
        aside: Path | None = None
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
        return aside
