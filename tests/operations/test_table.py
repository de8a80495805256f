"""The league table comes from the results as published."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.contrib.auth.models import User

from league.files import rulebook
from league.models import Club, DecisionKind, Match, Season, Team
from league.operations.decide import decide
from league.operations.publish import publish
from league.operations.score import score_table
from league.operations.season import cancel_match
from league.operations.weigh import settle
from league.rules.rulebook import Rulebook
from tests.builders import make_entry, make_match, make_season, make_weigh_in

# Two in a team, one in each section; round points add up, low wins.
BOOK = rulebook.changed(Rulebook(), {"team": {"size": 2}})


@pytest.fixture
def season(club: Club) -> Season:
    return make_season(
        club, teams=["Bridge End", "Old Quarry"], book=rulebook.as_dict(BOOK), planned_rounds=3
    )


def _round(season: Season, *pounds: int) -> Match:
    """Old Quarry, Bridge End in section A, the same in B; weights in that order."""
    match = make_match(season=season, sections={"A": 2, "B": 2})
    teams = list(Team.objects.of(season).order_by("-name")) * 2
    for match_peg, team, weight in zip(
        match.match_pegs.order_by("peg__order"), teams, pounds, strict=True
    ):
        entry = make_entry(match, peg=match_peg.peg.number, team=team)
        make_weigh_in(entry, f"{weight}-0")
    return match


def _totals(season: Season, upto: int | None = None) -> dict[str, object]:
    return {line.name: line.total for line in score_table(season, upto).table}


def test_rounds_add_up_and_unpublished_ones_wait(season: Season, sam: User) -> None:
    publish(_round(season, 4, 3, 4, 3), by=sam)  # 2 and 4 points
    publish(_round(season, 4, 3, 3, 4), by=sam)  # 3 and 3
    _round(season, 4, 3, 4, 3)

    assert _totals(season) == {"Old Quarry": 5, "Bridge End": 7}
    assert _totals(season, upto=1) == {"Old Quarry": 2, "Bridge End": 4}


def test_a_round_counts_by_its_newest_version(season: Season, sam: User) -> None:
    match = _round(season, 4, 3, 4, 3)
    publish(match, by=sam)
    entry = match.entries.get(number=1)
    settle(make_weigh_in(entry, "2-0"), why="Misread.", by=sam)
    assert _totals(season) == {"Old Quarry": 2, "Bridge End": 4}

    publish(match, by=sam, correcting=1, why="Misread.")

    assert _totals(season) == {"Old Quarry": 3, "Bridge End": 3}


def test_before_the_first_round_every_team_is_in_the_table(season: Season) -> None:
    result = score_table(season)

    assert {line.name for line in result.table} == {"Old Quarry", "Bridge End"}
    assert (result.held, result.planned) == (0, 3)


def test_a_cancelled_round_is_said(season: Season, sam: User) -> None:
    publish(_round(season, 4, 3, 4, 3), by=sam)
    cancel_match(make_match(season=season, drawn=False), why="Frozen over.", by=sam)

    result = score_table(season)

    assert result.cancelled == (2,)
    assert _totals(season) == {"Old Quarry": 2, "Bridge End": 4}


def test_a_teams_penalty_counts_once_it_is_published(season: Season, sam: User) -> None:
    match = _round(season, 4, 3, 4, 3)
    publish(match, by=sam)
    ours = season.teams.get(name="Old Quarry")
    decide(match, kind=DecisionKind.POINTS, team=ours, points=3, why="Late again.", by=sam)
    assert _totals(season) == {"Old Quarry": 2, "Bridge End": 4}

    publish(match, by=sam, correcting=1, why="Penalty.")

    assert _totals(season) == {"Old Quarry": 5, "Bridge End": 4}


def test_a_teams_penalty_is_no_anglers(season: Season, sam: User) -> None:
    match = _round(season, 4, 3, 4, 3)
    for team in season.teams.all():
        decide(match, kind=DecisionKind.POINTS, team=team, points=9, why="Late.", by=sam)
    publish(match, by=sam)

    assert {line.penalty for line in score_table(season).anglers} == {0}
    assert {line.penalty for line in score_table(season).table} == {9}


@pytest.mark.parametrize("rounds", [1, 3])
def test_the_table_asks_three_questions_however_many_rounds(
    season: Season, sam: User, rounds: int, django_assert_num_queries: Callable[[int], object]
) -> None:
    for _ in range(rounds):
        publish(_round(season, 4, 3, 4, 3), by=sam)

    # Results with their matches, cancelled rounds, teams.
    with django_assert_num_queries(3):  # type: ignore[attr-defined]
        score_table(season)
