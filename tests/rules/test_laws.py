"""Laws that hold for every match: sums, fairness, and no difference who is listed first."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from league.rules.books import READY_MADE
from league.rules.lines import Row, Status
from league.rules.matches import score_match
from league.rules.placings import EQUALS
from league.rules.table import score_season
from league.rules.weights import Unit, Weight, written
from tests.examples import tried
from tests.rows import book, points_of, row, section

ANY = st.one_of(
    st.integers(0, 8).map(lambda n: n * 100),
    st.sampled_from([status.value for status in Status if status != Status.WEIGHED]),
)
FISHED = st.integers(0, 8).map(lambda n: n * 100 or "blank")


@st.composite
def matches(draw: st.DrawFn, catch: st.SearchStrategy = ANY) -> list[Row]:
    """A match of teams, one member in each section, with anything that can become of them."""
    teams, sections = draw(st.integers(2, 5)), draw(st.integers(1, 3))
    return [
        row(
            f"{name}{team}",
            draw(catch),
            name,
            team=f"Team {team}",
            penalty=draw(st.sampled_from([0, 0, 0, 2])),
        )
        for name in "ABC"[:sections]
        for team in range(teams)
    ]


@tried(75, 1000)
@given(sizes=st.lists(st.lists(FISHED, min_size=1, max_size=12), min_size=1, max_size=3))
def test_averaged_sections_share_out_n_times_n_plus_1_over_2(sizes):
    rows = [
        each for name, catches in zip("ABC", sizes, strict=False) for each in section(catches, name)
    ]

    result = score_match(rows, book())

    expected = sum(len(catches) * (len(catches) + 1) // 2 for catches in sizes)
    assert (result.section_points, result.expected) == (expected, expected)


@pytest.mark.parametrize(
    ("catches", "rules", "expected"),
    [
        ([900, "not weighed", "withdrew"], {}, 6),
        ([900, "not weighed"], {"not_weighed": "blank+1"}, None),
        ([900, "withdrew"], {"withdrew": "last place"}, None),
        ([900, "blank"], {"not_weighed": "blank+1", "withdrew": "last place"}, 3),
        ([900, "absent"], {}, None),
        ([900, "disqualified"], {}, None),
        ([900, "blank"], {"blank": "last place"}, None),
        ([900, "blank"], {"equal": "better"}, None),
        ([900, "blank"], {"all_blank": 5}, None),
        ([900, "blank"], {"cap": "smallest"}, None),
    ],
)
def test_the_sum_is_foretold_only_where_every_place_is_given_out_once(catches, rules, expected):
    assert score_match(section(catches), book(section=rules)).expected == expected


@tried(75, 1000)
@given(catches=st.lists(FISHED, min_size=1, max_size=12))
def test_high_is_n_plus_1_less_low_where_equals_and_blanks_average(catches):
    high = book(section={"direction": "high", "blank": "average of the rest"})

    low_points = points_of(score_match(section(catches), book()))
    high_points = points_of(score_match(section(catches), high))

    assert high_points == {who: len(catches) + 1 - low for who, low in low_points.items()}


@tried(30, 500)
@given(rows=matches(), seed=st.randoms())
@pytest.mark.parametrize("name", READY_MADE)
def test_the_order_of_the_rows_changes_nothing(name, rows, seed):
    rules = READY_MADE[name]
    shuffled = list(rows)
    seed.shuffle(shuffled)

    assert score_match(shuffled, rules) == score_match(rows, rules)


@pytest.mark.parametrize("equal", EQUALS)
@tried(40, 500)
@given(catches=st.lists(FISHED, min_size=2, max_size=10), data=st.data())
def test_nobody_gains_by_being_level(equal, catches, data):
    # Two level anglers together never do better than the two places they fill, one each, except
    # where the book gives both the better one, and then neither beats that better place.
    rules = book(section={"equal": equal})
    lines = score_match(section(catches), rules).sections[0].lines
    for line in lines:
        if line.weight and line.equal:
            level = [other for other in lines if other.weight == line.weight]
            fills = range(line.place, line.place + len(level))
            assert min(fills) <= line.points <= max(fills)
            if equal != "better":
                assert sum(other.points for other in level) >= sum(fills)


@pytest.mark.parametrize("name", READY_MADE)
@tried(30, 375)
@given(rows=matches(), data=st.data())
def test_an_ounce_more_never_hurts_the_angler(name, rows, data):
    rules = READY_MADE[name]
    weighed = [n for n, each in enumerate(rows) if each.status == Status.WEIGHED and each.nets[0]]
    assume(weighed)
    which = data.draw(st.sampled_from(weighed))
    more = replace(rows[which], nets=(rows[which].nets[0] + data.draw(st.integers(1, 300)),))
    heavier = [*rows[:which], more, *rows[which + 1 :]]
    who = rows[which].angler

    before = points_of(score_match(rows, rules))[who]
    after = points_of(score_match(heavier, rules))[who]

    assert rules.sign * after <= rules.sign * before


@pytest.mark.parametrize("name", READY_MADE)
@tried(20, 200)
@given(rows=matches())
def test_places_run_as_the_points_do_among_those_with_fish(name, rows):
    rules = READY_MADE[name]

    for part in score_match(rows, rules).sections:
        fish = [line for line in part.lines if line.weight]
        assert [line.weight for line in fish] == sorted((x.weight for x in fish), reverse=True)
        ranked = [rules.sign * line.before_penalty for line in fish]
        assert ranked == sorted(ranked)
        assert all(line.equal == (sum(o.place == line.place for o in part.lines) > 1)
                   for line in part.lines if line.place)  # fmt: skip
        assert not any(line.equal for line in part.lines if line.place is None)


@tried(40, 500)
@given(rows=st.lists(matches(FISHED), min_size=2, max_size=5), data=st.data())
def test_a_dropped_round_changes_nothing_by_its_points(rows, data):
    rules = book(season={"drop": 1, "ties": []})
    rounds = [(n, score_match(each, rules)) for n, each in enumerate(rows, 1)]
    teams = {each.team for part in rows for each in part}
    table = score_season(rounds, rules).table

    assert {line.name for line in table} == teams
    for line in table:
        counting = [each.score for each in line.rounds if not each.dropped]
        assert line.total == sum(counting) + line.penalty
        assert len(counting) == len(rows) - 1
        worst = max(each.score for each in line.rounds)
        assert next(each.score for each in line.rounds if each.dropped) == worst


@tried(40, 500)
@given(rows=matches())
def test_pounds_and_ounces_and_the_same_catch_in_drams_agree(rows):
    rules = READY_MADE["high-best-five-places"]
    read_back = [
        replace(each, nets=tuple(
            Weight.parse(written(net, Unit.LB_OZ), Unit.LB_OZ).amount for net in each.nets
        ))
        for each in rows
    ]  # fmt: skip

    assert score_match(read_back, rules) == score_match(rows, rules)


@tried(30, 375)
@given(rows=matches())
def test_a_team_is_the_sum_of_its_members_whole_or_short(rows):
    rules = book(team={"size": 4})
    result = score_match(rows, rules)
    points = points_of(result)

    for team in result.teams:
        members = [each for each in rows if each.team == team.team]
        short = sum(line.points for line in team.short)
        assert team.points == sum(points[each.angler] for each in members) + short
        assert team.weight == sum(
            line.weight for part in result.sections for line in part.lines
            if line.row.team == team.team
        )  # fmt: skip


@tried(30, 250)
@given(rows=st.lists(matches(), min_size=1, max_size=3))
@pytest.mark.parametrize("name", READY_MADE)
def test_every_ready_made_book_scores_whatever_comes(name, rows):
    rules = READY_MADE[name]
    rounds = [(n, score_match(each, rules)) for n, each in enumerate(rows, 1)]

    season = score_season(rounds, rules)

    anglers = {each.angler for part in rows for each in part if each.status != Status.VACANT}
    assert {line.name for line in season.anglers} == anglers
    for line in season.table:
        assert isinstance(line.total, (int, Fraction))
        assert line.place <= len(season.table)
