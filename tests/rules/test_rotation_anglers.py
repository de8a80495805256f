"""Anglers without teams over a season, against scipy; and a team drawn by number and turn."""

from hashlib import sha256

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from league.rules.draw_chain import Stream
from league.rules.errors import DrawError
from league.rules.rotation_anglers import share_anglers, team_card


def below(name):
    """Random numbers that a name gives."""
    return Stream(sha256(name.encode()).hexdigest(), "anglers").below


@given(
    st.integers(1, 12).flatmap(
        lambda n: st.lists(
            st.lists(st.integers(0, 5), min_size=3, max_size=3), min_size=n, max_size=n
        )
    ),
    st.text(),
)
def test_no_other_way_is_fairer(visits, name):
    """The least sum of 2v + 1 is scipy's."""
    places = [len(visits) // 3 + 1] * 3
    slots = [section for section, count in enumerate(places) for _ in range(count)]
    costs = [[2 * row[section] + 1 for section in slots] for row in visits]

    sections = share_anglers(visits, places, below(name))

    rows, columns = linear_sum_assignment(costs)
    least = sum(costs[row][column] for row, column in zip(rows, columns, strict=True))
    assert sum(2 * visits[n][section] + 1 for n, section in enumerate(sections)) == least
    assert all(sections.count(section) <= count for section, count in enumerate(places))


def test_forty_eight_anglers_fish_four_sections_twice_in_eight_rounds():
    visits = [[0] * 4 for _ in range(48)]
    rounds = []
    for number in range(8):
        sections = share_anglers(visits, [12] * 4, below(f"round {number}"))
        rounds.append(sections)
        for angler, section in enumerate(sections):
            visits[angler][section] += 1

    assert visits == [[2] * 4] * 48
    assert len(set(rounds)) == 8


def test_more_anglers_than_places_are_refused():
    with pytest.raises(DrawError, match="3 anglers do not fit into 2 places"):
        share_anglers([[0, 0]] * 3, [1, 1], below("full"))


def test_a_team_number_and_a_turn_place_every_member():
    """C61: nine teams, six sections of nine pegs. Every peg is used once, one member a section."""
    sections = [range(first, first + 9) for first in range(1, 55, 9)]
    turns = [1, 4, 2, 6, 5, 3, 1, 2, 6]

    cards = [team_card(number, turn, sections) for number, turn in enumerate(turns, 1)]

    assert sorted(peg for card in cards for _, peg in card) == list(range(1, 55))
    assert all(sorted(section for section, _ in card) == list(range(6)) for card in cards)
    assert cards[1] == [(3, 29), (4, 38), (5, 47), (0, 2), (1, 11), (2, 20)]
    # The caution of C61: one team holds the first peg of every section.
    assert sorted(peg for _, peg in cards[0]) == [1, 10, 19, 28, 37, 46]


@pytest.mark.parametrize(
    ("number", "turn", "words"),
    [(4, 1, "A team's number is 1 to 3 here, not 4"), (1, 3, "A turn is 1 to 2 here, not 3")],
)
def test_discs_that_are_not_in_the_bag_are_refused(number, turn, words):
    with pytest.raises(DrawError, match=words):
        team_card(number, turn, [[1, 2, 3], [4, 5, 6, 7]])
