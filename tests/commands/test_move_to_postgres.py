"""The move to PostgreSQL, and what keeps the records safe there: on a server made for the run."""

from __future__ import annotations

import json
import re
import shutil
import sqlite3
import subprocess
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from tests import postgres
from tests.commands.conftest import run_manage
from tests.tools import postgres_program

pytestmark = pytest.mark.postgres


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    with postgres.server() as url:
        yield url


@pytest.fixture(scope="module")
def moved(
    trial: Path, address: str, tmp_path_factory: pytest.TempPathFactory
) -> tuple[Path, str, str]:
    """The demo's folder, its records in an empty database, and what was said of the move."""
    data = tmp_path_factory.mktemp("moved") / "var"
    shutil.copytree(trial, data)
    url = new_database(address, "moved")
    done = run_manage(data, "move_to_postgres", url)
    assert done.returncode == 0, done.stderr
    return data, url, done.stdout


def new_database(address: str, name: str) -> str:
    name = re.sub(r"\W+", "_", name)[:50].lower()
    ask(address, f"CREATE DATABASE {name}")
    return address.rsplit("/", 1)[0] + f"/{name}"


def ask(url: str, statement: str) -> str:
    done = subprocess.run(
        [str(postgres_program("psql")), "-qAt", "-v", "ON_ERROR_STOP=1", "-c", statement, url],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


def unloaded(data: Path, folder: Path, url: str = "") -> dict[str, object]:
    """Every published result, table and draw of the club, as plain files."""
    done = run_manage(data, "unload", folder, more={"DATABASE_URL": url} if url else None)
    assert done.returncode == 0, done.stderr
    return {
        str(path.relative_to(folder)): read(path)
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def read(path: Path) -> object:
    """What a file says; PostgreSQL keeps the names in a document in an order of its own."""
    return json.loads(path.read_bytes()) if path.suffix == ".json" else path.read_bytes()


def test_everything_moves_and_every_table_says_the_same_to_the_ounce(
    moved: tuple[Path, str, str], tmp_path: Path
) -> None:
    data, url, said = moved

    with closing(sqlite3.connect(data / "drawbag.sqlite3")) as kept:
        entries = kept.execute("SELECT count(*) FROM league_entry").fetchone()[0]
    assert re.search(rf"^ *{entries}  league_entry  [0-9a-f]{{16}}$", said, re.M)
    assert "rows moved and compared." in said
    before, after = unloaded(data, tmp_path / "file"), unloaded(data, tmp_path / "server", url)
    assert len(before) > 10
    assert after == before


def test_new_rows_are_numbered_after_those_that_came(moved: tuple[Path, str, str]) -> None:
    _, url, _ = moved
    highest = int(ask(url, "SELECT max(id) FROM league_act"))

    ask(
        url,
        "INSERT INTO league_act (club_id, what, at) SELECT id, 'A line.', now() FROM league_club",
    )

    assert ask(url, "SELECT id FROM league_act WHERE what = 'A line.'") == str(highest + 1)


@pytest.mark.long
def test_a_target_that_is_not_empty_is_refused_and_left_alone(
    own_trial: Path, address: str, moved: tuple[Path, str, str]
) -> None:
    data, url, _ = moved
    strange = new_database(address, "strange")
    ask(strange, "CREATE TABLE fish (name text)")

    again = run_manage(data, "move_to_postgres", url)
    other = run_manage(data, "move_to_postgres", more={"DRAWBAG_MOVE_TO": strange})
    nowhere = run_manage(data, "move_to_postgres", "postgres://nobody@127.0.0.1:1/none")

    assert (again.returncode, other.returncode, nowhere.returncode) == (1, 1, 1)
    assert "The database cannot be reached" in nowhere.stderr
    assert "Traceback" not in nowhere.stderr
    assert "The target is not empty" in again.stderr
    assert "The target holds tables of something else: fish" in other.stderr
    assert ask(url, "SELECT count(*) FROM league_club") == "1"
    assert ask(strange, "SELECT count(*) FROM pg_tables WHERE schemaname = 'public'") == ("1")


@pytest.mark.long
def test_what_goes_wrong_half_way_leaves_nothing_half_moved(own_trial: Path, address: str) -> None:
    url = new_database(address, "half_way")
    with closing(sqlite3.connect(own_trial / "drawbag.sqlite3")) as kept, kept:
        # SQLite holds what PostgreSQL has no room for; the journal is nearly the last to be copied.
        kept.execute(
            "INSERT INTO league_act (club_id, what, at) SELECT id, ?, '2027-01-24' "
            "FROM league_club",
            ["x" * 301],
        )

    done = run_manage(own_trial, "move_to_postgres", url)

    assert done.returncode == 1
    assert "Nothing is moved. PostgreSQL says: value too long" in done.stderr
    assert "Traceback" not in done.stderr
    assert ask(url, "SELECT count(*) FROM league_club") == "0"


@pytest.mark.parametrize(
    ("url", "said"),
    [
        ("", "Say where to"),
        ("sqlite:///other.sqlite3", "no PostgreSQL database"),
        ("nonsense", "no address of a database"),
    ],
)
@pytest.mark.django_db
def test_an_address_that_leads_nowhere_is_told_in_words(
    url: str, said: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("DRAWBAG_MOVE_TO", raising=False)
    with pytest.raises(CommandError, match=said):
        call_command("move_to_postgres", *([url] if url else []))


@pytest.mark.long
def test_a_backup_there_is_restored_whole_or_not_at_all(
    moved: tuple[Path, str, str], tmp_path: Path
) -> None:
    data, url, _ = moved
    there = {"DATABASE_URL": url}
    before = unloaded(data, tmp_path / "before", url)
    backup = tmp_path / "club.dump"

    made = run_manage(data, "backup", backup, more=there)
    ask(url, "UPDATE league_club SET name = 'Renamed Since AC'")
    whole = backup.read_bytes()
    (tmp_path / "half").write_bytes(whole[: len(whole) // 2])
    (tmp_path / "bent").write_bytes(whole[:-9000] + bytes(9000))
    (tmp_path / "letter.txt").write_text("Dear secretary,")
    refused = [
        run_manage(data, "restore", tmp_path / name, more=there)
        for name in ("half", "bent", "letter.txt")
    ]
    name_meanwhile = ask(url, "SELECT name FROM league_club")
    done = run_manage(data, "restore", backup, more=there)

    assert made.returncode == 0, made.stderr
    assert [each.returncode for each in refused] == [1, 1, 1]
    assert all("Traceback" not in each.stderr for each in refused)
    assert name_meanwhile == "Renamed Since AC"
    assert done.returncode == 0, done.stderr
    assert unloaded(data, tmp_path / "after", url) == before
    # What was replaced is kept aside, and the journal is held as before.
    assert len(list((data / "backups").glob("before-*.dump"))) == 1
    assert ask(url, "SELECT count(*) FROM pg_trigger WHERE tgname LIKE 'act_is_never%'") == ("2")


@pytest.mark.long
def test_the_daily_round_dumps_there(moved: tuple[Path, str, str]) -> None:
    data, url, _ = moved

    done = run_manage(data, "daily", more={"DATABASE_URL": url})

    assert done.returncode == 0, done.stderr
    assert len(list((data / "backups").glob("drawbag-*.dump"))) == 1
