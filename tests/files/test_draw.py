"""The draw record both ways, and the checker that anybody can run on it."""

import json
import runpy
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from django.conf import settings

from league.files.draw import Abandoned, Record, as_json, read_record, write_record
from league.rules import draw
from league.rules.errors import DrawError
from tests.draws import FIRST, HOPELESS, LINKS, SHEET, event, random_record

CHECKER = Path(settings.BASE_DIR) / "league" / "web" / "static" / "league" / "check_draw.py"
check = runpy.run_path(str(CHECKER))["check"]

AGAIN = event(3, FIRST.seed, draw.Redraw("B"))
RECORD = Record(
    SHEET,
    LINKS[5],
    (FIRST, Abandoned(2, "The signal went."), AGAIN),
    names={1: "Dave Scrimshire"},
    teams={"RED": "Red House"},
)


def run_checker(tmp_path, record, *options):
    """The checker as a visitor runs it: no site, no settings, nothing installed."""
    path = tmp_path / "record.json"
    path.write_text(record if isinstance(record, str) else json.dumps(record), "utf-8")
    return subprocess.run(
        [sys.executable, "-I", "-S", CHECKER, path, *options],
        capture_output=True,
        text=True,
        check=False,
        env={},
    )


def test_a_record_lists_every_event_that_was_begun():
    events = as_json(RECORD)["events"]

    assert [(each["event"], each["kind"]) for each in events] == [
        (1, "draw"),
        (2, "abandoned"),
        (3, "redraw"),
    ]
    assert events[1] == {
        "event": 2,
        "kind": "abandoned",
        "text": None,
        "why": "The signal went.",
    }
    assert events[0]["text"] == FIRST.text
    assert events[0]["seed"] == FIRST.seed
    assert events[0]["pegs"]["6"] == "13"


def test_a_record_is_read_back_as_it_was_written():
    assert read_record(write_record(RECORD)) == RECORD
    for number in range(60):
        record = random_record(number)
        assert read_record(write_record(record)) == record


def test_names_are_beside_the_texts_and_never_in_them():
    written = as_json(RECORD)

    assert written["names"] == {"1": "Dave Scrimshire"}
    assert written["teams"] == {"RED": "Red House"}
    assert "Scrimshire" not in written["sheet"] + written["events"][0]["text"]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "cannot be read as JSON"),
        ("[]", 'does not say "record": "PEGDRAW/1"'),
        ('{"record": "PEGDRAW/1"}', "something where it should not"),
        ('{"record": "PEGDRAW/1", "sheet": 7}', "something where it should not"),
        (
            write_record(RECORD).replace('"event": 3', '"event": 4'),
            "Event 4: its text says that it is event 3",
        ),
        (write_record(RECORD).replace("PEGDRAW/1\\n", "PEGDRAW/9\\n"), "starts with 'PEGDRAW/9'"),
        (
            write_record(RECORD).replace('"abandoned"', '"draw"'),
            "Event 2 has no text: nothing shows where its pegs come from",
        ),
    ],
)
def test_what_is_no_record_is_refused_in_words(text, words):
    with pytest.raises(DrawError) as refused:
        read_record(text)

    assert words in str(refused.value)


def test_the_checker_agrees_on_hundreds_of_draws_of_every_kind():
    """Two programs that share no line: same pegs, seeds, attempts, bags and clashes."""
    kinds = set()
    for number in range(300):
        record = json.loads(write_record(random_record(number)))

        out, differs = check(record)

        assert differs == []
        for said, came in zip(record["events"], out["events"], strict=True):
            assert {key: came.get(key) for key in said if key != "clashes"} == {
                key: value for key, value in said.items() if key != "clashes"
            }
            assert came.get("clashes", []) == said.get("clashes", [])
            kinds.add((said["kind"], (said.get("attempt") or 1) > 1))
    assert kinds == {
        ("draw", False),
        ("draw", True),
        ("redraw", False),
        ("redraw", True),
        ("late", False),
        ("unsafe", False),
        ("hand", False),
        ("abandoned", False),
    }


def test_the_checker_agrees_where_no_attempt_keeps_team_mates_apart():
    for record in HOPELESS:
        out, differs = check(as_json(record))

        assert differs == []
        assert out["events"][0]["attempt"] == 1
        assert out["events"][0]["clashes"] != []


def test_the_checker_needs_nothing_but_itself(tmp_path):
    ran = run_checker(tmp_path, as_json(RECORD))

    assert (ran.returncode, ran.stderr) == (0, "")
    assert ran.stdout.endswith("Everything comes out as published.\n")
    assert "Dave Scrimshire" in ran.stdout
    assert "Event 2: abandoned The signal went." in ran.stdout


def test_the_checker_only_reports_where_the_record_says_nothing(tmp_path):
    bare = as_json(RECORD)
    for each in bare["events"]:
        for key in ("pegs", "bag", "seed", "attempt"):
            each.pop(key, None)

    ran = run_checker(tmp_path, bare, "--json")

    out = json.loads(ran.stdout)
    assert ran.returncode == 0
    assert out["differs"] == []
    assert [each.get("pegs") for each in out["events"]] == [
        each.get("pegs") for each in as_json(RECORD)["events"]
    ]


def _forged(change):
    record = as_json(RECORD)
    change(record)
    return record


def _swap_pegs(record):
    pegs = record["events"][0]["pegs"]
    pegs["4"], pegs["5"] = pegs["5"], pegs["4"]


def _another_secret(record):
    other = event(sheet=SHEET)
    record["events"] = record["events"][:1]
    record["events"][0] = {"event": 1, "text": replace(other, reveal="1" * 64).text}


def _uncalled(record):
    record["events"][0]["text"] = replace(FIRST, calls=((1, 7),)).text


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (_swap_pegs, "Event 1: entry 4 is on peg"),
        (_another_secret, "it is not the locked secret"),
        (_uncalled, "its calls are not one from each caller of the sheet, [1, 5]"),
        (
            lambda r: r.update(sheet=r["sheet"].replace("RED|A|0", "RED|A|1")),
            "it was made for another sheet",
        ),
        (lambda r: r.update(commitment="0" * 64), "prev is not 000000"),
        (lambda r: r.update(match="round-9"), "The record is of match round-9"),
        (lambda r: r["events"][0].update(attempt=7), "attempt is 7 in the record"),
        (lambda r: r["events"][0].update(seed="0" * 64), "seed is 000000"),
        (lambda r: r["events"][0]["bag"].update(A=[]), "bag A is [] in the record"),
        (lambda r: r["events"][0]["pegs"].pop("4"), "entry 4 is missing in the record"),
        (lambda r: r["events"].pop(0), "Event 3 cannot be worked out"),
        (lambda r: r["events"][2].update(event=4), "Event 4: its text says that it is event 3"),
        (lambda r: r["events"][1].update(event=1), "Event 1 does not come after event 1"),
        (lambda r: r["events"][1].update(kind="draw"), "Event 2 has no text"),
        (
            lambda r: r["events"][0].update(text=FIRST.text.replace("call=1|7", "call=1|8")),
            "Event 1: seed is",
        ),
        (lambda r: r["events"][0].update(text="hello"), "does not start with PEGDRAW/1"),
        (lambda r: r.update(events={"a": 1}), "The record cannot be worked out"),
        (lambda r: r.update(sheet=None), "does not start with PEGSHEET/1"),
    ],
)
def test_a_forged_record_is_found_out_and_what_differs_is_named(tmp_path, change, words):
    ran = run_checker(tmp_path, _forged(change))

    assert ran.returncode == 1
    assert words in ran.stderr
    assert "Traceback" not in ran.stderr
    assert "comes out as published" not in ran.stdout


@pytest.mark.parametrize(
    ("text", "words"),
    [("{", "cannot be read"), ("[]", 'not say "record"'), ("7", 'not say "record"')],
)
def test_the_checker_refuses_what_is_no_record_without_a_traceback(tmp_path, text, words):
    ran = run_checker(tmp_path, text)

    assert ran.returncode == 1
    assert words in ran.stderr
    assert "Traceback" not in ran.stderr


def test_the_checker_asks_for_a_file_when_it_is_given_none():
    ran = subprocess.run(
        [sys.executable, CHECKER], capture_output=True, text=True, check=False, timeout=20
    )

    assert ran.returncode == 2
    assert ran.stderr.startswith("Usage: check_draw.py RECORD.json")
