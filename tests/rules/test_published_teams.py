"""Team totals and team ties, from published results and rules."""

from fractions import Fraction

import pytest

from league.rules.ladders import TEAM_POINTS, TEAM_RUNGS, TeamStanding, climb, placed
from league.rules.matches import score_match
from tests.rows import book, placing, row

HALF = Fraction(1, 2)


def standing(points, weight, best=0, *, sign=1, members=(), wins=0):
    return TeamStanding(points, weight, best, members, wins, sign)


def ladder(*rungs):
    return (TEAM_POINTS, *(TEAM_RUNGS[rung] for rung in rungs))


def test_c27_england_2018_day_one_have_40_points_and_22_492_kg():
    # Press report of the 2018 world championships: five placings and five weights.
    placings, weights = (1, 1, 9, 11, 18), (7757, 5863, 3216, 2922, 2734)
    rows = []
    for name, place, weight in zip("ABCDE", placings, weights, strict=True):
        for each in placing("England", place, 20, weight):
            angler = f"{each.angler} {name}"
            team = "England" if each.angler == "England" else each.angler
            rows.append(row(angler, each.nets, name, team=team))

    england = next(
        line for line in score_match(rows, book(team={"size": 5})).teams if line.team == "England"
    )

    assert (england.points, england.weight) == (40, 22_492)


def test_c28_level_teams_of_a_national_are_placed_apart_by_weight():
    # The same published table as C19: two teams on 204, 154 and 102, marked "weight".
    totals = [205, 204, 204, 202, 154, 154, 102, 102]
    weights = [50, 40, 45, 60, 31, 30, 12, 13]
    teams = [standing(p, w, sign=-1) for p, w in zip(totals, weights, strict=True)]

    order = placed(ladder("weight"), teams)

    assert [(team.points, team.weight) for team, _, _ in order] == [
        (205, 50), (204, 45), (204, 40), (202, 60), (154, 31), (154, 30), (102, 13), (102, 12),
    ]  # fmt: skip
    assert [(first, last) for _, first, last in order] == [(n, n) for n in range(1, 9)]


def test_c29_points_come_before_weight_so_the_heaviest_of_three_is_third():
    # Division Two National 2019 as a club reported it.
    teams = [standing(327, 29_830, sign=-1), standing(354, 23_760, sign=-1),
             standing(332, 19_610, sign=-1)]  # fmt: skip

    order = placed(ladder("weight"), teams)

    assert [team.points for team, _, _ in order] == [354, 332, 327]


FOUR_TEAMS = {
    "A": {"R": 4200, "S": 3900, "T": 3900, "U": "blank"},
    "B": {"R": 2100, "S": 5600, "T": 1800, "U": 7000},
    "C": {"R": "blank", "S": 900, "T": "blank", "U": 1500},
    "D": {"R": 8800, "S": 8100, "T": 9300, "U": 6400},
}


def test_c30_four_teams_of_four_worked_by_hand():
    rows = [
        row(f"{team}{name}", catch, name, team=team)
        for name, catches in FOUR_TEAMS.items()
        for team, catch in catches.items()
    ]

    result = score_match(rows, book())

    assert [(t.team, t.points, t.weight, t.place) for t in result.teams] == [
        ("S", 9 + HALF, 18_500, 1),
        ("R", 9 + HALF, 15_100, 2),
        ("U", 10, 14_900, 3),
        ("T", 11, 15_000, 4),
    ]
    by_team = {team.team: team.section_points for team in result.teams}
    assert by_team["R"] == {"A": (1,), "B": (3,), "C": (3 + HALF,), "D": (2,)}
    assert by_team["S"] == {"A": (2 + HALF,), "B": (2,), "C": (2,), "D": (3,)}
    assert by_team["T"] == {"A": (2 + HALF,), "B": (4,), "C": (3 + HALF,), "D": (1,)}
    assert by_team["U"] == {"A": (4,), "B": (1,), "C": (1,), "D": (4,)}
    assert (result.section_points, result.expected) == (40, 40)
    split = result.teams[0].split
    assert split is not None
    assert split.decided is not None
    assert (split.decided.rung, split.decided.ours, split.decided.theirs) == (
        "weight", 18_500, 15_100,
    )  # fmt: skip


def test_c31_the_third_level_is_the_heaviest_single_weight():
    # A Russian competition regulation, 7.1: points, team weight, heaviest member.
    p, q = standing(14, 21_400, 9_100), standing(14, 21_400, 11_050)

    order = placed(ladder("weight", "best weight"), [p, q])

    assert [team.best_weight for team, _, _ in order] == [11_050, 9_100]
    assert [check.outcome for check in climb(ladder("weight", "best weight"), q, p)] == [
        "level", "level", "split",
    ]  # fmt: skip


def test_c32_a_team_of_three_gets_one_more_than_the_teams_where_it_lacks_a_member():
    teams = ["Ours", *(f"Team {n}" for n in range(2, 9))]
    ours = {"A": 2, "B": 4, "C": 1}
    rows = []
    for name in "ABCD":
        field = placing("x", ours.get(name, 8), 8)
        others = iter(teams[1:])
        for each in field:
            if each.angler == "x" and name == "D":
                continue
            team = "Ours" if each.angler == "x" else next(others)
            rows.append(row(f"{team} {name}", each.nets, name, team=team))

    result = score_match(rows, book(section={"absent": "teams+1"}))

    line = next(team for team in result.teams if team.team == "Ours")
    assert line.section_points == {"A": (2,), "B": (4,), "C": (1,), "D": (9,)}
    assert line.points == 16
    assert [(each.row.section, each.status.value) for each in line.short] == [("D", "absent")]
    section_d = next(part for part in result.sections if part.section == "D")
    assert [each.points for each in section_d.lines] == [1, 2, 3, 4, 5, 6, 7]


def test_c33_the_best_four_of_eight_count():
    # A league in Argentina: eight fish, the best four count.
    placings = (7, 1, 12, 3, 9, 4, 15, 6)
    rows = []
    for name, place in zip("ABCDEFGH", placings, strict=True):
        rows += [
            row(f"{each.angler} {name}", each.nets, name, team=each.angler)
            for each in placing("Ours", place, 16)
        ]

    result = score_match(rows, book(team={"size": 8, "count": 4}))

    ours = next(team for team in result.teams if team.team == "Ours")
    assert ours.points == 14
    assert set(ours.left_out) == {"Ours A", "Ours C", "Ours E", "Ours G"}


def test_in_high_points_the_best_members_are_those_with_most():
    rows = [
        row(f"{team}{name}", weight, name, team=team)
        for name, weights in {"A": (9, 8), "B": (7, 9), "C": (9, 8)}.items()
        for team, weight in zip("XY", weights, strict=True)
    ]
    rules = book(section={"direction": "high", "blank": 0}, team={"size": 3, "count": 2})

    result = score_match(rows, rules)

    assert [(team.team, team.points) for team in result.teams] == [("X", 4), ("Y", 3)]


WEIGHED = {"A": 10, "B": 10, "C": 900}  # section C decides on weight


@pytest.mark.parametrize(
    ("rungs", "winner"),
    [
        (["best places"], "X"),  # 1, 1, 4 against 1, 2, 3
        (["section wins"], "X"),  # two firsts against one
        (["weight"], "Y"),
        (["best weight"], "Y"),
    ],
)
def test_each_team_rung_splits_by_its_own_measure(rungs, winner):
    rows = []
    for name, (x, y) in {"A": (1, 3), "B": (1, 2), "C": (4, 1)}.items():
        order = sorted(
            [(x, "X"), (y, "Y"), *((p, f"Z{p}") for p in range(1, 5) if p not in (x, y))]
        )
        rows += [
            row(f"{team}{name}", WEIGHED[name] * (10 - place), name, team=team)
            for place, team in order
        ]

    result = score_match(rows, book(team={"size": 3, "ties": rungs}))

    level = [team for team in result.teams if team.team in "XY"]
    assert level[0].points == level[1].points == 6
    assert level[0].team == winner
    assert level[0].split.decided.rung == rungs[0]


def test_teams_level_on_every_rung_share_the_place_and_the_next_is_missed():
    rows = [
        row(f"{team}{name}", weight, name, team=team)
        for name, weights in {"A": (9, 8, 1), "B": (8, 9, 1)}.items()
        for team, weight in zip("XYZ", weights, strict=True)
    ]

    result = score_match(rows, book(team={"size": 2}))

    assert [(t.team, t.place, t.equal) for t in result.teams] == [
        ("X", 1, True), ("Y", 1, True), ("Z", 3, False),
    ]  # fmt: skip
    assert result.teams[0].split.decided is None
