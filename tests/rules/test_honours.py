"""The season's honours: worked by hand from three rounds of two sections."""

from __future__ import annotations

import pytest

from league.rules.honours import Catch, PegWins, Wins, honours
from league.rules.matches import score_match
from league.rules.table import score_season
from tests.rows import book, row

RULES = book(
    section={"direction": "high", "blank": 0, "absent": 0},
    team={"size": 2},
    season={"up": 1, "down": 1},
)
# Round by round: section, peg, angler, team and grams.
ROUNDS = [
    [("A", "1", "Ana", "X", 500), ("A", "2", "Bo", "Y", 400), ("A", "3", "Cy", "Z", 300),
     ("B", "7", "Dee", "X", 900), ("B", "8", "Eve", "Y", 800), ("B", "9", "Fay", "Z", "blank")],
    [("A", "1", "Ana", "X", 700), ("A", "2", "Cy", "Z", 600), ("A", "3", "Bo", "Y", "absent"),
     ("B", "7", "Eve", "Y", 900), ("B", "8", "Dee", "X", 100), ("B", "9", "Fay", "Z", 50)],
    [("A", "2", "Ana", "X", 300), ("A", "1", "Bo", "Y", 310), ("A", "3", "Cy", "Z", 305),
     ("B", "8", "Dee", "X", 200), ("B", "7", "Eve", "Y", 100), ("B", "9", "Fay", "Z", 150)],
]  # fmt: skip
WATERS = {1: "Heron Lake", 2: "Heron Lake", 3: "Marl Canal"}


def season(rounds=3, planned=3, rules=RULES, teams=True):
    fished = [
        (
            number,
            score_match(
                [
                    row(who, catch, letter, peg=peg, team=team if teams else "")
                    for letter, peg, who, team, catch in rows
                ],
                rules,
            ),
        )
        for number, rows in enumerate(ROUNDS[:rounds], 1)
    ]
    return score_season(fished, rules, planned=planned)


def test_places_with_promotion_and_relegation():
    """X: 3 + 3, 3 + 2, 1 + 3 = 15. Y: 2 + 2, 0 + 3, 3 + 1 = 11. Z: 1 + 0, 2 + 1, 2 + 2 = 8."""
    found = honours(season())

    assert [(line.place, line.name, line.total) for line in found.places] == [
        (1, "X", 15), (2, "Y", 11), (3, "Z", 8),
    ]  # fmt: skip
    assert [line.name for line in found.up] == ["X"]
    assert [line.name for line in found.down] == ["Z"]
    assert found.across == ()
    assert found.over


def test_the_best_weights_with_whoever_is_level_with_the_last_of_them():
    found = honours(season())

    assert [(catch.name, catch.weight, catch.round, catch.peg) for catch in found.weights] == [
        ("Dee", 900, 1, "7"), ("Eve", 900, 2, "7"), ("Eve", 800, 1, "8"),
        ("Ana", 700, 2, "1"), ("Cy", 600, 2, "2"),
    ]  # fmt: skip
    assert found.team_weights == (Catch("X", "X", "", 1, "", 1400),)


def test_the_most_section_wins_of_the_rounds_fished():
    """Ana and Dee won two of three each; Bo and Eve one, which is not read out."""
    assert honours(season()).section_wins == (
        Wins("Ana", "Ana", "X", 2, 3),
        Wins("Dee", "Dee", "X", 2, 3),
    )


def test_the_peg_that_won_most_on_each_water():
    """At Heron Lake pegs 1 and 7 won twice; the same numbers on the canal are other pegs."""
    assert set(honours(season(), WATERS).pegs) == {
        PegWins("Heron Lake", "1", 2, 2),
        PegWins("Heron Lake", "7", 2, 2),
    }


def test_the_individual_champion_beside_the_teams():
    """Ana 3 + 3 + 1 and Dee 3 + 2 + 3 have 7 and 8; Eve has 2 + 3 + 1 = 6."""
    found = honours(season())

    assert [(line.place, line.name, line.total) for line in found.anglers] == [
        (1, "Dee", 8), (2, "Ana", 7), (3, "Eve", 6),
    ]  # fmt: skip


def test_an_individual_league_has_its_champion_once():
    found = honours(season(rules=book(section={"direction": "high"}), teams=False))

    assert found.anglers == ()
    assert found.places
    assert found.team_weights == ()


@pytest.mark.parametrize(
    ("rounds", "planned", "over"), [(3, 3, True), (2, 3, False), (3, 0, False)]
)
def test_a_season_is_over_when_every_planned_round_is_fished(rounds, planned, over):
    assert honours(season(rounds, planned)).over is over


def test_before_the_first_round_there_are_none():
    found = honours(score_season([], RULES, planned=3, teams={"X": "X"}))

    assert not found.over
    assert (found.places, found.weights, found.section_wins, found.pegs) == ((), (), (), ())
