"""Who can still win where anglers come or stay away, and where so many rounds are needed."""

from __future__ import annotations

from itertools import permutations, product

import pytest

from league.rules.chances_left import chances_of, left_of, rounds_left, why_silent
from league.rules.chances_words import say_chances
from league.rules.matches import score_match
from league.rules.race import Verdict
from league.rules.table import score_season
from tests.rows import book, row

HIGH = {"direction": "high", "top": 10, "blank": 0, "absent": 0, "not_weighed": 0}


def fished(weights, rules, sections=None):
    """A match of anglers: grams each, "blank" or "absent"; None stayed at home."""
    alone = rules.team.size > 1
    rows = [
        row(name, weight, (sections or {}).get(name, "A"), team="" if alone else name)
        for name, weight in weights.items()
        if weight is not None
    ]
    return score_match(rows, rules)


def season_of(rounds, rules, planned):
    """A season of anglers from what they weighed, round by round."""
    matches = [(number, fished(weights, rules)) for number, weights in enumerate(rounds, 1)]
    return score_season(matches, rules, planned=planned)


def told(season, rules):
    said = say_chances(season, rules, chances_of(season, rules), rounds_left(season))
    return [(each.name, each.verdict, each.words) for each in said]


# ---- in words ----------------------------------------------------------------------------------


def test_the_last_match_of_a_club_championship_with_a_win_worth_ten():
    """By hand: 20, 17 and 9 after two of three; a win brings 10, staying away nothing."""
    rules = book(section=HIGH)
    season = season_of([{"Ana": 9, "Bo": 8, "Cy": 0}, {"Ana": 9, "Cy": 8, "Bo": 7}], rules, 3)

    assert told(season, rules) == [
        ("Ana", "Can still win", "Champion with round 3 won, whatever others do."),
        ("Bo", "Can still win", "27 with round 3 won, if Ana ends with less."),
        ("Cy", "Cannot win", "19 at most; Ana already has 20."),
    ]


def test_in_a_low_league_a_bad_day_has_no_limit():
    """By hand: 2 and 4 with a win; whoever stays away has one more than the section, 4."""
    rules = book()
    weights = {"Ana": 9, "Bo": 8, "Cy": 7}
    season = season_of([weights, weights, weights], rules, 4)

    [ana, bo, cy] = told(season, rules)

    assert ana == ("Ana", "Can still win", "Champion with round 4 won, whatever others do.")
    assert bo[1:] == (
        "Can still win, on total weight only",
        "7 with round 4 won: level with Ana at best, then total weight.",
    )
    assert cy[1:] == (
        "Still open",
        "10 with round 4 won; Ana would be ahead even staying away, if the rounds left are as "
        "round 3 was.",
    )


def test_champion_with_a_match_to_spare_where_the_worst_is_dropped():
    """By hand: the best two of three count, 2 is sure, and 1 + 2 is all that is left to Bo."""
    rules = book(season={"best": 2})
    weights = {"Ana": 9, "Bo": 8, "Cy": 7}
    season = season_of([weights, weights], rules, 3)

    assert told(season, rules) == [
        ("Ana", "Champion", "Whatever happens: 2 at most, and Bo, the nearest, 3 at least."),
        ("Bo", "Cannot win", "3 at least; Ana ends with 2 at most."),
        ("Cy", "Cannot win", "4 at least; Ana ends with 2 at most."),
    ]


def test_somebody_new_is_reckoned_with():
    """By hand: the best one of three counts, so that whoever comes for the last can win it."""
    rules = book(section=HIGH, season={"best": 1})
    season = season_of([{"Ana": 9, "Bo": 8}, {"Ana": 9, "Bo": 8}], rules, 3)

    [ana, bo] = chances_of(season, rules)

    assert ana.verdict is not Verdict.CHAMPIONS
    assert "*" in ana.threats
    assert told(season, rules)[0][2].endswith("if Bo and somebody new end with less.")
    assert bo.verdict is Verdict.LEVEL


def test_who_is_short_of_rounds_is_told_so():
    rules = book(section=HIGH, season={"minimum": 3})
    season = season_of([{"Ana": 9, "Bo": 8}, {"Ana": 9, "Bo": 8}, {"Ana": 9, "Cy": 8}], rules, 4)

    assert told(season, rules)[-1] == (
        "Cy",
        "Cannot win",
        "Two of the 3 rounds it takes; Ana already has 30.",
    )


def test_a_crowd_is_told_in_few_lines():
    rules = book(section=HIGH | {"top": 100})
    crowd = {f"Angler {at:02}": 1000 - at for at in range(40)}
    season = season_of([crowd, crowd], rules, 4)

    lines = told(season, rules)

    assert len(lines) == 11
    assert lines[-1] == (
        "30 others",
        "Not ruled out",
        "With all two rounds left won, and everybody above far enough behind.",
    )


def test_where_a_win_is_worth_as_many_as_come_nobody_is_out_of_it_or_sure_of_it():
    rules = book(section={"direction": "high", "blank": 0, "absent": 0})
    season = season_of([{"Ana": 9, "Bo": 8, "Cy": 7}] * 3, rules, 4)

    ana, bo, cy = told(season, rules)

    assert ana[1] == "Can still win"
    assert ana[2].startswith("12 with round 4 won as round 3 was, if ")
    assert bo[1] == "Still open" or bo[1].startswith("Can")
    assert cy[1] == "Still open"
    assert "would be ahead even staying away" in cy[2]


@pytest.mark.parametrize(
    ("season", "words"),
    [
        ({"score": "weight"}, "Totals are weights"),
        (
            {"score": "weight", "best": 1, "undroppable": [1]},
            "cannot be dropped are all that count",
        ),
    ],
)
def test_why_nothing_more_is_said(season, words):
    rules = book(season=season)
    worked = season_of([{"Ana": 9, "Bo": 8}], rules, 2)

    assert words in why_silent(worked, rules)
    assert left_of(worked, rules) is None


def test_without_a_number_of_rounds_nothing_can_be_said_and_that_is():
    rules = book()

    assert "how many rounds" in why_silent(season_of([{"Ana": 9}], rules, None), rules)


# ---- against the whole engine ------------------------------------------------------------------

NAMES = ("Ana", "Bo", "Cy")
TEAMS = {"size": 1}
BOOKS = {
    "low": {},
    "low, best two": {"season": {"best": 2}},
    "ten for a win": {"section": HIGH},
    "ten for a win, best two": {"section": HIGH, "season": {"best": 2}},
    "as many as come": {"section": {"direction": "high", "blank": 0, "absent": 0}},
    "places of the whole match": {"season": {"score": "places"}},
    "two to be fished": {"section": HIGH, "season": {"minimum": 2}},
    "low, two to be fished": {"season": {"minimum": 2, "best": 2}},
    "three to be fished": {"season": {"minimum": 3}},
    "teams, two to be fished": {"section": HIGH, "team": TEAMS, "season": {"minimum": 2}},
    "teams, low, three to be fished": {"team": TEAMS, "season": {"minimum": 3}},
}
PAST = [
    ({"Ana": 9, "Bo": 8, "Cy": 7}, {"Ana": 9, "Bo": 8, "Cy": 7}),
    ({"Ana": 9, "Bo": 8, "Cy": 7}, {"Ana": 7, "Bo": 9, "Cy": 8}),
    ({"Ana": 9, "Bo": 8, "Cy": None}, {"Ana": 9, "Bo": None, "Cy": 8}),
    ({"Ana": 9, "Bo": 8, "Cy": "blank"}, {"Ana": "blank", "Bo": 8, "Cy": 9}),
]


def endings():
    """The last match as it may be: who comes, in which order, in one section or two."""
    for order in permutations(NAMES):
        for there in product((True, False), repeat=3):
            come = [name for name, comes in zip(order, there, strict=True) if comes]
            for others in (0, 1, 4):
                for above in (True, False):  # strangers ahead of all of them, or behind
                    strangers = {f"New {at}": (5000 if above else 10) + at for at in range(others)}
                    yield {name: 1000 - at for at, name in enumerate(come)} | strangers, {}
            yield (
                {name: 1000 - at for at, name in enumerate(come)} | {"New": 1},
                {come[-1]: "B", "New": "B"} if come else {},
            )


@pytest.mark.parametrize(
    "name",
    [pytest.param(name, marks=pytest.mark.long if at > 3 else ()) for at, name in enumerate(BOOKS)],
)
def test_every_statement_is_true_of_every_table_the_engine_can_make(name):
    rules = book(**BOOKS[name])
    seen = set()
    for first, second in PAST:
        past = [(1, fished(first, rules)), (2, fished(second, rules))]
        said = {each.key: each for each in chances_of(score_season(past, rules, planned=3), rules)}
        assert said
        tables = [
            (last, score_season([*past, (3, fished(last, rules, sections))], rules, planned=3))
            for last, sections in endings()
            if last and (name.startswith("teams") <= (set(last) <= set(NAMES)))
        ]
        for key, chance in said.items():
            seen.add(chance.verdict)
            first_alone, first_level = [], []
            for _, season in tables:
                line = next(each for each in season.table if each.key == key)
                top = season.table[0]
                level = line.total == top.total and line.qualified == top.qualified
                rivals = [
                    each
                    for each in season.table
                    if each.key != key
                    and each.qualified == line.qualified
                    and each.total == line.total
                ]
                first_level.append(level)
                first_alone.append(level and not rivals)
                if line.qualified:
                    sign = rules.season_sign
                    assert sign * line.total >= sign * chance.best
                    assert sign * line.total <= sign * chance.worst
            if chance.verdict is Verdict.CHAMPIONS:
                assert all(first_alone)
            elif chance.verdict is Verdict.CANNOT:
                assert not any(first_level)
            elif chance.verdict is Verdict.CAN:
                assert any(first_alone)
            elif chance.verdict is Verdict.LEVEL:
                assert any(first_level)
            if chance.enough and chance.verdict is Verdict.CAN:
                assert all(
                    alone
                    for (_, season), alone in zip(tables, first_alone, strict=True)
                    if any(line.key == key and line.total == chance.best for line in season.table)
                )
    assert len(seen) >= 2
