"""Objections: heard in time, answered once, kept beside the result, never passed over."""

from __future__ import annotations

import datetime as dt

import pytest

from league.models import (
    Act,
    Club,
    Decision,
    DecisionKind,
    Entry,
    Match,
    Objection,
    Outcome,
    Stage,
)
from league.operations.decide import decide
from league.operations.errors import RefusedError
from league.operations.objections import answer, hear_for, object_to, told
from league.operations.publish import make_final, publish
from tests.builders import make_fished_match, make_season

SUNDAY = dt.datetime(2027, 1, 24, 17, tzinfo=dt.UTC)
CLOSED = SUNDAY + dt.timedelta(hours=27)  # the club hears objections for 27 hours


@pytest.fixture
def match(club: Club) -> Match:
    """A round published on Sunday at 17:00; Ivy Marsh fished peg 1."""
    match = make_fished_match(season=make_season(club))
    entry = match.entries.order_by("number")[0]
    entry.angler.name = "Ivy Marsh"
    entry.angler.save()
    publish(match, by=None, at=SUNDAY)
    return match


@pytest.fixture
def ivy(match: Match) -> Entry:
    return match.entries.get(angler__name="Ivy Marsh")


def _objection(match: Match, ivy: Entry, **values: object) -> Objection:
    at = values.pop("at", SUNDAY + dt.timedelta(hours=1))
    return object_to(match, entry=ivy, what="Peg 2 fished two rods.", by=None, at=at, **values)  # type: ignore[arg-type]


def test_an_objection_is_taken_down_with_the_version_and_the_time_it_was_made_in(
    match: Match, ivy: Entry
) -> None:
    objection = _objection(match, ivy)

    assert objection.result is not None
    assert objection.result.version == 1
    assert objection.heard_until == CLOSED
    assert not objection.late
    assert Act.objects.latest("pk").what == "Objection of Ivy Marsh: Peg 2 fished two rods."
    assert told(objection) == (
        "Ivy Marsh objected on Sunday 24 January, 18:00: Peg 2 fished two rods.",
        "Not answered yet.",
    )


def test_the_last_minute_is_in_time_and_the_next_is_late(match: Match, ivy: Entry) -> None:
    assert not _objection(match, ivy, at=CLOSED).late

    with pytest.raises(RefusedError, match=r"heard until Monday 25 January, 20:00"):
        _objection(match, ivy, at=CLOSED + dt.timedelta(minutes=1))
    late = _objection(match, ivy, at=CLOSED + dt.timedelta(minutes=1), late_heard=True)

    assert late.late
    assert "after the time for objections, and heard" in told(late)[0]


def test_a_result_is_not_made_final_while_an_objection_is_open(match: Match, ivy: Entry) -> None:
    objection = _objection(match, ivy)

    with pytest.raises(RefusedError) as refused:
        make_final(match, by=None, at=CLOSED)
    assert str(refused.value) == (
        "Answer these objections before the result is final:\nIvy Marsh: Peg 2 fished two rods."
    )

    answer(objection, outcome=Outcome.DISMISSED, answer="The second was a rest.", by=None)
    make_final(match, by=None, at=CLOSED)
    match.refresh_from_db()
    assert match.stage == Stage.FINAL


def test_one_that_is_upheld_names_the_decision_and_the_correction_follows(
    match: Match, ivy: Entry
) -> None:
    objection = _objection(match, ivy)
    second = match.entries.order_by("number")[1]
    decision = decide(match, kind=DecisionKind.DISQUALIFIED, entry=second, why="Two rods.", by=None)

    held = answer(
        objection,
        outcome=Outcome.UPHELD,
        answer="Seen by two.",
        decision=decision,
        by=None,
        at=SUNDAY + dt.timedelta(hours=2),
    )

    assert held.decision == decision
    assert told(held)[1] == "Upheld on Sunday 24 January, 19:00. Seen by two."
    with pytest.raises(RefusedError, match="a correction comes first"):
        make_final(match, by=None, at=CLOSED)


def test_an_answer_is_given_once_and_says_why(match: Match, ivy: Entry) -> None:
    objection = _objection(match, ivy)
    with pytest.raises(RefusedError, match="Say why"):
        answer(objection, outcome=Outcome.UPHELD, answer="  ", by=None)
    answer(objection, outcome=Outcome.WITHDRAWN, answer="Taken back.", by=None)

    with pytest.raises(RefusedError, match="answered already: withdrawn"):
        answer(objection, outcome=Outcome.UPHELD, answer="After all.", by=None)


def test_a_final_result_is_not_objected_to(match: Match, ivy: Entry) -> None:
    make_final(match, by=None, at=CLOSED)

    with pytest.raises(RefusedError, match="objections are closed"):
        _objection(match, ivy)


def test_the_club_says_how_long_and_what_is_out_keeps_its_time(match: Match, ivy: Entry) -> None:
    hear_for(match.club, 2, by=None)

    assert _objection(match, ivy, at=CLOSED).late is False
    other = make_fished_match(match.club)
    result = publish(other, by=None, at=SUNDAY)
    assert result.objections_until == SUNDAY + dt.timedelta(hours=2)
    with pytest.raises(RefusedError, match="1 to 336"):
        hear_for(match.club, 0, by=None)


def test_somebody_objects_and_to_something(match: Match, ivy: Entry) -> None:
    with pytest.raises(RefusedError, match="Say who objects"):
        object_to(match, what="Two rods.", by=None, at=SUNDAY)
    with pytest.raises(RefusedError, match="Say what the objection is to"):
        object_to(match, what=" ", entry=ivy, by=None, at=SUNDAY)
    with pytest.raises(RefusedError, match="does not fish this match"):
        object_to(make_other(match), what="Two rods.", entry=ivy, by=None, at=SUNDAY)


def make_other(match: Match) -> Match:
    other = make_fished_match(match.club)
    publish(other, by=None, at=SUNDAY)
    return other


def test_a_decision_of_another_match_answers_nothing(match: Match, ivy: Entry) -> None:
    objection = _objection(match, ivy)
    other = make_other(match)
    decision = decide(
        other, kind=DecisionKind.DISQUALIFIED, entry=other.entries.first(), why="Late.", by=None
    )

    with pytest.raises(RefusedError, match="about another match"):
        answer(objection, outcome=Outcome.UPHELD, answer="So it is.", decision=decision, by=None)
    assert Decision.objects.count() == 1
