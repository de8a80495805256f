"""`score --against`: a season under another rule book, in the terminal, as JSON and as CSV."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from tests.commands.conftest import ROOT, Manage

# One section of four; the places are Ana 1 1 4, Bob 2 2 1, Cas 3 4 2, Dot 4 3 3.
SHEET = """round,date,section,peg,angler,team,weight
1,2027-01-03,A,1,Ana,,8-0
1,2027-01-03,A,2,Bob,,7-0
1,2027-01-03,A,3,Cas,,6-0
1,2027-01-03,A,4,Dot,,5-0
2,2027-01-10,A,1,Ana,,8-0
2,2027-01-10,A,2,Bob,,7-0
2,2027-01-10,A,3,Dot,,6-0
2,2027-01-10,A,4,Cas,,5-0
3,2027-01-17,A,1,Bob,,8-0
3,2027-01-17,A,2,Cas,,7-0
3,2027-01-17,A,3,Dot,,6-0
3,2027-01-17,A,4,Ana,,5-0
"""
DROP_ONE = '[season]\ndrop = 1\nties = ["weight", "round wins"]\n'


@pytest.fixture
def season(tmp_path: Path) -> tuple[Path, Path]:
    sheet, rules = tmp_path / "season.csv", tmp_path / "drop-one.toml"
    sheet.write_text(SHEET, encoding="utf-8")
    rules.write_text(DROP_ONE, encoding="utf-8")
    return sheet, rules


def scored(*args: object) -> str:
    out = io.StringIO()
    call_command("score", *map(str, args), stdout=out, stderr=io.StringIO())
    return out.getvalue()


def test_the_terminal_says_who_would_lead_who_moves_and_which_rule_does_it(season):
    sheet, rules = season

    said = scored(sheet, "--against", rules)

    # Every round: Bob 5, Ana 6, Cas 9, Dot 10. The worst dropped: Ana 2, Bob 3, Cas 5, Dot 6.
    compared = said.split("Under Averaged low points: ")[1]
    assert compared.startswith("Ana would lead, not Bob\n")
    assert (
        "    1  Ana              2          2          6\n"
        "         2  Bob              3          1          5\n" in compared
    )
    assert "Ana: From 2nd to 1st, past Bob. 6 points become 2. Round 3 (4) is dropped." in compared
    assert "Now:  Every round counts.\nThen: The worst round is dropped.\n" in compared
    assert "On its own: Ana from 2nd to 1st and Bob from 1st to 2nd." in compared
    assert max(len(line) for line in said.splitlines()) <= 80


def test_the_json_carries_the_table_as_it_would_be_and_every_move(season):
    sheet, rules = season

    document = json.loads(scored(sheet, "--against", rules, "--json"))

    assert [(row["place"], row["angler"], row["total"]) for row in document["table"]] == [
        (1, "Bob", "5"),
        (2, "Ana", "6"),
        (3, "Cas", "9"),
        (4, "Dot", "10"),
    ]
    supposed = document["what_if"]
    assert supposed["rules"]["season"]["drop"] == 1
    assert supposed["headline"] == "Ana would lead, not Bob"
    assert [(row["place"], row["angler"], row["total"]) for row in supposed["table"]] == [
        (1, "Ana", "2"),
        (2, "Bob", "3"),
        (3, "Cas", "5"),
        (4, "Dot", "6"),
    ]
    assert [(move["name"], move["from"], move["to"]) for move in supposed["moves"]] == [
        ("Ana", 2, 1),
        ("Bob", 1, 2),
    ]
    assert supposed["changes"][0]["keys"] == ["season.drop"]


def test_the_csv_has_both_tables_in_a_line_a_competitor(season):
    sheet, rules = season

    rows = list(csv.reader(io.StringIO(scored(sheet, "--against", rules, "--csv"))))

    assert rows[0] == ["Place then", "Angler", "Total then", "Place now", "Total now", "Why"]
    assert rows[1][:5] == ["1", "Ana", "2", "2", "6"]
    assert rows[1][5].startswith("From 2nd to 1st, past Bob.")
    assert rows[3] == ["3", "Cas", "5", "3", "9", ""]


def test_a_match_sheet_is_refused_because_only_seasons_are_compared(tmp_path):
    sheet = ROOT / "fixtures" / "sheets" / "heron-lake-round-6.csv"

    with pytest.raises(CommandError, match="send a season sheet"):
        scored(sheet, "--against", "capped-low")


def test_a_book_with_a_fault_ends_with_1_and_nothing_is_printed(manage: Manage, season):
    sheet, rules = season
    rules.write_text("[season]\nbest = 1\ndrop = 1\n", encoding="utf-8")

    done = manage("score", sheet, "--against", rules)

    assert (done.returncode, done.stdout) == (1, "")
    assert "best and drop say one thing in two ways" in done.stderr


def test_what_was_kept_of_the_season_is_said_on_standard_error(season):
    sheet, _ = season
    errors = io.StringIO()
    kilos = sheet.parent / "kilos.toml"
    kilos.write_text('unit = "kg"\n[net]\nlimit = "20.000"\n', encoding="utf-8")

    call_command("score", str(sheet), "--against", str(kilos), stdout=io.StringIO(), stderr=errors)

    assert "cannot be laid over weights in another unit" in errors.getvalue()
