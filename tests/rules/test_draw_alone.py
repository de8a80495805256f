"""Anglers without teams shared among sections: worked by hand, fair, checked, refused in words."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import replace

import pytest
from scipy.stats import chisquare

from league.files.draw import as_json, read_record, write_record
from league.rules import draw
from league.rules.errors import DrawError
from league.rules.rotation_anglers import even_places
from tests.draws import alone_record
from tests.files.test_draw import check
from tests.files.test_draw_shares import forgeries
from tests.rules.test_draw_shares import first

TEXT = """PEGSHEET/2
match=demo-3
section=A|1.2.3.|1.
section=B|4.5.|
entry=1||-|0
entry=2||-|0
entry=3||-|1
entry=4||-|0
visits=1|1.0.
visits=3|2.0.
callers=1.
"""
SHEET = draw.Sheet.parse(TEXT)


def test_a_draw_worked_by_hand_from_its_words():
    """
    Four anglers, places 2 and 2. Entry 3 needs peg 1, so it is in A; entry 1 fished A, so it is in
    B. Of 2 and 4 one is in A: words 3 (2 in A) and 8 (4 in B) add up to 1,164,452,224, words 4
    (2 in B) and 7 (4 in A) to 5,238,924,793. So 2 is in A.

    Pegs: entry 3 has the one easy peg; 2 has peg 2 of 2 and 3, its word being even. In B the word
    is even too: entry 1 has peg 4, and 5 is left.
    """
    event = first(SHEET)
    anglers = draw.Stream(event.seed, "anglers")
    words = [anglers.word() for _ in range(8)]
    assert (words[2] + words[7], words[3] + words[6]) == (1164452224, 5238924793)
    assert draw.Stream(event.seed, "A/1").word() % 2 == 0
    assert draw.Stream(event.seed, "B/1").word() % 2 == 0

    outcome = draw.run(SHEET, event)

    assert SHEET.text == TEXT
    assert outcome.line_ups.sections == {1: "B", 2: "A", 3: "A", 4: "B"}
    assert outcome.pegs == {1: 4, 2: 2, 3: 1, 4: 5}
    assert draw.say(outcome)[:2] == [
        "Who fishes which section was drawn from the same numbers.",
        "Of 4 anglers 3 are in a section each has fished least; "
        "no other sharing has fewer earlier visits in all.",
    ]


def test_without_a_past_every_sharing_is_as_likely_as_any_other():
    """Four anglers, two sections of two: six sharings."""
    entries = tuple(draw.Entry(no, "", draw.TO_DRAW) for no in (1, 2, 3, 4))
    sections = (draw.Section("A", (1, 2)), draw.Section("B", (3, 4)))
    sheet = draw.Sheet("m", sections, entries, callers=(1,))

    came = Counter(
        "".join(draw.run(sheet, first(sheet, call)).line_ups.sections.values())
        for call in range(1800)
    )

    assert len(came) == 6
    assert chisquare(list(came.values())).pvalue > 0.001


@pytest.mark.parametrize(
    ("anglers", "pegs", "places"),
    [(10, (5, 5, 5), (4, 3, 3)), (10, (2, 9, 9), (2, 4, 4)), (6, (2, 2, 2), (2, 2, 2))],
)
def test_sections_take_as_evenly_as_their_pegs_allow(anglers, pegs, places):
    assert even_places(anglers, pegs) == places


def test_the_checker_agrees_and_finds_every_forgery_out():
    forged = 0
    for number in range(120):
        record = alone_record(number)
        written = json.loads(write_record(record))

        out, differs = check(written)

        assert differs == []
        assert read_record(write_record(record)) == record
        for said, came in zip(written["events"], out["events"], strict=True):
            if said["kind"] == "draw":
                assert came["sections"] == said["sections"] != {}
                if number < 10:
                    for each in forgeries(as_json(record)):
                        assert check(each)[1] != []
                        forged += 1
    assert forged > 100


def test_a_section_nobody_was_drawn_into_is_told_by_the_checker():
    """One figure of what was fished before, and the whole record is another's."""
    record = as_json(next(each for each in map(alone_record, range(50)) if each.sheet.visits))
    line = next(line for line in record["sheet"].splitlines() if line.startswith("visits="))

    [wrong, *_] = check(record | {"sheet": record["sheet"].replace(f"{line}\n", "")})[1]

    assert "it was made for another sheet" in wrong


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        (
            {"sections": (draw.Section("A", (1, 2, 3)),), "visits": ()},
            "There are 4 anglers to draw and 3 pegs",
        ),
        (
            {"entries": (*SHEET.entries, draw.Entry(7, "", "A"))},
            "Who fishes which section is drawn for the others, and entry 7 has one already",
        ),
        ({"fixed": ((1, 4),)}, "Entry 1 has a fixed peg, so its section cannot be drawn"),
    ],
)
def test_what_cannot_be_shared_is_refused_in_words(changed, words):
    told = draw.faults(replace(SHEET, **changed))

    assert any(said.startswith(words) for said in told), told


def test_too_few_easy_access_pegs_are_refused_before_the_sheet_is_frozen():
    entries = tuple(replace(entry, needs=entry.no > 2) for entry in SHEET.entries)

    with pytest.raises(DrawError, match="cannot all be in a section that has one"):
        draw.rehearse(replace(SHEET, entries=entries))
