"""Entries and pegs from two plain files, and the commands that draw from them and check."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings

from league.files.draw_csv import read_files, team_codes
from league.rules import draw
from league.rules.errors import SheetError

TEAMS = ("RED", "BLU", "GRN", "TAN")
ENTRIES = "entry,angler,team,section,easy_access\n" + "".join(
    f"{no},Angler {no},{team},{section},{'yes' if no in (4, 12) else ''}\n"
    for no, (team, section) in enumerate(((t, s) for t in TEAMS for s in "ABC"), 1)
)
PEGS = """section,peg,easy_access,next_to
A,1,yes,
A,2,yes,
A,3,,
A,4,,
A,5,,
A,7,,8
B,8,,7
B,9,,
B,10,,
B,12,,
B,13,,14
C,14,yes,
C,15,,
C,16,,
C,17,,
C,18,,
"""
SECRET = "6f223adf4c1491f17bae5b6645854a417f21296a5b5a34ed0cdab055373dc868"
SHEET_HASH = "ad7a8b13e1ce3902c6a2dcff68fc02597bcd725045b9a1ef923da6fdffaf2df8"


def manage(*arguments, typed=""):
    """The command on a machine with no settings, no secret and no database."""
    return subprocess.run(
        [sys.executable, "manage.py", *map(str, arguments)],
        cwd=settings.BASE_DIR,
        input=typed,
        capture_output=True,
        text=True,
        check=False,
        env={"PATH": "/usr/bin:/bin"},
    )


@pytest.fixture
def files(tmp_path):
    """The two files of the published vector."""
    entries, pegs = tmp_path / "entries.csv", tmp_path / "pegs.csv"
    entries.write_text(ENTRIES, "utf-8")
    pegs.write_text(PEGS, "utf-8")
    return entries, pegs


def test_both_files_make_the_published_sheet():
    """Vector D2: the fingerprint of the sheet is known."""
    files = read_files(ENTRIES, PEGS)

    assert files.sheet("demo-1", (2, 5, 9)).digest == SHEET_HASH
    assert files.names[1] == "Angler 1"


@pytest.mark.parametrize("comma", [";", "\t"])
def test_other_commas_and_a_byte_order_mark_are_read_as_well(comma):
    files = read_files("\ufeff" + ENTRIES.replace(",", comma), PEGS.replace(",", comma))

    assert files.sheet("demo-1", (2, 5, 9)).digest == SHEET_HASH


def test_a_team_is_given_a_code_and_an_angler_without_one_has_none():
    assert team_codes(["Old Quarry", "Old Quarry B", "", "Old Quarry"]) == {
        "Old Quarry": "OLDQUARR",
        "Old Quarry B": "OLDQUAR2",
    }
    files = read_files("entry,team,section\n1,Old Quarry,A\n2,,A\n", "section,peg\nA,1\nA,2\n")

    assert files.entries == (draw.Entry(1, "OLDQUARR", "A"), draw.Entry(2, "", "A"))
    assert files.teams == {"OLDQUARR": "Old Quarry"}


def test_pegs_with_letters_are_numbered_along_the_bank_and_keep_their_names():
    files = read_files("entry,section\n1,A\n2,B\n", "section,peg,next_to\nA,7,7a\nA,7a,\nB,8,7a\n")

    assert files.peg_names == {1: "7", 2: "7a", 3: "8"}
    assert files.adjacent == ((1, 2), (2, 3))
    assert files.sections == (draw.Section("A", (1, 2)), draw.Section("B", (3,)))


def test_every_fault_of_both_files_is_told_at_once_by_row_and_column():
    entries = "entry,section,easy_access\n1,A,\n1,A,\nx,,maybe\n"
    pegs = "section,peg,next_to\nA,1,1\nA,,\nA,1,9\n"

    with pytest.raises(SheetError) as refused:
        read_files(entries, pegs)

    assert [str(fault) for fault in refused.value.faults] == [
        "Row 3, entry (ENTRIES): Entry 1 is in row 2 already. Give every angler a number.",
        "Row 4, entry (ENTRIES): An entry is a number from 1, not 'x'. Give every angler one.",
        "Row 4, section (ENTRIES): A section is 1 to 8 of A-Z and 0-9, not ''. "
        "Write for example A.",
        "Row 4, easy_access (ENTRIES): Write yes or no, not 'maybe'.",
        "Row 3, peg (PEGS): The peg is missing. Write its number.",
        "Row 4, peg (PEGS): Peg 1 is in row 2 already. Take one of them out.",
        "Row 2, next_to (PEGS): Peg 1 cannot be next to itself. Name the peg beside it.",
        "Row 4, next_to (PEGS): Peg 9 is not in this file. Name a peg that is, or nothing.",
    ]


@pytest.mark.parametrize(
    ("entries", "pegs", "words"),
    [
        ("", "section,peg\nA,1\n", "ENTRIES has no column entry, section."),
        ("entry,section\n", "section,peg\nA,1\n", "ENTRIES has no rows under its headings."),
        ("entry,section\n1,A\n", "peg\n1\n", "PEGS has no column section."),
        (
            "entry,section\n1,A\n2,A\n",
            "section,peg\nA,1\n",
            "Section A has 2 anglers to draw and 1 pegs.",
        ),
        (
            "entry,section,easy_access\n1,A,yes\n",
            "section,peg\nA,1\n",
            "Section A has 1 angler who needs an accessible peg (entry 1) and 0 such pegs",
        ),
        ("entry,section\n1,Z\n", "section,peg\nA,1\n", "section 'Z', which is not on the sheet"),
    ],
)
def test_files_that_make_no_draw_are_refused_in_words(entries, pegs, words):
    with pytest.raises(SheetError) as refused:
        read_files(entries, pegs)

    assert words in str(refused.value)


def test_the_commands_draw_and_check_the_published_vector(files, tmp_path):
    """Vectors D1 to D4, on a machine with no settings: the same pegs, and the check agrees."""
    record = tmp_path / "record.json"

    drew = manage(
        "draw", *files, "--match", "demo-1", "--secret", SECRET,
        "--calls", "2=4071", "5=12", "9=903", "--record", record,
    )  # fmt: skip
    checked = manage("check_draw", record)

    assert drew.returncode == 0
    assert f"Sheet's SHA-256:    {SHEET_HASH}" in drew.stdout
    assert "numbers were known before the secret was made" in drew.stderr
    (event,) = json.loads(record.read_text("utf-8"))["events"]
    assert event["pegs"] == {
        "1": "4", "2": "9", "3": "17", "4": "2", "5": "13", "6": "15",
        "7": "5", "8": "8", "9": "16", "10": "1", "11": "10", "12": "14",
    }  # fmt: skip
    assert (checked.returncode, checked.stderr) == (0, "")


def test_on_the_bank_each_caller_is_asked_after_the_seal_is_shown(files, tmp_path):
    record = tmp_path / "record.json"

    drew = manage(
        "draw", *files, "--callers", "2", "5", "9", "--record", record, typed="71\nten\n\n9\n"
    )

    assert drew.returncode == 0
    assert drew.stdout.index("Seal of the secret") < drew.stdout.index("Angler 2 calls")
    assert "A call is a whole number from 0 to 9999, not 'ten'." in drew.stderr
    text = json.loads(record.read_text("utf-8"))["events"][0]["text"]
    assert "call=2|71.\ncall=5|-.\ncall=9|9.\n" in text
    assert manage("check_draw", record).returncode == 0


def test_two_draws_of_the_same_files_have_different_secrets(files, tmp_path):
    kept = [tmp_path / "one.json", tmp_path / "other.json"]

    for record in kept:
        manage("draw", *files, "--record", record)

    one, other = (json.loads(record.read_text("utf-8"))["commitment"] for record in kept)
    assert one != other


def test_a_record_is_not_written_over_by_a_second_draw(files, tmp_path):
    record = tmp_path / "record.json"
    manage("draw", *files, "--record", record)
    before = record.read_bytes()

    again = manage("draw", *files, "--record", record)

    assert again.returncode == 1
    assert "holds a draw already; it is not written over" in again.stderr
    assert record.read_bytes() == before


@pytest.mark.parametrize(
    ("options", "code", "words"),
    [
        (["--calls", "2=1", "2=2"], 1, "Entry 2 is named as caller twice"),
        (["--calls", "2=10000"], 1, "A call is a whole number from 0 to 9999"),
        (["--calls", "99=1"], 1, "Caller 99 is not entered"),
        (["--secret", "short"], 1, "64 hexadecimal digits"),
        (["--callers", "2", "5"], 1, "No number from entry 2, and nothing was drawn"),
        (["--calls", "seven"], 2, "write 2=4071 for entry 2 calling 4071"),
        (["--calls", "2=1", "--callers", "2"], 2, "not allowed with argument"),
        (["--nonsense"], 2, "unrecognized arguments"),
    ],
)
def test_what_is_wrong_is_told_and_nothing_is_drawn(files, tmp_path, options, code, words):
    record = tmp_path / "record.json"

    drew = manage("draw", *files, *options, "--record", record)

    assert drew.returncode == code
    assert words in drew.stderr
    assert "Traceback" not in drew.stderr
    assert not record.exists()


def test_a_file_that_is_not_there_is_named():
    drew = manage("draw", "nowhere.csv", "nowhere.csv")

    assert drew.returncode == 1
    assert "nowhere.csv cannot be read: No such file or directory." in drew.stderr


def test_a_record_that_says_otherwise_fails_the_check(files, tmp_path):
    record = tmp_path / "record.json"
    manage("draw", *files, "--match", "demo-1", "--secret", SECRET, "--record", record)
    said = json.loads(record.read_text("utf-8"))
    said["events"][0]["pegs"]["1"] = "18"
    Path(record).write_text(json.dumps(said), "utf-8")

    checked = manage("check_draw", record, "--json")

    assert checked.returncode == 1
    assert "entry 1 is on peg 18 in the record" in checked.stderr
    assert json.loads(checked.stdout)["events"][0]["pegs"]["1"] != "18"
