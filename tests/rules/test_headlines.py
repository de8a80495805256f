"""The answer as a headline, for a match and for a table."""

from __future__ import annotations

import pytest

from league.rules import words
from league.rules.books import READY_MADE
from league.rules.headlines import (
    Record,
    called_off,
    headline,
    record_of,
    say_record,
    table_headline,
)
from league.rules.matches import score_match
from league.rules.table import score_season
from league.rules.weights import Unit
from tests.rows import book, heron_lake, row, winter

WINTER = READY_MADE["high-best-five-places"]


@pytest.mark.parametrize(
    ("weights", "expected"),
    [
        ({"X": 9, "Y": 8}, "X win"),
        ({"X": 9, "Y": 9, "Z": 8}, "X and Y share it"),
        ({"X": 9, "Y": 9, "Z": 9}, "X, Y and Z share it"),
        (dict.fromkeys("VWXYZ", 9), "Five teams share it"),
        ({"X": "blank", "Y": "blank"}, "A blank for everybody"),
    ],
)
def test_the_headline_of_a_team_match(weights, expected):
    rows = [row(who, each, team=who) for who, each in weights.items()]

    assert headline(score_match(rows, book(team={"size": 1}))) == expected


def test_the_headline_names_what_split_the_first_two():
    assert headline(heron_lake(WINTER)) == "Tannery Lane win on total weight"
    assert headline(heron_lake(WINTER), "round 6") == "Tannery Lane win round 6 on total weight"


@pytest.mark.parametrize(
    ("weights", "expected"),
    [
        ({"Ana": 5640, "Bo": 4000}, "Ana wins with 5.640 kg"),
        ({"Ana": 4000, "Bo": 4000}, "Ana and Bo share it with 4.000 kg"),
        ({"Ana": "blank"}, "A blank for everybody"),
        ({"Ana": "blank", "Bo": "absent"}, "A blank for everybody"),
        ({"Ana": "not weighed", "Bo": "withdrew"}, "Nobody weighed in"),
        ({"Ana": "absent", "Bo": "absent"}, "Nobody fished"),
        ({}, "Nobody has fished yet"),
    ],
)
def test_the_headline_of_an_individual_match(weights, expected):
    rows = [row(who, each) for who, each in weights.items()]

    assert headline(score_match(rows, book())) == expected


RECORD = Record(weight=5640, before=5100, matches=6)


@pytest.mark.parametrize(
    ("weights", "expected"),
    [
        ({"Ana": 5640, "Bo": 4000}, "Ana wins with a record 5.640 kg"),
        ({"Ana": 5640, "Bo": 5640}, "Ana and Bo share it with a record 5.640 kg"),
    ],
)
def test_a_record_stands_in_the_headline_of_an_individual_match(weights, expected):
    rows = [row(who, each) for who, each in weights.items()]

    assert headline(score_match(rows, book()), record=RECORD) == expected


@pytest.mark.parametrize(
    ("weights", "expected"),
    [
        ({"X": 5640, "Y": 8}, "X win; a record 5.640 kg for X’s angler"),
        (
            {"X": 5640, "Y": 5640},
            "X and Y share it; a record 5.640 kg for X’s angler and Y’s angler",
        ),
    ],
)
def test_a_record_stands_in_the_headline_of_a_team_match(weights, expected):
    rows = [row(f"{who}’s angler", each, team=who) for who, each in weights.items()]
    result = score_match(rows, book(team={"size": 1}))

    assert headline(result, record=RECORD) == expected


@pytest.mark.parametrize(
    ("best", "earlier", "expected"),
    [
        (901, [900, 850, 0, 20, 30], Record(901, 900, 6)),
        (900, [900, 850, 0, 20, 30], None),  # equalled is not beaten
        (901, [900, 850, 0, 20], None),  # four matches before it are too few to speak of
        (901, [], None),
    ],
)
def test_a_record_beats_five_matches_or_more(best, earlier, expected):
    assert record_of(best, earlier) == expected


def test_a_record_is_said_with_the_number_of_its_matches():
    assert say_record(RECORD, "Heron Lake", Unit.KG) == (
        "5.640 kg is the heaviest weight of six matches on Heron Lake; the best before was "
        "5.100 kg."
    )


def test_a_match_without_a_result_says_that_it_was_called_off_or_abandoned():
    assert called_off("round 5", drawn=False) == "Round 5 was called off"
    assert called_off("Autumn Open", drawn=True) == "Autumn Open was abandoned"


ROUNDS = [{"X": 9, "Y": 8, "Z": 7}, {"X": 9, "Y": 8, "Z": 7}]


@pytest.mark.parametrize(
    ("points", "planned", "expected"),
    [
        (ROUNDS, 3, "X lead by two with one round to fish"),
        (ROUNDS, 4, "X lead by two with two rounds to fish"),
        (ROUNDS, None, "X lead by two after two rounds"),
        (ROUNDS, 2, "X win the league by two"),
        ([{"X": 9, "Y": 9}], 2, "X and Y are level with one round to fish"),
        ([{"X": 9, "Y": 9}], 1, "X and Y share the league"),
        (
            [{"X": 9, "Y": 8}, {"X": 8, "Y": 10}],
            2,
            "Y win the league on total weight",
        ),
        ([{"X": 9}], 2, "X are alone in the league with one round to fish"),
        ([{"X": 9}], 1, "X win the league"),
        ([], 7, "The table starts after round 1"),
    ],
)
def test_the_headline_of_a_table(points, planned, expected):
    rounds, rules = winter(points, ties=["weight"])

    season = score_season(rounds, rules, planned=planned, teams={"X": "X"})

    assert table_headline(season) == expected


def test_the_headline_of_an_individual_table_speaks_of_one():
    rules = book()
    rounds = [(1, score_match([row("Ana", 9), row("Bo", 8)], rules))]

    assert table_headline(score_season(rounds, rules, planned=2)) == (
        "Ana leads by one with one round to fish"
    )
    assert table_headline(score_season(rounds, rules, planned=1)) == "Ana wins the league by one"


def test_a_weight_leagues_headline_and_rows_are_weights():
    rules = book(season={"score": "weight"})
    rounds = [(1, score_match([row("Ana", 5640), row("Bo", 4000)], rules))]

    season = score_season(rounds, rules, planned=1)

    assert table_headline(season) == "Ana wins the league by 1.640 kg"
    assert words.say(season.table[0].reason, Unit.KG) == "5.640 over one round."
