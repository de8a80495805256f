"""What a correction moved, in sentences."""

from __future__ import annotations

from dataclasses import replace

from league.operations.moves import moves
from league.rules.lines import MatchResult, Row, Status
from league.rules.matches import score_match
from league.rules.rulebook import Rulebook

POUND = 256


def _row(peg: str, angler: str, pounds: int, team: str = "", **values: object) -> Row:
    status = Status.WEIGHED if pounds else Status.BLANK
    nets = (pounds * POUND,) if pounds else ()
    row = Row("A", peg, angler, team, status, nets, angler_id=angler, team_id=team)
    return replace(row, **values)  # type: ignore[arg-type]


def _result(*rows: Row) -> MatchResult:
    return score_match(rows, Rulebook())


CHRIS, DAVE = _row("29", "Chris Maddern", 9), _row("30", "Dave Scrimshire", 4)


def test_a_weight_corrected_without_a_change_of_place() -> None:
    corrected = _row("29", "Chris Maddern", 8)

    assert moves(_result(CHRIS, DAVE), _result(corrected, DAVE)) == [
        "Peg 29, Chris Maddern: 9 lb 0 oz becomes 8 lb 0 oz.",
        "Nobody changes place.",
    ]


def test_nothing_changed() -> None:
    assert moves(_result(CHRIS, DAVE), _result(CHRIS, DAVE)) == ["Nobody changes place."]


def test_points_and_places_that_follow_are_listed() -> None:
    corrected = _row("29", "Chris Maddern", 0)

    assert moves(_result(CHRIS, DAVE), _result(corrected, DAVE)) == [
        "Peg 29, Chris Maddern: 9 lb 0 oz becomes blank.",
        "Section A, Dave Scrimshire: from 2 points to 1 point.",
        "Section A, Chris Maddern: from 1 point to 2 points.",
        "Dave Scrimshire: from 2nd to 1st.",
        "Chris Maddern: from 1st to 2nd.",
    ]


def test_teams_that_change_place_are_listed() -> None:
    ours = _row("29", "Chris Maddern", 9, "Old Quarry")
    theirs = _row("30", "Dave Scrimshire", 4, "Tannery Lane")
    book = Rulebook(team=replace(Rulebook().team, size=1))
    corrected = _row("29", "Chris Maddern", 0, "Old Quarry", status=Status.NOT_WEIGHED)

    found = moves(score_match([ours, theirs], book), score_match([corrected, theirs], book))

    assert found[0] == "Peg 29, Chris Maddern: 9 lb 0 oz becomes did not weigh."
    assert found[-2:] == [
        "Tannery Lane: from 2nd to 1st.",
        "Old Quarry: from 1st to 2nd.",
    ]


def test_no_team_changes_place() -> None:
    ours = _row("29", "Chris Maddern", 9, "Old Quarry")
    theirs = _row("30", "Dave Scrimshire", 4, "Tannery Lane")
    book = Rulebook(team=replace(Rulebook().team, size=1))
    corrected = _row("29", "Chris Maddern", 8, "Old Quarry")

    found = moves(score_match([ours, theirs], book), score_match([corrected, theirs], book))

    assert found[-1] == "No team changes place."


def test_who_is_added_taken_out_or_on_another_peg_is_said() -> None:
    moved_over = replace(DAVE, peg="31")
    added = _row("32", "Keith Wraggley", 0, status=Status.ABSENT)

    assert moves(_result(CHRIS, DAVE), _result(moved_over, added))[:3] == [
        "Peg 31, Dave Scrimshire: was on peg 30.",
        "Peg 32, Keith Wraggley: added, absent.",
        "Peg 29, Chris Maddern: taken out, was 9 lb 0 oz.",
    ]
