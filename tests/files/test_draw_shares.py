"""Records that share line-ups and end pegs, and pegs given by hand: checked, forged, told."""

import json
from functools import cache

import pytest

from league.files.draw import as_json, read_record, write_record
from tests.draws import sharing_record
from tests.files.test_draw import check, run_checker


@cache
def of_every_kind():
    """Records of every kind: line-ups drawn, end pegs shared, pegs given by hand."""
    return [sharing_record(number) for number in range(150)]


@pytest.mark.long
def test_the_checker_agrees_on_line_ups_end_pegs_and_pegs_given_by_hand():
    seen = set()
    for record in of_every_kind():
        written = json.loads(write_record(record))

        out, differs = check(written)

        assert differs == []
        assert read_record(write_record(record)) == record
        for said, came in zip(written["events"], out["events"], strict=True):
            for key in ("kind", "seed", "attempt", "pegs", "bag"):
                assert came.get(key) == said.get(key)
            for key in ("sections", "ends"):
                if said.get(key) and said["kind"] != "hand":
                    assert came[key] == said[key]
                    seen.add((key, (said["attempt"] or 1) > 1))
        seen |= {"given"} & set(written)
    assert seen == {
        ("sections", False),
        ("sections", True),
        ("ends", False),
        ("ends", True),
        "given",
    }


def forgeries(written):
    """The record with one thing changed after another."""
    for line in written["sheet"].splitlines():
        if line.startswith(("visits=", "had=", "ends=")):
            yield written | {"sheet": written["sheet"].replace(f"{line}\n", "")}
            less = line.replace("1.", "0.").replace("2.", "1.")
            if less != line:
                yield written | {"sheet": written["sheet"].replace(line, less)}
    for n, event in enumerate(written["events"]):
        for what, other in (("sections", "Z"), ("ends", "999")):
            for no in event.get(what, {}) if event["kind"] != "hand" else ():
                events = [dict(each) for each in written["events"]]
                events[n] |= {what: {**event[what], no: other}}
                yield written | {"events": events}
    for n in range(len(written.get("given", []))):
        for change in ({"peg": "999"}, {"entry": "1|RED|A|0"}, {"entry": "999||ZZ|0"}):
            yield written | {
                "given": [
                    each | change if place == n else each
                    for place, each in enumerate(written["given"])
                ]
            }


@pytest.mark.long
def test_every_forgery_is_found_out():
    found = 0
    for record in of_every_kind()[:40]:
        if not any(event.kind == "draw" for event in record.events):
            continue
        for forged in forgeries(as_json(record)):
            assert check(forged)[1] != [], forged
            found += 1
    assert found > 200


def test_a_draw_that_knows_of_no_peg_given_by_hand_does_not_come_out():
    """Its peg was out of the bag when the next angler drew: leave it out, and it shows."""
    record = next(
        as_json(each)
        for each in of_every_kind()
        if each.given and any(event.number > each.given[0].after for event in each.finished)
    )
    del record["given"]

    assert check(record)[1] != []


def test_the_checker_says_what_was_given_by_hand_by_whom_when_and_why(tmp_path):
    record = next(each for each in of_every_kind() if each.given)
    peg = record.given[0].peg

    ran = run_checker(tmp_path, as_json(record))

    assert ran.returncode == 0
    told = " ".join(ran.stdout.split())
    assert f"Peg {peg} given by hand to" in told
    assert "by Len Cudworthy, 2026-11-29 08:40: Came late." in told
    assert "It follows from nothing published." in told


def test_a_team_too_large_to_try_every_way_is_refused_and_nothing_hangs():
    record = next(as_json(each) for each in of_every_kind() if each.sheet.to_place)
    lines = "".join(f"entry={no}|HUGE|-|0\n" for no in range(500, 520))
    record["sheet"] = record["sheet"].replace("callers=", f"{lines}callers=")

    [*_, last] = check(record)[1]

    assert "line-ups are drawn for 8 members and 8 sections at most" in last
