"""Sheets with something wrong: every fault at once, by row and column, in words."""

from __future__ import annotations

import pytest

from league.files.rulebook import from_dict
from league.files.sheet import read_sheet
from league.rules.rulebook import Rulebook
from tests.rows import sheet_faults as faults

POUNDS = Rulebook()
KILOS = from_dict({"unit": "kg"})
HEAD = "section,peg,angler,team,weight\n"
SEASON = "round,date,section,peg,angler,weight\n"


@pytest.mark.parametrize(
    ("row", "words"),
    [
        (
            "A,1,Ana,X,",
            "Row 2, weight: Nothing stands here. Write the weight, or blank, not weighed, absent "
            "and so on.",
        ),
        (
            "A,1,Ana,X,12.8",
            "Row 2, weight: '12.8' is no weight in pounds and ounces. Write 12-8 for 12 lb 8 oz.",
        ),
        (
            "A,1,Ana,X,14-860",
            "Row 2, weight: '14-860' reads as kilograms and grams, but this match is weighed in "
            "pounds and ounces. Write 12-8 for 12 lb 8 oz.",
        ),
        (
            "A,1,Ana,X,12-16",
            "Row 2, weight: '12-16': ounces go from 0 to 15. Write 13-0 if that is what it was.",
        ),
        (
            "A,1,Ana,X,9999-15",
            "Row 2, weight: '9999-15' is over 999-15-15, the most one net can weigh. "
            "Read it again.",
        ),
        (
            "A,1,Ana,X,-5",
            "Row 2, weight: '-5' is no weight in pounds and ounces. Write 12-8 for 12 lb 8 oz.",
        ),
        (
            "A,1,Ana,X,1e3",
            "Row 2, weight: '1e3' is no weight in pounds and ounces. Write 12-8 for 12 lb 8 oz.",
        ),
        (
            'A,1,Ana,X,"1,000-0"',
            "Row 2, weight: '1,000-0' is no weight in pounds and ounces. "
            "Write 12-8 for 12 lb 8 oz.",
        ),
        (
            "A,1,Ana,X,6-0 +",
            "Row 2, weight: '' is no weight in pounds and ounces. Write 12-8 for 12 lb 8 oz.",
        ),
        (
            "A,1,Ana,X," + "+".join(["1-0"] * 21),
            "Row 2, weight: 21 nets in one cell. Nobody has more than 20.",
        ),
        (
            ",1,Ana,X,6-0",
            "Row 2, section: Write the section, A say. Where a match has none, write the same in "
            "every row.",
        ),
        ("A,,Ana,X,6-0", "Row 2, peg: Write the number of the peg."),
        (
            "A,1,,X,6-0",
            'Row 2, angler: Write the angler\'s name, or "vacant" as the weight where the team '
            "named nobody.",
        ),
        (
            "A,1,Ana,X,6-0,7,8",
            "Row 2: There are more cells than headings: '8' is left over. A cell with a comma in "
            "it needs quotation marks round it.",
        ),
        (
            "A,1," + "x" * 201 + ",X,6-0",
            "Row 2, angler: This is 201 characters long. Keep it under 200.",
        ),
        (
            "A,1,Ana\u202e,X,6-0",
            "Row 2, angler: There is an invisible character in 'Ana\\u202e'. Type it again.",
        ),
    ],
)
def test_a_cell_that_cannot_be_read_is_told_by_row_and_column(row, words):
    assert faults(f"{HEAD}{row}\n") == [words]


@pytest.mark.parametrize(
    ("cell", "words"),
    [
        ("5-64", "'5-64' is no weight in kilograms. Write 5.640 for 5 kg 640 g."),
        ("12-8", "'12-8' is no weight in kilograms. Write 5.640 for 5 kg 640 g."),
        ("1000.000", "'1000.000' is over 999.999 kg, the most one net can weigh. Read it again."),
    ],
)
def test_a_weight_that_is_none_in_kilograms(cell, words):
    assert faults(f"{HEAD}A,1,Ana,X,{cell}", KILOS) == [f"Row 2, weight: {words}"]


def test_two_on_a_peg_an_angler_twice_and_a_team_too_often_are_all_told():
    text = HEAD + "A,1,Ana,X,6-0\nA,1,Bo,Y,5-0\nA,3,ANA,Z,4-0\nA,4,Cy,X,3-0\n"

    assert faults(text) == [
        "Row 3, peg: Peg 1 is in row 2 already. Two anglers cannot share a peg.",
        "Row 4, angler: ANA is in row 2 already. If they are two people, tell them apart by name.",
        "Row 5, team: X have more than one in section A, where the rule book allows one.",
    ]


def test_a_team_bigger_than_the_book_allows_is_told_once():
    rules = from_dict({"team": {"size": 2}})
    rows = [f"{name},{n},Angler {n},X,1-{n}" for n, name in enumerate("ABCD", 1)]

    assert faults(HEAD + "\n".join(rows), rules) == [
        "Row 4, team: X have more than the two anglers of a team. Take one out, or write the size "
        "of a team in the rule book."
    ]


def test_the_same_peg_and_angler_may_come_again_in_another_round():
    text = SEASON + "1,2027-05-05,A,1,Ana,6-0\n2,2027-05-19,A,1,Ana,5-0\n"

    assert len(read_sheet(text, POUNDS).matches) == 2


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        (
            "x,2027-05-05,A,1,Ana,6-0",
            ["Row 2, round: Write the number of the round, 1 or more, not 'x'."],
        ),
        (
            "0,2027-05-05,A,1,Ana,6-0",
            ["Row 2, round: Write the number of the round, 1 or more, not '0'."],
        ),
        ("1,,A,1,Ana,6-0", ["Row 2, date: Write the date of the round, 2027-01-24 say."]),
        (
            "1,05/05/2027,A,1,Ana,6-0",
            ["Row 2, date: '05/05/2027' is no date. Write year, month and day as 2027-01-24."],
        ),
        (
            "1,2027-02-30,A,1,Ana,6-0",
            ["Row 2, date: '2027-02-30' is no date. Write year, month and day as 2027-01-24."],
        ),
        (
            "1,2027-05-05,A,1,Ana,6-0\n1,2027-05-06,A,2,Bo,5-0",
            [
                "Row 3, date: '2027-05-06' here and '2027-05-05' in row 2, for one match. Write "
                "the same in both, or give the matches different rounds."
            ],
        ),
    ],
)
def test_rounds_and_dates_must_make_sense(rows, words):
    assert faults(SEASON + rows) == words


@pytest.mark.parametrize(
    ("cell", "column"), [("-2", "penalty"), ("two", "penalty"), ("1e9", "decided")]
)
def test_points_are_plain_numbers(cell, column):
    text = f"section,peg,angler,weight,{column}\nA,1,Ana,6-0,{cell}\n"

    assert faults(text) == [
        f"Row 2, {column}: {cell!r} is no number of points. Write 2, 2.5 or 7/2, without a sign."
    ]


def test_nuls_and_latin_1_are_told_with_the_row_and_the_other_faults_as_well():
    text = b"section,peg,angler,team,weight\nA,1,Ana\x00,X,6-0\nA,2,Ren\xe9e,Y,5-0\nA,3,Bo,Z,oops\n"

    assert faults(text) == [
        "Row 2: There is a NUL in this row, which no sheet has. Type the row again.",
        "Row 3: This row is not UTF-8, probably Latin-1. Save the file as CSV, UTF-8, so that "
        "names keep their accents: it reads 'A,2,Renée,Y,5-0'.",
        "Row 4, weight: 'oops' is no weight in pounds and ounces. Write 12-8 for 12 lb 8 oz. "
        "Without a weight, write blank, not weighed, withdrew, absent, vacant or disqualified.",
    ]


def test_a_sheet_weighed_in_the_other_unit_is_told_so_once():
    text = "section;peg;angler;weight\nA;1;Ana;5.640\nA;2;Bo;4.100\nA;3;Cy;blank\n"

    found = faults(text)

    assert found[0] == (
        'The weights look like kg, and the rule book says unit = "lb-oz". Use a rule book with '
        'unit = "kg".'
    )
    assert len(found) == 3


@pytest.mark.parametrize("cell", ["DNW", "dns", "nil"])
def test_a_status_by_another_name_is_told_the_words_there_are(cell):
    told = faults(f"section,peg,angler,weight\nA,1,Ana,{cell}\nA,2,Bo,6-0\n")

    assert len(told) == 1
    assert told[0].endswith(
        "Without a weight, write blank, not weighed, withdrew, absent, vacant or disqualified."
    )
