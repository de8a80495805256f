"""What pages need is gathered once a release, and again where a file of it has changed."""

from __future__ import annotations

from pathlib import Path

import pytest

from league.management.gather import gather


@pytest.fixture
def sheet(tmp_path: Path, settings) -> Path:
    """One style sheet to gather, into an empty folder."""
    (tmp_path / "sources").mkdir()
    settings.STATICFILES_FINDERS = ["django.contrib.staticfiles.finders.FileSystemFinder"]
    settings.STATICFILES_DIRS = [tmp_path / "sources"]
    settings.STATIC_ROOT = tmp_path / "static"
    sheet = tmp_path / "sources" / "look.css"
    sheet.write_text("p { color: green }")
    return sheet


def test_files_are_gathered_again_only_where_one_has_changed(sheet: Path, settings):
    served = settings.STATIC_ROOT / "look.css"
    gather()
    assert served.read_text() == "p { color: green }"

    served.unlink()
    gather()
    assert not served.exists()  # nothing was done: the note says all is there

    sheet.write_text("p { color: darkgreen }")
    gather()
    assert served.read_text() == "p { color: darkgreen }"


def test_a_folder_that_was_thrown_away_is_made_again(sheet: Path, settings):
    gather()
    for path in settings.STATIC_ROOT.iterdir():
        path.unlink()

    gather()

    assert (settings.STATIC_ROOT / "look.css").is_file()
