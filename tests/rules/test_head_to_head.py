"""Two teams against each other, worked by hand from a match of six teams."""

from __future__ import annotations

import pytest

from league.files import rulebook
from league.rules.head_to_head import HeadToHead, Meeting, Tally, head_to_head, said
from league.rules.lines import MatchResult, Row, Status
from league.rules.matches import score_match
from league.rules.weights import Unit, Weight
from tests.web.scene import BOOK, ROUND_6

WORDS = {"blank": Status.BLANK, "not weighed": Status.NOT_WEIGHED}


def round_6(**changed: str) -> MatchResult:
    rows = []
    for section, anglers in ROUND_6.items():
        for peg, (angler, team, called) in enumerate(anglers, start=1):
            figure = changed.get(angler.split()[-1], called)
            nets = (
                ()
                if figure in WORDS
                else tuple(Weight.parse(net, Unit.LB_OZ).amount for net in figure.split("+"))
            )
            rows.append(
                Row(
                    section,
                    f"{section}{peg}",
                    angler,
                    team,
                    status=WORDS.get(figure, Status.WEIGHED),
                    nets=nets,
                )
            )
    return score_match(rows, rulebook.from_dict(BOOK))


def test_who_came_ahead_is_what_the_match_says_ties_included() -> None:
    found = head_to_head([(6, round_6())], "Tannery Lane", "Old Quarry")

    # Both have 18 points; Tannery Lane win on total weight.
    assert found.points == (18, 18)
    assert found.rounds == Tally(ahead=1)
    # A 14-9 against 21-12, B 27-6 against 12-8, C 16-3 against 7-5, D 3-2 against 16-7.
    assert found.meetings[0].sections == (("A", -1), ("B", 1), ("C", 1), ("D", -1))
    assert found.sections == Tally(ahead=2, behind=2)


def test_seen_from_the_other_side_it_is_the_other_way_round() -> None:
    rounds = [(6, round_6()), (7, round_6(Scrimshire="blank"))]
    ours = head_to_head(rounds, "Tannery Lane", "Old Quarry")
    theirs = head_to_head(rounds, "Old Quarry", "Tannery Lane")

    assert (ours.rounds.ahead, ours.rounds.behind) == (theirs.rounds.behind, theirs.rounds.ahead)
    assert (ours.sections.ahead, ours.sections.behind) == (
        theirs.sections.behind,
        theirs.sections.ahead,
    )
    assert ours.weight == theirs.weight[::-1]


def test_equal_weights_in_a_section_are_level() -> None:
    # Len Cudworthy and Chris Maddern both had 9-4 in section D.
    found = head_to_head([(6, round_6())], "Millrace", "Lamplighters")

    assert dict(found.meetings[0].sections)["D"] == 0
    assert found.sections.level == 1


def test_a_blank_is_behind_whoever_weighed() -> None:
    # In B Pete Brackwell of Millrace blanked; Norma Stainsworth of Bridge End had 5-13.
    found = head_to_head([(6, round_6())], "Millrace", "Bridge End")

    assert dict(found.meetings[0].sections)["B"] == -1


def test_two_blanks_are_level() -> None:
    found = head_to_head([(6, round_6(Stainsworth="blank"))], "Millrace", "Bridge End")

    assert dict(found.meetings[0].sections)["B"] == 0


def test_a_round_that_one_of_them_missed_is_no_meeting() -> None:
    found = head_to_head([(6, round_6())], "Tannery Lane", "Nobody’s Lane")

    assert found.meetings == ()
    assert said(found, "Tannery Lane", "Nobody’s Lane") == (
        "Tannery Lane and Nobody’s Lane have not met yet"
    )


@pytest.mark.parametrize(
    ("tally", "words"),
    [
        (Tally(3, 0, 1), "A ahead in 3 of 4 rounds"),
        (Tally(1, 1, 3), "B ahead in 3 of 5 rounds"),
        (Tally(2, 0, 2), "A and B are even over 4 rounds: 2 each"),
        (Tally(1, 1, 1), "A and B are even over 3 rounds: 1 each, 1 level"),
        (Tally(1, 0, 0), "A ahead in 1 of 1 round"),
    ],
)
def test_the_sentence_never_goes_without_its_count(tally: Tally, words: str) -> None:
    meetings: tuple[Meeting, ...] = ()
    assert said(HeadToHead(meetings, tally, Tally(), (0, 0), (0, 0)), "A", "B") == words
