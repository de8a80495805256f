"""Files that are no sheet at all, or no league: refused early and in a sentence."""

from __future__ import annotations

import tracemalloc
from collections.abc import Iterator
from io import RawIOBase

import pytest

from league.files import sheet
from league.files.sheet import read_sheet
from league.rules.errors import SheetError
from league.rules.rulebook import Rulebook
from tests.rows import sheet_faults as faults

POUNDS = Rulebook()
HEAD = "section,peg,angler,team,weight\n"
SEASON = "round,date,section,peg,angler,weight\n"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (
            b"",
            "The first row is empty. It must hold the headings: section, peg, angler, team, "
            "weight.",
        ),
        (b"section,peg,angler,weight\n", "There is not one row under the headings."),
        (
            b"section,angler,weight\nA,Ana,6-0",
            "Row 1: There is no column peg. The headings are section, peg, angler, team, weight; "
            "a season sheet has round and date in front.",
        ),
        (
            b"round,section,peg,angler,weight\n1,A,1,Ana,6-0",
            "Row 1: There is no column date. The headings are section, peg, angler, team, weight; "
            "a season sheet has round and date in front.",
        ),
        (
            b"section,peg,peg,angler,weight\nA,1,1,Ana,6-0",
            "Row 1, peg: This heading stands there twice. Take one column out.",
        ),
        (
            b"PK\x03\x04rest of a spreadsheet",
            "This is a spreadsheet, not a CSV file. Save it as CSV, UTF-8, and send that.",
        ),
        (
            "section,peg".encode("utf-16"),
            "This file is UTF-16. Save it as CSV, UTF-8, and send that.",
        ),
        (
            b'section,peg,angler,weight\nA,1,"Ana,6-0\n',
            "Row 2: A quotation mark opens here and never closes. Nothing after it can be read.",
        ),
        (
            b'section,peg,angler,weight\nA,1,"An"a,6-0\n',
            "Row 2: A quotation mark stands inside a quoted cell. Write it twice, or quote the "
            "whole cell. Nothing after it can be read.",
        ),
    ],
)
def test_a_file_that_is_no_sheet_is_refused_in_a_sentence(text, words):
    assert words in faults(text)


def test_faults_before_the_file_breaks_off_are_told_too():
    text = 'section,peg,angler,weight\nA,1,Ana,oops\nA,2,"Bo,6-0\n'

    assert [fault.partition(":")[0] for fault in faults(text)] == ["Row 2, weight", "Row 3"]


def test_two_hundred_faults_are_enough():
    found = faults(HEAD + "A,1,Ana,X,oops\n" * 1000)

    assert len(found) == 201
    assert found[-1] == "There may be more: reading stopped after 200 faults."


class Endless(RawIOBase):
    """A file of a million rows made while it is read; *given* says how far that was."""

    def __init__(self, head: bytes, row: bytes, rows: int = 1_000_000) -> None:
        self.given = 0
        self._pieces = self._made(head, row, rows)

    def _made(self, head: bytes, row: bytes, rows: int) -> Iterator[bytes]:
        yield head
        for start in range(0, rows, 1000):
            self.given = start + 1000
            yield b"".join(row % ((n,) * row.count(b"%d")) for n in range(start, start + 1000))

    def read(self, size: int = -1, /) -> bytes:
        return next(self._pieces, b"")


@pytest.mark.parametrize(
    ("head", "row", "most_rows"),
    [
        (b"name,score\n", b"x%d,1\n", 1000),
        (b"section,peg,angler,weight\n", b"A,%d,Angler %d,6-0\n", 4000),
        (b"section,peg,angler,weight\n", b"rubbish\n", 2000),
        (b"round,date,section,peg,angler,weight\n", b"1,2027-05-05,A,%d,N%d,6-0\n", 4000),
        (b"round,date,section,peg,angler,weight\n", b"%d,oops,A,1,N,6-0\n", 2000),
        (b"section,peg,angler,weight\n", b"no line ends here", 2000),
    ],
)
def test_a_million_rows_that_are_no_league_are_refused_early(head, row, most_rows):
    endless = Endless(head, row)

    tracemalloc.start()
    with pytest.raises(SheetError) as refused:
        read_sheet(endless, POUNDS)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()

    assert str(refused.value)
    assert endless.given <= most_rows
    assert peak < 8_000_000


def test_a_season_longer_than_any_league_is_refused(monkeypatch):
    monkeypatch.setattr(sheet, "MOST_ROWS", 3)
    text = SEASON + "".join(f"{n},2027-05-05,A,1,Ana,6-0\n" for n in range(1, 5))

    assert faults(text) == [
        "More than 3 rows: this is no league. Send one season of one league a file."
    ]


def test_a_program_sent_as_a_sheet_is_refused_without_a_byte_of_it_said():
    text = b"\x7fELF\x02\x01\x01\x00\x03\x00>\x00\xd0\xff\n" * 50

    assert faults(text) == [
        "This is no CSV file: its first row holds signs that no text has. Send the sheet saved as "
        "CSV, UTF-8."
    ]


def test_a_long_row_in_latin_1_is_said_only_as_far_as_it_helps_to_find_it():
    text = b"section,peg,angler,weight\nA,1,Ren\xe9e " + b"x" * 500 + b",6-0\n"

    assert "it reads 'A,1,Renée xxxxx" in faults(text)[0]
    assert len(faults(text)[0]) < 220
