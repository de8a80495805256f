"""A season under other rules: rounds told one by one, levels of three, and who drops out of it."""

from __future__ import annotations

import pytest

from league.files.rulebook import changed, from_dict
from league.rules.matches import score_match
from league.rules.table import score_season
from league.rules.weights import Unit
from league.rules.what_if import fitted, scored_again, what_if
from league.rules.words import say, say_alone, say_orders, what_if_headline
from tests.rows import book, row

EVERY_ROUND = book()


def supposed(caught, rules, change, **season):
    """What the rounds *caught* by *rules* come to with one *change*."""
    rounds = [
        (number, score_match([row(who, weight) for who, weight in each.items()], rules))
        for number, each in enumerate(caught, start=1)
    ]
    return what_if(
        score_season(rounds, rules, **season),
        lambda each: score_season(scored_again(rounds, each), each, **season),
        rules,
        changed(rules, change),
    )


def said(answer):
    """Each mover's sentence, by name."""
    return {move.facts["name"]: say(move, Unit.KG) for move in answer.moves}


def test_one_round_that_scores_otherwise_is_told_with_both_figures():
    # Ana 1 + 2½ = 3½, Bob 2 + 2½ = 4½, Cas 3 + 1 = 4. With the better place for equals Ana has 3,
    # Bob 2 + 2 = 4 and Cas 4: level, and Bob's 900 g are more than Cas's 800 g.
    caught = (
        {"Ana": 800, "Bob": 600, "Cas": 300},
        {"Ana": 300, "Bob": 300, "Cas": 500},
    )

    answer = supposed(caught, EVERY_ROUND, {"section": {"equal": "better"}})

    assert said(answer) == {
        "Bob": "From 3rd to 2nd, past Cas. 4½ points become 4. Round 2 scores 2, not 2½. "
        "Against Cas: 4½ to 4 now; level on 4 then, ahead on total weight, 0.900 to 0.800.",
        "Cas": "From 2nd to 3rd, behind Bob. Still 4 points. "
        "Against Bob: 4 to 4½ now; level on 4 then, behind on total weight, 0.800 to 0.900.",
    }


def test_everybody_stands_in_the_order_that_would_be_with_the_line_that_is():
    caught = ({"Ana": 800, "Bob": 600, "Cas": 300}, {"Ana": 300, "Bob": 300, "Cas": 500})

    pairs = supposed(caught, EVERY_ROUND, {"section": {"equal": "better"}}).pairs

    told = [(pair.now.place, pair.then.place, pair.then.name, bool(pair.why)) for pair in pairs]
    assert told == [(1, 1, "Ana", False), (3, 2, "Bob", True), (2, 3, "Cas", True)]


def test_where_every_round_that_has_a_score_scores_otherwise_it_is_said_once():
    # No score for the absent: Cas fished one round, and that one changes.
    rules = book(section={"absent": "no score", "direction": "high"}, season={"ties": []})
    caught = (
        {"Ana": 300, "Bob": 200, "Cas": 100},
        {"Ana": 300, "Bob": 200, "Cas": "absent"},
    )

    answer = supposed(caught, rules, {"section": {"direction": "low"}})

    # High of three drawn: Ana 3 + 3, Bob 2 + 2, Cas 1. Low: Ana 1 + 1, Bob 2 + 2, Cas 3.
    # Cas and Ana change ends of the table only in total: Ana 2, Cas 3, Bob 4.
    assert said(answer)["Cas"].startswith(
        "From 3rd to 2nd, past Bob. 1 point becomes 3. Every round scores otherwise."
    )


def test_of_three_level_the_rung_that_split_the_two_who_change_is_named():
    # Level on 3, 3 and 3. By weight: Ana 1,000, Bob 900, Cas 800. By the best round: Ana 950,
    # Cas 700, Bob 600.
    rules = book(season={"ties": ["weight"]}, section={"equal": "average"})
    caught = (
        {"Ana": 950, "Bob": 300, "Cas": 100},
        {"Ana": 50, "Bob": 600, "Cas": 700},
    )
    # Places: Ana 1 and 3, Bob 2 and 2, Cas 3 and 1: four points each.

    answer = supposed(caught, rules, {"season": {"ties": ["best round weight"]}})

    assert [line.name for line in answer.now.table] == ["Ana", "Bob", "Cas"]
    assert said(answer)["Cas"] == (
        "From 3rd to 2nd, past Bob. Still 4 points. Against Bob: level on 4 now, behind on total "
        "weight, 0.800 to 0.900; level on 4 then, ahead on the heaviest single round, 0.700 to "
        "0.600."
    )


def test_who_has_fished_enough_rounds_after_all_is_said_to_be_listed_with_the_rest():
    rules = book(season={"minimum": 2})
    caught = ({"Ana": 400, "Bob": 300, "Cas": 200}, {"Bob": 300, "Cas": 200})

    answer = supposed(caught, rules, {"season": {"minimum": 0}})

    assert said(answer)["Ana"].endswith(
        "No longer listed below those who have fished enough rounds."
    )


@pytest.mark.parametrize(
    ("planned", "verb"), [(3, "leads"), (2, "wins")], ids=["one round to come", "over"]
)
def test_a_first_who_stays_first_still_leads_until_the_last_round(planned, verb):
    # Ana 1 + 1; Bob 2 + 3 = 5 and Cas 3 + 2 = 5, split by weight: Bob 700, Cas 650.
    caught = (
        {"Ana": 900, "Bob": 600, "Cas": 200},
        {"Ana": 900, "Bob": 100, "Cas": 450},
    )
    rules = book(season={"ties": ["weight"]})

    answer = supposed(caught, rules, {"season": {"ties": ["last round"]}}, planned=planned)

    assert what_if_headline(answer) == f"Ana still {verb}; two change place"


def test_one_alone_who_comes_level_is_the_only_one_that_changes_place():
    # Ana 2 + 1; Bob 3 + 2 and Cas 4 + 3... with Dot first, then absent from a section of four:
    # Ana 3, Bob 5, Cas 7, Dot 1 + 7 = 8 (three more than four), or 1 + 6 = 7 (two more).
    rules = book(section={"absent": "N+3"}, season={"ties": []})
    caught = (
        {"Dot": 900, "Ana": 800, "Bob": 700, "Cas": 600},
        {"Ana": 800, "Bob": 700, "Cas": 600, "Dot": "absent"},
    )

    answer = supposed(caught, rules, {"section": {"absent": "N+2"}})

    # Cas was third alone, and shares the place: two change.
    assert what_if_headline(answer) == "Ana still leads; two change place"
    level = (
        {"Dot": 900, "Ana": 800, "Bob": 700, "Cas": 600},
        {"Ana": 800, "Cas": 700, "Bob": 600, "Dot": "absent"},
    )
    # Bob 3 + 3 and Cas 4 + 2 are level on 6; Dot comes level with both at 1 + 5.
    one = supposed(level, rules, {"section": {"absent": "N+1"}})
    assert what_if_headline(one) == "Ana still leads; one changes place"
    assert say_orders(one).endswith("Dot changes place.")


@pytest.mark.parametrize(
    ("size", "per_section", "is_said"),
    [(8, 1, True), (4, 2, True), (4, 1, False)],
)
def test_teams_or_sections_of_another_size_are_kept_as_fished_and_that_is_said(
    size, per_section, is_said
):
    fished = from_dict({"team": {"size": 4, "per_section": 1}})
    other = from_dict({"team": {"size": size, "per_section": per_section}})

    laid, kept = fitted(other, fished)

    assert (laid.team.size, laid.team.per_section) == (4, 1)
    assert bool(kept) is is_said


def test_before_the_first_round_a_league_with_teams_has_nothing_to_compare_either():
    answer = supposed([], EVERY_ROUND, {"season": {"best": 5}}, teams={"t1": "X", "t2": "Y"})

    assert len(answer.then.table) == 2
    assert what_if_headline(answer) == "Nothing has been fished yet"


def test_a_team_that_stays_first_still_lead():
    # X 1 + 1. Y 2 + 3 and Z 3 + 2, level on 5: by weight Y (700 against 650), by the last round Z.
    rules = book(team={"size": 1}, season={"ties": ["weight"]})
    caught = ({"X": 900, "Y": 600, "Z": 200}, {"X": 900, "Y": 100, "Z": 450})
    rounds = [
        (number, score_match([row(who, grams, team=who) for who, grams in each.items()], rules))
        for number, each in enumerate(caught, start=1)
    ]
    # One angler a team would be the same table twice: a second for X, in a section alone.
    other = changed(rules, {"season": {"ties": ["last round"]}})

    answer = what_if(
        score_season(rounds, rules, planned=3),
        lambda each: score_season(scored_again(rounds, each), each, planned=3),
        rules,
        other,
    )

    assert what_if_headline(answer) == "X still lead; two change place"


@pytest.mark.parametrize(
    ("now", "then", "said_alone", "said_first"),
    [
        (
            "ABCD",
            "DCBA",
            "D from 4th to 1st, C from 3rd to 2nd, B from 2nd to 3rd and A from 1st to 4th.",
            "From 4th to 1st, past C, B and A.",
        ),
        (  # five are named: "one more" would be no shorter
            "ABCDE",
            "EABCD",
            "E from 5th to 1st, A from 1st to 2nd, B from 2nd to 3rd, C from 3rd to 4th and D from "
            "4th to 5th.",
            "From 5th to 1st, past A, B, C and D.",
        ),
        (
            "ABCDEF",
            "FEDCBA",
            "F from 6th to 1st, E from 5th to 2nd, D from 4th to 3rd, C from 3rd to 4th and two "
            "more.",
            "From 6th to 1st, past five others.",
        ),
    ],
)
def test_of_many_that_move_four_are_named_and_the_rest_counted(now, then, said_alone, said_first):
    # One round of two counts, and the book says which: the first for *then*, the last for *now*.
    caught = [
        {who: 100 * (len(order) - place) for place, who in enumerate(order)}
        for order in (then, now)
    ]
    rules = book(season={"best": 1, "undroppable": [2]})

    answer = supposed(caught, rules, {"season": {"undroppable": [1]}})

    (change,) = answer.changes
    assert say_alone(change) == f"On its own: {said_alone}"
    assert say(answer.moves[0], Unit.KG).startswith(said_first)


@pytest.mark.parametrize(
    ("level", "headline"),
    [
        ("AB", "A and B still lead; two change place"),
        ("ABCD", "A, B, C and D still lead; two change place"),
        ("ABCDE", "The same still lead; two change place"),
    ],
)
def test_of_many_level_at_the_top_four_are_named(level, headline):
    # All who are level share the first place of both rounds; Y and Z turn about behind them.
    caught = [{**dict.fromkeys(level, 900), **behind} for behind in ({"Y": 2, "Z": 1},
                                                                     {"Y": 1, "Z": 2})]  # fmt: skip
    rules = book(season={"best": 1, "undroppable": [2]})

    answer = supposed(caught, rules, {"season": {"undroppable": [1]}})

    assert what_if_headline(answer) == headline


@pytest.mark.parametrize(
    ("now", "then", "said_first", "rival"),
    [
        ("XWAY", "YAXW", "From 3rd to 2nd, past X and W, behind Y.", "X"),
        ("XAYZ", "YZAX", "From 2nd to 3rd, past X, behind Y and Z.", "Z"),
    ],
    ids=["rising", "falling"],
)
def test_who_rises_is_held_against_the_one_passed_and_who_falls_against_the_one_before(
    now, then, said_first, rival
):
    caught = [
        {who: 100 * (len(order) - place) for place, who in enumerate(order)}
        for order in (then, now)
    ]
    rules = book(season={"best": 1, "undroppable": [2]})

    told = said(supposed(caught, rules, {"season": {"undroppable": [1]}}))["A"]

    assert told.startswith(said_first)
    assert f"Against {rival}:" in told


def test_who_keeps_the_place_but_shares_it_is_held_against_the_one_who_came_by():
    caught = (
        {"Y": 400, "X": 300, "A": 200, "W": 200},
        {"X": 400, "W": 300, "A": 200, "Y": 100},
    )
    rules = book(season={"best": 1, "undroppable": [2], "ties": []})

    told = said(supposed(caught, rules, {"season": {"undroppable": [1]}}))["A"]

    assert told.startswith("From 3rd to equal 3rd, level with W, behind Y.")
    assert "Against Y:" in told


def test_a_round_that_had_no_score_is_told_when_it_has_one():
    # Ana 1 and no score; Bob 2 + 1 = 3. With N+1 for the absent Ana has 1 + 4 = 5.
    rules = book(section={"absent": "no score"})
    caught = ({"Ana": 400, "Bob": 300, "Cas": 100}, {"Ana": "absent", "Bob": 300, "Cas": 100})

    told = said(supposed(caught, rules, {"section": {"absent": "N+1"}}))

    assert told["Ana"].startswith(
        "From 1st to 2nd, behind Bob. 1 point becomes 5. Round 2 scores 4, not –."
    )


@pytest.mark.parametrize(
    ("level", "others", "rounds"),
    [
        (3, ("CADB", "CABD"), "Round 1 scores 1, not 1½. Round 2 scores 1, not 1½. "
                              "Round 3 scores 1, not 1½."),
        (4, ("CADB", "CADB", "ACBD"), "Four rounds score otherwise."),
    ],
)  # fmt: skip
def test_three_rounds_that_score_otherwise_are_told_one_by_one_and_four_in_number(
    level, others, rounds
):
    # A and B level in the first rounds, C third: B loses half a point in each by the better place,
    # and so passes C. Three: B 4½ + 7 and C 9 + 2, then B 3 + 7. Four: B 6 + 11, C 12 + 4, then
    # B 4 + 11.
    caught = [{"A": 400, "B": 400, "C": 300, "D": 200}] * level + [
        {who: 100 * (4 - place) for place, who in enumerate(order)} for order in others
    ]

    told = said(supposed(caught, EVERY_ROUND, {"section": {"equal": "better"}}))

    assert told["B"].startswith("From 3rd to 2nd, past C.")
    assert rounds in told["B"]


@pytest.mark.parametrize(
    ("now", "then", "headline"),
    [
        ("Z", "ABCD", "A, B, C and D would lead, not Z"),
        ("Z", "ABCDE", "Five level would lead, not Z"),
        ("ABCD", "Z", "Z would lead, not A, B, C and D"),
        ("ABCDE", "Z", "Z would lead, not five level"),
    ],
)
def test_of_many_who_would_lead_four_are_named(now, then, headline):
    everybody = "ABCDEZ"
    caught = [
        {who: 900 if who in first else 100 - place for place, who in enumerate(everybody)}
        for first in (then, now)
    ]
    rules = book(season={"best": 1, "undroppable": [2], "ties": []})

    answer = supposed(caught, rules, {"season": {"undroppable": [1]}})

    assert what_if_headline(answer) == headline


def test_who_only_comes_to_share_a_place_is_not_named_among_the_moved():
    # Level on 3, split by weight, and without the rung sharing second place behind Cas.
    caught = ({"Cas": 900, "Ana": 400, "Bob": 300}, {"Cas": 900, "Ana": 200, "Bob": 600})
    rules = book(season={"ties": ["weight"]})

    answer = supposed(caught, rules, {"season": {"ties": []}})

    (change,) = answer.changes
    # Bob was second and Ana third: Ana comes up, and Bob's place is shared.
    assert say_alone(change) == "On its own: Ana from 3rd to 2nd."


def test_a_unit_without_a_limit_and_a_count_of_the_whole_team_need_no_word():
    kilos = from_dict({"unit": "kg", "team": {"size": 4, "count": 4}})

    laid, kept = fitted(kilos, from_dict({"net": {"limit": "40-0"}}))

    assert kept == ()
    assert laid.net.limit is None
    assert laid.team.count is None
