"""High points as published: top by teams, by section, fixed, listed, and the override."""

from fractions import Fraction

import pytest

from league.rules.matches import score_match
from tests.rows import book, drams, many, points_of, row, scored, section

HALF = Fraction(1, 2)

# Angling press, Division Two National 2016, 28 teams: the totals as printed.
NATIONAL = (
    205, 204, 204, 202, 201, 197, 192, 187, 170, 164, 161, 157, 154, 154, 153, 147, 134, 128, 124,
    117, 106, 102, 102, 96, 90, 79, 73, 70,
)  # fmt: skip


def high(**section_rules):
    rules = {"direction": "high", "blank": 0, "absent": 0, "disqualified": 0, **section_rules}
    return book(section=rules)


def national(rules, weights):
    """Ten sections of 28, one member of each team in each."""
    return score_match(
        [
            row(f"{team}/{name}", weights[team], name, team=f"Team {team:02d}")
            for name in "ABCDEFGHIJ"
            for team in range(28)
        ],
        rules,
    )


def test_c18_28_teams_without_ties_share_out_406_points_a_section_and_4060_in_all():
    result = national(
        high(top="teams", blank="average of the rest"), [9000 - 10 * team for team in range(28)]
    )

    first = [line.points for line in result.sections[0].lines]
    assert first == list(range(28, 0, -1))
    assert sum(first) == 406
    assert (result.section_points, result.expected) == (4060, 4060)


def test_c19_averaged_ties_never_raise_the_sum_and_better_ties_do_as_the_printed_table_shows():
    assert sum(NATIONAL) == 4073
    weights = [9000 - 10 * (team // 2) for team in range(28)]

    averaged = national(high(top="teams", equal="average", blank="average of the rest"), weights)
    better = national(high(top="teams", equal="better"), weights)

    assert (averaged.section_points, averaged.expected) == (4060, 4060)
    assert better.section_points == 4060 + 10 * 14 * 1
    assert better.expected is None


@pytest.mark.parametrize(
    ("equal", "expected"),
    [
        ("average", [9 + HALF, 9 + HALF, 8]),
        ("better", [10, 10, 8]),
        ("worse", [9, 9, 8]),
    ],
)
def test_c20_two_equal_heaviest_of_ten(equal, expected):
    catches = [900, 900, *range(800, 0, -100)]

    assert scored(catches, high(equal=equal))[:3] == expected


@pytest.mark.parametrize(
    ("catches", "expected"),
    [
        pytest.param([900, 800, 700], [3, 2, 1], id="C21 (a) single shield league, three fish"),
        pytest.param([900, 800, "absent"], [3, 2, 0], id="C21 (b) and a missing member"),
    ],
)
def test_small_groups_score_three_two_one(catches, expected):
    assert scored(catches, high()) == expected


def test_c22_the_first_three_of_the_whole_match_score_13_12_and_11_instead():
    # Linton's printed table gives B's 9-8 the 11 points; the rule as written gives A's 10-12.
    rules = book(
        unit="lb-oz",
        section={
            "direction": "high",
            "top": [10, 9, 8, 7, 6, 5, 4, 3, 2, 1],
            "override": [13, 12, 11],
            "blank": 1,
        },
    )
    catches = {
        "A": ["25-10", "20-14", "10-12", "8-8"],
        "B": ["9-8", "7-4", "6-9", "5-7"],
        "C": ["0-12", "0-14", "1-3"],
    }
    rows = [
        each
        for name, weights in catches.items()
        for each in section([drams(weight) for weight in weights], name)
    ]
    rows.append(row("C4", "blank", "C"))

    points = points_of(score_match(rows, rules))

    assert [points[f"A{n}"] for n in range(1, 5)] == [13, 12, 11, 7]
    assert [points[f"B{n}"] for n in range(1, 5)] == [10, 9, 8, 7]
    assert [points[f"C{n}"] for n in range(1, 5)] == [8, 9, 10, 1]


def test_equal_weights_across_the_end_of_the_override_share_what_is_left_of_it():
    rules = high(override=[13], top=10)
    rows = [*section([900, 500]), *section([900, 400], "B")]

    points = points_of(score_match(rows, rules))

    # First and second of the match between them: (13 + the 10 of a section win) / 2.
    assert points == {"A1": 11 + HALF, "A2": 9, "B1": 11 + HALF, "B2": 9}


@pytest.mark.parametrize(
    ("entries", "first", "last"),
    [
        pytest.param(45, 60, 16, id="C23 (a) club championship with top 60, 45 fish"),
        pytest.param(72, 72, 1, id="C23 (b) 72 fish"),
    ],
)
def test_top_of_sixty_or_the_number_fishing_if_more(entries, first, last):
    points = scored(many(entries, "weighed"), high(top="max 60"))

    assert (points[0], points[-1]) == (first, last)


def test_a_fixed_top_runs_out_at_nothing():
    # A Polish float league prints 15 points for first; 16th and 17th score 0.
    points = scored(many(17, "weighed"), high(top=15))

    assert points == [*range(15, 0, -1), 0, 0]


def test_a_listed_scale_shares_in_thirds_and_gives_nothing_past_its_end():
    rules = high(top=[15, 13, 11, 10])

    assert scored([900, 700, 700, 700, 100], rules) == [
        15,
        Fraction(34, 3),
        Fraction(34, 3),
        Fraction(34, 3),
        0,
    ]


def test_the_match_can_set_the_top_for_every_section():
    rules = high(top="match")
    rows = [*section([900, 800]), *section([700, 600, 500], "B")]

    points = points_of(score_match(rows, rules))

    assert points == {"A1": 5, "A2": 4, "B1": 5, "B2": 4, "B3": 3}


@pytest.mark.parametrize(
    ("rule", "expected"),
    [
        ("average of the rest", 2),  # places 4, 5 and 6 of six score 3, 2 and 1
        ("half sum", 2 + HALF),  # place (3 + 6) / 2, midway between 3 and 2
        ("last place", 1),
        ("N+1", 0),
        ("F+1", 3),
        ("F+9", 0),
        (4, 4),
    ],
)
def test_in_high_points_a_place_rule_is_read_off_the_scale(rule, expected):
    points = scored([900, 800, 700, "blank", "blank", "blank"], high(blank=rule))

    assert points[3:] == [expected] * 3


def test_a_missing_place_past_the_section_scores_nothing_however_long_the_scale():
    points = scored([900, 800, "absent"], high(top=60, absent="N+1"))

    assert points == [60, 59, 0]
