"""`score` and bad input: a sentence with row and column, exit 1, nothing printed or written."""

from __future__ import annotations

import io
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from tests.commands.conftest import ROOT, Manage

HEAD = "section,peg,angler,team,weight\n"
GOOD = "A,1,Ana,Reds,6-0\nA,2,Bob,Blues,5-0\n"


def refused(tmp_path: Path, sheet: bytes | str, rules: str = "") -> str:
    """What `score` says where it refuses; nothing may have been printed or written."""
    path, book, pdf = (tmp_path / name for name in ("sheet.csv", "book.toml", "out.pdf"))
    path.write_bytes(sheet if isinstance(sheet, bytes) else sheet.encode())
    book.write_text(rules, encoding="utf-8")
    before = sorted(tmp_path.iterdir())
    out = io.StringIO()
    with pytest.raises(CommandError) as error:
        call_command(
            "score", str(path), "--rules", str(book), "--pdf", str(pdf), stdout=out, stderr=out
        )
    assert error.value.returncode == 1
    assert out.getvalue() == ""
    assert sorted(tmp_path.iterdir()) == before
    return str(error.value)


@pytest.mark.parametrize(
    ("rows", "rules", "said"),
    [
        ("A,1,Cas,Golds,4-0\n", "", "Row 4, peg: Peg 1 is in row 2 already."),
        ("A,3,Ana,Golds,4-0\n", "", "Row 4, angler: Ana is in row 2 already."),
        (
            "A,3,Cas,Reds,4-0\n",
            "",
            "Row 4, team: Reds have more than one in section A, where the rule book allows one.",
        ),
        (
            "B,3,Cas,Reds,4-0\n",
            "[team]\nsize = 1\n",
            "Row 4, team: Reds have more than the one",
        ),
        (
            "A,3,Cas,Golds,2.500kg\n",
            "",
            "Row 4, weight: '2.500kg' is no weight in pounds and ounces.",
        ),
        ("A,3,Cas,Golds,9999-15\n", "", "Row 4, weight: '9999-15' is over 999-15-15"),
        ("A,3,Cas,Golds,-4-0\n", "", "Row 4, weight: '-4-0' is no weight in pounds and ounces."),
        ("A,3,Cas,Golds,1e3\n", "", "Row 4, weight: '1e3' is no weight in pounds and ounces."),
        ("A,3,Cas,Golds,\n", "", "Row 4, weight: Nothing stands here."),
        ("A,3,Cas,Golds,12.8\n", "", "Row 4, weight: '12.8' is no weight in pounds and ounces."),
        ("A,3,,Golds,4-0\n", "", "Row 4, angler: Write the angler's name"),
        (",3,Cas,Golds,4-0\n", "", "Row 4, section: Write the section"),
        ("A,,Cas,Golds,4-0\n", "", "Row 4, peg: Write the number of the peg."),
        ("A,3,C\0as,Golds,4-0\n", "", "Row 4: There is a NUL in this row"),
        ("A,3,Cas,Golds,4-0,5-0\n", "", "Row 4: There are more cells than headings"),
    ],
)
def test_a_row_that_cannot_be_is_named_with_its_column(tmp_path, rows, rules, said):
    words = refused(tmp_path, HEAD + GOOD + rows, rules)

    assert said in words
    assert "nothing is scored" in words


def test_a_latin_1_file_is_told_how_to_be_saved(tmp_path):
    words = refused(tmp_path, (HEAD + GOOD + "A,3,José,Golds,4-0\n").encode("latin-1"))

    assert "Row 4: This row is not UTF-8, probably Latin-1. Save the file as CSV, UTF-8" in words


def test_a_sheet_in_the_other_unit_is_told_so_once(tmp_path):
    words = refused(tmp_path, HEAD + "A,1,Ana,,5.640\nA,2,Bob,,2.150\nA,3,Cas,,1.100\n")

    assert words.count('Use a rule book with unit = "kg".') == 1


@pytest.mark.parametrize(
    ("rules", "said"),
    [
        ("[section]\nblnk = 9\n", 'section: there is no key "blnk". Did you mean blank?'),
        ("[sections]\n", 'there is no key "sections". Did you mean section?'),
        ('[team]\nsize = "four"\n', 'team: size = "four": write a whole number from 1 upwards.'),
        ("[season]\nbest = 5.5\n", "season: best = 5.5: write a whole number from 1 upwards."),
        ("[season]\nties = 3\n", "season: ties = 3: write a list in square brackets."),
        ("[season]\nbest = 5\ndrop = 1\n", "best and drop say one thing in two ways"),
        ("[section]\ntop = 12\n", "top is for high points only"),
        (
            '[section]\ndirection = "high"\ntop = [5, 6]\n',
            "section: top rises from 5 to 6. First place stands first",
        ),
        ("[section]\nblank = -1\n", "section: blank = -1: points go from 0 upwards."),
        ("[section]\nblank = nan\n", "section: blank = nan: points go from 0 upwards."),
        ('[net]\ntolerance = "10-0"\n', "net: a tolerance needs a limit."),
        ('[net]\nlimit = "40.5"\n', "net: limit"),
        ("[team]\nsize = 4\ncount = 5\n", "team: count = 5 is more than the 4 in a team."),
        ('unit = "stone"\n', 'unit = "stone" is no choice there. Write "lb-oz" or "kg".'),
        ("section = 3\n", "section: this must be a table of keys, not 3."),
        ("name = \n", "The rule book is not written as TOML"),
        ("a = " + "[" * 5000, "The rule book is"),
    ],
)
def test_a_rule_book_that_cannot_be_meant_is_refused_by_its_key(tmp_path, rules, said):
    assert said in refused(tmp_path, HEAD + GOOD, rules)


def test_every_fault_is_told_at_once_the_book_first(tmp_path):
    assert (
        refused(tmp_path, HEAD + "A,1,Ana,,6-16\nA,1,Bob,,\n").splitlines()[0]
        == f"3 faults in {tmp_path / 'sheet.csv'}; nothing is scored."
    )
    words = refused(tmp_path, HEAD, "[section]\nblnk = 1\nequal = 2\n[net]\nlimit = 4\n")
    assert len(words.splitlines()) == 4


def test_a_section_of_one_is_scored_with_a_warning(tmp_path, capsys):
    path = tmp_path / "sheet.csv"
    path.write_text(HEAD + GOOD + "B,3,Cas,Golds,4-0\n", encoding="utf-8")
    out, errors = io.StringIO(), io.StringIO()

    call_command("score", str(path), stdout=out, stderr=errors)

    assert "section B has one angler, who is first and last in it." in errors.getvalue()
    assert "Cas" in out.getvalue()


MEASURED = """
import resource, sys
import django
from django.core.management import call_command, CommandError
import os
os.environ["DJANGO_SETTINGS_MODULE"] = "league.settings"
django.setup()
call_command("score", sys.argv[1], stdout=open(os.devnull, "w"), stderr=open(os.devnull, "w"))
ready = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
try:
    call_command("score", sys.argv[2], stdout=open(os.devnull, "w"))
except CommandError as error:
    print(str(error).splitlines()[-1])
else:
    print("scored")
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - ready)
"""


@pytest.mark.parametrize(
    ("head", "row", "said"),
    [
        pytest.param(
            b"name,score\n",
            b"somebody,1\n",
            "There is no column section",
            marks=pytest.mark.long,
        ),
        (HEAD.encode(), b"A,%d,Angler %d,,6-0\n", "More than 2000 anglers in one match"),
        pytest.param(
            b"round,date,section,peg,angler,weight\n",
            b"%d,2027-01-03,A,1,Angler,6-0\n",
            "reading stopped after 200 faults",
            marks=pytest.mark.long,
        ),
    ],
)
def test_a_million_rows_that_are_no_league_are_refused_in_constant_memory(
    tmp_path, head, row, said
):
    small, huge = tmp_path / "small.csv", tmp_path / "huge.csv"
    small.write_text(HEAD + GOOD, encoding="utf-8")
    with huge.open("wb") as file:
        file.write(head)
        for start in range(0, 1_000_000, 10_000):
            file.write(
                b"".join(row % ((n,) * row.count(b"%d")) for n in range(start, start + 10_000))
            )

    done = subprocess.run(
        [sys.executable, "-c", MEASURED, str(small), str(huge)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )

    words, grown = done.stdout.strip().rsplit("\n", 1)
    assert said in words
    assert int(grown) < 8_000  # kilobytes above what a sheet of two rows needs


def test_a_million_rows_down_a_pipe_end_with_1_and_no_traceback(manage: Manage):
    done = manage("score", "-", typed="name,score\n" + "somebody,1\n" * 1_000_000)

    assert (done.returncode, done.stdout) == (1, "")
    assert "There is no column section" in done.stderr
    assert "Traceback" not in done.stderr
