"""What can still happen in leagues scored by real rule books, and how it is said."""

from __future__ import annotations

from itertools import permutations, product

import pytest

from league.rules.chances_left import chances_of, left_of
from league.rules.chances_words import say_chances
from league.rules.matches import score_match
from league.rules.race import Verdict
from league.rules.table import score_season
from tests.rows import book, row, winter

# Points of six teams over six rounds, of which the best five count: 26, 24, 24, 21, 11, 10.
WINTER = {
    "Old Quarry": [6, 4, 5, 6, 1, 5],
    "Tannery Lane": [3, 6, 4, 2, 5, 6],
    "Pennyfold": [5, 5, 3, 4, 6, 4],
    "Millrace": [4, 2, 6, 5, 3, 3],
    "Lamplighters": [2, 1, 2, 3, 2, 2],
    "Bridge End": [1, 3, 1, 1, 4, 1],
}


def season_of(points, planned, **season):
    """A season of teams of one, each weighing as many grams times a hundred as it has points."""
    count = len(next(iter(points.values())))
    rounds, rules = winter(
        [{team: 100 * scores[at] for team, scores in points.items()} for at in range(count)],
        **season,
    )
    return score_season(rounds, rules, planned=planned), rules


def said_of(points, planned, **season):
    worked, rules = season_of(points, planned, **season)
    left = left_of(worked, rules)
    return say_chances(worked, rules, chances_of(worked, rules), left.rounds)


def test_the_last_round_of_the_winter_league():
    """By hand: 26 and two of 24; a win brings 6 and the worst of six is dropped."""
    told = said_of(WINTER, 7, best=5, ties=["weight"])

    assert [(each.name, each.verdict, each.words) for each in told] == [
        ("Old Quarry", "Can still win", "Champions if they win round 7, whatever others do."),
        (
            "Pennyfold",
            "Can still win, on total weight only",
            "Win round 7 with Old Quarry third or worse: level on 26, then total weight.",
        ),
        ("Tannery Lane", "Can still win", "Win round 7 with Old Quarry third or worse."),
        ("Millrace", "Cannot win", "24 at most; Old Quarry already have 26."),
        ("Lamplighters", "Cannot win", "15 at most; Old Quarry already have 26."),
        ("Bridge End", "Cannot win", "15 at most; Old Quarry already have 26."),
    ]


def test_who_is_behind_on_weight_hears_by_how_much():
    rounds, rules = winter([{"X": 900, "Y": 100}, {"X": 100, "Y": 200}], ties=["weight"])
    rounds.append((3, score_match([row("x", 900, team="X"), row("y", 800, team="Y")], rules)))
    worked = score_season(rounds, rules, planned=4)

    [x, y] = say_chances(worked, rules, chances_of(worked, rules), (4,))

    # X has 2 + 1 + 2 = 5 and 1.900 kg, Y 1 + 2 + 1 = 4 and 1.100 kg.
    assert x.words == "Champions if they win round 4, whatever others do."
    assert (y.verdict, y.words) == (
        "Can still win, on total weight only",
        "Win round 4: level on 6, then total weight, where they are 0.800 kg behind.",
    )


def test_champions_with_a_round_to_spare():
    """By hand: the best three of four count, so that 9 stands; 7 and 5 are all that is left."""
    told = said_of({"X": [3, 3, 3], "Y": [2, 2, 2], "Z": [1, 1, 1]}, 4, best=3)

    assert [(each.verdict, each.words) for each in told] == [
        ("Champions", "Whatever happens: 9 at least, and Y, the nearest, 7 at most."),
        ("Cannot win", "7 at most; X already have 9."),
        ("Cannot win", "5 at most; X already have 9."),
    ]


def test_turning_up_can_be_enough():
    """By hand: last brings X to 10; staying away leaves 9, which Y reaches with a win."""
    told = said_of({"X": [3, 3, 3], "Y": [2, 2, 2], "Z": [1, 1, 1]}, 4)

    assert [(each.verdict, each.words) for each in told] == [
        ("Can still win", "Champions if they are third or better in round 4, whatever others do."),
        (
            "Still open",
            "9 at most. X do better even in last place: it takes their staying away, or catching "
            "nothing.",
        ),
        ("Cannot win", "6 at most; X already have 9."),
    ]


def test_with_more_rounds_left_one_way_is_shown():
    told = said_of({"X": [3, 3], "Y": [2, 2], "Z": [1, 1]}, 4)

    assert (told[1].verdict, told[1].words) == (
        "Can still win",
        "10 with all two rounds left won. One way: X score 1 and 1 and end with 8.",
    )


def test_many_who_cannot_win_go_into_one_line():
    """By hand: nine scores 9 to 1 three times over, the best three count, and 9 is to be won."""
    points = {f"Team {at}": [9 - at] * 3 for at in range(9)}

    told = said_of(points, 4, best=3)

    assert [each.verdict for each in told] == ["Champions", "Cannot win"]
    assert told[1].name == "Eight teams"
    assert told[1].words == (
        "Team 1 (25 at most), Team 2 (23 at most), Team 3 (21 at most), Team 4 (19 at most), "
        "Team 5 (17 at most), Team 6 (15 at most), Team 7 (13 at most) and Team 8 (11 at most). "
        "Team 0 already have 27."
    )


# ---- against the whole engine ------------------------------------------------------------------

ORDERS = [tuple(order) for order in permutations([3000, 2000, 1000])]
SPOILT = [
    tuple("absent" if at in gone else weight for at, weight in enumerate(order))
    for order in ORDERS
    for gone in [(), (0,), (1,), (0, 1), (0, 2), (0, 1, 2)]
]


@pytest.mark.parametrize("name", ["averaged-low", "high-by-section", "low-better-places"])
def test_every_statement_is_true_of_every_table_the_engine_can_make(name):
    """Three teams of one, two rounds of three fished; each order and who stays away, tried."""
    rules = {
        "averaged-low": book(team={"size": 1}),
        "high-by-section": book(
            section={"direction": "high", "blank": 0, "absent": 0}, team={"size": 1}
        ),
        "low-better-places": book(
            section={"equal": "better"}, team={"size": 1}, season={"score": "places", "best": 2}
        ),
    }[name]

    def fished(weights):
        rows = [row(f"{team} angler", each, team=team)
                for team, each in zip("XYZ", weights, strict=True)]  # fmt: skip
        return score_match(rows, rules)

    seen = set()
    for first, second in product(ORDERS[:1], ORDERS):
        past = [(1, fished(first)), (2, fished(second))]
        said = {c.key: c for c in chances_of(score_season(past, rules, planned=3), rules)}
        ends = [score_season([*past, (3, fished(last))], rules, planned=3).table for last in SPOILT]
        for key, chance in said.items():
            seen.add(chance.verdict)
            best = [min(rules.sign * line.total for line in table) for table in ends]
            mine = [
                rules.sign * next(line.total for line in table if line.key == key) for table in ends
            ]
            alone = [
                mine[at] == best[at]
                and sum(rules.sign * line.total == best[at] for line in ends[at]) == 1
                for at in range(len(ends))
            ]
            level = [ours == top for ours, top in zip(mine, best, strict=True)]
            if chance.verdict is Verdict.CHAMPIONS:
                assert all(alone)
            elif chance.verdict is Verdict.CANNOT:
                assert not any(level)
            elif chance.verdict is Verdict.CAN:
                assert any(alone)
            elif chance.verdict is Verdict.LEVEL:
                assert any(level)
            assert min(mine) == rules.sign * chance.best
            assert max(mine) <= rules.sign * chance.worst
    assert len(seen) >= 2


# ---- what a round gives, by the rule book ------------------------------------------------------


def left_under(**rules):
    written = book(**rules)
    teams = {f"T{at}": 1000 - at for at in range(3)}
    rows = [
        row(f"{team}{section}", weight, section, team=team)
        for team, weight in teams.items()
        for section in "ABCD"[: written.team.size]
    ]
    return left_of(score_season([(1, score_match(rows, written))], written, planned=3), written)


def test_averaged_low_points_are_a_contest_a_section():
    left = left_under()

    # Four sections of three; an absent angler has one more than the section, 4, four times over.
    assert (left.contests, left.table, left.worst, left.rounds) == (4, (1, 2, 3), 16, (2, 3))


def test_where_places_are_added_up_a_round_is_one_contest():
    left = left_under(season={"score": "places"})

    assert (left.contests, left.table, left.worst) == (1, (1, 2, 3), 4)


def test_where_the_best_three_of_four_count_a_round_is_one_contest():
    left = left_under(team={"size": 4, "count": 3})

    assert (left.contests, left.table, left.worst) == (1, (3, 6, 9), 12)


def test_nothing_is_said_where_it_cannot_be_worked_out():
    assert left_under(season={"score": "weight"}) is None
