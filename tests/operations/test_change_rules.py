"""Other rules for a season, before and after it has begun."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from django.contrib.auth.models import User

from league.files import rulebook
from league.models import Club, Match, RulesChange, Season
from league.operations.change_rules import change_rules, look_ahead
from league.operations.errors import RefusedError
from league.operations.publish import publish
from league.operations.score import book_of_season
from league.operations.table import score_table
from league.rules.rulebook import Rulebook
from tests.builders import make_entry, make_match, make_season, make_weigh_in

LOW = Rulebook()
WEIGHT_FIRST = rulebook.changed(
    LOW, {"name": "Weight first", "season": {"score": "weight", "ties": ["best round weight"]}}
)


@pytest.fixture
def begun(club: Club, sam: User) -> Season:
    """Two rounds, an angler a team: Old Quarry 8 lb and 3 lb, Millrace 9 lb and 1 lb."""
    season = make_season(club, teams=["Old Quarry", "Millrace"], book=rulebook.as_dict(LOW))
    quarry, millrace = season.teams.order_by("-name")
    for first, second in (("8-0", "9-0"), ("3-0", "1-0")):
        match = make_match(season=season, sections={"A": 2})
        for peg, (team, weight) in enumerate(((quarry, first), (millrace, second)), start=1):
            make_weigh_in(make_entry(match, peg=_peg(match, peg), team=team), weight)
        publish(match, by=sam)
    return season


def _peg(match: Match, place: int) -> str:
    return str(match.match_pegs.order_by("peg__order")[place - 1].peg.number)


def table(season: Season) -> list[str]:
    season.refresh_from_db()
    return [line.name for line in score_table(season).table]


def test_rules_change_freely_until_a_round_is_published(
    club: Club, sam: User, journal: Callable[[], list[str]]
) -> None:
    season = make_season(club, book=rulebook.as_dict(LOW))
    planned = make_match(season=season, drawn=False)
    kilos = rulebook.changed(LOW, {"unit": "kg", "team": {"size": 8, "per_section": 2}})

    assert change_rules(season, kilos, by=sam) is None

    season.refresh_from_db()
    planned.refresh_from_db()
    assert book_of_season(season) == kilos
    assert (planned.unit, planned.per_section) == ("kg", 2)
    assert not RulesChange.objects.exists()
    assert journal()[-1].startswith("Rules of")


def test_after_a_published_round_it_takes_a_reason_and_is_kept(begun: Season, sam: User) -> None:
    # Two rounds: Old Quarry 2nd and 1st, Millrace 1st and 2nd; 11 lb against 10 lb, so that level
    # on points Old Quarry lead on weight. The best round weight alone puts Millrace first.
    best = rulebook.changed(LOW, {"season": {"ties": ["best round weight"]}})
    with pytest.raises(RefusedError) as silent:
        change_rules(begun, best, why=" ", by=sam)
    assert table(begun) == ["Old Quarry", "Millrace"]

    change = change_rules(begun, best, why="As voted on 3 February.", by=sam)

    assert "Round 2 is published under the rules as announced." in str(silent.value)
    assert table(begun) == ["Millrace", "Old Quarry"]
    assert change is not None
    kept = RulesChange.objects.of(begun).get()
    assert rulebook.from_dict(kept.was) == LOW
    assert (kept.after_round, kept.by, kept.why) == (2, sam, "As voted on 3 February.")
    assert [said.split(":")[0] for said in kept.moved] == ["Millrace", "Old Quarry"]
    assert kept.moved[0].startswith("Millrace: From 2nd to 1st, past Old Quarry.")


def test_looking_ahead_writes_nothing_and_tells_at_once_from_corrected(begun: Season) -> None:
    # First place scores 2 in a section of two, by the size; but only once a round is corrected.
    high = rulebook.changed(LOW, {"section": {"direction": "high"}, "season": {"ties": []}})

    ahead = look_ahead(begun, high)

    assert table(begun) == ["Old Quarry", "Millrace"]
    assert ahead.last_round == 2
    assert [line.total for line in ahead.at_once.then.table] == [3, 3]
    assert book_of_season(begun) == LOW


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"unit": "kg"}, "weighed in lb-oz"),
        ({"team": {"size": 8}}, "drawn in teams of 4 with 1 in a section"),
    ],
)
def test_how_it_was_drawn_and_weighed_stays(
    begun: Season, sam: User, changes: dict[str, Any], words: str
) -> None:
    with pytest.raises(RefusedError, match=words):
        change_rules(begun, rulebook.changed(LOW, changes), why="A vote.", by=sam)


def test_the_same_rules_are_no_change(begun: Season, sam: User) -> None:
    with pytest.raises(RefusedError, match="These are the rules of the season already"):
        change_rules(begun, LOW, why="A vote.", by=sam)


def test_a_change_that_moves_nobody_says_so(begun: Season, sam: User) -> None:
    same = rulebook.changed(LOW, {"season": {"minimum": 1}})

    change = change_rules(begun, same, why="A vote.", by=sam)

    assert change is not None
    assert change.moved == ["Nobody changed place."]
