"""`daily`: today's backup, results that have become final, and what is kept too long goes."""

from __future__ import annotations

import sqlite3
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import DatabaseError, connection

from league.management.daily import EVERY, todays, until_the_server_ends
from league.management.tables import refuse_old_tables
from league.operations.finals import make_due_final


class Command(BaseCommand):
    """Running it twice a day is harmless: the second time there is nothing to do."""

    help = (
        "Make today's backup, make results final whose time for objections is over, let backups "
        "and personal data go that are older than they are kept. "
        "`serve` does it by itself; with another server, run it once a day."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--beside", action="store_true", help="go on, a look every ten minutes, as serve does"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        if not options["beside"]:
            try:
                refuse_old_tables()
                said = [*todays(), *make_due_final()]
            except (DatabaseError, sqlite3.Error) as error:
                raise CommandError(f"Nothing is backed up: {error}.") from error
            self.stdout.write("\n".join(said) or "Nothing is left to do today.")
            return
        ended = until_the_server_ends()
        while not ended.is_set():
            try:
                for line in (*todays(), *make_due_final()):
                    self.stdout.write(line)
                    self.stdout.flush()
            except (CommandError, DatabaseError, OSError, sqlite3.Error) as error:
                # Tried again at the next look; the health page says how old the newest backup is.
                self.stderr.write(f"Today's backup failed: {error}")
            connection.close()
            ended.wait(EVERY)
