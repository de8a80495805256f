"""Many phones at once, on the database as shipped: a SQLite file, or the server of the run."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.benchmarks import store
from tests.tools import IN_CI


@pytest.mark.parametrize(("phones", "each", "processes"), [(8, 12, 1), (32, 6, 2)])
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
