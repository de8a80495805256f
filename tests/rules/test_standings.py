"""Bare standings: places and points without reasons, the same as those of the whole engine."""

from __future__ import annotations

from fractions import Fraction

import pytest

from league.rules.standings import doubled, halved, standings
from tests.rows import book

HALF = Fraction(1, 2)


def test_half_of_an_odd_number_of_points_is_a_half_and_of_none_nothing():
    assert [halved(points) for points in (0, 1, 2, 3)] == [0, HALF, 1, Fraction(3, 2)]


def test_twice_a_half_is_whole_and_twice_a_third_stays_exact():
    assert doubled(HALF) == 1
    assert isinstance(doubled(HALF), int)
    assert doubled(Fraction(1, 3)) == Fraction(2, 3)


def test_bare_standings_of_level_teams_share_a_place_where_no_rung_splits_them():
    # X 1 + 2 and Y 2 + 1: level on 3, and weight is no rung of this league.
    rules = book(team={"size": 1}, season={"ties": []})
    rows = [(1, "A", "X", 900), (1, "A", "Y", 100), (2, "A", "X", 100), (2, "A", "Y", 200)]

    found = standings(rows, rules)

    assert [(each.place, each.equal, each.total) for each in found] == [(1, True, 3), (1, True, 3)]


def test_bare_standings_count_the_whole_match_where_first_scores_as_many():
    # Three teams in two sections are six: 6, 5 and 4 in each.
    rules = book(section={"direction": "high", "top": "match"}, team={"size": 2})
    rows = [
        (1, name, team, grams)
        for name in "AB"
        for team, grams in (("X", 900), ("Y", 800), ("Z", 700))
    ]

    assert [each.total for each in standings(rows, rules)] == [12, 10, 8]


def test_bare_standings_of_one_team_alone_are_its_places():
    (only,) = standings([(1, "A", "Millrace", 900), (2, "A", "Millrace", 800)], ONE_EACH)

    assert (only.place, only.team, only.total, only.weight) == (1, "Millrace", 2, 1700)


ONE_EACH = book(team={"size": 1})


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        # A team that came to the second round only: absent from a section of two, it has 3.
        (
            [(1, "A", "X", 900), (1, "A", "Y", 800), (2, "A", "X", 700), (2, "A", "Y", 600),
             (2, "A", "Z", 500)],
            [(1, "X", 2), (2, "Y", 4), (3, "Z", 6)],
        ),
        # One team in place of another: Y then absent in round 2, Z in round 1, each 2 + 1.
        (
            [(1, "A", "X", 900), (1, "A", "Y", 800), (2, "A", "X", 700), (2, "A", "Z", 600)],
            [(1, "X", 2), (2, "Y", 5), (3, "Z", 5)],
        ),
    ],
    ids=["one more", "one for another"],
)  # fmt: skip
def test_bare_standings_count_a_team_that_stayed_away(rows, expected):
    found = standings(rows, ONE_EACH)

    assert [(each.place, each.team, each.total) for each in found] == expected


@pytest.mark.parametrize("ties", [["last round"], ["last round", "weight"]])
def test_bare_standings_of_level_teams_go_by_the_ladders_first_rung(ties):
    # X 1 + 2 and Y 2 + 1: level on 3. X is the heavier, Y was first in the last round.
    rules = book(team={"size": 1}, season={"ties": ties})
    rows = [(1, "A", "X", 900), (1, "A", "Y", 100), (2, "A", "X", 100), (2, "A", "Y", 200)]

    assert [each.team for each in standings(rows, rules)] == ["Y", "X"]


def test_bare_standings_count_a_member_that_a_team_is_short_of():
    # X first in both sections. Y is short in B and Z in A: 2 there, and 2 + 1 for the absent.
    rows = [(1, "A", "X", 900), (1, "A", "Y", 800), (1, "B", "X", 700), (1, "B", "Z", 600)]

    found = standings(rows, book(team={"size": 2}))

    assert [(each.team, each.total) for each in found] == [("X", 2), ("Y", 5), ("Z", 5)]
