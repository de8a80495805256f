"""Many phones at once, on the database as shipped: a SQLite file, or the server of the run."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.benchmarks import store
from tests.tools import IN_CI


@pytest.mark.parametrize(
    ("phones", "each", "processes"), [(8, 12, 1), pytest.param(32, 6, 2, marks=pytest.mark.long)]
)
def test_phones_posting_at_once_lose_nothing_double_nothing_and_are_never_refused(
    tmp_path: Path, phones: int, each: int, processes: int
) -> None:
    found = store.measured(tmp_path, phones=phones, each=each, processes=processes)

    assert found["different"] == phones * each
    assert found["sent"] > found["different"]  # repeats were among them
    assert found["wrong"] == {}
    assert found["missing"] == 0
    assert found["doubled"] == 0
    assert found["created"] == found["different"]
    assert found["repeated"] == found["sent"] - found["different"]
    assert found["engine"] == ("postgresql" if "DATABASE_URL" in os.environ else "sqlite")


@pytest.mark.skipif("DATABASE_URL" in os.environ, reason="The count is SQLite's; servers differ.")
def test_a_weigh_in_asks_the_disk_once(tmp_path: Path) -> None:
    counting = store.counter(tmp_path)
    if counting is None:
        words = "No C compiler: how often the disk is asked cannot be counted."
        pytest.fail(words) if IN_CI else pytest.skip(words)

    found = store.measured(tmp_path, counting=counting, phones=1, each=150, repeats=0)

    # One a weigh-in, and a few more where the write-ahead log is emptied into the file.
    assert found["created"] == 150
    assert 1.0 <= found["fsyncs"] / found["created"] <= 1.1


@pytest.fixture(scope="module")
def together(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What came of six secretaries pressing at once, act by act."""
    environment = {**os.environ, "DRAWBAG_DATA": str(tmp_path_factory.mktemp("together"))}
    done = subprocess.run(
        [sys.executable, "-m", "tests.operations.together"],
        cwd=store.ROOT,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    return found


def test_six_booking_one_angler_in_at_once_book_him_in_once(together: dict[str, Any]) -> None:
    assert together["booked"] == {"1": 1, "refused: This angler is already booked in.": 5}


def test_six_anglers_booked_in_at_once_have_six_numbers(together: dict[str, Any]) -> None:
    assert together["numbers"] == ["2", "3", "4", "5", "6", "7"]


def test_six_drawing_at_once_draw_once_and_all_see_the_same_draw(together: dict[str, Any]) -> None:
    assert together["begun"] == {"1": 6}
    assert list(together["drawn"].values()) == [6]
    assert all(len(seed) == 64 for seed in together["drawn"])
    assert (together["draw_events"], together["on_pegs"], together["stage"]) == (1, 7, "drawn")


def test_six_bringing_one_late_entry_in_at_once_bring_it_in_once(together: dict[str, Any]) -> None:
    assert together["late"] == {"2": 1, "refused: This angler is already booked in.": 5}


def test_six_publishing_at_once_publish_one_version(together: dict[str, Any]) -> None:
    assert together["published"] == {
        "1": 1,
        "refused: Version 1 was published meanwhile; look again.": 5,
    }
    assert together["corrected"] == {
        "2": 1,
        "refused: Version 2 was published meanwhile; look again.": 5,
    }
    assert together["versions"] == [2, 1]


def test_two_settling_a_peg_two_ways_at_once_settle_it_one_way(together: dict[str, Any]) -> None:
    assert together["settled"] == {
        "2": 1,
        "refused: This figure was set aside meanwhile; look again.": 1,
    }


def test_six_disqualifying_one_angler_at_once_do_it_once(together: dict[str, Any]) -> None:
    assert sorted(together["decided"].values()) == [1, 5]
    assert together["decided"]["disqualified"] == 1


def test_six_pressing_paid_at_once_take_one_stake(together: dict[str, Any]) -> None:
    assert sorted(together["taken"].values()) == [1, 5]
    assert together["taken"]["1000"] == 1
    assert any("nothing was taken twice" in outcome for outcome in together["taken"])


def test_six_fixing_and_handing_over_at_once_pay_out_once(together: dict[str, Any]) -> None:
    assert together["fixed"] == {
        "1": 1,
        "refused: The payouts were fixed meanwhile; look again.": 5,
    }
    assert sorted(together["handed"].values()) == [1, 5]
    assert together["handed"]["1000"] == 1
    assert together["tin"] == 0


def test_two_secretaries_taking_each_others_office_at_once_leave_one(
    together: dict[str, Any],
) -> None:
    assert together["secretaries"] == 1
    assert together["offices"].pop("None") == 1
    assert "is the only match secretary" in next(iter(together["offices"]))
