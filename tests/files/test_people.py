"""A club's people out of its own spreadsheet: what is read, and what is refused and where."""

from __future__ import annotations

import csv
from io import StringIO

import pytest

from league.files.people import Person, read_people, read_rows, write_people
from league.rules.errors import SheetError


def _names(source: str | bytes) -> list[str]:
    return [person.name for person in read_people(source).people]


def test_rows_pasted_out_of_a_spreadsheet_have_tabs_between_the_cells() -> None:
    read = read_people(
        "Name\tE-mail\tJunior (Y/N)\nIvy Marsh\tivy@example.test\tn\nTom Kerrow\t\tY"
    )

    assert read.people == (
        Person(2, "Ivy Marsh", "ivy@example.test", junior=False),
        Person(3, "Tom Kerrow", None, junior=True),
    )


def test_a_list_of_nothing_but_names_needs_no_heading() -> None:
    assert _names("Ivy Marsh\nTom Kerrow\n\nLen Hathersage") == [
        "Ivy Marsh",
        "Tom Kerrow",
        "Len Hathersage",
    ]


def test_a_surname_before_a_comma_is_turned_round_and_no_first_name_is_lost() -> None:
    assert _names("Name\nKerrow, Tom\nMarsh, Ivy") == ["Tom Kerrow", "Ivy Marsh"]


def test_first_name_and_surname_in_two_columns_are_one_name() -> None:
    assert _names("Surname;First name\nKerrow;Tom") == ["Tom Kerrow"]


def test_an_empty_cell_says_nothing_and_a_no_says_no() -> None:
    read = read_people("name,consent,junior\nTom Kerrow,,yes\nNed Sparrow,no,yes")

    assert [person.consent for person in read.people] == [None, False]


def test_columns_that_are_of_no_use_here_are_named() -> None:
    read = read_people("Name,Membership no.,Paid\nTom Kerrow,12,yes")

    assert read.left_out == ("Membership no.", "Paid")


def test_every_fault_is_told_at_once_by_row_and_column() -> None:
    sheet = (
        "name,email,junior\nTom Kerrow,tom at home,perhaps\n,x@example.test,\nTom Kerrow,,\n123,,"
    )

    with pytest.raises(SheetError) as refused:
        read_people(sheet)

    assert [str(fault) for fault in refused.value.faults] == [
        "Row 2, email: tom at home is no e-mail address.",
        "Row 2, junior: Write yes or no, or nothing, not 'perhaps'.",
        "Row 3, name: Write the angler's name.",
        "Row 5, name: 123 is no name: it has no letter in it.",
    ]


def test_one_name_twice_is_asked_about() -> None:
    with pytest.raises(SheetError, match=r"Row 4, name: tom kerrow is in row 2 already"):
        read_people("name\nTom Kerrow\nIvy Marsh\ntom kerrow")


@pytest.mark.parametrize(
    ("source", "said"),
    [
        ("Tom Kerrow,tom@example.test", "There is no column called name"),
        ("name\n", "There are headings and nobody under them"),
        ("name,name\nTom,Ned", "Two columns are called name"),
        (b"PK\x03\x04", "This is a spreadsheet, not a CSV file"),
        ("name,junior\nTom,yes,no", "Row 2: This row has more cells than there are headings"),
        ("name\n" + "Tom\n" * 2001, "more than 2000 rows"),
    ],
)
def test_what_is_no_list_is_refused_in_words(source: str | bytes, said: str) -> None:
    with pytest.raises(SheetError, match=said):
        read_people(source)


def test_rows_of_a_spreadsheet_keep_its_numbers() -> None:
    with pytest.raises(SheetError, match=r"Row 5, junior"):
        read_rows([["", ""], ["Name", "Junior"], ["Tom Kerrow", ""], ["", ""], ["Ned", "maybe"]])


def test_the_list_written_is_read_back_the_same_by_us_and_by_pythons_own_reader() -> None:
    people = (
        Person(2, "=Ivy Marsh", "ivy@example.test", True, False, None, True),
        Person(3, "Tom Kerrow", None, None, None, True, None),
    )

    text = write_people(people)

    assert read_people(text).people == people
    assert list(csv.reader(StringIO(text)))[1][:3] == ["'=Ivy Marsh", "ivy@example.test", "yes"]
