"""`unload`: a club's whole record as plain files."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from league.management.names import club_called
from league.management.tables import refuse_old_tables
from league.models import Club
from league.operations.unload import unload


class Command(BaseCommand):
    """The records are the club's: everything leaves in files that any program can read."""

    help = (
        "Write a club's whole record into DIR: season sheets and rule books that `load` takes "
        "back, every published version of every result, every draw record. Running it again "
        "replaces the files it wrote. The files name juniors in full: keep them as you keep the "
        "list of members."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("folder", metavar="DIR")
        parser.add_argument("--club", metavar="CLUB", help="without it, every club")

    def handle(self, *args: Any, **options: Any) -> None:
        refuse_old_tables()
        clubs = list(Club.objects.by_name())
        if options["club"] is not None:
            club = club_called(options["club"])
            if club is None:
                known = ", ".join(club.name for club in clubs) or "none yet"
                raise CommandError(f"There is no club {options['club']}. There is: {known}.")
            clubs = [club]
        folder, count = Path(options["folder"]), 0
        try:
            for club in clubs:
                for name, text in unload(club):
                    path = folder / club.slug / name
                    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
                    path.write_text(text, encoding="utf-8", newline="")
                    count += 1
        except OSError as error:
            raise CommandError(
                f"{error.filename or folder} cannot be written: {error.strerror}. "
                f"{count} files were written before."
            ) from error
        self.stdout.write(f"{count} files written to {folder}.")
        self.stderr.write(
            "They name juniors in full and belong to the club alone: do not publish them."
        )
