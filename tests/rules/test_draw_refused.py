"""Which texts, calls and sheets are refused, and in which words."""

from dataclasses import replace

import pytest

from league.rules import draw
from league.rules.errors import DrawError
from tests.draws import FIRST, HOPELESS, LINKS, SHEET, event


@pytest.mark.parametrize(
    ("calls", "words"),
    [
        (((1, 7), (1, 8), (5, 0)), "Entry 1 called twice"),
        (((1, 10_000), (5, 0)), "Entry 1 called 10000. A call is a whole number from 0 to 9999"),
        (((1, -1), (5, 0)), "A call is a whole number from 0 to 9999"),
        (((1, 7),), "Nothing is written down for caller 5"),
        (((1, 7), (2, 3), (5, 0)), "Entry 2 is no caller on the sheet; the callers are 1, 5"),
    ],
)
def test_calls_that_are_not_one_from_each_caller_are_refused(calls, words):
    with pytest.raises(DrawError, match=words):
        event(calls=calls)


def test_a_sheet_changed_after_it_was_frozen_is_found_out():
    changed = replace(SHEET, entries=(replace(SHEET.entries[0], team="TAN"), *SHEET.entries[1:]))

    with pytest.raises(DrawError, match="The sheet was changed after it was frozen"):
        draw.run(changed, FIRST)


def test_an_event_out_of_turn_is_refused():
    with pytest.raises(DrawError, match="Event 3 does not follow the seed of the event before it"):
        draw.run(SHEET, event(3, LINKS[5], draw.Redraw("A")), [FIRST])
    with pytest.raises(DrawError, match="of match 'round-3', the sheet of 'round-4'"):
        draw.run(replace(SHEET, match="round-4"), FIRST)


def test_only_the_secret_that_was_locked_away_opens_the_commitment():
    draw.check_event(SHEET, FIRST, LINKS[5])

    with pytest.raises(DrawError, match="not the secret that was locked away"):
        draw.check_event(SHEET, replace(FIRST, reveal="1" * 64), LINKS[5])
    with pytest.raises(DrawError, match="does not follow"):
        draw.check_event(SHEET, FIRST, LINKS[4])
    with pytest.raises(DrawError, match="made for 5 events and cannot open event 6"):
        draw.reveal("0" * 64, 6)


def test_texts_are_read_back_as_they_were_written():
    for change in (
        None,
        draw.Redraw("A"),
        draw.Unsafe(3),
        draw.Late(draw.Entry(7, "", "B", needs=True)),
    ):
        written = event(change=change, calls=((1, None), (5, 9999)))

        assert draw.Event.parse(written.text) == written
    assert draw.Sheet.parse(SHEET.text) == SHEET


def test_the_same_facts_in_another_order_give_the_same_texts():
    """Else two sheets of one draw would have two fingerprints."""
    both_fixed = replace(SHEET, fixed=((6, 13), (1, 3)), adjacent=((4, 11), (1, 2)))
    turned = replace(
        both_fixed,
        entries=SHEET.entries[::-1],
        adjacent=((2, 1), (11, 4)),
        callers=(5, 1),
        fixed=((1, 3), (6, 13)),
    )

    assert turned.digest == both_fixed.digest
    assert event(calls=((5, 0), (1, 7))).seed == FIRST.seed


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda text: text.replace("PEGSHEET/1", "PEGSHEET/3"), "starts with 'PEGSHEET/3'"),
        (lambda text: text.replace("PEGSHEET/1", "PEGSHEET/2"), "should read 'PEGSHEET/1'"),
        (lambda text: text[:-1], "a line feed after every line"),
        (lambda text: text.replace("\n", "\r\n"), "starts with 'PEGSHEET/1\\\\r'"),
        (lambda text: text.replace("1.2.3.4.", "4.3.2.1."), "where it should read"),
        (lambda text: text.replace("entry=1|", "entry=01|"), "where it should read"),
        (lambda text: text.replace("RED", "RÉD"), "plain ASCII"),
        (lambda text: text + "note=hello\n", "a line that no sheet has: 'note=hello'"),
    ],
)
def test_a_sheet_written_in_another_way_is_refused(change, words):
    with pytest.raises(DrawError, match=words):
        draw.Sheet.parse(change(SHEET.text))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda text: text.replace("call=5|0.", "call=5|00."), "where it should read"),
        (lambda text: text.replace("event=1\n", ""), "has no line event="),
        (lambda text: text.replace("event=1\n", "event=ff\n"), "whole number, not 'ff'"),
        (lambda text: text + "late=x\n", "An entry reads"),
        (lambda text: text + "unsafe=x\n", "A change reads late=13|TAN|A|0, redraw=B or unsafe=7"),
        (lambda text: text + "hello\n", "a line that no event has"),
    ],
)
def test_an_event_written_in_another_way_is_refused(change, words):
    with pytest.raises(DrawError) as refused:
        draw.Event.parse(change(FIRST.text))

    assert words in str(refused.value)


def test_a_sheet_tells_everything_that_is_wrong_at_once():
    sheet = draw.Sheet(
        match="two words",
        sections=(
            draw.Section("A", (1, 1, 2), (9,)),
            draw.Section("b", (3,), (3,)),
        ),
        entries=(
            draw.Entry(1, "RED", "A"),
            draw.Entry(1, "Blue", "Z"),
            draw.Entry(2, "", "b", needs=True),
            draw.Entry(3, "", "b", needs=True),
        ),
        adjacent=((1, 1), (2, 7)),
        callers=(1, 1, 8),
        fixed=((2, 1), (4, 3)),
    )

    assert draw.faults(sheet) == [
        "The match is plain letters, figures and signs without spaces, not 'two words'.",
        "A section is 1 to 8 of A-Z and 0-9, not 'b'.",
        "A team's code is 1 to 8 of A-Z and 0-9, not 'Blue'.",
        "Peg 1 is on the sheet twice. Where two waters share a number, "
        "number the pegs 1, 2, 3 ... along the bank.",
        "Accessible peg 9 is not among the pegs of section A.",
        "Peg 1 cannot be its own neighbour.",
        "Neighbours 2 and 7: peg 7 is on the sheet nowhere else.",
        "Entry 1 is on the sheet twice.",
        "Entry 1 is in section 'Z', which is not on the sheet.",
        "Peg 1 is fixed for entry 2, but is not in section b.",
        "Peg 3 is fixed for entry 4, who is not on the sheet.",
        "Section b has 2 anglers to draw and 0 pegs. Add pegs, or move an angler.",
        "Section b has 2 anglers who need an accessible peg (entries 2, 3) and 0 such pegs to "
        "draw. Move one to another section, or mark another peg as accessible.",
        "Entry 1 is named as caller twice.",
        "Caller 8 is not entered.",
    ]


def test_what_looks_like_a_slip_is_asked_about_before_the_sheet_is_frozen():
    alone = replace(SHEET, callers=(1, 4))

    assert draw.doubts(SHEET) == ["GRN has nobody in section B, where others have 1."]
    assert draw.doubts(alone)[1] == "Name at least two callers, from different teams."
    assert draw.doubts(replace(SHEET, callers=()))[1].startswith("No callers are named")


def test_a_sheet_that_cannot_keep_team_mates_apart_is_asked_about_before_it_is_frozen():
    assert draw.rehearse(SHEET) == []
    for record in HOPELESS:
        (doubt,) = draw.rehearse(record.sheet)
        assert doubt.startswith("50 draws with made-up numbers left team-mates as neighbours")
    assert "pegs 1 and 2 both went to RED" in draw.rehearse(HOPELESS[1].sheet)[0]
