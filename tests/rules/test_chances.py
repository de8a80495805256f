"""Who can still win: worked vectors, and every way a small league can end, tried one by one."""

from __future__ import annotations

from itertools import permutations, product
from random import Random

import pytest

from league.rules.chances import chances
from league.rules.race import Contender, Left, Verdict

CHAMPIONS, CAN, LEVEL, OPEN, CANNOT = Verdict


def contenders(rows):
    return [Contender(str(at), dict(enumerate(row, 1))) for at, row in enumerate(rows)]


def left_of(rows, rounds, drops, contests=1, high=False):
    """What is left where every place is taken once: low points 1 to so many, or high."""
    teams, fished = len(rows), len(rows[0])
    table = tuple(range(teams, 0, -1)) if high else tuple(range(1, teams + 1))
    return Left(
        rounds=tuple(range(fished + 1, rounds + 1)),
        contests=contests,
        table=table,
        worst=contests * table[-1],
        counting=rounds - drops,
        sign=-1 if high else 1,
        dealt=True,
    )


# Rows of scores so far; rounds, drops and sections; what is to be said. Worked by hand and by an
# exact solver. "Open" where the truth needs the solver: cannot in the one, can in the other.
VECTORS = {
    "T1": ([[1, 1], [2, 2], [3, 3]], 4, 1, 1, False, [CAN, CAN, LEVEL]),
    "T2": ([[1, 1, 1], [2, 2, 2], [3, 3, 3]], 4, 0, 1, False, [CHAMPIONS, CANNOT, CANNOT]),
    "T3": ([[1, 2], [2, 1], [3, 3], [4, 4]], 4, 1, 1, False, [CAN, CAN, CAN, LEVEL]),
    "T4": (
        [[4, 5, 4, 4], [10, 9, 8, 9], [8, 10, 11, 9], [8, 6, 7, 8]],
        6, 1, 3, False, [CAN, CANNOT, CANNOT, CAN],
    ),
    "T5": (
        [[1, 1, 2], [2, 3, 1], [3, 2, 3], [4, 4, 4]],
        4, 1, 1, False, [CAN, LEVEL, CANNOT, CANNOT],
    ),
    "T6": (
        [[1] * 4, [2] * 4, [3] * 4, [4] * 4], 6, 2, 1, False,
        [CHAMPIONS, CANNOT, CANNOT, CANNOT],
    ),
    "T13 one dropped of four": (
        [[4, 4, 3], [3, 3, 4], [2, 1, 2], [1, 2, 1]],
        4, 1, 1, True, [CAN, LEVEL, CANNOT, CANNOT],
    ),
    "T13 four": (
        [[4, 4, 3], [3, 3, 4], [2, 1, 2], [1, 2, 1]], 4, 0, 1, True, [CAN, CAN, CANNOT, CANNOT],
    ),
    "T13 one dropped of five": (
        [[4, 4, 3], [3, 3, 4], [2, 1, 2], [1, 2, 1]], 5, 1, 1, True, [CAN, CAN, LEVEL, CANNOT],
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", VECTORS)
def test_the_worked_vectors(name):
    rows, rounds, drops, contests, high, expected = VECTORS[name]

    said = chances(contenders(rows), left_of(rows, rounds, drops, contests, high))

    assert [each.verdict for each in said] == expected


def test_bests_and_worsts_of_the_worked_vectors():
    t1 = chances(contenders(VECTORS["T1"][0]), left_of(VECTORS["T1"][0], 4, 1))
    t4 = chances(contenders(VECTORS["T4"][0]), left_of(VECTORS["T4"][0], 6, 1, 3))

    assert [(each.best, each.worst) for each in t1] == [(3, 5), (4, 7), (5, 9)]
    assert [(each.best, each.worst) for each in t4] == [(18, 29), (32, 48), (33, 50), (27, 41)]


@pytest.mark.parametrize("name", ["T5", "T13 one dropped of four"])
def test_a_share_that_nobody_can_take_away_is_known_to_be_sure(name):
    rows, rounds, drops, contests, high, _ = VECTORS[name]

    said = chances(contenders(rows), left_of(rows, rounds, drops, contests, high))

    assert [each.share_is_sure for each in said] == [True, False, False, False]


def test_two_rivals_cannot_both_be_last():
    """T10: each rival alone could fall behind, both together cannot."""
    rows = [[2, 1], [3, 3], [1, 2], [4, 4]]

    assert chances(contenders(rows), left_of(rows, 3, 0))[1].verdict is CANNOT


@pytest.mark.parametrize(
    ("rows", "at"),
    [
        ([[3, 2, 1], [4, 4, 3], [1, 1, 4], [2, 3, 2]], 1),  # T11: in truth it cannot
        ([[5, 4, 4], [4, 2, 1], [3, 1, 2], [1, 3, 5], [2, 5, 3]], 0),  # T12: in truth it can
    ],
)
def test_what_neither_bound_nor_a_way_decides_is_still_open(rows, at):
    assert chances(contenders(rows), left_of(rows, 5, 1))[at].verdict is OPEN


# ---- every way a small league can end ----------------------------------------------------------


def endings(rows, left):
    """Every way the rounds left can be fished: the totals, worked out apart from the rule."""
    teams = len(rows)
    contests = len(left.rounds) * left.contests
    for dealt in product(list(permutations(left.table)), repeat=contests):
        totals = []
        for at in range(teams):
            scores = [left.sign * score for score in rows[at]]
            for number in range(len(left.rounds)):
                part = dealt[number * left.contests : (number + 1) * left.contests]
                scores.append(left.sign * sum(each[at] for each in part))
            totals.append(sum(sorted(scores)[: left.counting]))
        yield totals


# Teams, sections, rounds, rounds fished, drops, high points.
SMALL = [
    (3, 1, 4, 2, 0, False), (3, 1, 4, 2, 1, True), (3, 1, 5, 3, 2, False), (3, 2, 3, 2, 0, True),
    (4, 1, 3, 2, 0, False), (4, 1, 4, 3, 1, True), (4, 1, 5, 3, 1, False), (4, 2, 3, 2, 1, False),
]  # fmt: skip


@pytest.mark.parametrize("shape", SMALL)
def test_every_statement_is_true_of_every_way_a_small_league_can_end(shape):
    teams, sections, rounds, fished, drops, high = shape
    luck = Random(str(shape))
    table = list(range(1, teams + 1))
    told = set()
    for _ in range(4):
        rows = [[0] * fished for _ in range(teams)]
        for number, _section in product(range(fished), range(sections)):
            luck.shuffle(table)
            for at in range(teams):
                rows[at][number] += table[at]
        left = left_of(rows, rounds, drops, sections, high)
        said = chances(contenders(rows), left)
        first = [set() for _ in rows]
        for totals in endings(rows, left):
            best = min(totals)
            alone = totals.count(best) == 1
            for at, total in enumerate(totals):
                first[at].add("alone" if total == best and alone else total == best)
        for at, each in enumerate(said):
            told.add(each.verdict)
            ends = first[at]
            assert {
                CHAMPIONS: ends == {"alone"},
                CAN: "alone" in ends,
                LEVEL: "alone" in ends or True in ends,
                CANNOT: ends == {False},
                OPEN: True,
            }[each.verdict]
            assert each.share_is_sure is (False not in ends)
    assert len(told) >= 2


@pytest.mark.parametrize("shape", [s for s in SMALL if s[2] - s[3] == 1 and s[1] == 1])
def test_what_the_last_round_must_bring_is_enough_and_no_less(shape):
    teams, _, rounds, fished, drops, high = shape
    luck = Random(f"last {shape}")
    table = list(range(1, teams + 1))
    checked = 0
    for _ in range(20):
        rows = [[0] * fished for _ in range(teams)]
        for number in range(fished):
            luck.shuffle(table)
            for at in range(teams):
                rows[at][number] = table[at]
        left = left_of(rows, rounds, drops, 1, high)
        for at, each in enumerate(chances(contenders(rows), left)):
            if each.verdict is not CAN:
                continue
            checked += 1
            for order in permutations(range(teams)):  # the teams from first to last
                place = {team: where for where, team in enumerate(order, 1)}
                scores = [[left.sign * score for score in row] for row in rows]
                for team, where in place.items():
                    scores[team].append(left.sign * left.table[where - 1])
                totals = [sum(sorted(row)[: left.counting]) for row in scores]
                wins = all(totals[at] < total for o, total in enumerate(totals) if o != at)
                if place[at] == 1:
                    held = all(place[int(o)] >= least for o, least in each.held_to.items())
                    assert wins is held
                if place[at] <= each.enough:
                    assert wins
    assert checked


def test_somebody_who_stays_away_may_do_worse_than_last():
    """By hand: 6 and 7 are the best the others can end with; the leader is last with 5."""
    rows = [[1, 1], [2, 2], [3, 3]]
    whoever_stays_away = Left(rounds=(3,), contests=1, table=(1, 2, 3), worst=9, counting=3, sign=1)

    turning_up = chances(contenders(rows), left_of(rows, 3, 0))
    said = chances(contenders(rows), whoever_stays_away)

    assert [each.worst for each in turning_up] == [5, 7, 9]
    assert [each.verdict for each in turning_up] == [CAN, LEVEL, CANNOT]
    assert [each.worst for each in said] == [11, 13, 15]
    assert [each.verdict for each in said] == [CAN, LEVEL, OPEN]


def test_nothing_is_said_where_nothing_is_left_or_nobody_else_is_there():
    rows = [[1, 1], [2, 2]]

    assert chances(contenders(rows), left_of(rows, 2, 0)) == []
    assert chances(contenders(rows)[:1], left_of(rows, 3, 0)) == []
