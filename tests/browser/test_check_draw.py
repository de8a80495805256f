"""The check in a visitor's browser: the same script, under the site's own content policy."""

import runpy
from pathlib import Path

import pytest
from django.conf import settings

from league.files.draw import as_json
from tests.draws import HOPELESS, alone_record, random_record, sharing_record
from tests.files.test_draw_shares import forgeries

CHECKER = Path(settings.BASE_DIR) / "league" / "web" / "static" / "league" / "check_draw.py"
check_in_python = runpy.run_path(str(CHECKER))["check"]


@pytest.fixture
def checked(open_page):
    """Check records in a page of the site, with its script loaded as any page loads it."""
    page = open_page("/no-such-page")
    for name in ("check_shares", "check_draw"):
        page.evaluate(
            """src => new Promise((done, failed) => {
                const script = document.createElement("script");
                script.src = src;
                script.onload = done;
                script.onerror = failed;
                document.head.append(script);
            })""",
            f"/static/league/{name}.js",
        )
    return lambda record: page.evaluate("record => checkDraw(record)", record)


def test_the_browser_agrees_on_hundreds_of_draws_of_every_kind(checked):
    """Three programs that share no line of code; Chromium does its own hashing."""
    for number in range(250):
        record = as_json(random_record(number))

        came = checked(record)

        assert came["differs"] == []
        for said, out in zip(record["events"], came["out"]["events"], strict=True):
            for key in ("kind", "seed", "attempt", "pegs", "bag"):
                assert out.get(key) == said.get(key)
            assert out.get("clashes", []) == said.get("clashes", [])


@pytest.mark.long
def test_the_browser_agrees_on_line_ups_end_pegs_and_pegs_given_by_hand(checked):
    shared = set()
    for number in range(120):
        record = as_json(sharing_record(number))

        came = checked(record)

        assert came["differs"] == []
        for said, out in zip(record["events"], came["out"]["events"], strict=True):
            for key in ("kind", "seed", "attempt", "pegs", "bag"):
                assert out.get(key) == said.get(key)
            shared |= {key for key in ("sections", "ends") if said.get(key)}
        shared |= {"given"} & set(record)
    assert shared == {"sections", "ends", "given"}


@pytest.mark.long
def test_the_browser_agrees_on_sections_shared_among_anglers_without_teams(checked):
    for number in range(60):
        record = as_json(alone_record(number))

        came = checked(record)

        assert came["differs"] == []
        for said, out in zip(record["events"], came["out"]["events"], strict=True):
            for key in ("kind", "seed", "attempt", "pegs", "bag", "sections"):
                assert out.get(key) == said.get(key) or said["kind"] != "draw"


@pytest.mark.long
def test_the_browser_agrees_where_no_attempt_keeps_team_mates_apart(checked):
    for record in HOPELESS:
        came = checked(as_json(record))

        assert came["differs"] == []
        assert came["out"]["events"][0]["attempt"] == 1
        assert came["out"]["events"][0]["clashes"] != []


def test_the_browser_finds_out_every_forgery_the_python_checker_does(checked):
    """One figure after another of a record with all kinds of events is changed."""
    forgeries = list(_forgeries(as_json(random_record(40))))

    assert len(forgeries) > 50
    for forged in forgeries:
        words = checked(forged)["differs"]

        assert words != []
        assert [said.split()[:2] for said in words] == [
            said.split()[:2] for said in check_in_python(forged)[1]
        ]


def _forgeries(record):
    for key in ("commitment", "sheet"):
        yield record | {key: record[key].replace("1", "2", 1)}
    for n, event in enumerate(record["events"]):
        if event["kind"] == "abandoned":
            continue
        changes = [{"kind": "hand"}, {"seed": "0" * 64}, {"event": 9}, {"text": None}]
        changes += [{"text": event["text"].replace(*pair)} for pair in (("=", ":"), ("l", "1"))]
        changes += [{"pegs": event["pegs"] | {no: "999"}} for no in event["pegs"]]
        changes += [{"bag": event["bag"] | {letter: ["999"]}} for letter in event["bag"]]
        for change in changes:
            events = [dict(each) for each in record["events"]]
            events[n] |= change
            yield record | {"events": events}


@pytest.mark.long
def test_the_browser_finds_out_false_line_ups_end_pegs_and_pegs_by_hand(checked):
    forged = [
        each
        for record in [*map(sharing_record, range(10)), *map(alone_record, range(3))]
        if any(event.kind == "draw" for event in record.events)
        for each in forgeries(as_json(record))
    ]

    assert len(forged) > 50
    assert all(checked(each)["differs"] for each in forged)


@pytest.mark.long
def test_what_is_no_record_is_told_and_nothing_breaks(checked):
    for nonsense in ({}, {"record": "PEGDRAW/1"}, {"record": "PEGDRAW/1", "sheet": 7}, [], 7):
        assert len(checked(nonsense)["differs"]) == 1
