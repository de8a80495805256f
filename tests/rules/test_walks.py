"""Walks along a bank of six pegs in two sections."""

from __future__ import annotations

import pytest

from league.rules.errors import RuleError
from league.rules.walks import Walk, along, as_dict, from_dict

BANK = [("1", "A"), ("2", "A"), ("3", "A"), ("7", "B"), ("8", "B"), ("9", "B")]


@pytest.mark.parametrize(
    ("walk", "places", "words"),
    [
        (Walk(), [0, 1, 2, 3, 4, 5], "The whole bank"),
        (Walk(backwards=True), [5, 4, 3, 2, 1, 0], "The whole bank, from the far end"),
        (Walk(("B",)), [3, 4, 5], "Section B"),
        (
            Walk(("A", "B"), backwards=True),
            [5, 4, 3, 2, 1, 0],
            "Sections A and B, from the far end",
        ),
        (Walk(first="2", last="7"), [1, 2, 3], "Pegs 2 to 7"),
        (Walk(first="7", last="2"), [1, 2, 3], "Pegs 7 to 2"),
        (Walk(first="2", last="7", backwards=True), [3, 2, 1], "Pegs 2 to 7, from 7 down"),
    ],
)
def test_a_walk_takes_its_pegs_in_its_order(walk, places, words):
    assert along(walk, BANK) == places
    assert walk.words == words


@pytest.mark.parametrize(
    "walk", [Walk(("C",)), Walk(first="2", last="6"), Walk(first="2")], ids=lambda each: each.words
)
def test_what_is_not_on_the_bank_is_refused(walk):
    with pytest.raises(RuleError, match="There is no"):
        along(walk, BANK)


def test_a_kept_walk_is_the_same_walk():
    for walk in (Walk(("A", "B"), backwards=True), Walk(first="2", last="7"), Walk()):
        assert from_dict(as_dict(walk)) == walk
