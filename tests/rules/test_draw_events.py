"""What later events do to a draw, and which texts and events are refused."""

from dataclasses import replace

import pytest

from league.rules import draw
from league.rules.errors import DrawError
from tests.draws import FIRST, LINKS, SHEET, event


def after(change):
    """The draw, and then one event that changes it."""
    return draw.replay(SHEET, [FIRST, event(2, FIRST.seed, change)])


def test_a_fixed_angler_has_the_peg_given_before_the_draw():
    outcome = draw.run(SHEET, FIRST)

    assert outcome.pegs[6] == 13
    assert outcome.pegs[2] in (2, 4)
    assert sorted(outcome.bag) == ["A", "B"]
    assert sorted([*outcome.pegs.values(), *outcome.bag["A"], *outcome.bag["B"]]) == [
        1, 2, 3, 4, 11, 12, 13, 14,
    ]  # fmt: skip


def test_a_late_entry_who_needs_it_chooses_an_accessible_peg():
    """Of the two pegs left in the bag only one is accessible, whatever is called."""
    wider = replace(SHEET, sections=(draw.Section("A", (1, 2, 3, 4, 5), (2, 4)), SHEET.sections[1]))
    draws = (event(sheet=wider, calls=((1, call), (5, 0))) for call in range(100))
    first = next(one for one in draws if {2, 4} & set(draw.run(wider, one).bag["A"]))
    (accessible,) = {2, 4} & set(draw.run(wider, first).bag["A"])
    late = draw.Late(draw.Entry(7, "OAK", "A", needs=True))

    for call in range(20):
        second = event(2, first.seed, late, calls=((1, call), (5, None)), sheet=wider)

        assert draw.run(wider, second, [first]).pegs[7] == accessible


def test_a_late_entry_finds_no_accessible_peg_and_is_told():
    both = replace(
        SHEET,
        entries=(*SHEET.entries[:2], draw.Entry(3, "GRN", "A", needs=True), *SHEET.entries[3:]),
    )
    first = event(sheet=both)
    late = event(2, first.seed, draw.Late(draw.Entry(7, "OAK", "A", needs=True)), sheet=both)

    with pytest.raises(DrawError, match="No accessible peg is left in the bag of section A"):
        draw.run(both, late, [first])


def test_the_angler_on_an_unsafe_peg_moves_and_nobody_else():
    drawn, later = after(draw.Unsafe(13))

    assert later.moved == (6,)
    assert later.pegs[6] in drawn.bag["B"]
    assert {no: peg for no, peg in later.pegs.items() if no != 6} == {
        no: peg for no, peg in drawn.pegs.items() if no != 6
    }
    assert 13 not in later.bag["B"]


def test_an_unsafe_peg_nobody_has_only_leaves_the_bag():
    spare = draw.run(SHEET, FIRST).bag["A"][0]

    drawn, later = after(draw.Unsafe(spare))

    assert later.moved == ()
    assert later.pegs == drawn.pegs
    assert later.bag["A"] == ()


def test_an_unsafe_peg_stays_out_when_its_section_is_drawn_again():
    """The fixed peg is unsafe: its angler then draws with the others."""
    second = event(2, FIRST.seed, draw.Unsafe(13))
    third = event(3, second.seed, draw.Redraw("B"))

    outcome = draw.run(SHEET, third, [FIRST, second])

    assert sorted(outcome.pegs[no] for no in (4, 5, 6)) == [11, 12, 14]
    assert outcome.moved == (4, 5, 6)


def test_a_section_drawn_again_keeps_away_from_team_mates_next_door():
    """Whatever is called, 4 and 11 never both go to one team."""
    for call in range(200):
        second = event(2, FIRST.seed, draw.Redraw("B"), calls=((1, call), (5, None)))

        pegs = draw.run(SHEET, second, [FIRST]).pegs

        team_on = {peg: SHEET.by_no[no].team for no, peg in pegs.items()}
        assert team_on.get(4) != team_on.get(11) or team_on.get(4) is None


def test_the_attempts_that_did_not_stand_are_told_with_their_pegs():
    for call in range(200):
        outcome = draw.run(SHEET, event(calls=((1, call), (5, None))))
        if outcome.attempt == 2:
            break

    (refused,) = outcome.refused
    (clash,) = refused.clashes
    assert (clash.one, clash.other) == (4, 11)
    assert draw.say(outcome, {"RED": "Red House", "BLU": "Bluebell"})[0] == (
        "Attempt 1 did not stand: pegs 4 and 11 both went to "
        f"{'Red House' if clash.team == 'RED' else 'Bluebell'}."
    )
    assert draw.say(outcome)[1] == "Attempt 2 stands."


def test_after_a_thousand_attempts_the_one_with_fewest_clashes_stands_and_says_so():
    """One peg a section, next to each other, one team: no draw keeps them apart."""
    sheet = draw.Sheet(
        "m",
        (draw.Section("A", (1,)), draw.Section("B", (2,))),
        (draw.Entry(1, "RED", "A"), draw.Entry(2, "RED", "B")),
        adjacent=((1, 2),),
    )

    outcome = draw.run(sheet, event(sheet=sheet, calls=()))

    assert outcome.attempt == 1
    assert len(outcome.refused) == 999
    assert outcome.clashes == (draw.Clash(1, 2, "RED"),)
    assert draw.say(outcome) == [
        "Attempt 1 stands.",
        "No attempt of 1000 kept every team apart; this one came nearest.",
        "Team-mates are neighbours all the same: pegs 1 and 2 both went to RED.",
        "No numbers called: the pegs follow from the locked secret alone.",
    ]


def test_a_section_that_cannot_keep_two_members_apart_does_not_hold_up_the_others():
    """Two pegs, two team-mates: the section is drawn a thousand times, and the attempt stands."""
    sheet = draw.Sheet(
        "m",
        (draw.Section("A", (1, 2)),),
        (draw.Entry(1, "RED", "A"), draw.Entry(2, "RED", "A")),
        adjacent=((1, 2),),
    )

    outcome = draw.run(sheet, event(sheet=sheet, calls=()))

    assert (outcome.attempt, outcome.refused) == (1, ())
    assert outcome.clashes == (draw.Clash(1, 2, "RED"),)


def test_a_draw_by_hand_is_kept_and_makes_no_claim():
    pegs = {1: 1, 2: 2, 3: 3, 4: 11, 5: 12, 6: 13}
    by_hand = draw.ByHand(1, pegs, "Len Cudworthy")
    late = event(2, LINKS[5], draw.Late(draw.Entry(7, "OAK", "B")))

    drawn, later = draw.replay(SHEET, [by_hand, late])

    assert drawn.pegs == pegs
    assert draw.say(drawn) == ["Drawn by hand from a bag by Len Cudworthy."]
    assert later.pegs[7] == 14


def test_a_draw_by_hand_that_no_bag_could_give_is_refused_with_everything_wrong():
    wrong = draw.ByHand(1, {1: 1, 2: 3, 3: 1, 4: 3, 6: 14, 9: 40})

    with pytest.raises(DrawError) as refused:
        draw.replay(SHEET, [wrong])

    assert str(refused.value).splitlines() == [
        "Peg 1 came out twice.",
        "Peg 3 came out twice.",
        "Entry 2 needs an accessible peg, and 3 is not one.",
        "Entry 4 is in section B, peg 3 in section A.",
        "Entry 6 was given peg 13 before the draw.",
        "Entry 9 is not on the sheet.",
        "No peg yet for entry 5.",
    ]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (draw.Redraw("Z"), "Section 'Z' cannot be drawn again: it is not on the sheet"),
        (draw.Late(draw.Entry(6, "", "B")), "Late entry 6 has a number that is taken"),
        (draw.Late(draw.Entry(7, "", "Z")), "section 'Z', which is not on the sheet"),
        (draw.Unsafe(99), "Peg 99 is not on the sheet"),
    ],
)
def test_a_change_that_fits_nothing_is_refused(change, words):
    with pytest.raises(DrawError, match=words):
        after(change)


@pytest.mark.parametrize(
    "change", [draw.Redraw("A"), draw.Unsafe(1), draw.Late(draw.Entry(7, "", "A"))]
)
def test_nothing_is_changed_before_there_is_a_draw(change):
    with pytest.raises(DrawError, match="changes a draw, and none is finished yet"):
        draw.run(SHEET, event(change=change))
