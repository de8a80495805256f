"""`backup`: a whole copy of the records, taken while the site is in use."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import connection

from league.management import dumps
from league.management.copies import database_path, is_database
from league.management.daily import backup_to


class Command(BaseCommand):
    """The copy is checked before it takes its name: a file called so is whole."""

    help = (
        "Copy the records to FILE while the site is in use. An earlier backup of that name is "
        "replaced, anything else is not. Where PostgreSQL keeps the records, its own pg_dump makes "
        "the copy. The keys are not in it: keep var/secret-key and var/draw-key somewhere else."
    )
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", metavar="FILE")

    def handle(self, *args: Any, **options: Any) -> None:
        target = Path(options["file"]).absolute()
        ours = dumps.is_dump if connection.vendor == "postgresql" else is_database
        if connection.vendor == "sqlite" and not (source := database_path()).is_file():
            raise CommandError(f"There is no database at {source} yet, so nothing to back up.")
        try:
            if target.is_dir():
                raise CommandError(f"{target} is a folder. Name the file in it.")
            if target.exists():
                if connection.vendor == "sqlite" and target.samefile(database_path()):
                    raise CommandError("That is the database itself. Name another file.")
                if not ours(target):
                    raise CommandError(f"{target} is no backup, so it is not replaced.")
            backup_to(target)
        except OSError as error:
            raise CommandError(f"{target} cannot be written: {error.strerror}.") from error
        self.stdout.write(f"Backed up to {target}, {target.stat().st_size // 1024} KB, checked.")
