"""Edges that a small fault would move: the limit itself, one team, one minute, an uneven list."""

from __future__ import annotations

from fractions import Fraction

import pytest

from league.rules.errors import RulebookError, WeightError
from league.rules.headlines import table_headline
from league.rules.lines import RungCheck, Status
from league.rules.matches import score_match
from league.rules.meant import meant_by
from league.rules.rounds import league_points
from league.rules.splits import rung_figures
from league.rules.statuses import listed, score_rule
from league.rules.table import score_season
from league.rules.weights import Unit, Weight
from league.rules.words import arithmetic
from tests.rows import book, line_of, order_of, points_of, row, scored, section, series, winter

HALF = Fraction(1, 2)


# ---- weights and nets ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "drams"),
    [
        ("12", 12 * 256),
        ("12-8.25", 12 * 256 + 8 * 16 + 4),
        ("12-8.5", 12 * 256 + 8 * 16 + 8),
        ("12-8.75", 12 * 256 + 8 * 16 + 12),
        ("12 lb", 12 * 256),
        ("9 oz", 9 * 16),
        ("4 dr", 4),
    ],
)
def test_pounds_alone_quarters_and_letters_are_read_to_the_dram(typed, drams):
    assert Weight.parse(typed, Unit.LB_OZ).amount == drams


def test_a_third_of_an_ounce_is_no_quarter():
    with pytest.raises(WeightError, match="only a quarter, a half or three quarters"):
        Weight.parse("12-8.33", Unit.LB_OZ)


@pytest.mark.parametrize("over", ["cap", "net out", "twice the excess", "angler out"])
def test_a_net_of_exactly_the_limit_counts_whole_whatever_becomes_of_more(over):
    rules = book(net={"limit": "40", "over": over})

    result = score_match([row("Ana", [40_000]), row("Bo", 10)], rules)

    ana = result.sections[0].lines[0]
    assert (ana.row.angler, ana.weight, ana.counted) == ("Ana", 40_000, (40_000,))
    assert ana.status is Status.WEIGHED


@pytest.mark.parametrize(
    ("net", "counts"), [(40_001, 39_999), (50_000, 30_000), (80_000, 0), (90_000, 0)]
)
def test_what_is_over_is_taken_off_twice_down_to_nothing(net, counts):
    rules = book(net={"limit": "40", "over": "twice the excess"})

    result = score_match([row("Ana", [net])], rules)

    assert result.sections[0].lines[0].weight == counts


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("12-15", ["12.150", "5.868"]),  # 12 lb 15 oz is 12.9375 lb: 5,868.35 g
        ("12-16", ["12.160"]),  # sixteen is no number of ounces
        ("12-10", ["12.100", "5.727"]),  # 12.625 lb: 5,726.60 g
    ],
)
def test_two_figures_after_the_hyphen_may_be_ounces_in_a_kilogram_match(typed, meant):
    assert [str(each.weight) for each in meant_by(typed, Unit.KG)] == meant


# ---- a section ----------------------------------------------------------------------------------


def test_a_blank_under_the_cap_scores_its_own_average_and_not_the_cap():
    # The smallest section has five, so places six to eight give five. Two weighed, six blanked:
    # (3 + 4 + 5 + 5 + 5 + 5) / 6 = 27 / 6 = 4½.
    rules = book(section={"cap": "smallest"})
    rows = [*section([900, 800, *["blank"] * 6]), *section([500, 400, 300, 200, 100], "B")]

    result = score_match(rows, rules)

    points = points_of(result)
    assert [points[f"A{seat}"] for seat in (1, 2, 3, 8)] == [1, 2, 4 + HALF, 4 + HALF]
    # Half of first and last place is 5½: the sum of the two ends is not how it came about.
    assert arithmetic(result.sections[0].lines[-1].reason) == "4½"


def test_a_member_a_team_is_short_of_weighs_nothing_and_shares_no_place():
    rows = [
        row("Ana", 900, "A", team="Reds"),
        row("Bo", 800, "A", team="Blues"),
        row("Cy", 700, "B", team="Blues"),
    ]

    result = score_match(rows, book(team={"size": 2}))

    (short,) = next(team.short for team in result.teams if team.team == "Reds")
    assert (short.weight, short.place, short.equal, short.counted) == (0, None, False, ())
    # One in section B, and one more for the absent: 1 + 2.
    assert next(team.points for team in result.teams if team.team == "Reds") == 3


def test_points_given_by_a_decision_share_no_place():
    rows = [row("Ana", 900), row("Cy", 100, decided=2, decision="Peg 3 could not be fished.")]

    lines = score_match(rows, book()).sections[0].lines

    assert [(line.row.angler, line.place, line.equal) for line in lines] == [
        ("Ana", 1, False),
        ("Cy", None, False),
    ]


def test_the_reason_of_a_blank_says_what_was_called_only_where_it_was_something_else():
    rows = [row("Ana", 900), row("Bo", "blank"), row("Cy", 100, weight_penalty=100)]

    lines = score_match(rows, book()).sections[0].lines

    facts = {line.row.angler: line.reason.facts for line in lines}
    assert facts["Cy"]["called"] == "weighed"
    assert facts["Cy"]["nets"] == (100,)
    assert "called" not in facts["Bo"]
    assert "nets" not in facts["Bo"]


def test_equals_who_score_for_the_whole_match_still_say_with_whom_they_share():
    rules = book(section={"direction": "high", "top": "section", "override": [20, 10], "blank": 0})
    rows = [row("Ana", 900, peg="1"), row("Bo", 900, peg="2"), row("Cy", 100, peg="3")]

    lines = score_match(rows, rules).sections[0].lines

    ana = lines[0]
    assert (ana.row.angler, ana.points) == ("Ana", 15)  # 20 and 10 shared
    assert ana.reason.facts["pegs"] == ("1", "2")
    assert ana.reason.facts["instead"] == (20, 10)


def test_whoever_scores_as_a_blank_is_counted_among_the_blanks():
    # Two of six with fish, a blank, one who did not weigh, two absent. Two blanks: (2 + 6) / 2.
    rules = book(section={"blank": "half sum", "not_weighed": "as blank"})
    catches = [900, 800, "blank", "not weighed", "absent", "absent"]

    assert scored(catches, rules)[2:4] == [4, 4]
    # Alone, the blank has the place after the last weigher.
    assert scored([900, 800, "blank", "absent", "absent", "absent"], rules)[2] == 3


def test_a_place_held_open_past_the_end_of_a_section_shifts_nobody_else():
    # Three count, for the disqualified does not; the second heaviest keeps the second place open.
    rules = book(section={"size": "fished", "others_move_up": False, "disqualified": 9})
    rows = [
        row("Ana", 900),
        row("Bo", "disqualified", nets=(800,)),
        row("Cy", 700),
        row("Di", 600),
    ]

    assert points_of(score_match(rows, rules)) == {"Ana": 1, "Bo": 9, "Cy": 3, "Di": 4}


def test_whoever_is_put_out_by_a_net_over_the_limit_weighs_nothing_net_by_net():
    rules = book(net={"limit": "40", "over": "angler out"})

    lines = score_match([row("Ana", [41_000, 5_000]), row("Bo", 10)], rules).sections[0].lines

    ana = next(line for line in lines if line.row.angler == "Ana")
    assert (ana.status, ana.weight, ana.counted) == (Status.DISQUALIFIED, 0, (0, 0))


def test_a_section_in_which_nobody_counts_caps_no_other():
    rules = book(section={"cap": "smallest", "vacant": "no score"})
    rows = [*section([900, 800, 700]), *section(["vacant"], "B", start=9)]

    points = points_of(score_match(rows, rules))

    assert [points[f"A{seat}"] for seat in (1, 2, 3)] == [1, 2, 3]


def test_blanks_share_the_places_from_after_the_last_weigher_to_the_end():
    lines = score_match(section([900, 800, "blank", "blank", "blank"]), book()).sections[0].lines

    blanks = [line.reason.facts for line in lines if line.status is Status.BLANK]
    assert [(facts["place"], facts["last"]) for facts in blanks] == [(3, 5)] * 3


def test_a_single_choice_is_listed_alone_and_several_with_or():
    assert listed(("as blank",)) == '"as blank"'
    assert listed(("as blank", "a number")) == '"as blank" or a number'
    assert listed(("as blank", "N+k", "a number")) == '"as blank", "N+k" or a number'


def test_points_decided_for_the_heaviest_leave_the_first_of_the_match_to_the_next():
    rules = book(section={"direction": "high", "top": "section", "override": [20, 10], "blank": 0})
    rows = [
        row("Ana", 900, decided=1, decision="Peg 1 could not be fished."),
        row("Bo", 800),
        row("Cy", 700),
    ]

    assert points_of(score_match(rows, rules)) == {"Ana": 1, "Bo": 20, "Cy": 10}


@pytest.mark.parametrize(
    ("choice", "words"),
    [
        ("F+1", "the place after the last angler with fish"),
        ("F+2", "the second place after the last angler with fish"),
        ("N+1", "one more than the section has places"),
    ],
)
def test_a_rule_counted_from_the_last_with_fish_is_read_out_by_its_place(choice, words):
    assert score_rule("blank", choice).words == words


def test_points_of_a_million_are_refused_and_one_fewer_are_not():
    assert score_rule("absent", 999_999).key == 999_999
    with pytest.raises(RulebookError, match="points go from 0 upwards"):
        score_rule("absent", 1_000_000)


# ---- teams and table ----------------------------------------------------------------------------


def test_in_high_points_the_better_single_round_is_the_larger_one():
    # Of three: Ana first and third (3 + 1), Bo second twice (2 + 2): level on 4, 3 beats 2.
    rules = book(
        section={"direction": "high", "blank": 0}, season={"ties": ["better"], "score": "points"}
    )

    season = series(rules, {"Bo": [2, 2], "Ana": [1, 3]}, size=3)

    assert (line_of(season, "Ana").total, line_of(season, "Bo").total) == (4, 4)
    assert order_of(season, ["Ana", "Bo"]) == ["Ana", "Bo"]
    rung = line_of(season, "Ana").split.decided
    assert (rung.rung, rung.ours, rung.theirs) == ("better", 3, 2)


def test_of_the_better_single_round_one_without_a_score_is_no_round():
    rules = book(section={"absent": "no score"}, season={"ties": ["better"]})

    # Ana has 2 and no score, Bo 1 and 1: level on 2, and Bo's 1 is the better.
    season = series(rules, {"Ana": [2, "absent"], "Bo": [1, 1]})

    assert (line_of(season, "Ana").total, line_of(season, "Bo").total) == (2, 2)
    assert order_of(season, ["Ana", "Bo"]) == ["Bo", "Ana"]


def test_the_heavier_counting_weight_is_ahead_and_a_dropped_rounds_weight_is_no_help():
    # Best of two rounds counts, each has won one: Ana with 500 g, Bo with 600 g. Ana's dropped
    # round weighed 590 g, Bo's 100 g, so that over all rounds Ana is the heavier.
    rules = book(season={"best": 1, "ties": ["counting weight"]})
    caught = ({"Ana": 500, "Bo": 100}, {"Ana": 590, "Bo": 600})
    rounds = [
        (number, score_match([row(who, grams) for who, grams in each.items()], rules))
        for number, each in enumerate(caught, start=1)
    ]

    season = score_season(rounds, rules)

    assert [line.name for line in season.table] == ["Bo", "Ana"]
    assert line_of(season, "Ana").weight > line_of(season, "Bo").weight


def test_no_score_in_the_last_round_is_worse_than_any_score():
    rules = book(section={"absent": "no score"}, season={"ties": ["last round"]})

    season = series(rules, {"Ana": [2, "absent"], "Bo": [1, 1]})

    assert order_of(season, ["Ana", "Bo"]) == ["Bo", "Ana"]


@pytest.mark.parametrize(
    ("rung", "weighed"),
    [("round wins", False), ("best places", True), ("best round weight", True)],
)
def test_a_rung_of_a_weight_league_is_a_weight_unless_it_counts(rung, weighed):
    rules = book(season={"score": "weight", "ties": [rung]})
    # 900 and 500 against 700 and 700: level on 1,400 grams.
    rounds = [
        (1, score_match([row("Ana", 900), row("Bo", 700)], rules)),
        (2, score_match([row("Ana", 500), row("Bo", 700)], rules)),
    ]

    season = score_season(rounds, rules)

    first, second = line_of(season, "Ana").split.rungs
    assert (first.rung, first.weighed) == ("season weight", True)
    assert (second.rung, second.weighed) == (rung, weighed)


def test_a_team_is_short_of_no_more_members_than_it_has():
    # Teams of two in a match of three sections: Reds lack one member, not one in each of two.
    rows = [
        row("Ana", 900, "A", team="Reds"),
        *(row(f"Bo {name}", 500, name, team="Blues") for name in "AB"),
        row("Cy", 400, "C", team="Greens"),
    ]

    result = score_match(rows, book(team={"size": 2}))

    reds = next(team for team in result.teams if team.team == "Reds")
    assert [line.row.section for line in reds.short] == ["B"]


@pytest.mark.parametrize(("direction", "points"), [("low", 1 + 3), ("high", 2)])
def test_a_member_without_a_score_counts_one_past_the_section_in_low_points_and_0_in_high(
    direction, points
):
    rules = book(
        section={"direction": direction, "absent": "no score", "blank": "last place"},
        team={"size": 2},
    )
    rows = [
        row("Ana", 900, "A", team="Reds"),
        row("Bo", 800, "A", team="Blues"),
        row("Cy", "absent", "B", team="Reds"),
        row("Di", 700, "B", team="Blues"),
    ]

    teams = {team.team: team.points for team in score_match(rows, rules).teams}

    assert teams["Reds"] == points


def test_a_named_round_and_a_round_with_a_disqualification_are_both_kept():
    # Ana: 4, 1, disqualified (4 + 1 = 5), 2. Two of four count; round 1 and round 3 must.
    rules = book(season={"best": 2, "undroppable": [1], "disqualified_counts": True})

    season = series(rules, {"Ana": [4, 1, "disqualified", 2]}, size=4)

    ana = line_of(season, "Ana")
    assert [each.round for each in ana.rounds if each.dropped] == [2, 4]
    assert ana.total == 4 + 5


def test_a_members_penalty_points_are_among_the_decisions_of_its_team():
    rules = book(team={"size": 1})
    rows = [
        row("Ana", 900, team="Reds", penalty=2, decision="Ana: late to the scales, 2 points."),
        row("Bo", 800, team="Blues"),
    ]

    season = score_season([(1, score_match(rows, rules))], rules)

    said = ("Ana: late to the scales, 2 points.",)
    told = {line.name: line.reason.facts["decisions"] for line in season.table}
    assert told == {"Reds": said, "Blues": ()}
    alone = {line.name: line.reason.facts["decisions"] for line in season.anglers}
    assert alone == {"Ana": said, "Bo": ()}


@pytest.mark.parametrize("turned", [False, True])
def test_of_two_lists_of_scores_the_first_that_differs_is_shown_and_a_missing_one_is_a_dash(turned):
    ours, theirs = ((1, 2, 5), (1, 2)) if turned else ((1, 2), (1, 2, 5))
    check = RungCheck("best places", ours, theirs, "split")

    assert rung_figures(check, Unit.KG) == (("5", "–") if turned else ("–", "5"))


def test_what_a_round_gives_the_teams_is_their_places_where_the_season_adds_places():
    # Three teams of one: 900, 700 and 700 grams. Low: 1 and the half of 2 + 3.
    rows = [row(who, grams, team=who) for who, grams in (("X", 900), ("Y", 700), ("Z", 700))]
    by_places = book(team={"size": 1, "ties": []}, season={"score": "places"})
    by_points = book(team={"size": 1, "ties": []})

    assert league_points(score_match(rows, by_places), by_places) == {
        "X": 1,
        "Y": Fraction(5, 2),
        "Z": Fraction(5, 2),
    }
    assert league_points(score_match(rows, by_points), by_points) == {}


def test_a_league_of_one_team_has_a_headline_without_a_margin():
    rounds, rules = winter([{"X": 9}])

    said = table_headline(score_season(rounds, rules, planned=2))

    assert said.startswith("X ")
    assert " by " not in said


@pytest.mark.parametrize(
    ("names", "said"),
    [
        ("ABC", "A, B and C are level after one round"),
        ("ABCDE", "Five anglers are level after one round"),
    ],
)
def test_anglers_level_at_the_top_are_named_while_they_are_few(names, said):
    rules = book(season={"ties": []})
    rounds = [(1, score_match([row(who, 500) for who in names], rules))]

    assert table_headline(score_season(rounds, rules)) == said


def test_of_two_level_in_the_table_each_line_knows_which_is_ahead():
    # 900 and 100 against 700 and 800: level on 3, split by weight.
    rules = book(season={"ties": ["weight"]})
    caught = ({"Ana": 900, "Bo": 700}, {"Ana": 100, "Bo": 800})
    rounds = [
        (number, score_match([row(who, grams) for who, grams in each.items()], rules))
        for number, each in enumerate(caught, start=1)
    ]

    season = score_season(rounds, rules)

    told = {line.name: (line.split.ahead, line.split.we_are_ahead) for line in season.table}
    assert told == {"Bo": ("Bo", True), "Ana": ("Bo", False)}


def test_a_leader_is_ahead_by_nothing_of_those_who_have_not_fished_enough():
    rules = book(season={"minimum": 2})
    rounds = [
        (1, score_match([row("Ana", 9), row("Bo", 8)], rules)),
        (2, score_match([row("Ana", 9)], rules)),
    ]

    assert table_headline(score_season(rounds, rules, planned=2)) == "Ana wins the league"
