"""Line-ups drawn and end pegs shared: worked by hand, fair by chi-square, refused in words."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from hashlib import sha256

import pytest
from scipy.stats import chisquare

from league.rules import draw
from league.rules.draw_sheet import SHEET_TAG
from league.rules.errors import DrawError

SECRET = sha256(b"demo secret 1").hexdigest()
TEXT = """PEGSHEET/2
match=demo-2
section=A|1.2.3.|1.
section=B|4.5.6.|
entry=1|RED|-|0
entry=2|RED|-|0
entry=3|BLU|-|1
entry=4|BLU|-|0
entry=5|TAN|-|0
entry=6|TAN|-|0
visits=1|1.0.
visits=2|0.1.
ends=1.3.4.6.
had=1|2.
had=3|1.
adjacent=3.4.
callers=1.3.
"""
SHEET = draw.Sheet.parse(TEXT)


def first(sheet: draw.Sheet = SHEET, call: int = 4071) -> draw.Event:
    """The draw of *sheet* with the secret and the first number of the published vectors."""
    return draw.make_event(
        sheet,
        number=1,
        prev=draw.commitment(SECRET),
        calls=[(no, call if no == 1 else None) for no in sheet.callers],
        reveal=draw.reveal(SECRET, 1),
    )


def word(label: str, counter: int) -> int:
    """A word of the stream, hashed here."""
    return int(sha256(f"{first().seed}:{label}:{counter}".encode()).hexdigest()[:8], 16)


def test_a_sheet_that_shares_nothing_stays_a_pegsheet_1():
    plain = draw.Sheet("m", (draw.Section("A", (1, 2)),), (draw.Entry(1, "RED", "A"),))

    assert plain.text.startswith(f"{SHEET_TAG}\n")
    assert replace(plain, ends=(1, 2)).text.startswith("PEGSHEET/2\n")


def test_the_text_is_read_back_as_it_was_written():
    assert SHEET.text == TEXT
    assert SHEET.digest == "3b557d9421fa9e24b87fc5a35f2b59e3f5dee44976d8baf7e87e1aaf0d1ab954"
    assert first().seed == "82ece243f27d1d622a639fb5d770e4b5c2d9b8e08595bdece43f7517ed453510"


def test_a_draw_worked_by_hand_from_its_words():
    """
    RED: entry 1 fished A before and 2 fished B, so they change: one way, no word. BLU: entry 3
    needs peg 1, which is in A: one way. TAN: two ways, AB and BA; the word is odd: BA.

    End pegs: 1 is the one easy-access peg, and entry 3 needs it. 3 is between entry 2, whose team
    had two end pegs (1 ticket), and entry 6, whose team had none (4 tickets): 2 of 0-4 is 6's.
    4 goes to RED, the only one in B without one today. 6 is between BLU, which had one (1 ticket),
    and TAN (2 tickets): 2 of 0-2 is TAN's. One peg and one angler are left in each section.
    """
    assert word("team/TAN", 1) == 1932098687  # odd
    assert word("ends/1", 1) == 722063652  # 2 after fives, by its last digit
    assert word("ends/1", 2) == 2543260049  # 2 after threes: its digits add up to 35

    outcome = draw.run(SHEET, first())

    assert outcome.line_ups is not None
    assert outcome.line_ups.sections == {1: "B", 2: "A", 3: "A", 4: "B", 5: "B", 6: "A"}
    assert outcome.ends == {3: 1, 6: 3, 1: 4, 5: 6}
    assert outcome.pegs == {1: 4, 2: 2, 3: 1, 4: 5, 5: 6, 6: 3}
    assert outcome.attempt == 1


def test_the_reason_is_told_team_by_team():
    told = draw.say(draw.run(SHEET, first()), {"RED": "Red House", "TAN": "Tannery Lane"})

    assert told[:5] == [
        "Which member fishes which section was drawn from the same numbers.",
        "Red House: one way is the fairest after what they fished before.",
        "BLU: one way was open.",
        "Tannery Lane: 2 ways were open, and way 2 came out.",
        "End pegs went first, by tickets: peg 1 to BLU (had 1), 3 to Tannery Lane (had 0), "
        "4 to Red House (had 2), 6 to Tannery Lane (had 0).",
    ]


def test_a_late_entry_a_redraw_and_a_peg_by_hand_stand_on_the_line_up_that_came_out():
    sheet = replace(SHEET, sections=(draw.Section("A", (1, 2, 3, 7), (1,)), SHEET.sections[1]))
    event = first(sheet)
    sections = draw.run(sheet, event).line_ups.sections
    given = draw.Given(1, draw.Entry(7, "RED", "A"), draw.run(sheet, event).bag["A"][0])
    again = draw.make_event(
        sheet,
        number=2,
        prev=event.seed,
        calls=[(1, 5), (3, 6)],
        reveal=draw.reveal(SECRET, 2),
        change=draw.Redraw("A"),
    )

    drawn, handed, redrawn = draw.replay(sheet, [event, given, again])

    assert handed.pegs == {**drawn.pegs, 7: given.peg}
    in_a = {no for no, letter in sections.items() if letter == "A"} | {7}
    assert set(redrawn.moved) == in_a
    assert {redrawn.pegs[no] for no in in_a} == {1, 2, 3, 7}
    assert {no: redrawn.pegs[no] for no in sections.keys() - in_a} == {
        no: drawn.pegs[no] for no in sections.keys() - in_a
    }


def test_out_of_a_real_bag_the_peg_says_which_section_a_member_fishes():
    by_hand = draw.ByHand(1, {1: 5, 2: 3, 3: 1, 4: 4, 5: 2, 6: 6})

    [outcome] = draw.replay(SHEET, [by_hand])

    assert outcome.line_ups.sections == {1: "B", 2: "A", 3: "A", 4: "B", 5: "A", 6: "B"}
    with pytest.raises(DrawError, match="RED has 2 members in section A, where 1 fit"):
        draw.replay(SHEET, [draw.ByHand(1, {1: 2, 2: 3, 3: 1, 4: 4, 5: 5, 6: 6})])


def test_over_a_season_every_member_fishes_every_section_equally_often():
    """Four rounds, each counting the ones before: 4 teams of 4, and no count is other than 1."""
    letters = "ABCD"
    sections = tuple(
        draw.Section(c, tuple(range(n, n + 4))) for c, n in zip(letters, (1, 5, 9, 13), strict=True)
    )
    entries = tuple(draw.Entry(no, f"T{(no - 1) // 4}", draw.TO_DRAW) for no in range(1, 17))
    fished: dict[int, Counter[str]] = {no: Counter() for no in range(1, 17)}
    for round_number in range(4):
        visits = tuple((no, tuple(fished[no][c] for c in letters)) for no in fished)
        sheet = draw.Sheet(
            f"round-{round_number}", sections, entries, visits=visits if round_number else ()
        )
        outcome = draw.run(sheet, first(sheet))
        for no, letter in outcome.line_ups.sections.items():
            fished[no][letter] += 1

    assert all(counts == {"A": 1, "B": 1, "C": 1, "D": 1} for counts in fished.values())


def test_with_tickets_end_pegs_even_out_and_nobody_knows_beforehand():
    """Three teams for one peg: 0, 1 and 2 end pegs before are 4, 2 and 1 tickets of 7."""
    entries = tuple(draw.Entry(no, f"T{no}", "A") for no in (1, 2, 3))
    sheet = draw.Sheet(
        "m", (draw.Section("A", (1, 2, 3)),), entries, callers=(1,), ends=(1,), had=((2, 1), (3, 2))
    )

    lucky = Counter(next(iter(draw.run(sheet, first(sheet, call)).ends)) for call in range(3500))

    assert chisquare([lucky[1], lucky[2], lucky[3]], [2000, 1000, 500]).pvalue > 0.001
    assert chisquare([lucky[1], lucky[2], lucky[3]]).pvalue < 1e-9


def test_line_ups_are_uniform_among_the_fairest_ways():
    """Four members who fished one section each: nine ways are fairest, by counting derangements."""
    letters = "ABCD"
    sections = tuple(draw.Section(c, (n,)) for n, c in enumerate(letters, 1))
    entries = tuple(draw.Entry(no, "RED", draw.TO_DRAW) for no in (1, 2, 3, 4))
    visits = tuple((no, tuple(int(no == n) for n in (1, 2, 3, 4))) for no in (1, 2, 3, 4))
    sheet = draw.Sheet("m", sections, entries, callers=(1,), visits=visits)

    came = Counter(
        "".join(draw.run(sheet, first(sheet, call)).line_ups.sections.values())
        for call in range(2700)
    )

    assert len(came) == 9
    assert all(way[n] != letters[n] for way in came for n in range(4))
    assert chisquare(list(came.values())).pvalue > 0.001


BLU_FOUR = tuple(
    replace(entry, team="BLU") if entry.no in (5, 6) else entry for entry in SHEET.entries
)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"ends": (1, 99)}, "End peg 99 is on the sheet nowhere else"),
        ({"ends": (1, 1)}, "End peg 1 is on the sheet twice"),
        ({"had": ((9, 1),)}, "The end pegs had are said for nobody: entry 9"),
        ({"had": ((1, 1), (1, 2))}, "The end pegs had are said twice: entry 1"),
        ({"visits": ((1, (1, 0, 0)),)}, "Entry 1 fished 3 sections; the sheet has 2"),
        (
            {"visits": ((1, (1, 0)), (1, (1, 0)))},
            "What entry 1 fished before is on the sheet twice",
        ),
        ({"visits": ((9, (1, 0)),)}, "Entry 9 has a section"),
        ({"fixed": ((1, 2),)}, "Entry 1 has a fixed peg, so its section cannot be drawn"),
        (
            {"entries": (*SHEET.entries, draw.Entry(7, "OAK", "A"))},
            "Who fishes which section is drawn for the others, and entry 7 has one already",
        ),
        (
            {"entries": (*SHEET.entries, draw.Entry(7, "", "-"))},
            "Entry 7 has no team to share sections with",
        ),
        (
            {"entries": BLU_FOUR},
            "Section A has 3 pegs, and 4 anglers may come out in it",
        ),
        (
            {"entries": tuple(draw.Entry(no, "RED", "-") for no in range(1, 10))},
            "Red House has 9 members, and the draw shares sections among 8 at most",
        ),
        (
            {"sections": tuple(draw.Section(letter, (n,)) for n, letter in enumerate("ABCDEFGHJ"))},
            "There are 9 sections, and it is drawn who fishes which in 8 at most",
        ),
    ],
)
def test_what_cannot_be_shared_is_refused_in_words(changed, words):
    told = draw.faults(replace(SHEET, **changed), {"RED": "Red House"})

    assert any(said.startswith(words) for said in told), told


def test_a_line_up_without_enough_easy_access_pegs_is_refused_before_it_is_frozen():
    both = tuple(replace(entry, needs=entry.no in (3, 4)) for entry in SHEET.entries)

    with pytest.raises(DrawError, match="cannot all be in a section that has one"):
        draw.rehearse(replace(SHEET, entries=both))


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (draw.Given(1, draw.Entry(7, "", "A"), 2), "and is entry 2's"),
        (draw.Given(1, draw.Entry(7, "", "B"), 7), "is not in section 'B'"),
        (draw.Given(1, draw.Entry(2, "", "A"), 7), "and has one already"),
    ],
)
def test_a_peg_that_was_not_in_the_bag_cannot_be_given(given, words):
    sheet = replace(SHEET, sections=(draw.Section("A", (1, 2, 3, 7), (1,)), SHEET.sections[1]))
    event = first(sheet)
    taken = draw.run(sheet, event).pegs[2]
    given = replace(given, peg=taken if given.peg == 2 else draw.run(sheet, event).bag["A"][0])

    with pytest.raises(DrawError) as refused:
        draw.replay(sheet, [event, given])

    assert words in str(refused.value)


def test_nothing_can_be_given_before_the_draw():
    with pytest.raises(DrawError, match="no draw is finished before that"):
        draw.replay(SHEET, [draw.Given(0, draw.Entry(7, "", "A"), 2)])
