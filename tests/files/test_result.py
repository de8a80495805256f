"""Results as JSON: the documented shape, exact figures, and the same result back."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.files import result, season
from league.files.plain import amount, fraction, points
from league.files.rulebook import as_dict
from league.files.sheet import read_sheet
from league.rules.books import READY_MADE
from league.rules.lines import Row, Status
from league.rules.matches import score_match
from league.rules.rulebook import Rulebook
from league.rules.table import score_season
from league.rules.weights import Unit
from tests.examples import tried
from tests.rows import book, row

SHEETS = Path(__file__).parents[2] / "fixtures" / "sheets"
WINTER = READY_MADE["high-best-five-places"]


def through_json(data):
    return json.loads(json.dumps(data, allow_nan=False))


def heron_lake():
    read = read_sheet((SHEETS / "heron-lake-round-6.csv").read_bytes(), WINTER)
    return score_match(read.matches[0].rows, WINTER)


def only(keys, data):
    return {key: data[key] for key in keys}


def test_a_match_result_has_the_documented_shape():
    data = through_json(
        result.as_json(
            heron_lake(),
            WINTER,
            match={"name": "Round 6, Heron Lake", "date": "2027-01-24"},
            version=2,
            state="provisional",
        )
    )

    assert data["match"] == {
        "name": "Round 6, Heron Lake",
        "date": "2027-01-24",
        "unit": "lb-oz",
    }
    assert (data["version"], data["state"]) == (2, "provisional")
    assert data["rules"] == as_dict(WINTER)
    assert only(("section", "size", "with_fish"), data["sections"][0]) == {
        "section": "A",
        "size": 6,
        "with_fish": 6,
    }
    shape = ("peg", "angler", "team", "status", "nets", "weight", "place", "equal", "points", "why")
    assert only(shape, data["sections"][0]["anglers"][0]) == {
        "peg": "7",
        "angler": "Dave Scrimshire",
        "team": "Old Quarry",
        "status": "weighed",
        "nets": ["21-12"],
        "weight": "21-12",
        "place": 1,
        "equal": False,
        "points": "6",
        "why": "1st of 6 in section A: 6 points.",
    }
    shape = ("place", "team", "points", "weight", "section_points", "why")
    assert only(shape, data["teams"][0]) == {
        "place": 1,
        "team": "Tannery Lane",
        "points": "18",
        "weight": "61-4",
        "section_points": {"A": ["5"], "B": ["6"], "C": ["5"], "D": ["2"]},
        "why": "Level on 18 points with Old Quarry; ahead on total weight, 61-4 against 58-0.",
    }
    assert only(("place", "angler", "weight", "section", "peg"), data["anglers"][0]) == {
        "place": 1,
        "angler": "Winston Arberry",
        "weight": "31-6",
        "section": "C",
        "peg": "18",
    }
    assert data["checks"] == {"section_points": "82", "expected": None}


def test_a_bare_match_sheet_has_nulls_where_nothing_is_known():
    data = through_json(result.as_json(heron_lake(), WINTER))

    assert data["match"] == {"name": None, "date": None, "unit": "lb-oz"}
    assert (data["version"], data["state"]) == (None, None)


def test_blanks_have_a_place_and_the_absent_and_disqualified_have_none():
    rows = [row("Ana", 900), row("Bo", "blank"), row("Cy", "absent"), row("Di", "disqualified")]

    data = through_json(result.as_json(score_match(rows, book()), book()))

    assert [(each["angler"], each["place"]) for each in data["sections"][0]["anglers"]] == [
        ("Ana", 1), ("Bo", 2), ("Cy", None), ("Di", None),
    ]  # fmt: skip
    assert [(each["angler"], each["place"]) for each in data["anglers"]] == [
        ("Ana", 1), ("Bo", 2), ("Cy", None), ("Di", None),
    ]  # fmt: skip


def test_halves_and_thirds_are_exact_strings():
    rules = book(section={"direction": "high", "top": [15, 13, 11, 10]})
    rows = [row(f"A{n}", weight) for n, weight in enumerate([900, 700, 700, 700])]

    data = through_json(result.as_json(score_match(rows, rules), rules))

    assert [each["points"] for each in data["sections"][0]["anglers"]] == [
        "15", "34/3", "34/3", "34/3",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0, "0"), (6, "6"), (-3, "-3"), (Fraction(19, 2), "9.5"), (Fraction(-1, 4), "-0.25"),
        (Fraction(34, 3), "34/3"), (Fraction(1, 8), "0.125"), (Fraction(7, 5), "1.4"),
        (Fraction(1, 6), "1/6"),
    ],
)  # fmt: skip
def test_a_figure_is_an_exact_decimal_or_a_fraction(value, text):
    assert fraction(value) == text
    assert points(text) == value


@tried(50, 500)
@given(value=st.fractions(max_denominator=500))
def test_every_figure_comes_back(value):
    assert points(fraction(value)) == value


@pytest.mark.parametrize(
    ("text", "unit", "smallest"),
    [
        ("12-8-4", Unit.LB_OZ, 3204),
        ("1234-5", Unit.LB_OZ, 1234 * 256 + 80),
        ("1234.567", Unit.KG, 1_234_567),
    ],
)
def test_a_total_may_be_heavier_than_any_net(text, unit, smallest):
    assert amount(text, unit) == smallest


CATCH = st.one_of(st.integers(0, 9).map(lambda n: (n * 77,)), st.sampled_from(list(Status)))


@st.composite
def matches(draw: st.DrawFn) -> list[Row]:
    """A match of anything, decisions included."""
    teams = draw(st.integers(1, 4))
    rows = []
    for name in "AB"[: draw(st.integers(1, 2))]:
        for team in range(teams):
            catch = draw(CATCH)
            rows.append(
                Row(
                    section=name,
                    peg=f"{name}{team}",
                    angler=f"Angler {name}{team}",
                    team=draw(st.sampled_from(["", f"Team {team}"])),
                    status=Status.WEIGHED if isinstance(catch, tuple) else catch,
                    nets=catch if isinstance(catch, tuple) else (),
                    penalty=draw(st.sampled_from([0, 0, Fraction(1, 2)])),
                    weight_penalty=draw(st.sampled_from([0, 0, 50])),
                    decided=draw(st.sampled_from([None, None, None, Fraction(7, 3)])),
                    decision=draw(st.sampled_from(["", "Heard on the bank."])),
                    note=draw(st.sampled_from(["", "½ hour late"])),
                    angler_id=f"a{name}{team}",
                    team_id=draw(st.sampled_from(["", f"t{team}"])),
                )
            )
    return rows


@pytest.mark.parametrize("name", READY_MADE)
@tried(10, 100)
@given(rounds=st.lists(matches(), min_size=1, max_size=3))
def test_a_result_and_a_season_come_back_the_same_to_the_last_reason(name, rounds):
    rules = READY_MADE[name]
    scored = [(number, score_match(rows, rules)) for number, rows in enumerate(rounds, 1)]
    table = score_season(scored, rules, planned=5, cancelled=[4], penalties={"t1": 2})

    for _, each in scored:
        data = through_json(result.as_json(each, rules))
        assert result.from_json(data) == each
        assert result.book_of(data) == rules
    assert season.from_json(through_json(season.as_json(table, rules))) == table


def test_a_season_has_the_documented_shape():
    rules = book(
        unit="lb-oz",
        section={"direction": "high", "blank": 0, "absent": 0},
        team={"size": 2},
        season={"score": "places", "best": 2, "ties": ["weight"]},
    )
    read = read_sheet((SHEETS / "summer-pairs.csv").read_bytes(), rules)
    table = score_season([(m.round, score_match(m.rows, rules)) for m in read.matches], rules)

    data = through_json(
        season.as_json(
            table,
            rules,
            about={"name": "Summer pairs"},
            matches={match.round: match.about for match in read.matches},
        )
    )

    assert set(data) == {"season", "rules", "rounds", "table", "anglers"}
    assert data["season"]["name"] == "Summer pairs"
    assert [(each["match"]["round"], each["match"]["date"]) for each in data["rounds"]] == [
        (1, "2027-07-04"), (2, "2027-07-18"), (3, "2027-08-01"),
    ]  # fmt: skip
    row_of = data["table"][0]
    assert only(("place", "team", "penalty", "total", "weight"), row_of) == {
        "place": 1,
        "team": "Old Quarry",
        "penalty": "0",
        "total": "5",
        "weight": "18-9",
    }
    assert [only(("round", "score", "dropped", "status"), each) for each in row_of["rounds"]] == [
        {"round": 1, "score": "2", "dropped": False, "status": "weighed"},
        {"round": 2, "score": "3", "dropped": False, "status": "weighed"},
        {"round": 3, "score": "1", "dropped": True, "status": "weighed"},
    ]
    assert row_of["why"] == (
        "2 + 3 = 5. Dropped: round 3 (1). Level on 5 points with Millrace; ahead on total weight, "
        "18-9 against 16-4."
    )
    assert data["table"][2]["rounds"][2]["status"] == "absent"
    assert data["anglers"][0]["angler"]


def test_a_season_of_individuals_has_the_anglers_for_its_table():
    rules = Rulebook(unit=Unit.KG)
    read = read_sheet((SHEETS / "marl-canal-evenings.csv").read_bytes(), rules)
    table = score_season([(m.round, score_match(m.rows, rules)) for m in read.matches], rules)

    data = through_json(season.as_json(table, rules))

    assert data["table"] == data["anglers"]
    assert data["table"][0]["angler"] == "Keith Wraggley"
    assert "team" not in data["table"][0]


def test_a_weight_leagues_totals_and_scores_are_weights():
    rules = READY_MADE["aggregate-weight"]
    table = score_season([(1, score_match([Row("A", "1", "Ana", nets=(16 * 21,))], rules))], rules)

    data = through_json(season.as_json(table, rules))

    assert data["table"][0]["total"] == "1-5"
    assert data["table"][0]["rounds"][0]["score"] == "1-5"
