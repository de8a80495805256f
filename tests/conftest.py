"""The people and the settings every test may count on."""

from __future__ import annotations

import gc
import os
import shutil
import tempfile
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings as django_settings
from django.core.cache import cache
from django.db import connection
from django.test import Client

from league.models import Club, OfficeName
from tests.builders import give_office
from tests.commands.conftest import run_manage
from tests.factories import ClubFactory, UserFactory
from tests.once import made_once
from tests.serving import Site
from tests.tools import IN_CI, NEEDS

# Nothing is thrown away while tests are collected.
gc.disable()


def pytest_configure() -> None:
    """Set what a real installation must bring itself; quick hashing, plain static files."""
    django_settings.SECRET_KEY = "for tests only, never for a club"
    django_settings.DRAW_KEY = "for tests only, never for a draw"
    django_settings.ALLOWED_HOSTS = ["*"]
    django_settings.DATA_DIR = Path(tempfile.mkdtemp(prefix="drawbag-tests-"))
    django_settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    django_settings.STORAGES = {
        **django_settings.STORAGES,
        "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
    }
    django_settings.WHITENOISE_USE_FINDERS = True
    django_settings.WHITENOISE_AUTOREFRESH = True


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers() -> int:
    """A worker a core; one more in CI, whose long tests mostly wait for browsers and servers."""
    return (os.cpu_count() or 1) + IN_CI


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave the long ones to CI; skip what cannot run here and say so, which in CI is a failure."""
    if _leaves_the_long_ones(config):
        config.hook.pytest_deselected(items=[each for each in items if _is_long(each)])
        items[:] = [each for each in items if not _is_long(each)]
    # The longest test goes first: left to the end, it runs while the other cores are idle.
    items.sort(key=lambda item: item.get_closest_marker("postgres") is None)
    for marker, (program, words) in NEEDS.items():
        needing = [item for item in items if item.get_closest_marker(marker)]
        if program or not needing:
            continue
        if IN_CI:
            pytest.exit(f"{words} In CI that is a failure.", returncode=1)
        for item in needing:
            item.add_marker(pytest.mark.skip(reason=words))


def _leaves_the_long_ones(config: pytest.Config) -> bool:
    """Whoever names a file or a folder gets all of it."""
    return not IN_CI and config.args == config.getini("testpaths")


def _is_long(item: pytest.Item) -> bool:
    return item.get_closest_marker("long") is not None


def pytest_collection_finish() -> None:
    """What is collected lives to the end: gone through again and again, it took 7 % of the time."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(100_000, 20, 50)
    gc.enable()


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """One clear line for each program that is missing, and for what was left to CI."""
    if _leaves_the_long_ones(terminalreporter.config):
        terminalreporter.write_line(
            "The long tests were left to CI: CI=true in front of the command runs them here, and "
            "so does naming their file."
        )
    for program, words in NEEDS.values():
        if not program:
            terminalreporter.write_line(words)


@pytest.fixture(scope="session")
def django_db_setup(django_db_setup: None, django_db_blocker: Any) -> None:
    """
    Let the tables be emptied between tests: SQLite does it row by row, the journal's as well.

    `tests/models/test_journal.py` puts the trigger back and tries it.
    """
    if "sqlite" in django_settings.DATABASES["default"]["ENGINE"]:
        with django_db_blocker.unblock(), connection.cursor() as cursor:
            cursor.execute("DROP TRIGGER act_is_never_taken_out")


@pytest.fixture(autouse=True)
def _nothing_kept() -> None:
    """What one test keeps is not another's: numbers come back when a database is rolled back."""
    cache.clear()


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An installation with 24 pegs to weigh, never started: each test copies it."""
    return made_once(tmp_path_factory, "site", lambda folder: Site(folder).gather())


@pytest.fixture(scope="session")
def trial(made: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The records of a demo that was set up once, and again; read only."""

    def make(folder: Path) -> None:
        # Packing what pages need takes seconds, and it is the same for every installation.
        shutil.copytree(made / "static", folder / "var" / "static", copy_function=os.link)
        first = run_manage(folder / "var", "demo", "--no-serve")
        assert first.returncode == 0, first.stderr
        (folder / "said.txt").write_text(first.stdout, encoding="utf-8")

    return made_once(tmp_path_factory, "trial", make) / "var"


@pytest.fixture
def club(db: None) -> Club:
    """The Marlbrook club."""
    return ClubFactory(name="Marlbrook & District AC", slug="marlbrook")


def _signed_in(club: Club, username: str, *offices: str) -> Client:
    user = UserFactory(username=username)
    for office in offices:
        give_office(club, user, office)
    client = Client()
    client.force_login(user)
    client.user = user  # type: ignore[attr-defined]
    return client


@pytest.fixture
def secretary(club: Club) -> Client:
    """A client signed in as the match secretary; `secretary.user` is the person."""
    return _signed_in(club, "secretary", OfficeName.SECRETARY)


@pytest.fixture
def scalesman(club: Club) -> Client:
    """A client signed in as a scalesman."""
    return _signed_in(club, "scalesman", OfficeName.SCALES)


@pytest.fixture
def treasurer(club: Club) -> Client:
    """A client signed in as the treasurer."""
    return _signed_in(club, "treasurer", OfficeName.TREASURER)


@pytest.fixture
def member(club: Club) -> Client:
    """A client signed in as a member without another office."""
    return _signed_in(club, "member", OfficeName.MEMBER)


@pytest.fixture
def stranger() -> Client:
    """A client nobody has signed in."""
    return Client()
