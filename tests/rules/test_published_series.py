"""Season tables as published: drops, count-back, penalties, and ties on season points."""

import pytest

from league.rules.matches import score_match
from league.rules.table import score_season
from tests.rows import book, line_of, order_of, placing, row, series


def low(**season):
    return book(season=season)


def fates(season, name):
    """Each round's score and whether it is dropped."""
    return [(each.score, each.dropped) for each in line_of(season, name).rounds]


COUNT_BACK = {"drop": 1, "ties": ["best places", "last round"]}


def test_c34_count_back_by_best_scores_and_then_by_the_last_race():
    # Racing Rules of Sailing A8.1 and A8.2, from "Misconduct, a Reference for Race Officials".
    scores = {
        "A": (3, 4, 1, 6, 2, 7),
        "B": (4, 3, 2, 1, 6, 6),
        "C": (1, 2, 7, 3, 3, 14),
    }

    season = series(low(**COUNT_BACK), scores)

    assert [line_of(season, who).total for who in "ABC"] == [16, 16, 16]
    assert order_of(season, "ABC") == ["C", "B", "A"]
    assert line_of(season, "C").split.decided.rung == "best places"
    assert line_of(season, "A").split.decided.rung == "last round"


def test_c35_with_the_same_counting_scores_the_last_race_decides_a_discard_or_not():
    scores = {"A": (3, 4, 5, 10), "B": (11, 3, 4, 5), "C": (5, 15, 3, 4), "D": (4, 5, 6, 3)}

    season = series(low(**COUNT_BACK), scores)

    assert [line_of(season, who).total for who in "ABCD"] == [12, 12, 12, 12]
    assert order_of(season, "ABCD") == ["D", "C", "B", "A"]


def test_c36_of_equal_worst_scores_the_earliest_is_dropped():
    # Racing Rules of Sailing A2.1.
    season = series(low(drop=1), {"A": (5, 2, 5, 1)})

    assert fates(season, "A") == [(5, True), (2, False), (5, False), (1, False)]
    assert line_of(season, "A").total == 8


@pytest.mark.parametrize(
    ("fished", "dropped"),
    [(10, 3), (9, 3), (8, 2), (7, 2), (6, 1), (5, 1), (4, 0)],
)
def test_c37_how_many_are_dropped_slides_with_the_rounds_fished(fished, dropped):
    # A Dutch club: ten planned, drop 3; 8 or 7 fished, 2; 6 or 5, 1; 4, none.
    rules = low(drop={"9": 3, "7": 2, "5": 1})

    season = series(rules, {"A": list(range(1, fished + 1))})

    assert sum(each.dropped for each in line_of(season, "A").rounds) == dropped
    assert line_of(season, "A").total == sum(range(1, fished - dropped + 1))


BEST_12 = (1, 2, 2, 1, 3, 4, 5, 1, 2, 3, "absent", "absent", 4, 5, 2)


def test_c38_best_twelve_of_fifteen_with_a_fixed_no_show_score():
    rules = book(section={"absent": 8}, season={"best": 12})

    season = series(rules, {"A": BEST_12}, size=6)

    assert line_of(season, "A").total == 30
    assert [score for score, dropped in fates(season, "A") if dropped] == [5, 8, 8]


def test_c38_a_tie_goes_to_weight_over_all_fifteen_dropped_ones_included():
    rules = book(season={"best": 12, "ties": ["weight"]})
    places = (*[1] * 12, 5, 5, 5)
    # Equal weight in what counts; P has the heavier dropped rounds.
    weights = {"P": [*[1000] * 12, 900, 900, 900], "Q": [*[1000] * 12, 800, 800, 800]}

    season = series(rules, {"P": places, "Q": places}, weights=weights)
    counting = series(
        book(season={"best": 12, "ties": ["counting weight"]}),
        {"P": places, "Q": places},
        weights=weights,
    )

    assert order_of(season, "PQ") == ["P", "Q"]
    assert line_of(season, "P").split.decided.rung == "weight"
    assert [line_of(counting, who).equal for who in "PQ"] == [True, True]


def test_c39_level_over_the_best_eleven_goes_to_the_twelfth_best():
    scores = {
        "X": (3, 5, 1, 2, 9, 4, 6, 2, 7, 8, 1, 3, 5, 4, 12),
        "Y": (2, 4, 3, 3, 8, 5, 4, 6, 1, 7, 2, 5, 3, 4, 11),
    }

    season = series(low(best=11, ties=["next best"]), scores)

    assert [line_of(season, who).total for who in "XY"] == [36, 36]
    assert order_of(season, "XY") == ["Y", "X"]
    decided = line_of(season, "Y").split.decided
    assert (decided.ours[0], decided.theirs[0]) == (6, 7)


def test_c40_most_wins_come_before_weight():
    scores = {"P": (1, 1, 6, 7, 2, 5, 3, 4), "Q": (1, 2, 5, 6, 3, 4, 4, 4)}
    weights = {"P": [5150] * 8, "Q": [6875] * 8}  # 41.200 kg and 55.000 kg

    season = series(low(ties=["round wins", "weight"]), scores, weights=weights)

    p, q = line_of(season, "P"), line_of(season, "Q")
    assert (p.total, q.total) == (29, 29)
    assert (p.weight, q.weight) == (41_200, 55_000)
    assert order_of(season, "PQ") == ["P", "Q"]


def test_c41_penalty_points_are_added_after_the_drops():
    # A Belgian club, rule 4: a blank scores 43.
    rules = book(section={"blank": 43}, season={"drop": 2})
    scores = (2, 3, 1, 6, 9, ("blank", {"penalty": 8}), 4)

    season = series(rules, {"A": scores})

    line = line_of(season, "A")
    assert [score for score, dropped in fates(season, "A") if dropped] == [9, 43]
    assert (line.penalty, line.total) == (8, 16 + 8)


def test_a_penalty_inside_its_round_is_dropped_with_it_where_the_book_says_so():
    rules = book(section={"blank": 43}, season={"drop": 2, "penalties_after_drop": False})
    scores = (2, 3, 1, 6, 9, ("blank", {"penalty": 8}), 4)

    line = line_of(series(rules, {"A": scores}), "A")

    assert (line.penalty, line.total) == (0, 16)


@pytest.mark.parametrize(("counts", "total"), [(False, 19), (True, 23)])
def test_c42_a_disqualified_round_is_dropped_or_not_as_the_book_says(counts, total):
    rules = low(drop=1, disqualified_counts=counts)

    season = series(rules, {"A": (2, 3, "disqualified", 1, 9, 4)}, size=12)

    assert line_of(season, "A").rounds[2].score == 13
    assert line_of(season, "A").total == total


@pytest.mark.parametrize(
    ("ties", "first"),
    [
        pytest.param(["weight", "better"], "N", id="C43 (i) total weight first"),
        pytest.param(["better", "weight"], "M", id="C43 (ii) better single place first"),
    ],
)
def test_two_rounds_level_on_seven_go_by_the_announced_chain(ties, first):
    weights = {"M": (7_100, 7_100), "N": (7_950, 7_950)}

    season = series(low(ties=ties), {"M": (1, 6), "N": (3, 4)}, weights=weights)

    assert [line_of(season, who).total for who in "MN"] == [7, 7]
    assert order_of(season, "MN")[0] == first


def test_c44_five_days_of_pairs_are_placed_by_points_and_not_by_weight():
    # Monaghan Pairs Festival: 13, 16, 17 and 18 points.
    scores = {
        "P13": (3, 3, 3, 2, 2),
        "P16": (4, 3, 3, 3, 3),
        "P17": (4, 4, 3, 3, 3),
        "P18": (4, 4, 4, 3, 3),
    }
    kilos = {"P13": 176_300, "P16": 183_400, "P17": 187_200, "P18": 175_970}
    weights = {who: [total // 5] * 5 for who, total in kilos.items()}

    by_points = series(low(), scores, weights=weights)
    by_weight = series(low(score="weight"), scores, weights=weights)

    assert [line_of(by_points, who).weight for who in kilos] == list(kilos.values())
    assert order_of(by_points, list(kilos)) == ["P13", "P16", "P17", "P18"]
    assert order_of(by_weight, list(kilos)) == ["P17", "P16", "P13", "P18"]


def test_a_round_that_cannot_be_dropped_makes_the_next_worst_go():
    season = series(low(drop=1, undroppable=[2]), {"A": (3, 9, 5)})

    assert fates(season, "A") == [(3, False), (9, False), (5, True)]


def test_the_heaviest_single_round_splits_where_totals_are_the_same():
    weights = {"M": (9_000, 1_000), "N": (5_000, 5_000)}

    season = series(
        low(ties=["weight", "best round weight"]), {"M": (2, 2), "N": (2, 2)}, weights=weights
    )

    assert order_of(season, "MN") == ["M", "N"]
    assert line_of(season, "N").split.decided.rung == "best round weight"


def test_a_cancelled_round_can_be_left_out_or_count_nought_for_everybody():
    rounds = [
        (number, score_match(placing("A", place, 8), low()))
        for number, place in ((1, 4), (3, 6), (4, 2))
    ]

    left_out = score_season(rounds, low(best=2), cancelled=[2], planned=4)
    nought = score_season(rounds, low(best=2, cancelled="all zero"), cancelled=[2], planned=4)

    assert (left_out.held, nought.held) == (3, 4)
    assert line_of(left_out, "A").total == 6
    assert [each.status for each in line_of(left_out, "A").rounds][1] == "cancelled"
    assert line_of(left_out, "A").rounds[1].score is None
    # The common 0 is the best there is in low points and uses up a counting round.
    assert fates(nought, "A") == [(4, True), (0, False), (6, True), (2, False)]


def test_those_short_of_the_minimum_are_listed_below_everybody_who_reached_it():
    rows = [placing("A", place, 4) for place in (4, 4, 4)]
    rows[0] += placing("B", 1, 4)
    rules = low(minimum=3)

    season = score_season([(i + 1, score_match(each, rules)) for i, each in enumerate(rows)], rules)

    a, b = line_of(season, "A"), line_of(season, "B")
    assert (a.fished, a.qualified) == (3, True)
    assert (b.fished, b.qualified) == (1, False)
    assert a.place < b.place


def test_an_absent_angler_scores_the_worst_that_any_section_gives_for_it():
    rounds = [
        [*placing("A", 1, 4), *placing("B", 1, 6)],
        [*placing("A", 1, 4), row("C", 100, "C")],
    ]

    season = score_season(
        [(i + 1, score_match(each, low())) for i, each in enumerate(rounds)], low()
    )

    assert fates(season, "B") == [(1, False), (5, False)]  # 4 + 1, the longer section
    assert fates(season, "C") == [(7, False), (1, False)]
    assert [each.status for each in line_of(season, "B").rounds] == ["weighed", "absent"]


def test_no_score_leaves_the_round_out_of_the_anglers_table():
    rules = book(section={"absent": "no score"}, season={"drop": 1})
    season = series(rules, {"A": (3, "absent", 5), "B": (3, 4, 5)})

    # Two of three rounds count; the missed one is the one not counted.
    assert fates(season, "A") == [(3, False), (None, False), (5, False)]
    assert line_of(season, "A").total == 8
    assert line_of(season, "B").total == 7


@pytest.mark.parametrize(
    ("weights", "marks"),
    [
        ((900, 800, 700, 600), ["up", "", "", "down"]),
        ((900, 900, 700, 600), ["level", "level", "", "down"]),
        ((900, 800, 600, 600), ["up", "", "level", "level"]),
        ((700, 700, 700, 700), ["level", "level", "level", "level"]),
    ],
)
def test_going_up_and_down_are_marked_and_a_tie_across_the_line_is_said(weights, marks):
    rules = low(up=1, down=1)
    rows = [row(who, weight) for who, weight in zip("ABCD", weights, strict=True)]

    season = score_season([(1, score_match(rows, rules))], rules)

    assert [line.mark for line in season.anglers] == marks


def test_one_angler_fishing_for_two_teams_has_one_line_naming_both():
    rounds = [
        [row("Ana", 900, team="Millrace"), row("Bo", 800, team="Old Quarry")],
        [row("Ana", 900, team="Old Quarry"), row("Bo", 950, team="")],
    ]
    rules = book(team={"size": 1})

    season = score_season(
        [(i + 1, score_match(each, rules)) for i, each in enumerate(rounds)], rules
    )

    assert line_of(season, "Ana").team == "Millrace, Old Quarry"
    assert line_of(season, "Ana").total == 3
    assert line_of(season, "Bo").team == "Old Quarry"
