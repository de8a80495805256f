"""From a result and the bank to the strip."""

from league.rules.bank import parse_pegs
from league.rules.lines import (
    AnglerLine,
    MatchResult,
    OverallLine,
    Reason,
    Row,
    SectionResult,
    Status,
)
from league.rules.matches import score_match
from league.rules.rulebook import Rulebook
from league.rules.weights import Unit
from league.strip import BankPeg, State, layout_of, pegs_of, strip_of

WHY = Reason("placed")


def line(peg: str, weight: int, place: int | None, section: str = "A", **row) -> AnglerLine:
    status = row.get("status", Status.WEIGHED)
    return AnglerLine(
        row=Row(section, peg, f"Angler {peg}", **row),
        weight=weight,
        counted=(weight,),
        place=place,
        equal=False,
        points=place,
        reason=WHY,
        status=status,
    )


def result(*lines: AnglerLine) -> MatchResult:
    letters = dict.fromkeys(each.row.section for each in lines)
    heaviest = max(each.weight for each in lines)
    return MatchResult(
        unit=Unit.LB_OZ,
        sections=tuple(
            SectionResult(letter, 0, 0, tuple(each for each in lines if each.row.section == letter))
            for letter in letters
        ),
        teams=(),
        anglers=tuple(
            OverallLine(
                place=1 if each.weight == heaviest else 2,
                equal=False,
                angler=each.row.angler,
                angler_id="",
                team="",
                section=each.row.section,
                peg=each.row.peg,
                status=each.status,
                weight=each.weight,
            )
            for each in lines
        ),
        section_points=0,
        expected=None,
    )


def test_everybody_is_shown_on_their_peg_in_bank_order():
    worked = result(
        line("1", 2560, 1),
        line("2", 0, None, status=Status.BLANK),
        line("4", 5120, 1, "B"),
        line("5", 0, None, "B", status=Status.DISQUALIFIED),
    )
    layout = [BankPeg("5", 5), BankPeg("4", 4, left_out=("3",)), BankPeg("1", 1), BankPeg("2", 2)]

    pegs = pegs_of(worked, layout)

    assert [(peg.number, peg.section, peg.state) for peg in pegs] == [
        ("1", "A", State.WEIGHED),
        ("2", "A", State.BLANK),
        ("4", "B", State.WEIGHED),
        ("5", "B", State.DISQUALIFIED),
    ]
    assert [peg.kind for peg in pegs] == ["sec", "", "win", ""]
    assert pegs[2].gap_before == 1
    assert pegs[2].name == "Angler 4"


def test_a_blank_never_wins_even_where_everybody_blanked():
    worked = result(
        line("1", 0, 1, status=Status.BLANK),
        line("2", 0, 1, status=Status.BLANK),
    )

    pegs = pegs_of(worked, [BankPeg("1", 1), BankPeg("2", 2)])

    assert [peg.kind for peg in pegs] == ["", ""]


def test_whoever_left_early_shows_the_weight_taken_before():
    worked = result(
        line("1", 320, 1, status=Status.WITHDREW),
        line("2", 0, None, status=Status.WITHDREW),
    )

    pegs = pegs_of(worked, [BankPeg("1", 1), BankPeg("2", 2)])

    assert [(peg.state, peg.weight) for peg in pegs] == [
        (State.WEIGHED, 320),
        (State.NOT_WEIGHED, 0),
    ]


def test_a_peg_with_nobody_on_it_belongs_with_its_neighbours():
    pegs = pegs_of(result(line("1", 320, 1)), [BankPeg("1", 1), BankPeg("2", 2)])

    assert (pegs[1].state, pegs[1].section) == (State.EMPTY, "A")


def test_an_angler_without_a_peg_of_the_bank_is_not_drawn():
    worked = result(line("1", 320, 1), line("", 0, None, status=Status.ABSENT))

    assert [mark.number for mark in strip_of(worked, [BankPeg("1", 1)]).marks] == ["1"]


def test_the_bank_as_it_is_said_becomes_the_bank_as_it_is_drawn():
    layout, after = layout_of(parse_pegs("1-9, not 1 and 4 and 5 and 9, gap after 7"))

    assert [(peg.number, peg.gap_before, peg.left_out) for peg in layout] == [
        ("2", 1, ("1",)),
        ("3", 0, ()),
        ("6", 2, ("4", "5")),
        ("7", 0, ()),
        ("8", 1, ()),
    ]
    assert after == ("9",)


def test_a_peg_published_before_it_was_weighed_still_waits():
    rows = [Row("A", "1", "Ana", nets=(4000,)), Row("A", "2", "Bo", status=Status.NOT_WEIGHED)]
    result = score_match(rows, Rulebook(unit=Unit.KG))
    bank = [BankPeg("1", 1), BankPeg("2", 2, waiting=True)]

    assert [peg.state for peg in pegs_of(result, bank)] == [State.WEIGHED, State.WAITING]
    assert "Still to come: peg 2." in strip_of(result, bank).description
