"""A version's sheet is made from its document alone, and says what the document says."""

from __future__ import annotations

import json
from dataclasses import asdict

from league.files.result import as_json
from league.rules import announced
from league.rules.books import WINTER_LEAGUE
from league.sheets import published
from tests.sheets.reading import codes_of, words_of
from tests.sheets.scenes import bank_of, heron_lake

MATCH = {
    "name": "Round 6",
    "date": "2027-01-24",
    "club": "Marlbrook & District AC",
    "league": "Winter Team League",
    "season": "2026–27",
    "water": "Heron Lake",
}


def document() -> dict[str, object]:
    """Version 2 of round 6 as it is kept, once through JSON."""
    result = heron_lake()
    kept = {
        **as_json(result, WINTER_LEAGUE, match=MATCH, version=2, state="provisional"),
        "bank": [asdict(peg) for peg in bank_of(result)],
        "gaps": ["Peg 19: two weights, none of them set aside."],
        "decisions": [{"kind": "warning", "says": "Ron Tibbald warned: keepnet in the margin."}],
    }
    return json.loads(json.dumps(kept))  # type: ignore[no-any-return]


def test_the_sheet_of_a_version_says_all_that_the_version_says() -> None:
    words = words_of(
        published.published_sheet(
            document(),
            state="final",
            address="https://marlbrook.example/matches/6/result/2/",
            posted="18:05",
            printed="18:09",
        )
    )
    assert "Marlbrook & District AC Winter Team League 2026–27 Round 6, Heron Lake" in words
    assert (
        "Sunday 24 January 2027. Tannery Lane win on total weight. Final result, version 2, posted "
        "18:05, printed 18:09." in words
    )
    assert "Peg 19: two weights, none of them set aside." in words
    assert "Decisions. Ron Tibbald warned: keepnet in the margin." in words
    assert "Left out: pegs 6, 13, 14, 20, 27, 28." in words
    assert "Teams on equal points are told apart by total weight" in words
    assert "The best five rounds count." not in words


def test_the_code_opens_that_version() -> None:
    address = "https://marlbrook.example/matches/6/result/2/"
    assert codes_of(published.published_sheet(document(), state="final", address=address)) == [
        address
    ]


def test_the_parts_of_a_rule_book_that_the_sheet_leaves_out_are_really_there() -> None:
    headings = {part.heading for part in announced.read_out(WINTER_LEAGUE)}
    assert {published.TEAM, published.SEASON} <= headings
    both = {*published.match_rules(WINTER_LEAGUE), *published.season_rules(WINTER_LEAGUE)}
    assert both == {s for part in announced.read_out(WINTER_LEAGUE) for s in part.sentences}


def test_a_match_that_bears_the_name_of_its_water_is_not_named_twice() -> None:
    assert published.title_of({"name": "Heron Lake open", "water": "Heron Lake"}) == (
        "Heron Lake open"
    )
    assert published.title_of({"name": None, "water": None}) == "Result"
