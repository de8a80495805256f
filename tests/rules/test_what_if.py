"""One season under two rule books: who moves, past whom, why, and which rule does it."""

from dataclasses import replace
from itertools import permutations

import pytest

from league.files.rulebook import changed, from_dict
from league.rules.books import READY_MADE
from league.rules.lines import Status
from league.rules.matches import score_match
from league.rules.table import score_season
from league.rules.weights import Unit
from league.rules.what_if import fitted, moves, rows_of, scored_again, single_changes, what_if
from league.rules.words import say, say_alone, say_orders, what_if_headline
from tests.rows import book, row

# Three rounds of one section. Places: Ana 1 1 4, Bob 2 2 1, Cas 3 4 2, Dot 4 3 3.
CAUGHT = (
    {"Ana": 400, "Bob": 300, "Cas": 200, "Dot": 100},
    {"Ana": 400, "Bob": 300, "Cas": 100, "Dot": 200},
    {"Ana": 100, "Bob": 400, "Cas": 300, "Dot": 200},
)
EVERY_ROUND = book()


def fish(caught, rules=EVERY_ROUND):
    """Rounds of individuals in one section."""
    return [
        (number, score_match([row(who, weight) for who, weight in each.items()], rules))
        for number, each in enumerate(caught, start=1)
    ]


def supposed(rounds, rules, other, **season):
    """The comparison of a season fished by *rules* with the same under *other*."""
    return what_if(
        score_season(rounds, rules, **season),
        lambda each: score_season(scored_again(rounds, each), each, **season),
        rules,
        other,
    )


def said(answer, unit=Unit.KG):
    """Each mover's sentence, by name."""
    return {move.facts["name"]: say(move, unit) for move in answer.moves}


def test_a_drop_moves_the_one_with_the_bad_day_and_says_past_whom_and_by_which_round():
    # All count: Ana 1+1+4 = 6, Bob 2+2+1 = 5. The worst dropped: Ana 1+1 = 2, Bob 2+1 = 3
    # (of his two twos the earlier goes); Cas 3+2 = 5 and Dot 3+3 = 6 stay third and fourth.
    answer = supposed(fish(CAUGHT), EVERY_ROUND, changed(EVERY_ROUND, {"season": {"drop": 1}}))

    assert said(answer) == {
        "Ana": "From 2nd to 1st, past Bob. 6 points become 2. Round 3 (4) is dropped. "
        "Against Bob: 6 to 5 now; 2 to 3 then.",
        "Bob": "From 1st to 2nd, behind Ana. 5 points become 3. Round 1 (2) is dropped. "
        "Against Ana: 5 to 6 now; 3 to 2 then.",
    }
    assert what_if_headline(answer) == "Ana would lead, not Bob"


def test_a_round_that_comes_back_is_named_and_the_season_is_over_when_all_is_fished():
    # The other way about: the worst dropped now, every round then.
    rules = changed(EVERY_ROUND, {"season": {"drop": 1}})

    answer = supposed(fish(CAUGHT, rules), rules, EVERY_ROUND, planned=3)

    assert said(answer)["Bob"] == (
        "From 2nd to 1st, past Ana. 3 points become 5. Round 1 (2) counts. "
        "Against Ana: 3 to 2 now; 5 to 6 then."
    )
    assert what_if_headline(answer) == "Bob would win, not Ana"


def test_a_ladder_moves_those_who_are_level_and_names_the_rungs_of_both_books():
    # Ana 1+2, Bob 2+1: level on 3, one win each. Weight: Ana 400 + 300 = 700, Bob 300 + 900 =
    # 1,200, so Bob is ahead; by the last round Bob (1) is ahead of Ana (2) as well.
    caught = ({"Ana": 400, "Bob": 300}, {"Ana": 300, "Bob": 900})
    by_weight = book(season={"ties": ["weight"]})
    by_share = book(season={"ties": []})
    by_best = book(season={"ties": ["best round weight"]})

    shared = supposed(fish(caught, by_weight), by_weight, by_share)
    same = supposed(fish(caught, by_weight), by_weight, by_best)

    assert said(shared) == {
        "Ana": "From 2nd to equal 1st, level with Bob. Still 3 points. Against Bob: level on 3 "
        "now, behind on total weight, 0.700 to 1.200; level on 3 then.",
        "Bob": "From 1st to equal 1st, level with Ana. Still 3 points. Against Ana: level on 3 "
        "now, ahead on total weight, 1.200 to 0.700; level on 3 then.",
    }
    assert what_if_headline(shared) == "Ana and Bob would lead, not Bob"
    assert same.moves == ()
    assert what_if_headline(same) == "Nobody changes place"


def test_few_rounds_that_score_otherwise_are_told_one_by_one_and_many_in_number():
    # Equal weights in round 2: Ana and Bob share first, 1½ each, or 1 each as the better place.
    # Bob has 2 + 1½ + 1 = 4½ against Ana's 1 + 1½ + 2 = 4½: level, split by weight.
    caught = (
        {"Ana": 400, "Bob": 300, "Cas": 200},
        {"Ana": 300, "Bob": 300, "Cas": 100},
        {"Ana": 300, "Bob": 500, "Cas": 100},
    )
    worse = changed(EVERY_ROUND, {"section": {"equal": "worse", "direction": "high"}})
    answer = supposed(
        fish(caught), EVERY_ROUND, changed(EVERY_ROUND, {"section": {"equal": "better"}})
    )
    turned = supposed(fish(CAUGHT), EVERY_ROUND, worse)

    assert answer.moves == ()
    assert answer.then.table[0].total == 4
    assert [change.keys for change in answer.changes] == [("section.equal",)]
    assert say_alone(answer.changes[0]) == "On its own this moves nobody."
    # High points of four: Ana 4+4+1 = 9, Bob 3+3+4 = 10, Cas 2+1+3 = 6, Dot 1+2+2 = 5: no change.
    assert [line.total for line in turned.then.table] == [10, 9, 6, 5]
    assert turned.moves == ()


def test_a_place_rule_that_scores_every_round_otherwise_says_so_in_one_sentence():
    # By weight Ana has 900 g, Bob 1,000 g, Cas 600 g, Dot 500 g; then a heavy day for Dot.
    caught = (*CAUGHT, {"Ana": 400, "Bob": 300, "Cas": 200, "Dot": 0})
    heavy = (*CAUGHT, {"Ana": 40, "Bob": 30, "Cas": 20, "Dot": 900})
    answer = supposed(
        fish(heavy), EVERY_ROUND, changed(EVERY_ROUND, {"season": {"score": "weight"}})
    )

    # Points: Ana 6+2 = 8, Bob 5+3 = 8, Cas 9+4 = 13, Dot 10+1 = 11. Weight: Ana 940, Bob 1,030,
    # Cas 620, Dot 1,400. Bob leads now on weight, and Dot would.
    assert said(answer)["Dot"] == (
        "From 3rd to 1st, past Bob and Ana. 11 points become 1.400 kg. Every round scores "
        "otherwise. Against Bob: 11 to 8 now; 1.400 to 1.030 then."
    )
    assert what_if_headline(answer) == "Dot would lead, not Bob"
    assert supposed(fish(caught), EVERY_ROUND, EVERY_ROUND).changes == ()


def test_of_several_changed_rules_the_one_that_moves_somebody_is_found():
    other = changed(
        EVERY_ROUND, {"season": {"drop": 1, "ties": ["weight"]}, "section": {"blank": "N+1"}}
    )

    answer = supposed(fish(CAUGHT), EVERY_ROUND, other)

    alone = {change.keys: say_alone(change) for change in answer.changes}
    assert alone == {
        ("section.blank",): "On its own this moves nobody.",
        ("season.drop",): "On its own: Ana from 2nd to 1st and Bob from 1st to 2nd.",
        ("season.ties",): "On its own this moves nobody.",
    }
    by_key = {change.keys: change for change in answer.changes}
    assert by_key["season.drop",].was == ("Every round counts.",)
    assert by_key["season.drop",].becomes[0] == "The worst round is dropped."


def test_who_has_not_fished_enough_rounds_is_said_to_be_listed_below():
    caught = ({"Ana": 400, "Bob": 300, "Cas": 200}, {"Bob": 300, "Cas": 200})
    # Low points: Ana 1, then absent in a section of two: 3, together 4; Bob 2+1 = 3; Cas 3+2 = 5.
    answer = supposed(fish(caught), EVERY_ROUND, changed(EVERY_ROUND, {"season": {"minimum": 2}}))

    assert said(answer) == {
        "Cas": "From 3rd to 2nd, past Ana. Still 5 points. Against Ana: 5 to 4 now; 5 to 4 then.",
        "Ana": "From 2nd to 3rd, behind Cas. Still 4 points. Against Cas: 4 to 5 now; 4 to 5 then. "
        "Listed below everybody who has fished enough rounds.",
    }


def test_the_orders_are_told_to_those_who_cannot_see_the_drawing():
    answer = supposed(fish(CAUGHT), EVERY_ROUND, changed(EVERY_ROUND, {"season": {"drop": 1}}))

    assert say_orders(answer) == (
        "Now: 1st Bob, 2nd Ana, 3rd Cas, 4th Dot. Then: 1st Ana, 2nd Bob, 3rd Cas, 4th Dot. "
        "Ana and Bob change place."
    )


def test_before_the_first_round_there_is_nothing_to_compare():
    answer = supposed([], EVERY_ROUND, READY_MADE["capped-low"])

    assert what_if_headline(answer) == "Nothing has been fished yet"
    assert answer.moves == ()


def test_rounds_scored_again_by_their_own_book_come_out_the_same_to_the_last_reason():
    rules = READY_MADE["high-best-five-places"]
    rows = [
        row("Ana", (45 * 256, 12 * 256), team="Reds", penalty=1, note="late"),
        row("Bob", "blank", team="Blues"),
        row("Cas", "disqualified", "B", team="Reds", decision="Cas: disqualified. Groundbait."),
        row("Dot", 900, "B", team="Blues", weight_penalty=100),
        row("Eve", 300, "B", team="Blues", decided=2, decision="Eve: peg void, 2 points given."),
        row("", "vacant", "A", team="Reds"),
    ]
    rounds = [(1, score_match(rows, rules))]

    assert scored_again(rounds, rules) == rounds
    assert sorted(each.angler for each in rows_of(rounds[0][1])) == sorted(r.angler for r in rows)


def test_a_decision_stands_under_any_rules_and_only_its_points_follow_the_book():
    rows = [row("Ana", 500), row("Bob", "disqualified")]
    rounds = [(1, score_match(rows, EVERY_ROUND))]
    other = changed(EVERY_ROUND, {"section": {"disqualified": "N+3"}})

    again = scored_again(rounds, other)[0][1]

    bob = next(line for line in again.sections[0].lines if line.row.angler == "Bob")
    assert bob.status is Status.DISQUALIFIED
    assert bob.points == 5  # two in the section, and three more


def test_teams_and_unit_stay_as_they_were_fished_and_that_is_said():
    eights = from_dict({"unit": "kg", "team": {"size": 8, "per_section": 2}})
    four = from_dict({"net": {"limit": "40-0"}, "team": {"count": 3}})

    laid, kept = fitted(four, eights)

    assert (laid.unit, laid.team.size, laid.team.per_section) == (Unit.KG, 8, 2)
    assert laid.team.count == 3
    assert laid.net == eights.net
    assert kept == (
        "The season was fished in its own teams and sections, which are kept.",
        "A limit of 40 lb 0 oz on a net cannot be laid over weights in another unit: the "
        "season's own rule on nets is kept.",
    )


def test_a_count_that_is_the_whole_of_the_smaller_team_counts_everybody():
    fours = from_dict({"team": {"size": 4}})
    best_six_of_eight = from_dict({"team": {"size": 8, "count": 6}})

    laid, _ = fitted(best_six_of_eight, fours)

    assert laid.team.count is None


@pytest.mark.parametrize(
    ("one", "other"), list(permutations(READY_MADE, 2)), ids=lambda name: name.replace("-", " ")
)
def test_the_single_changes_between_two_books_make_one_into_the_other(one, other):
    book_, laid = READY_MADE[one], fitted(READY_MADE[other], READY_MADE[one])[0]
    made = book_

    for change, alone in single_changes(book_, laid):
        assert change.was or change.becomes, f"{change.keys} is not read out"
        part = change.keys[0].split(".")[0]
        names = [key.removeprefix(f"{part}.") for key in change.keys]
        chosen = {name: getattr(getattr(alone, part), name) for name in names}
        made = replace(made, **{part: replace(getattr(made, part), **chosen)})

    assert replace(made, name="") == replace(laid, name="")


def test_a_table_compared_with_itself_moves_nobody():
    season = score_season(fish(CAUGHT), EVERY_ROUND)

    assert moves(season, season) == ()
