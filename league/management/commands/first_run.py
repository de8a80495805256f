"""`first_run`: the address that begins an empty installation, with its key."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from league.management.tables import refuse_old_tables
from league.operations.first_run import first_run_key, is_first_run


class Command(BaseCommand):
    """Says what `serve` says at its start, for whoever no longer sees that screen."""

    help = "Write the address, key and all, at which the first club is set up."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--address", default="http://127.0.0.1:8000", help="where the site is")

    def handle(self, *args: Any, **options: Any) -> None:
        refuse_old_tables()
        if not is_first_run():
            raise CommandError(
                "This site has its club already. Whoever holds an office signs in; a match "
                "secretary asks others in on the page of offices."
            )
        self.stdout.write(f"{options['address'].rstrip('/')}/start/?key={first_run_key()}")
