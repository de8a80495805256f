"""The matches and seasons of `fixtures/worked`, each worked by hand in its own comments."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from league.files.plain import fraction
from league.files.rulebook import from_dict, read_toml
from league.files.sheet import read_sheet
from league.rules.books import READY_MADE
from league.rules.matches import score_match
from league.rules.table import score_season
from league.rules.weights import written

FIXTURES = Path(__file__).parents[2] / "fixtures"
WORKED = sorted((FIXTURES / "worked").glob("*.toml"))


def cases():
    """Each book of each worked file."""
    for path in WORKED:
        worked = tomllib.loads(path.read_text())
        for book in worked["book"]:
            name = book.get("name") or book["rules"]["name"]
            yield pytest.param(worked["sheet"], book, id=f"{path.stem}: {name}")


def rules_of(book):
    return READY_MADE[book["name"]] if "name" in book else from_dict(book["rules"])


@pytest.mark.parametrize(("sheet", "worked"), list(cases()))
def test_a_worked_fixture_comes_out_as_it_was_worked(sheet, worked):
    rules = rules_of(worked)
    read = read_sheet((FIXTURES / "sheets" / sheet).read_bytes(), rules)

    if "table" in worked:
        rounds = [(match.round, score_match(match.rows, rules)) for match in read.matches]
        season = score_season(rounds, rules)

        def figure(score):
            return written(score, rules.unit) if season.by_weight else fraction(score)

        table = season.table
        found = {
            line.name: {
                "place": line.place,
                "scores": [figure(each.score) for each in line.rounds],
                "dropped": [each.round for each in line.rounds if each.dropped],
                "total": figure(line.total),
                "weight": written(line.weight, rules.unit),
            }
            for line in table
        }
        assert found == worked["table"]
        assert list(found) == list(worked["table"])
        return
    result = score_match(read.matches[0].rows, rules)
    lines = [line for section in result.sections for line in section.lines]
    assert {line.row.angler: fraction(line.points) for line in lines} == worked["points"]
    teams = {
        team.team: {
            "place": team.place,
            "points": fraction(team.points),
            "weight": written(team.weight, rules.unit),
        }
        for team in result.teams
    }
    assert teams == worked["teams"]
    assert fraction(result.section_points) == worked["sum"]


def test_every_ready_made_book_is_worked_by_hand_somewhere():
    books = [book for path in WORKED for book in tomllib.loads(path.read_text())["book"]]

    assert {book["name"] for book in books if "name" in book} == set(READY_MADE)


@pytest.mark.parametrize("name", READY_MADE)
def test_every_ready_made_book_stands_in_the_fixtures_as_a_file(name):
    text = (FIXTURES / "worked" / "rules" / f"{name}.toml").read_text()

    assert read_toml(text) == READY_MADE[name]


def test_no_rule_book_file_is_left_over():
    names = {path.stem for path in (FIXTURES / "worked" / "rules").glob("*.toml")}

    assert names == set(READY_MADE)
