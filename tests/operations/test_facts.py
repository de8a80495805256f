"""From what was taken down on the bank to rows for the rules, gaps and decisions included."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest
from django.contrib.auth.models import User

from league.models import Club, DecisionKind, Match
from league.operations.decide import decide
from league.operations.facts import facts_of, rows_of, team_penalties
from league.operations.score import gaps, layout, rows, score
from league.rules.lines import Row, Status
from tests.builders import make_entry, make_fished_match, make_match, make_season, make_weigh_in
from tests.factories import AnglerFactory, PegFactory


@pytest.fixture
def match(club: Club) -> Match:
    season = make_season(club, teams=["Old Quarry", "Tannery Lane"])
    return make_match(season=season, sections={"A": 2, "B": 2})


def _row(match: Match) -> Row:
    (row,) = rows(match)
    return row


def test_a_row_says_who_where_for_whom_and_what_was_read(match: Match) -> None:
    entry = make_entry(match, peg=3, team=match.season.teams.get(name="Old Quarry"),
                       name="Dave Scrimshire")  # fmt: skip
    make_weigh_in(entry, "48-12 + 31-4", note="Two nets.")

    assert _row(match) == Row(
        section="B",
        peg="3",
        angler="Dave Scrimshire",
        team="Old Quarry",
        status=Status.WEIGHED,
        nets=(12480, 8000),
        note="Two nets.",
        angler_id=str(entry.angler_id),
        team_id=str(entry.team_id),
    )


def test_a_junior_without_consent_is_not_named_in_full(match: Match) -> None:
    molly = AnglerFactory(club=match.club, name="Molly Arberry", junior=True)
    make_weigh_in(make_entry(match, peg=1, angler=molly))

    assert _row(match).angler == "Molly A. (junior)"


def test_rows_come_in_peg_order_and_without_those_who_withdrew(match: Match) -> None:
    for peg in (4, 1, 3):
        make_weigh_in(make_entry(match, peg=peg))
    make_entry(match, withdrawn_at="2027-01-24T08:00Z")

    assert [row.peg for row in rows(match)] == ["1", "3", "4"]
    assert gaps(match) == []


def test_what_is_missing_is_listed_in_peg_order_and_noted_in_the_row(match: Match) -> None:
    pegless = make_entry(match, name="Hugh Amblerton")
    doubtful = make_entry(match, peg=2, name="Keith Wraggley")
    make_weigh_in(doubtful, "12-8")
    make_weigh_in(doubtful, "12-9")
    make_weigh_in(doubtful, "12-8")
    waiting = make_entry(match, peg=1, name="Dave Scrimshire")

    found = gaps(match)

    assert [gap.entry for gap in found] == [waiting, doubtful, pegless]
    assert [str(gap) for gap in found] == [
        "Peg 1, Dave Scrimshire: not weighed yet.",
        "Peg 2, Keith Wraggley: in question, 12 lb 8 oz or 12 lb 9 oz.",
        "Hugh Amblerton has no peg.",
    ]
    assert [(row.status, row.nets, row.note) for row in rows(match)] == [
        (Status.NOT_WEIGHED, (), "Not weighed yet."),
        (Status.WEIGHED, (3200,), "In question, 12 lb 8 oz or 12 lb 9 oz."),
    ]


@pytest.mark.parametrize(
    ("kind", "points", "weight", "changes"),
    [
        ("disqualified", None, None, {"status": Status.DISQUALIFIED}),
        ("points", Fraction(7, 2), None, {"penalty": Fraction(7, 2)}),
        ("weight", None, 256, {"weight_penalty": 256}),
        ("late weight", None, 512, {"status": Status.WEIGHED, "nets": (512,)}),
        ("void peg", 6, None, {"decided": 6}),
    ],
)
def test_a_decision_reaches_the_row(
    match: Match,
    sam: User,
    kind: str,
    points: Fraction | int | None,
    weight: int | None,
    changes: dict[str, object],
) -> None:
    entry = make_entry(match, peg=1, name="Dave Scrimshire")
    make_weigh_in(entry, "12-8")
    expected = {"status": Status.WEIGHED, "nets": (3200,), "penalty": 0, "weight_penalty": 0,
                "decided": None} | changes  # fmt: skip

    decide(match, kind=DecisionKind(kind), entry=entry, points=points, weight=weight,
           why="Rule 9.", by=sam)  # fmt: skip

    row = _row(match)
    assert {name: getattr(row, name) for name in expected} == expected
    assert row.decision.startswith("Dave Scrimshire: ")
    assert " Rule 9. Decided by the match secretary on " in row.decision


def test_penalties_add_up(match: Match, sam: User) -> None:
    entry = make_entry(match, peg=1, team=match.season.teams.get(name="Old Quarry"))
    for points in (1, 2):
        decide(match, kind=DecisionKind.POINTS, entry=entry, points=points, why="x", by=sam)
        decide(match, kind=DecisionKind.POINTS, team=entry.team, points=points, why="x", by=sam)

    facts = facts_of(match)
    assert rows_of(facts)[0].penalty == 3
    assert team_penalties(facts) == {str(entry.team_id): 3}


@pytest.mark.parametrize(
    ("kind", "values"),
    [
        (DecisionKind.DISQUALIFIED, {}),
        (DecisionKind.LATE_WEIGHT, {"weight": 100}),
        (DecisionKind.VOID_PEG, {"points": 3}),
    ],
)
def test_who_is_decided_about_is_no_gap(
    match: Match, sam: User, kind: DecisionKind, values: dict[str, int]
) -> None:
    entry = make_entry(match, peg=1)

    decide(match, kind=kind, entry=entry, why="Rule 9.", by=sam, **values)

    assert gaps(match) == []


def test_a_match_is_read_in_the_same_questions_however_many_anglers(
    club: Club, django_assert_num_queries: Callable[[int], object]
) -> None:
    small = make_fished_match(club, weights={"A": ["1-0", "2-0"]})
    large = make_fished_match(club, weights={"A": ["1-0"] * 15, "B": ["blank"] * 15})

    for match in (small, large):
        # Entries, their weigh-ins with what set them aside, decisions.
        with django_assert_num_queries(3):  # type: ignore[attr-defined]
            score(match)


def test_the_bank_is_laid_out_with_its_gaps(club: Club) -> None:
    match = make_match(club, sections={"A": 3, "B": 3})
    # Pegs 1 to 6 are used, 7 and 8 are not; a break follows 4, and 2 was closed this morning.
    for order in (7, 8):
        PegFactory(water=match.water, order=order)
    match.water.pegs.filter(order=4).update(gap_after=True)
    match.match_pegs.filter(peg__order=2).update(closed_why="Wasp nest.")

    assert [(p["number"], p["section"], p["gap_before"], p["left_out"]) for p in layout(match)] == [
        ("1", "A", 0, []),
        ("3", "A", 1, ["2"]),
        ("4", "B", 0, []),
        ("5", "B", 1, []),
        ("6", "B", 0, []),
    ]
    assert [peg["order"] for peg in layout(match)] == [1, 2, 3, 4, 5]
