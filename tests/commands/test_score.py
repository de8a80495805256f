"""`score` from the outside: what it prints, what it writes, how it ends."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command
from pypdf import PdfReader

from tests.commands.conftest import ROOT, Manage

ROUND_6 = ROOT / "fixtures" / "sheets" / "heron-lake-round-6.csv"
WINTER = ROOT / "fixtures" / "demo" / "winter-team-league-2026-27.csv"
BOOK = ROOT / "fixtures" / "demo" / "winter-team-league.toml"


def scored(*args: object) -> str:
    out = io.StringIO()
    call_command("score", *map(str, args), stdout=out, stderr=io.StringIO())
    return out.getvalue()


def sheet(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "sheet.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_sheet_is_scored_without_database_secret_or_environment(manage: Manage, tmp_path: Path):
    done = manage("score", ROUND_6, "--rules", BOOK, "--json")

    assert done.returncode == 0
    assert done.stderr == ""
    assert json.loads(done.stdout)["teams"][0]["team"] == "Tannery Lane"
    assert not (tmp_path / "records").exists()


def test_a_fault_ends_with_1_and_names_row_and_column(manage: Manage, tmp_path: Path):
    faulty = sheet(tmp_path, "section,peg,angler,weight\nA,1,Ana,6-16\nA,1,Keith,\n")

    done = manage("score", faulty, "--pdf", tmp_path / "out.pdf")

    assert done.returncode == 1
    assert done.stdout == ""
    assert "Row 2, weight: '6-16': ounces go from 0 to 15." in done.stderr
    assert "Row 3, weight: Nothing stands here." in done.stderr
    assert "Row 3, peg: Peg 1 is in row 2 already." in done.stderr
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "out.pdf").exists()


def test_wrong_usage_ends_with_2(manage: Manage):
    assert manage("score").returncode == 2
    assert manage("score", ROUND_6, "--jsn").returncode == 2
    assert manage("score", ROUND_6, "--json", "--csv").returncode == 2


def test_the_json_is_the_round_as_it_is_on_the_wall():
    result = json.loads(scored(ROUND_6, "--rules", BOOK, "--json"))

    assert result["match"] == {
        "name": "Round 6",
        "date": "2027-01-24",
        "water": "Heron Lake",
        "unit": "lb-oz",
    }
    assert (result["version"], result["state"]) == (None, None)
    # Added up with pencil and paper from the sheet.
    assert [
        (row["place"], row["team"], row["points"], row["weight"]) for row in result["teams"]
    ] == [
        (1, "Tannery Lane", "18", "61-4"),
        (2, "Old Quarry", "18", "58-0"),
        (3, "Pennyfold", "16", "51-7"),
        (4, "Millrace", "13.5", "51-12"),
        (5, "Lamplighters", "8.5", "23-15"),
        (6, "Bridge End", "8", "22-11"),
    ]
    assert result["teams"][0]["section_points"] == {"A": ["5"], "B": ["6"], "C": ["5"], "D": ["2"]}
    assert result["teams"][0]["why"] == (
        "Level on 18 points with Old Quarry; ahead on total weight, 61-4 against 58-0."
    )
    best = result["anglers"][0]
    assert (best["angler"], best["weight"], best["section"], best["peg"]) == (
        "Winston Arberry",
        "31-6",
        "C",
        "18",
    )
    first = result["sections"][0]
    assert (first["section"], first["size"], first["with_fish"]) == ("A", 6, 6)
    # 21 + 20 + 20 + 21: a blank in B and one that was not weighed in C take no point each.
    assert result["checks"] == {"section_points": "82", "expected": None}


def test_every_line_of_a_match_and_of_a_season_fits_a_terminal():
    for printed in (scored(ROUND_6, "--rules", BOOK), scored(WINTER, "--rules", BOOK)):
        assert max(len(line) for line in printed.splitlines()) <= 80


def test_the_terminal_says_who_won_and_who_was_level():
    lines = scored(ROUND_6, "--rules", BOOK).splitlines()

    assert lines[0] == "Round 6, Heron Lake, Sunday 24 January 2027"
    assert lines[2] == "Tannery Lane win on total weight"
    assert "    1  Tannery Lane  5  6  5   2      18    61-4" in lines
    assert "   3=   24  Len Cudworthy    Millrace         9-4      3½" in lines


def test_a_season_sheet_gives_the_table_with_drops_in_brackets():
    lines = scored(WINTER, "--rules", BOOK).splitlines()

    assert lines[0] == "Old Quarry lead by two after six rounds"
    assert "    1  Old Quarry      6    4    5    6  (1)  5      26   246-3" in lines
    assert "    2  Tannery Lane    3    6    4  (2)    5  6      24   233-0" in lines


def test_a_ready_made_book_scores_as_the_same_rules_in_a_file():
    by_name = json.loads(scored(WINTER, "--rules", "high-best-five-places", "--json"))
    by_file = json.loads(scored(WINTER, "--rules", BOOK, "--json"))

    assert by_name["table"] == by_file["table"]


def test_an_unknown_book_is_refused_with_those_there_are():
    with pytest.raises(CommandError, match=r"neither a file nor .* averaged-low"):
        scored(ROUND_6, "--rules", "average-low")


def test_an_unknown_column_is_a_warning_on_standard_error(manage: Manage, tmp_path: Path):
    odd = sheet(tmp_path, "section,peg,angler,weight,bait\nA,1,Ana,6-0,bread\nA,2,Jo,5-0,\n")

    done = manage("score", odd, "--json")

    assert done.returncode == 0
    assert "bait" in done.stderr
    assert json.loads(done.stdout)["sections"][0]["anglers"][0]["angler"] == "Ana"


def test_a_sheet_can_come_down_a_pipe(manage: Manage):
    done = manage("score", "-", typed="section,peg,angler,weight\nA,1,Ana,6-0\nA,2,Jo,5-0\n")

    assert done.returncode == 0
    assert done.stdout.startswith("Ana wins with 6 lb 0 oz")


def test_the_csv_has_a_line_an_angler_and_no_formula(tmp_path: Path):
    risky = sheet(tmp_path, "section,peg,angler,weight\nA,1,=1+1,6-0\nA,2,Jo,blank\n")

    rows = list(csv.reader(io.StringIO(scored(risky, "--csv"))))

    assert rows[0] == ["Section", "Place", "Peg", "Angler", "Team", "Weight", "Points"]
    assert rows[1] == ["A", "1", "1", "'=1+1", "", "6 lb 0 oz", "1"]
    assert rows[2][5] == "blank"


def test_the_pdf_carries_the_round(tmp_path: Path):
    scored(ROUND_6, "--rules", BOOK, "--pdf", tmp_path / "round-6.pdf")

    text = PdfReader(tmp_path / "round-6.pdf").pages[0].extract_text()

    assert "Tannery Lane win on total weight" in text
    assert "Winston Arberry" in text


def test_a_season_sheet_prints_the_table(tmp_path: Path):
    scored(WINTER, "--rules", BOOK, "--pdf", tmp_path / "season.pdf")

    text = PdfReader(tmp_path / "season.pdf").pages[0].extract_text()

    assert "Old Quarry lead by two after six rounds" in text
    assert "Heron Lake, Sunday 24 January 2027" in " ".join(text.split())


def test_the_pdf_of_a_season_is_its_table(tmp_path: Path):
    path = tmp_path / "table.pdf"

    scored(WINTER, "--rules", BOOK, "--pdf", path)

    printed = " ".join(PdfReader(path).pages[0].extract_text().split())
    assert "League table" in printed
    assert "Old Quarry" in printed
    assert "Heron Lake" in printed


def test_a_pdf_that_cannot_be_written_is_said_before_anything_is_printed(tmp_path: Path):
    out = io.StringIO()
    with pytest.raises(CommandError, match="cannot be written"):
        call_command("score", str(ROUND_6), "--pdf", str(tmp_path / "no" / "where.pdf"), stdout=out)

    assert out.getvalue() == ""


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "The first row is empty"),
        (b"\xff\xfe\x00\x01", "UTF-8"),
        (b"section,peg,angler\nA,1,Ana\n", "weight"),
        (b"section,peg,angler,weight\n", "not one row"),
    ],
)
def test_what_is_no_sheet_is_refused_in_a_sentence(tmp_path: Path, content: bytes, said: str):
    path = tmp_path / "sheet.csv"
    path.write_bytes(content)

    with pytest.raises(CommandError, match=said):
        scored(path)
