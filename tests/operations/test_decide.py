"""Official decisions: who, what, why; and taken back."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from django.contrib.auth.models import User

from league.models import Club, Decision, DecisionKind, Match
from league.operations.decide import decide, lift
from league.operations.errors import RefusedError
from league.operations.facts import say_decision
from league.rules.weights import Unit
from tests.builders import make_entry, make_match, make_season
from tests.factories import TeamFactory

TOO_HEAVY = 10**9


@pytest.fixture
def match(club: Club) -> Match:
    season = make_season(club, teams=["Old Quarry"])
    match = make_match(season=season)
    make_entry(match, peg=1, name="Dave Scrimshire", team=season.teams.get())
    return match


@pytest.mark.parametrize(
    ("kind", "values", "said"),
    [
        ("disqualified", {}, "Dave Scrimshire: disqualified. Rule 9."),
        ("points", {"points": 1}, "Dave Scrimshire: 1 point penalty. Rule 9."),
        ("weight", {"weight": 264}, "Dave Scrimshire: 1 lb 0 oz 8 dr taken off. Rule 9."),
        (
            "late weight",
            {"weight": 256},
            "Dave Scrimshire: late weight of 1 lb 0 oz allowed. Rule 9.",
        ),
        ("void peg", {"points": 6}, "Dave Scrimshire: peg void, 6 points given. Rule 9."),
    ],
)
def test_a_decision_is_kept_said_and_written_down(
    match: Match,
    sam: User,
    journal: Callable[[], list[str]],
    kind: str,
    values: dict[str, Any],
    said: str,
) -> None:
    decision = decide(
        match, kind=DecisionKind(kind), entry=match.entries.get(), why="Rule 9.", by=sam, **values
    )

    assert say_decision(Decision.objects.get(), Unit.LB_OZ) == said
    assert decision.by == sam
    assert journal() == [f"Decided: {said}"]
    match.season.refresh_from_db()
    assert match.season.table_version == 1


def test_points_are_taken_from_a_whole_team(match: Match, sam: User) -> None:
    decision = decide(
        match,
        kind=DecisionKind.POINTS,
        team=match.season.teams.get(),
        points=2,
        why="Late.",
        by=sam,
    )

    assert say_decision(decision, Unit.LB_OZ) == "Old Quarry: 2 points penalty. Late."


@pytest.mark.parametrize(
    ("kind", "values", "words"),
    [
        ("disqualified", {"why": " "}, "Say why: it is printed with the result."),
        ("disqualified", {"why": "x" * 301}, "The reason has 301 letters; 300 fit. Shorten it."),
        ("disqualified", {"entry": None}, "Say which angler the decision is about."),
        ("points", {"entry": None}, "Say whom the decision is about: one angler, or one team."),
        ("points", {}, "Say how many points the penalty is: 1 or more."),
        ("points", {"points": 0}, "Say how many points the penalty is: 1 or more."),
        ("void peg", {}, "Say how many points the angler is given for the void peg."),
        ("weight", {}, "Say which weight."),
        ("late weight", {"weight": 0}, "Say which weight."),
        ("weight", {"weight": TOO_HEAVY}, "That is more than a net can weigh. Read it again."),
    ],
)
def test_a_decision_that_says_too_little_is_refused(
    match: Match, sam: User, kind: str, values: dict[str, Any], words: str
) -> None:
    about = {"entry": match.entries.get(), "why": "Rule 9."} | values

    with pytest.raises(RefusedError) as refusal:
        decide(match, kind=DecisionKind(kind), by=sam, **about)

    assert str(refusal.value) == words
    assert not Decision.objects.exists()


def test_one_decision_is_about_one(match: Match, sam: User) -> None:
    with pytest.raises(RefusedError) as refusal:
        decide(
            match,
            kind=DecisionKind.POINTS,
            entry=match.entries.get(),
            team=match.season.teams.get(),
            points=1,
            why="x",
            by=sam,
        )

    assert str(refusal.value) == "Say whom the decision is about: one angler, or one team."


def test_who_does_not_fish_the_match_is_not_decided_about(match: Match, sam: User) -> None:
    elsewhere = make_entry(make_match(match.club), name="Keith Wraggley")
    gone = make_entry(match, name="Hugh Amblerton", withdrawn_at="2027-01-24T08:00Z")
    idle = TeamFactory(season=match.season, name="Bridge End")

    said = []
    for about in ({"entry": elsewhere}, {"entry": gone}, {"team": idle}):
        with pytest.raises(RefusedError) as refusal:
            decide(match, kind=DecisionKind.POINTS, points=1, why="x", by=sam, **about)
        said.append(str(refusal.value))

    assert said == [
        "Keith Wraggley is not entered in this match.",
        "Hugh Amblerton was withdrawn before the draw.",
        "Bridge End does not fish this match.",
    ]


def test_the_same_is_not_decided_twice_but_penalties_are(match: Match, sam: User) -> None:
    entry = match.entries.get()
    for _ in range(2):
        decide(match, kind=DecisionKind.POINTS, entry=entry, points=1, why="x", by=sam)
    decide(match, kind=DecisionKind.DISQUALIFIED, entry=entry, why="x", by=sam)

    with pytest.raises(RefusedError) as refusal:
        decide(match, kind=DecisionKind.DISQUALIFIED, entry=entry, why="x", by=sam)

    assert str(refusal.value) == (
        "Disqualified is decided already for this angler; lift that decision first."
    )


def test_a_decision_taken_back_stays_on_record_with_its_lifting(
    match: Match, sam: User, journal: Callable[[], list[str]]
) -> None:
    decision = decide(
        match, kind=DecisionKind.DISQUALIFIED, entry=match.entries.get(), why="Rule 9.", by=sam
    )

    lifting = lift(decision, why="It was another angler.", by=sam)

    assert list(Decision.objects.in_force(match)) == []
    assert list(Decision.objects.on(match)) == [decision, lifting]
    assert journal()[-1] == (
        "Lifted: Dave Scrimshire: disqualified. Rule 9. Because: It was another angler."
    )
    decide(match, kind=DecisionKind.DISQUALIFIED, entry=match.entries.get(), why="Again.", by=sam)


def test_a_decision_is_lifted_once_and_with_a_reason(match: Match, sam: User) -> None:
    decision = decide(
        match, kind=DecisionKind.DISQUALIFIED, entry=match.entries.get(), why="Rule 9.", by=sam
    )
    with pytest.raises(RefusedError) as silent:
        lift(decision, why=" ", by=sam)
    lifting = lift(decision, why="Mistaken.", by=sam)
    with pytest.raises(RefusedError) as twice:
        lift(decision, why="Mistaken.", by=sam)
    with pytest.raises(RefusedError) as lifting_it:
        lift(lifting, why="Mistaken.", by=sam)

    assert str(silent.value) == "Say why the decision is lifted."
    assert str(twice.value) == "This decision was lifted already; look again."
    assert str(lifting_it.value) == ("This line lifts a decision. Make the decision anew instead.")
