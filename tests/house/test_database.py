"""Tables and settings: no migration is missing, and the store is set as it was measured."""

from __future__ import annotations

from io import StringIO

import pytest
from django.conf import settings
from django.core.management import call_command


@pytest.mark.django_db
def test_no_migration_is_missing() -> None:
    said = StringIO()

    try:
        call_command("makemigrations", check=True, dry_run=True, stdout=said, stderr=said)
    except SystemExit:
        pytest.fail(f"The models have changed: run makemigrations.\n{said.getvalue()}")


def test_the_store_waits_keeps_and_survives() -> None:
    database = settings.DATABASES["default"]
    if "sqlite3" not in database["ENGINE"]:
        pytest.skip("These settings are SQLite's.")

    # IMMEDIATE waits for the lock, WAL lets readers read on, FULL survives a power cut, and a
    # connection kept open asks the disk once a weigh-in and not five times.
    assert database["OPTIONS"]["transaction_mode"] == "IMMEDIATE"
    assert database["OPTIONS"]["timeout"] >= 20
    assert "journal_mode=WAL" in database["OPTIONS"]["init_command"]
    assert "synchronous=FULL" in database["OPTIONS"]["init_command"]
    assert database["CONN_MAX_AGE"] is None
    # Each page would take the write lock.
    assert not database.get("ATOMIC_REQUESTS")
