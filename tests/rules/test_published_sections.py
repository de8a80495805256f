"""Sections as published rulebooks work them: equal weights, blanks, absent and disqualified."""

from fractions import Fraction

import pytest

from league.rules.lines import Status
from league.rules.matches import score_match
from tests.rows import book, many, places_of, points_of, row, scored, section

HALF = Fraction(1, 2)


def low(**section_rules):
    return book(section=section_rules)


@pytest.mark.parametrize(
    ("catches", "rules", "expected"),
    [
        pytest.param(
            [9000, 8000, 7000, 6000, 5000, 5000, 4000, 3000],
            low(),
            [1, 2, 3, 4, 5 + HALF, 5 + HALF, 7, 8],
            id="C01 two equal: FIPSed rule 33(b) as translated into Russian",
        ),
        pytest.param(
            [*range(9000, 2000, -1000), 1500, 1500, 1500, 900, 800],
            low(),
            [1, 2, 3, 4, 5, 6, 7, 9, 9, 9, 11, 12],
            id="C02 three equal at 8th: FIPSed rule 33(b), second example",
        ),
        pytest.param(
            [900, 700, 700, 500],
            low(equal="better"),
            [1, 2, 2, 4],
            id="C08 equal weights take the better place: German federation order",
        ),
    ],
)
def test_equal_weights_score_as_the_rule_book_prints(catches, rules, expected):
    assert scored(catches, rules) == expected


def test_worse_gives_equal_weights_the_last_of_their_places():
    assert scored([900, 700, 700, 500], low(equal="worse")) == [1, 3, 3, 4]


@pytest.mark.parametrize(
    ("with_fish", "blanks", "each"),
    [
        pytest.param(12, 12, 18 + HALF, id="C03 FIPSed rule 33(c), first example"),
        pytest.param(11, 14, 18 + HALF, id="C04 Polish association rules, example 3"),
        pytest.param(30, 3, 32, id="C05 Polish association rules, example 5"),
        pytest.param(32, 1, 33, id="C06 Polish association rules, example 6"),
    ],
)
def test_blanks_average_the_places_left(with_fish, blanks, each):
    points = scored([*many(with_fish, "weighed"), *many(blanks, "blank")], low())

    assert points == [*range(1, with_fish + 1), *[each] * blanks]


@pytest.mark.parametrize(
    ("with_fish", "blanks", "each"),
    [
        pytest.param(12, 12, 18, id="C07 (a) German federation order: (24 + 12) / 2"),
        pytest.param(23, 1, 24, id="C07 (b) a single blank takes the place after the last"),
    ],
)
def test_half_sum_blanks_follow_the_german_formula(with_fish, blanks, each):
    points = scored([*many(with_fish, "weighed"), *many(blanks, "blank")], low(blank="half sum"))

    assert points[with_fish:] == [each] * blanks


@pytest.mark.parametrize(
    ("rule", "each"),
    [
        ("average of the rest", 5 + HALF),
        ("last place", 10),
        ("N+1", 11),
        ("F+1", 1),
        ("F+5", 5),
        ("W+5", 5),
        ("half sum", 5),
        (43, 43),
    ],
)
def test_c09_a_section_where_nobody_catches_scores_by_each_blank_rule(rule, each):
    assert scored(many(10, "blank"), low(blank=rule)) == [each] * 10


def test_c09_a_dutch_club_gives_everybody_five_in_a_section_without_fish():
    rules = low(blank="F+1", all_blank=5)

    assert scored(many(10, "blank"), rules) == [5] * 10
    assert scored([100, "blank"], rules) == [1, 2]


@pytest.mark.parametrize(
    ("rule", "with_six", "with_nine", "with_none"),
    [
        ("average of the rest", 8 + HALF, 10, 5 + HALF),
        ("half sum", 8, 10, 5),
        ("last place", 10, 10, 10),
        ("N+1", 11, 11, 11),
        ("F+1", 7, 10, 1),
        ("F+3", 9, 12, 3),
        ("F+5", 11, 14, 5),
        ("W+5", 11, 14, 5),
        (43, 43, 43, 43),
    ],
)
def test_every_printed_blank_rule_in_a_section_of_ten(rule, with_six, with_nine, with_none):
    rules = low(blank=rule)

    for fish, expected in ((6, with_six), (9, with_nine), (0, with_none)):
        catches = [*many(fish, "weighed"), *many(10 - fish, "blank")]
        assert set(scored(catches, rules)[fish:]) == {expected}


@pytest.mark.parametrize(
    ("catches", "rules", "expected"),
    [
        pytest.param(
            [*many(10, "weighed"), *many(3, "blank"), "absent"],
            low(blank="last place", absent="N+1"),
            [*range(1, 11), 14, 14, 14, 15],
            id="C10 a German-speaking club's own numbers: blanks 14, absent 15",
        ),
        pytest.param(
            [*many(10, "weighed"), *many(8, "blank"), "absent", "disqualified"],
            low(blank="N+1", absent="blank+1", disqualified="N+2"),
            [*range(1, 11), *[21] * 8, 22, 22],
            id="C11 a Warsaw club: blanks 21, absent 22, disqualified 22",
        ),
        pytest.param(
            [*many(12, "weighed"), *many(3, "not weighed"), *many(5, "absent")],
            low(blank="W+5", not_weighed="as blank", absent="W+10"),
            [*range(1, 13), 17, 17, 17, *[22] * 5],
            id="C12 a club's rule of last weigher plus 5 and plus 10",
        ),
        pytest.param(
            [*many(9, "weighed"), *many(4, "blank"), *many(2, "absent")],
            low(blank="F+5", absent=25),
            [*range(1, 10), *[14] * 4, 25, 25],
            id="C13 a Dutch club: last with fish plus 5, absent 25",
        ),
        pytest.param(
            [*many(6, "weighed"), *many(2, "blank"), "absent"],
            low(blank="F+3", absent="F+10"),
            [*range(1, 7), 9, 9, 16],
            id="C14 a Dutch club: last with fish plus 3, absent plus 10",
        ),
        pytest.param(
            [*many(4, "weighed"), "blank", "absent", "not weighed"],
            low(blank=43, absent=50, not_weighed=51),
            [1, 2, 3, 4, 43, 50, 51],
            id="C15 a Belgian club's fixed scores: 43, 50, 51",
        ),
    ],
)
def test_blank_not_weighed_and_absent_are_three_rules(catches, rules, expected):
    assert scored(catches, rules) == expected


def test_c15_penalty_points_are_put_on_beside_the_fixed_score():
    rules = low(not_weighed=51)
    rows = [row("Ana", 500), row("Bo", "not weighed", penalty=8)]

    result = score_match(rows, rules)

    line = result.sections[0].lines[1]
    assert (line.before_penalty, line.points) == (51, 59)


# C16 and C17: twelve drawn, K absent, L disqualified with 5600 g on the scales.
MIXED = {
    "A": 6400, "B": 5200, "C": 4100, "D": 4100, "E": 3000, "F": 1500, "G": 700,
    "H": "blank", "I": "blank", "J": "blank", "K": "absent",
}  # fmt: skip


def mixed_section(**rules):
    rows = [row(angler, catch) for angler, catch in MIXED.items()]
    rows.append(row("L", 5600, status=Status.DISQUALIFIED))
    return score_match(rows, low(**rules))


def test_c16_blanks_average_to_the_size_as_drawn():
    points = points_of(mixed_section(size="drawn"))

    assert [points[each] for each in "ABCDEFG"] == [1, 2, 3 + HALF, 3 + HALF, 5, 6, 7]
    assert [points[each] for each in "HIJ"] == [10, 10, 10]
    assert (points["K"], points["L"]) == (13, 13)


def test_c16_blanks_average_to_the_size_as_fished():
    points = points_of(mixed_section(size="fished", absent=13, disqualified=13))

    assert [points[each] for each in "HIJ"] == [9, 9, 9]
    assert (points["K"], points["L"]) == (13, 13)


def test_c16_n_is_the_same_in_every_key():
    points = points_of(mixed_section(size="fished"))

    assert (points["K"], points["L"]) == (11, 11)


def test_c17_a_disqualified_anglers_place_can_stay_open():
    result = mixed_section(others_move_up=False)
    points = points_of(result)

    assert [points[each] for each in "ABCDEFG"] == [1, 3, 4 + HALF, 4 + HALF, 6, 7, 8]
    assert places_of(result)["L"] is None
    # Places 9 to 12 are left to the three blanks and the absent angler: (9 + 12) / 2.
    assert [points[each] for each in "HIJ"] == [10 + HALF] * 3


def test_a_place_held_open_can_lie_past_the_size_of_those_who_fished():
    rows = [row("A", 900), row("B", 800, status=Status.DISQUALIFIED), row("C", 700)]
    rules = low(size="fished", others_move_up=False)

    result = score_match(rows, rules)

    assert result.sections[0].size == 2
    assert points_of(result) == {"A": 1, "C": 3, "B": 3}


@pytest.mark.parametrize(
    ("sizes", "expected"),
    [
        pytest.param((6, 5, 5), [1, 2, 3, 4, 5, 5], id="C25 (a) a six among fives"),
        pytest.param((5, 4, 5), [1, 2, 3, 4, 4], id="C25 (b) a five where there is a four"),
    ],
)
def test_a_long_section_gives_no_more_than_the_smallest(sizes, expected):
    rows = [
        each
        for name, size in zip("ABC", sizes, strict=True)
        for each in section(many(size, "weighed"), name)
    ]

    points = points_of(score_match(rows, low(cap="smallest")))

    assert [points[f"A{index + 1}"] for index in range(sizes[0])] == expected


def test_c26_blank_not_weighed_and_no_show_in_a_section_of_five():
    rules = low(blank="last place", not_weighed="blank+1", absent=8, cap="smallest")
    catches = [*many(2, "weighed"), "blank", "not weighed", "absent"]

    assert scored(catches, rules) == [1, 2, 5, 6, 8]


def test_a_cap_makes_thirds_where_three_equal_share_places_on_both_sides_of_it():
    rules = low(cap="smallest")
    rows = [*section([900, 800, 700, 500, 500, 500]), *section(many(5, "weighed"), "B")]

    points = points_of(score_match(rows, rules))

    # Fourth is 4, fifth and sixth are 5 under the cap: (4 + 5 + 5) / 3.
    assert points["A4"] == points["A5"] == points["A6"] == Fraction(14, 3)
