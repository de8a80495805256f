"""The health page: what a stranger hears, what a match secretary hears, and when it is not well."""

from __future__ import annotations

import os
from collections import namedtuple
from pathlib import Path

import pytest
from django.db import OperationalError, connection
from django.test import Client
from django.utils import timezone

from league.models import Club
from league.operations import health
from league.operations.tidy import KEPT


@pytest.fixture
def backups(settings, tmp_path: Path) -> Path:
    settings.BACKUPS = tmp_path / "backups"
    settings.BACKUPS.mkdir()
    return settings.BACKUPS


def make_backup(folder: Path, *, hours_old: float) -> None:
    path = folder / "drawbag-2027-01-24.backup"
    path.write_bytes(b"x" * 2048)
    at = timezone.now().timestamp() - hours_old * 3600
    os.utime(path, (at, at))


def test_a_stranger_hears_that_all_is_well_and_no_number(
    club: Club, backups: Path, stranger: Client
):
    make_backup(backups, hours_old=2)

    page = stranger.get("/health/")
    told = stranger.get("/health.json").json()

    assert page.status_code == 200
    assert "Everything is well" in page.content.decode()
    assert told["good"] is True
    assert set(told["parts"]) == {"database", "tables", "disk", "backup"}
    for said in (page.content.decode(), str(told)):
        assert "MB free" not in said
        assert str(backups) not in said
        assert "detail" not in said


def test_a_match_secretary_hears_the_numbers(secretary: Client, backups: Path):
    make_backup(backups, hours_old=2)

    page = secretary.get("/health/").content.decode()

    assert "MB free" in page
    assert "The newest is of" in page
    assert "2 KB" in page


@pytest.mark.parametrize(
    ("hours", "words"),
    [(None, "There is no daily backup yet."), (31, "The newest backup is more than a day old.")],
)
def test_a_missing_or_an_old_backup_is_told_and_the_site_goes_on(
    club: Club, backups: Path, stranger: Client, hours: float | None, words: str
):
    if hours:
        make_backup(backups, hours_old=hours)

    told = stranger.get("/health.json")

    assert told.status_code == 200
    assert told.json()["good"] is False
    assert told.json()["parts"]["backup"] == {"good": False, "words": words}
    assert words in stranger.get("/health/").content.decode()


def test_a_full_disk_is_told(club: Club, backups: Path, stranger: Client, monkeypatch):
    usage = namedtuple("usage", "total used free")
    monkeypatch.setattr(health.shutil, "disk_usage", lambda path: usage(10**12, 10**12, 10**8))

    assert "The disk is nearly full." in stranger.get("/health/").content.decode()


def test_tables_of_an_older_program_are_a_fault(club: Club, backups: Path, stranger: Client):
    with connection.cursor() as cursor:
        cursor.execute("DELETE FROM django_migrations WHERE app = 'league'")

    answer = stranger.get("/health/")

    assert answer.status_code == 503
    assert "older than the program" in answer.content.decode()


def test_without_its_database_the_site_still_says_so(stranger: Client, db: None, monkeypatch):
    def gone(*args: object) -> None:
        raise OperationalError("no route to host db.internal")

    with monkeypatch.context() as patched:
        patched.setattr(connection, "cursor", gone)
        page, told = stranger.get("/health/"), stranger.get("/health.json")

    assert (page.status_code, told.status_code) == (503, 503)
    assert page.content.decode() == "The database does not answer.\n"
    assert "db.internal" not in told.content.decode()


def test_what_is_kept_of_a_person_is_read_out_as_it_is_run(club: Club, stranger: Client):
    page = stranger.get("/clubs/marlbrook/what-is-kept/").content.decode()

    for kept in KEPT:
        assert kept.what in page
        assert kept.how_long in page
    assert page.count("By itself.") == sum(kept.rule is not None for kept in KEPT) == 7
