"""The journal is only added to, whoever writes to the tables and however."""

from __future__ import annotations

from importlib import import_module

import pytest
from django.db import IntegrityError, connection, transaction

from league.models import Act, Club
from league.operations.journal import write_down
from tests.builders import make_match
from tests.factories import UserFactory

MIGRATION = "league.migrations.0007_the_journal_is_only_added_to"


@pytest.fixture
def line(club: Club) -> Act:
    return write_down("Silas Underhay is booked in.", by=UserFactory(), club=club)


@pytest.mark.parametrize("change", ["by_id = NULL", "at = '2020-01-01'", "match_id = 1", "id = 99"])
def test_nobody_changes_who_when_or_about_what(line: Act, change: str) -> None:
    with pytest.raises(IntegrityError, match="added to and never changed"):
        _do(f"UPDATE league_act SET {change}")  # noqa: S608  the test's own words

    line.refresh_from_db()
    assert line.by is not None


def test_a_line_lets_go_of_a_match_that_is_taken_out_and_takes_no_other(club: Club) -> None:
    match, other = make_match(club), make_match(club)
    line = write_down("Round 1 planned.", by=None, club=club, match=match)
    with pytest.raises(IntegrityError, match="added to and never changed"):
        _do(f"UPDATE league_act SET match_id = {other.pk}")  # noqa: S608  the test's own words

    match.delete()

    line.refresh_from_db()
    assert (line.match, line.what) == (None, "Round 1 planned.")


def test_a_line_cannot_be_taken_out(line: Act) -> None:
    if connection.vendor == "sqlite":
        # Taken off for the tests alone, which empty the tables: conftest.py.
        _do(import_module(MIGRATION).SQLITE[1])

    with pytest.raises(IntegrityError, match="added to and never changed"):
        _do("DELETE FROM league_act")

    assert Act.objects.get() == line


def _do(statement: str) -> None:
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(statement)


def test_a_person_who_is_erased_is_erased_in_the_words(line: Act) -> None:
    Act.objects.reword(line, "somebody erased is booked in.")

    line.refresh_from_db()
    assert line.what == "somebody erased is booked in."
