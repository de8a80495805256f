"""What the rules say of their figures: each sentence as a captain reads it."""

from __future__ import annotations

from fractions import Fraction

import pytest

from league.rules import words
from league.rules.books import READY_MADE
from league.rules.lines import RungCheck, Split, Status
from league.rules.matches import score_match
from league.rules.table import score_season
from league.rules.weights import Unit
from tests.rows import book, drams, heron_lake, row, section, winter

WINTER = READY_MADE["high-best-five-places"]


def said(result, who):
    line = next(x for part in result.sections for x in part.lines if x.row.angler == who)
    return words.say(line.reason, result.unit), words.arithmetic(line.reason)


@pytest.mark.parametrize(
    ("who", "sentence", "arithmetic"),
    [
        ("Dave Scrimshire", "1st of 6 in section A: 6 points.", "First of 6 = 6"),
        ("Hugh Amblerton", "6th of 6 in section A: 1 point.", "Sixth of 6 = 1"),
        (
            "Len Cudworthy",
            "9-4 at pegs 24 and 29. Equal weights share the places they take, here third and "
            "fourth in section D: 3½ points.",
            "(4 + 3) ÷ 2 = 3½",
        ),
        ("Pete Brackwell", "A blank scores nothing.", "0"),
        ("Ron Tibbald", "Did not weigh scores nothing.", "0"),
    ],
)
def test_an_anglers_points_are_explained(who, sentence, arithmetic):
    assert said(heron_lake(WINTER), who) == (sentence, arithmetic)


def test_a_teams_points_are_the_sum_and_the_tie_is_told_from_both_sides():
    first, second, third, *_ = heron_lake(WINTER).teams

    assert words.arithmetic(first.reason) == "5 + 6 + 5 + 2 = 18"
    assert words.say_split(first.split, Unit.LB_OZ) == (
        "Level on 18 points with Old Quarry; ahead on total weight, 61-4 against 58-0."
    )
    assert words.say_split(second.split, Unit.LB_OZ) == (
        "Level on 18 points with Tannery Lane; behind on total weight, 58-0 against 61-4."
    )
    assert third.split is None
    assert words.say(third.reason, Unit.LB_OZ) == "3 + 5 + 2 + 6 = 16 points."


def test_the_ladder_is_told_rung_by_rung():
    split = heron_lake(WINTER).teams[0].split

    assert [words.say_rung(check, Unit.LB_OZ) for check in split.rungs] == [
        "Points: 18, 18. Level.",
        "Total weight: 61-4, 58-0. Split here.",
        "Section wins: not needed.",
        "Best single weight: not needed.",
    ]


@pytest.mark.parametrize(
    ("ours", "theirs", "figures"),
    [
        ((6, 7), (6, 8), "7 against 8"),
        ((6,), (), "6 against –"),
        ((), (6,), "– against 6"),
        ((1, None), (1, Fraction(5, 2)), "– against 2½"),
    ],
)
def test_of_two_lists_the_first_figures_that_differ_are_told(ours, theirs, figures):
    rungs = (RungCheck("points", 36, 36, "level"), RungCheck("next best", ours, theirs, "split"))

    said = words.say_split(Split("X", "Y", rungs), Unit.KG)

    assert said == f"Level on 36 points with Y; ahead on the best dropped score, {figures}."


def test_a_list_is_told_whole_on_its_rung():
    check = RungCheck("best places", (1, 2), (1,), "split")

    assert words.say_rung(check, Unit.KG) == ("The scores from best to worst: 1 2; 1. Split here.")


def test_in_a_weight_league_the_rungs_are_weights():
    rungs = (
        RungCheck("season weight", 5640, 5640, "level", weighed=True),
        RungCheck("last round", (900, 0), (700, 200), "split", weighed=True),
    )

    said = words.say_split(Split("X", "Y", rungs, we_are_ahead=False), Unit.KG)

    assert said == "Level on 5.640 kg with X; behind on the last round, 0.900 against 0.700."


@pytest.mark.parametrize(
    ("nets", "counted", "sentence"),
    [
        (["16-3"], ["16-3"], "One net."),
        (["19-10", "11-12"], ["19-10", "11-12"], "19-10 + 11-12 = 31-6"),
        (["43-2", "1-0"], ["40-0", "1-0"], "40-0 (of 43-2) + 1-0 = 41-0"),
        (["43-2"], ["40-0"], "40-0 (of 43-2) counts."),
        ([], [], ""),
    ],
)
def test_nets_are_told_as_they_count(nets, counted, sentence):
    read = [tuple(drams(net) for net in each) for each in (nets, counted)]

    assert words.say_nets(*read, Unit.LB_OZ) == sentence


LOW_CATCHES = [900, "blank", "blank", "not weighed", "absent", "disqualified", "withdrew"]


@pytest.mark.parametrize(
    ("rules", "expected"),
    [
        (
            {},
            [
                "1st of 7 in section A: 1 point.",
                "A blank in section A scores the average of the places left, 4½ points.",
                "A blank in section A scores the average of the places left, 4½ points.",
                "Did not weigh: the same as a blank, 4½ points in section A.",
                "Absent: one more than the section has places, 8 points in section A.",
                "Disqualified: one more than the section has places, 8 points in section A.",
                "Withdrew: the same as a blank, 4½ points in section A.",
            ],
        ),
        (
            {"blank": 43, "not_weighed": "blank+1", "absent": "F+10", "disqualified": "no score"},
            [
                "1st of 7 in section A: 1 point.",
                "A blank in section A scores 43 points.",
                "A blank in section A scores 43 points.",
                "Did not weigh: one more than a blank, 44 points in section A.",
                "Absent: the tenth place after the last angler with fish, 11 points in section A.",
                "Disqualified: no score: the match does not count in section A.",
                "Withdrew: the same as a blank, 43 points in section A.",
            ],
        ),
    ],
)
def test_every_status_says_its_rule(rules, expected):
    result = score_match(section(LOW_CATCHES), book(section=rules))

    assert [said(result, f"A{n}")[0] for n in range(1, 8)] == expected


def test_blanks_show_the_sum_behind_their_average():
    result = score_match(section([900, 800, "blank", "blank"]), book())
    half = score_match(section([900, 800, "blank", "blank"]), book(section={"blank": "half sum"}))

    assert said(result, "A3")[1] == "(3 + 4) ÷ 2 = 3½"
    assert said(half, "A3")[1] == "(2 + 4) ÷ 2 = 3"


def test_a_section_without_fish_is_told_as_such():
    result = score_match(section(["blank"] * 4), book(section={"all_blank": 5}))

    assert said(result, "A1")[0] == "Nobody had a fish in section A: 5 points."


def test_a_net_that_left_nothing_is_told():
    rules = book(net={"limit": "20.000", "over": "net out"})

    result = score_match(section([20_001, 900]), rules)

    assert said(result, "A1")[0] == "Nothing counts of 20.001: as a blank, 2 points."


@pytest.mark.parametrize(
    ("equal", "sentence"),
    [
        (
            "better",
            "0.700 at pegs A2 and A3. Equal weights all take the better place, here second, in "
            "section A: 2 points.",
        ),
        (
            "worse",
            "0.700 at pegs A2 and A3. Equal weights all take the worse place, here third, in "
            "section A: 3 points.",
        ),
    ],
)
def test_equal_weights_say_which_place_they_take(equal, sentence):
    result = score_match(section([900, 700, 700]), book(section={"equal": equal}))

    assert said(result, "A2")[0] == sentence


def test_level_with_a_disqualified_angler_whose_place_is_kept_names_no_second_peg():
    rows = [row("Ana", 900), row("Bo", 700), row("Cy", 700, status=Status.DISQUALIFIED)]

    result = score_match(rows, book(section={"others_move_up": False}))

    assert said(result, "Bo")[0] == (
        "Equal weights share the places they take, here second and third in section A: 2½ points."
    )


def test_the_override_says_the_place_in_the_match():
    rules = book(section={"direction": "high", "blank": 1, "override": [13, 12]})

    result = score_match([*section([900, 800]), *section([850], "B")], rules)

    assert said(result, "B1")[0] == (
        "Second of the whole match, which scores in place of 1st in section B: 12 points."
    )


def test_a_short_team_says_where():
    rows = [row("Ana", 900, "A", team="X"), row("Bo", 800, "A", team="Y"),
            row("Cy", 700, "B", team="X")]  # fmt: skip

    result = score_match(rows, book(team={"size": 2}))

    short = result.teams[1].short[0]
    assert words.say(short.reason, result.unit) == (
        "One short in section B: shown as absent, 2 points."
    )


def test_a_team_says_who_does_not_count():
    rows = [row(f"{who}{name}", weight, name, team=who)
            for name, (x, y) in {"A": (9, 8), "B": (7, 9)}.items()
            for who, weight in (("X", x), ("Y", y))]  # fmt: skip

    result = score_match(rows, book(team={"size": 2, "count": 1, "ties": ["best weight"]}))

    assert words.say(result.teams[0].reason, result.unit) == "1 = 1 point. Not counted: XB."


def test_a_table_row_says_its_sum_and_what_is_dropped():
    rounds, rules = winter(
        [{"X": 9, "Y": 8, "Z": 7}, {"X": 7, "Y": 8, "Z": 9}, {"X": 9, "Y": 1, "Z": 5}], best=2
    )

    table = score_season(rounds, rules).table

    assert words.say(table[0].reason, Unit.KG) == "3 + 3 = 6. Dropped: round 2 (1)."
    assert words.arithmetic(table[0].reason) == "3 + 3 = 6"


def test_a_row_short_of_the_minimum_says_how_many_rounds_are_missing():
    rounds, rules = winter([{"X": 9, "Y": 8}, {"X": 9}], minimum=2)

    table = score_season(rounds, rules).table

    assert words.say(table[1].reason, Unit.KG) == (
        "1 + 0 = 1. Fished one of the two rounds needed."
    )


def test_a_penalty_is_in_the_sum():
    rounds, rules = winter([{"X": 9, "Y": 8}])

    table = score_season(rounds, rules, penalties={"X": Fraction(1, 2)}).table

    assert words.arithmetic(table[0].reason) == "2 − ½ penalty = 1½"


@pytest.mark.parametrize(
    ("points", "text"),
    [
        (0, "0"), (7, "7"), (Fraction(7, 2), "3½"), (Fraction(1, 2), "½"), (Fraction(34, 3), "11⅓"),
        (Fraction(2, 3), "⅔"), (Fraction(29, 4), "7¼"), (Fraction(3, 4), "¾"),
        (Fraction(1, 3), "⅓"), (Fraction(22, 7), "3.14"),
        (Fraction(199, 200), "1.00"), (Fraction(-3, 2), "-1½"), (None, "–"),
    ],
)  # fmt: skip
def test_points_are_written_with_the_trades_signs_or_to_two_places(points, text):
    assert words.points_written(points) == text


def test_places_in_letters_and_figures():
    assert [words.ordinal(n) for n in (1, 2, 3, 4, 11, 12, 13, 21, 111)] == [
        "1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st", "111th",
    ]  # fmt: skip
    assert [words.ordinal_word(n) for n in (1, 6, 12, 13)] == ["first", "sixth", "twelfth", "13th"]
    assert words.and_list(["A"]) == "A"
    assert words.and_list(["A", "B", "C"]) == "A, B and C"
