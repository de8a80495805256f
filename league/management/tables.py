"""Whether the database has the tables that this program needs."""

from __future__ import annotations

from pathlib import Path

from django.core.management.base import CommandError
from django.db import connection
from django.db.migrations.executor import MigrationExecutor


def refuse_old_tables() -> None:
    """Refuse, in a sentence, to work on a database that is empty or older than the program."""
    if _is_old():
        raise CommandError(
            "The database is not up to date with the program. Where it holds records, back them "
            "up; then run `python manage.py migrate`."
        )


def database_file() -> Path | None:
    """The file of the SQLite database; None on a server, and for a database in memory."""
    name = str(connection.settings_dict["NAME"])
    in_memory = ":memory:" in name or "mode=memory" in name
    return None if connection.vendor != "sqlite" or in_memory else Path(name)


def _is_old() -> bool:
    file = database_file()
    # Looked for first: to ask SQLite for a file that is not there makes an empty one.
    if file is not None and not file.exists():
        return True
    executor = MigrationExecutor(connection)
    return bool(executor.migration_plan(executor.loader.graph.leaf_nodes()))
