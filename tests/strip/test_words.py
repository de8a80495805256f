"""The strip said in words."""

from league.rules.weights import Unit
from league.strip import State, StripPeg, describe


def test_a_result_names_the_heaviest_the_winners_the_blanks_and_what_is_left_out():
    pegs = [
        StripPeg("1", "A", State.WEIGHED, 3200, "Jo Ormesher", wins_section=True, best=True),
        StripPeg("2", "A", State.BLANK),
        StripPeg("4", "B", State.WEIGHED, 256, "Tom K.", left_out=("3",), wins_section=True),
        StripPeg("5", "B", State.BLANK),
        StripPeg("6", "B", State.NOT_WEIGHED),
        StripPeg("7", "B", State.ABSENT),
    ]

    said = describe(pegs, Unit.LB_OZ, left_out_after=["8"])

    assert said == (
        "6 pegs in bank order, in 2 sections. "
        "Heaviest: peg 1, Jo Ormesher, 12 lb 8 oz. "
        "Section winners: A, peg 1, Jo Ormesher, 12 lb 8 oz; B, peg 4, Tom K., 1 lb 0 oz. "
        "Blanks: pegs 2, 5. Did not weigh: peg 6. Absent: peg 7. Left out: pegs 3, 8. "
        "Every weight is in the tables."
    )


def test_the_walk_says_what_is_still_to_do():
    pegs = [
        StripPeg("1", state=State.UNSENT, weight=2480),
        StripPeg("2", state=State.NOW),
        StripPeg("3"),
        StripPeg("4"),
    ]

    assert describe(pegs, Unit.KG, closing="Peg 2 is next.") == (
        "4 pegs in bank order. Being weighed: peg 2. Weighed and not sent yet: peg 1. "
        "Still to come: pegs 3, 4. Peg 2 is next."
    )


def test_one_peg_is_said_as_one():
    peg = StripPeg("12a", state=State.LATEST, label="OQ")

    assert describe([peg], Unit.LB_OZ) == (
        "1 peg in bank order. Drawn last: peg 12a, OQ. Every name is in the lists."
    )
