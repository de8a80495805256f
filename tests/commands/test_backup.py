"""`backup` and `restore`: whole copies only, and nothing replaced by mistake."""

from __future__ import annotations

import sqlite3
import stat
from contextlib import closing
from pathlib import Path

import pytest

from league.rules import draw
from tests.commands.conftest import run_manage
from tests.operations.draw_scene import COMMITMENT, SECRET


def rename_club(data: Path, name: str) -> None:
    with closing(sqlite3.connect(data / "drawbag.sqlite3")) as kept, kept:
        kept.execute("UPDATE league_club SET name = ?", [name])


def club_in(path: Path) -> str:
    with closing(sqlite3.connect(path)) as kept:
        found: str = kept.execute("SELECT name FROM league_club").fetchone()[0]
    return found


def test_a_backup_is_whole_and_for_its_owner_alone(own_trial: Path, tmp_path: Path):
    done = run_manage(own_trial, "backup", tmp_path / "club.backup")

    assert done.returncode == 0, done.stderr
    with closing(sqlite3.connect(tmp_path / "club.backup")) as copy:
        copy.create_function("REGEXP", 2, lambda pattern, text: 1)
        assert copy.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert copy.execute("SELECT count(*) FROM league_match").fetchone() == (24,)
    assert stat.S_IMODE((tmp_path / "club.backup").stat().st_mode) == 0o600


def test_a_backup_holds_what_is_not_written_back_yet(own_trial: Path, tmp_path: Path):
    with closing(sqlite3.connect(own_trial / "drawbag.sqlite3")) as open_still:
        open_still.execute("PRAGMA journal_mode=WAL")
        with open_still:
            open_still.execute("UPDATE league_club SET name = 'Newest AC'")
        done = run_manage(own_trial, "backup", tmp_path / "club.backup")

    assert done.returncode == 0, done.stderr
    assert club_in(tmp_path / "club.backup") == "Newest AC"


def test_a_restore_brings_the_old_records_back_and_keeps_todays_aside(
    own_trial: Path, tmp_path: Path
):
    run_manage(own_trial, "backup", tmp_path / "club.backup")
    rename_club(own_trial, "Renamed Since AC")

    done = run_manage(own_trial, "restore", tmp_path / "club.backup")

    assert done.returncode == 0, done.stderr
    assert club_in(own_trial / "drawbag.sqlite3") == "Marlbrook & District AC"
    aside = list(own_trial.glob("drawbag.sqlite3.before-*"))
    assert [club_in(path) for path in aside] == ["Renamed Since AC"]


def test_a_restore_into_an_empty_folder_sets_the_club_up(own_trial: Path, tmp_path: Path):
    run_manage(own_trial, "backup", tmp_path / "club.backup")

    done = run_manage(tmp_path / "new", "restore", tmp_path / "club.backup")

    assert done.returncode == 0, done.stderr
    assert club_in(tmp_path / "new" / "drawbag.sqlite3") == "Marlbrook & District AC"


def test_what_is_no_whole_backup_replaces_nothing(own_trial: Path, tmp_path: Path):
    run_manage(own_trial, "backup", tmp_path / "club.backup")
    whole = (tmp_path / "club.backup").read_bytes()
    (tmp_path / "half").write_bytes(whole[: len(whole) // 2])
    (tmp_path / "letter.txt").write_text("Dear secretary,")
    with closing(sqlite3.connect(tmp_path / "other.sqlite3")) as other, other:
        other.execute("CREATE TABLE fish (name TEXT)")
    with closing(sqlite3.connect(tmp_path / "club.backup")) as later, later:
        later.execute(
            "INSERT INTO django_migrations (app, name, applied) "
            "VALUES ('league', '0999_from_next_year', '2027-01-01')"
        )
    said = {
        "half": "is no backup of these records",
        "letter.txt": "is no backup",
        "other.sqlite3": "is no backup of these records",
        "club.backup": "made by a later version of the program",
        "nowhere": "There is no file",
    }

    for name, words in said.items():
        done = run_manage(own_trial, "restore", tmp_path / name)
        assert done.returncode == 1, name
        assert words in done.stderr, name
        assert "Traceback" not in done.stderr, name
    assert club_in(own_trial / "drawbag.sqlite3") == "Marlbrook & District AC"
    assert list(own_trial.glob("*.before-*")) == []


@pytest.mark.long
def test_a_backup_that_cannot_be_brought_up_to_date_leaves_todays_records_standing(
    own_trial: Path, tmp_path: Path
):
    run_manage(own_trial, "backup", tmp_path / "club.backup")
    with closing(sqlite3.connect(tmp_path / "club.backup")) as odd, odd:
        # Its last tables are there, and it says that they are not: they cannot be made twice.
        odd.execute("DELETE FROM django_migrations WHERE app = 'league' AND name >= '0009'")
    rename_club(own_trial, "Renamed Since AC")

    done = run_manage(own_trial, "restore", tmp_path / "club.backup")

    assert done.returncode == 1
    assert "Today's records stand as they were." in done.stderr
    assert "Traceback" not in done.stderr
    assert club_in(own_trial / "drawbag.sqlite3") == "Renamed Since AC"
    assert run_manage(own_trial, "migrate", "--check").returncode == 0


def test_a_backup_never_replaces_another_kind_of_file_or_the_database(
    own_trial: Path, tmp_path: Path
):
    letter = tmp_path / "letter.txt"
    letter.write_text("Dear secretary,")

    over_letter = run_manage(own_trial, "backup", letter)
    over_itself = run_manage(own_trial, "backup", own_trial / "drawbag.sqlite3")

    assert (over_letter.returncode, over_itself.returncode) == (1, 1)
    assert "is no backup, so it is not replaced" in over_letter.stderr
    assert "That is the database itself" in over_itself.stderr
    assert letter.read_text() == "Dear secretary,"
    assert list(tmp_path.glob(".letter*")) == []


SEAL = f"""
from league.models import Match
from league.operations.draw import seal
match = Match.objects.filter(stage="planned", draw_record__isnull=True).first()
print(seal(match, by=None, secret={SECRET!r}).commitment)
"""


def test_neither_the_database_nor_its_backup_gives_a_draws_secret_away(
    own_trial: Path, tmp_path: Path
):
    made = run_manage(own_trial, "shell", "-c", SEAL)
    assert made.stdout.split()[-1:] == [COMMITMENT], made.stderr

    done = run_manage(own_trial, "backup", tmp_path / "club.backup")

    assert done.returncode == 0, done.stderr
    for path in (tmp_path / "club.backup", *own_trial.glob("drawbag.sqlite3*")):
        data = path.read_bytes()
        for link in draw.chain(SECRET)[:5]:
            assert link.encode() not in data, path
            assert bytes.fromhex(link) not in data, path
    assert COMMITMENT.encode() in (tmp_path / "club.backup").read_bytes()  # a search that finds
