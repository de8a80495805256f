"""Sections and end pegs over a season: worked vectors, Latin squares, and every way tried."""

from collections import Counter
from fractions import Fraction
from hashlib import sha256
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import chisquare

from league.rules.draw_chain import Stream
from league.rules.errors import DrawError
from league.rules.rotation import (
    LineUp,
    Shares,
    debt_bag,
    draw_line_ups,
    share_sections,
    ticket_bag,
)

SEED = sha256(b"rot").hexdigest()
DEMO = "8c8083913492196c79ac912c834832fa81b747a5872f13b1cbea8080840fbea0"


def shares(visits):
    return Shares(tuple(map(tuple, visits)), (1,) * len(visits[0]))


@pytest.mark.parametrize(
    ("visits", "count", "drawn"),
    [
        ([[0] * 4] * 4, 24, (1, 3, 0, 2)),
        ([[1, 0, 0, 0], [0, 1, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1]], 9, (2, 3, 0, 1)),
        ([[2, 0, 0, 0], [0, 1, 0, 1], [0, 0, 2, 0], [0, 1, 0, 1]], 4, (3, 0, 1, 2)),
    ],
)
def test_one_of_the_fairest_ways_is_drawn(visits, count, drawn):
    """Vectors R1, R2 and R3 of the season's rotation."""
    assert shares(visits).count() == count
    assert share_sections(visits, Stream(SEED, "r").below) == drawn


def test_the_fairest_ways_stand_in_the_order_of_the_sections():
    """Vector R2: a member who fished one section each goes to another one."""
    ways = shares([[1, 0, 0, 0], [0, 1, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1]])

    assert ways.nth(0) == (1, 0, 3, 2)
    assert ways.nth(8) == (3, 2, 1, 0)


@given(
    st.integers(1, 5).flatmap(
        lambda n: st.lists(
            st.lists(st.integers(0, 3), min_size=n, max_size=n), min_size=n, max_size=n
        )
    ),
    st.data(),
)
def test_no_other_order_is_fairer(visits, data):
    """Every permutation is tried, and the cheapest are listed in lexicographic order."""
    sections = range(len(visits))
    allowed = [
        data.draw(st.sets(st.sampled_from(sections), min_size=1) | st.none()) for _ in visits
    ]
    ways = Shares(
        tuple(map(tuple, visits)),
        (1,) * len(visits),
        tuple(None if only is None else frozenset(only) for only in allowed),
    )
    costs = {
        way: sum(2 * visits[member][section] + 1 for member, section in enumerate(way))
        for way in permutations(sections)
        if all(only is None or section in only for section, only in zip(way, allowed, strict=True))
    }
    cheapest = [way for way, cost in costs.items() if cost == min(costs.values())]

    assert [ways.nth(n) for n in range(ways.count())] == cheapest


@pytest.mark.parametrize(("needing", "sections"), [((), "BACD"), ((1,), "CABD")])
def test_a_team_is_drawn_into_its_sections(needing, sections):
    """Vector D9: 24 ways without bans; 12 where member 2 can only fish A or C. Both times way 6."""
    team = LineUp("RED", 4, needing=frozenset(needing))

    drawn = draw_line_ups(DEMO, "ABCD", [team], accessible={"A": 1, "C": 1})

    assert drawn.sections == {"RED": tuple(sections)}
    assert drawn.attempt is None


def test_teams_that_compete_for_accessible_pegs_are_drawn_until_there_are_enough():
    teams = [LineUp(code, 4, needing=frozenset({0})) for code in ("RED", "BLU", "TAN")]
    attempts = []
    for n in range(40):
        seed = sha256(b"%d" % n).hexdigest()

        drawn = draw_line_ups(seed, "ABCD", teams, accessible={"A": 2, "C": 1})

        places = Counter(sections[0] for sections in drawn.sections.values())
        assert places == {"A": 2, "C": 1}
        attempts.append(drawn.attempt)

    # Three of the eight equally likely pairs of places do: 8/3 attempts on average.
    assert 1.7 < sum(attempts) / 40 < 4


def test_too_few_accessible_pegs_are_refused_in_words():
    teams = [LineUp(code, 2, needing=frozenset({0})) for code in ("RED", "BLU")]

    with pytest.raises(DrawError, match="Section A has 1 accessible pegs, and more members"):
        draw_line_ups(DEMO, "AB", teams, accessible={"A": 1})
    with pytest.raises(DrawError, match="cannot all be in a section that has one"):
        draw_line_ups(
            DEMO, "AB", [LineUp("RED", 2, needing=frozenset({0, 1}))], accessible={"A": 2}
        )


def test_a_full_team_fishes_every_section_once_in_as_many_rounds():
    """
    Four rounds of four make a Latin square, and every one of order 4 can come out.

    There are 576 (OEIS A002860): 24 first rounds, 9 second ones, then 2 or 4, then 1. A square's
    chance is therefore 1 in 432 or 1 in 864, which is not the same for all.
    """
    chances = {}

    def go_on(rounds, visits, chance):
        if len(rounds) == 4:
            assert visits == [[1] * 4] * 4
            chances[rounds] = chance
            return
        ways = shares(visits)
        for n in range(ways.count()):
            way = ways.nth(n)
            then = [
                [count + (section == way[member]) for section, count in enumerate(row)]
                for member, row in enumerate(visits)
            ]
            go_on((*rounds, way), then, chance / ways.count())

    go_on((), [[0] * 4] * 4, Fraction(1))

    assert len(chances) == 576
    assert sum(chances.values()) == 1
    assert set(chances.values()) == {Fraction(1, 432), Fraction(1, 864)}


def test_a_team_of_eight_in_four_sections_has_two_in_each():
    way = share_sections([[0] * 4] * 8, Stream(SEED, "r").below, per_section=2)

    assert Counter(way) == {0: 2, 1: 2, 2: 2, 3: 2}


def test_the_debt_bag_pays_those_with_the_fewest_end_pegs():
    """Vector R6: teams 0 and 3 had none; one of the three with one each is drawn."""
    below = Stream(sha256(b"ends").hexdigest(), "e").below

    assert debt_bag([0, 1, 1, 0, 2, 1], 3, below) == (0, 2, 3)


def test_tickets_double_with_every_end_peg_fewer():
    """Had 0, 1 and 2: four, two and one tickets of seven. A fair draw stays within chi-square."""
    below = Stream(SEED, "tickets").below
    counts = Counter(ticket_bag([0, 1, 2], 1, below)[0] for _ in range(7000))

    found = chisquare([counts[team] for team in range(3)], [4000, 2000, 1000])

    assert found.pvalue > 0.01


def test_more_end_pegs_than_teams_are_refused():
    with pytest.raises(DrawError, match="3 end pegs cannot be shared among 2, one each"):
        debt_bag([0, 0], 3, Stream(SEED, "e").below)
