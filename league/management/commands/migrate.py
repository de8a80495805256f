"""`migrate`: Django's own, on a new machine as well."""

from __future__ import annotations

from typing import Any

from django.core.management.commands import migrate

from league.management.tables import database_file


class Command(migrate.Command):
    """Makes the folder of the records first: in a fresh clone it is not there yet."""

    def execute(self, *args: Any, **options: Any) -> str | None:
        """Before the checks, which open the database."""
        if (file := database_file()) is not None:
            file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        return super().execute(*args, **options)
