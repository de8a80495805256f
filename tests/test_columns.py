"""Headings and cells of every published table."""

from fractions import Fraction

import pytest

from league.columns import (
    match_columns,
    overall_columns,
    placing,
    plain_points,
    section_columns,
    table_columns,
    team_columns,
)
from league.files.rulebook import from_dict
from league.rules.lines import Row, Status
from league.rules.matches import score_match
from league.rules.table import score_season
from league.rules.weights import Unit

# Two level on 9-4, a blank, and one that was not weighed; high points, so 4 for the first of four.
HIGH = from_dict(
    {"section": {"direction": "high", "blank": 0, "not_weighed": 0}, "team": {"size": 1}}
)
ROWS = [
    Row("A", "1", "Len Cudworthy", "Millrace", nets=(2368,)),
    Row("A", "2", "Chris Maddern", "Lamplighters", nets=(2368,)),
    Row("A", "3", "Pete Brackwell", "Old Quarry", Status.BLANK),
    Row("A", "4", "Ron Tibbald", "Bridge End", Status.NOT_WEIGHED),
]


def printed(columns, lines):
    return [[column.value(line) for column in columns] for line in lines]


def in_file(columns, lines):
    return [[column.in_file(line) for column in columns] for line in lines]


def test_a_section_is_printed_with_its_equals_and_its_dashes():
    section = score_match(ROWS, HIGH).sections[0]

    assert [column.heading for column in section_columns(Unit.LB_OZ)] == [
        "Place",
        "Peg",
        "Angler",
        "Team",
        "Weight",
        "Points",
    ]
    assert printed(section_columns(Unit.LB_OZ), section.lines) == [
        ["1=", "1", "Len Cudworthy", "Millrace", "9-4", "3½"],
        ["1=", "2", "Chris Maddern", "Lamplighters", "9-4", "3½"],
        ["–", "3", "Pete Brackwell", "Old Quarry", "blank", "0"],
        ["–", "4", "Ron Tibbald", "Bridge End", "did not weigh", "0"],
    ]


def test_in_a_file_no_weight_is_a_date_and_no_half_is_a_sign():
    section = score_match(ROWS, HIGH).sections[0]

    assert in_file(match_columns(Unit.LB_OZ), section.lines)[:2] == [
        ["A", "1=", "1", "Len Cudworthy", "Millrace", "9 lb 4 oz", "3.5"],
        ["A", "1=", "2", "Chris Maddern", "Lamplighters", "9 lb 4 oz", "3.5"],
    ]


def test_kilograms_are_headed_as_such_and_stay_plain_numbers():
    rows = [Row("", "1", "Ana Ferradas", nets=(5640,)), Row("", "2", "Jo Ormesher", nets=(810,))]
    result = score_match(rows, from_dict({"unit": "kg"}))
    columns = overall_columns(Unit.KG)

    assert columns[-1].heading == "Weight (kg)"
    assert [line[-1] for line in in_file(columns, result.anglers)] == ["5.640", "0.810"]


def test_a_team_has_a_column_a_section_and_both_its_members_in_it():
    book = from_dict({"team": {"size": 2, "per_section": 2}})
    rows = [
        Row("A", "1", "Ana Ferradas", "Lamplighters", nets=(1600,)),
        Row("A", "2", "Barry Osgathorp", "Lamplighters", nets=(800,)),
        Row("A", "3", "Jo Ormesher", "Tannery Lane", nets=(1200,)),
        Row("A", "4", "Ray Tolliver", "Tannery Lane", nets=(400,)),
    ]
    teams = score_match(rows, book).teams

    assert printed(team_columns(["A"], Unit.LB_OZ), teams) == [
        ["1", "Lamplighters", "1 + 3", "4", "9-6"],
        ["2", "Tannery Lane", "2 + 4", "6", "6-4"],
    ]


def test_a_dropped_round_is_written_so_that_no_spreadsheet_takes_it_for_minus():
    book = from_dict({"season": {"best": 1}, "team": {"size": 1}})
    first = score_match([Row("A", "1", "Ana", "One", nets=(9,)), Row("A", "2", "Jo", "Two")], book)
    other = score_match([Row("A", "1", "Ana", "One"), Row("A", "2", "Jo", "Two", nets=(9,))], book)
    season = score_season([(1, first), (2, other)], book, planned=3)
    columns = table_columns([1, 2, 3], Unit.LB_OZ)

    assert [column.heading for column in columns] == [
        "Place",
        "Team",
        "1",
        "2",
        "3",
        "Points",
        "Weight",
    ]
    by_name = {line.name: line for line in season.table}
    assert [column.in_file(by_name["One"]) for column in columns[2:5]] == ["1", "2 dropped", ""]
    assert [column.value(by_name["One"]) for column in columns[2:5]] == ["1", "2", ""]


def test_where_weights_are_added_up_the_total_is_a_weight():
    book = from_dict({"season": {"score": "weight"}, "team": {"size": 1}})
    result = score_match([Row("A", "1", "Ana", "One", nets=(3200,))], book)
    season = score_season([(1, result)], book)
    columns = table_columns([1], Unit.LB_OZ, by_weight=True)

    assert [column.value(season.table[0]) for column in columns] == [
        "1",
        "One",
        "12-8",
        "12-8",
        "12-8",
    ]


@pytest.mark.parametrize(
    ("place", "equal", "written"), [(3, True, "3="), (1, False, "1"), (None, False, "–")]
)
def test_a_place_is_printed_with_its_equals_sign(place, equal, written):
    assert placing(place, equal) == written


@pytest.mark.parametrize(
    ("points", "written"),
    [(Fraction(7, 2), "3.5"), (Fraction(34, 3), "34/3"), (6, "6"), (None, "")],
)
def test_points_in_a_file_are_exact(points, written):
    assert plain_points(points) == written
