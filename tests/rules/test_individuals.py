"""Individual leagues: section points, places in the whole match, or aggregate weight."""

from __future__ import annotations

from fractions import Fraction

import pytest

from league.rules.lines import Row
from league.rules.matches import score_match
from league.rules.table import score_season
from tests.rows import book, line_of, row, section

TWO_SECTIONS = [*section([900, 500, "blank"]), *section([800, 700, "blank"], "B")]


def season_of(rules, *rounds, **more):
    return score_season(
        [(number, score_match(rows, rules)) for number, rows in enumerate(rounds, 1)],
        rules,
        **more,
    )


def totals(season):
    return {line.name: line.total for line in season.anglers}


def test_places_are_those_of_the_whole_match_whatever_the_sections():
    season = season_of(book(season={"score": "places"}), TWO_SECTIONS)

    # 900, 800, 700, 500, and two blanks on (5 + 6) / 2.
    half = Fraction(11, 2)
    assert totals(season) == {"A1": 1, "B1": 2, "B2": 3, "A2": 4, "A3": half, "B3": half}
    assert [each.rounds[0].place for each in season.anglers] == [1, 2, 3, 4, 5, 5]


def test_in_high_points_the_first_of_six_scores_six_and_a_blank_by_the_books_rule():
    rules = book(
        section={"direction": "high", "top": 10, "blank": 0, "absent": 0},
        season={"score": "places"},
    )

    season = season_of(rules, TWO_SECTIONS)

    assert totals(season) == {"A1": 6, "B1": 5, "B2": 4, "A2": 3, "A3": 0, "B3": 0}


def test_points_are_those_of_the_section():
    season = season_of(book(), TWO_SECTIONS)

    assert totals(season) == {"A1": 1, "B1": 1, "B2": 2, "A2": 2, "A3": 3, "B3": 3}


@pytest.mark.parametrize(("score", "missed"), [("points", 4), ("places", 7), ("weight", 0)])
def test_who_was_not_there_is_absent(score, missed):
    later = [*section([900, 500, 400]), *section([800, 700], "B")]
    rules = book(season={"score": score})

    season = season_of(rules, TWO_SECTIONS, [*later, row("C1", 1, "B")])

    assert line_of(season, "C1").rounds[0].score == missed
    assert line_of(season, "C1").rounds[0].status == "absent"


def test_an_angler_registered_and_never_seen_is_absent_throughout():
    season = season_of(book(), TWO_SECTIONS, anglers={"Zed": "Zed"})

    assert line_of(season, "Zed").total == 4
    assert (line_of(season, "Zed").fished, line_of(season, "Zed").weight) == (0, 0)


def test_weight_adds_up_and_the_lightest_round_is_dropped():
    rules = book(season={"score": "weight", "drop": 1, "ties": ["best round weight"]})
    rounds = (
        [row("Ana", 900), row("Bo", 500), row("Cy", 400)],
        [row("Ana", 100), row("Bo", 600), row("Cy", 900)],
        [row("Ana", 300), row("Bo", 700), row("Di", 2000)],
    )

    season = season_of(rules, *rounds)

    assert [(line.name, line.total) for line in season.anglers] == [
        ("Di", 2000), ("Cy", 1300), ("Bo", 1300), ("Ana", 1200),
    ]  # fmt: skip
    assert line_of(season, "Cy").split.decided.rung == "best round weight"
    assert [each.dropped for each in line_of(season, "Di").rounds] == [True, False, False]
    assert season.by_weight


def test_a_teams_weight_league_adds_up_its_members_and_nothing_for_a_round_missed():
    rules = book(team={"size": 2}, season={"score": "weight"})
    first = [row("X1", 900, "A", team="X"), row("X2", 100, "B", team="X"),
             row("Y1", 800, "A", team="Y"), row("Y2", 300, "B", team="Y")]  # fmt: skip
    second = [each for each in first if each.team == "Y"]

    season = season_of(rules, first, second)

    assert [(line.name, line.total) for line in season.table] == [("Y", 2200), ("X", 1000)]
    assert [each.score for each in season.table[1].rounds] == [1000, 0]


def test_penalties_belong_to_anglers_where_nobody_has_a_team():
    season = season_of(book(), [row("Ana", 900), row("Bo", 800)], penalties={"Ana": 5})

    assert totals(season) == {"Bo": 2, "Ana": 6}
    assert season.table == season.anglers


def test_keys_tell_two_anglers_of_one_name_apart():
    rows = [
        Row("A", "1", "J. Smith", nets=(900,), angler_id="a1"),
        Row("A", "2", "J. Smith", nets=(800,), angler_id="a2"),
    ]

    season = season_of(book(), rows, rows)

    assert [(line.name, line.key, line.total) for line in season.anglers] == [
        ("J. Smith", "a1", 2), ("J. Smith", "a2", 4),
    ]  # fmt: skip


def test_in_a_league_of_teams_by_places_an_anglers_round_is_worth_the_section_points():
    rules = book(team={"size": 2}, section={"direction": "high"}, season={"score": "places"})
    rows = [row("X1", 900, "A", team="X"), row("X2", 100, "B", team="X"),
            row("Y1", 800, "A", team="Y"), row("Y2", 300, "B", team="Y")]  # fmt: skip

    season = season_of(rules, rows)

    # Two in a section: first 2, last 1. X 2 + 1, Y 1 + 2: level on points; X have 1,000 against
    # 1,100, so Y win the round, 2 to 1. In the whole match Y1 would be second, X2 last.
    assert [(line.name, line.total) for line in season.table] == [("Y", 2), ("X", 1)]
    assert totals(season) == {"X1": 2, "Y2": 2, "Y1": 1, "X2": 1}
    assert {line.name: line.rounds[0].place for line in season.anglers} == {
        "X1": 1, "Y2": 1, "Y1": 2, "X2": 2,
    }  # fmt: skip
