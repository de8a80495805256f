"""Who is probably the same person: pairs a match secretary would and would not ask about."""

from __future__ import annotations

import pytest

from league.rules.same_person import Closeness, likeness, pairs, probably


@pytest.mark.parametrize(
    ("one", "other", "closeness"),
    [
        ("Ivy Marsh", "Ivy  Marsh", Closeness.SAME),
        ("Zoë Löfgren", "Zoe Lofgren", Closeness.WRITTEN_OTHERWISE),
        ("ANNE-MARIE O'Hara", "Anne Marie O’Hara", Closeness.WRITTEN_OTHERWISE),
        ("Søren Łukasz", "Soren Lukasz", Closeness.WRITTEN_OTHERWISE),
        ("Marsh Ivy", "Ivy Marsh", Closeness.OTHER_ORDER),
        ("Marsh, Ivy", "Ivy Marsh", Closeness.OTHER_ORDER),
        ("Bob Smith", "Robert Smith", Closeness.SHORT_NAME),
        ("Smith, Dave", "David Smith", Closeness.SHORT_NAME),
        ("R Smith", "Robert Smith", Closeness.INITIAL),
        ("R. J. Smith", "Robert John Smith", Closeness.INITIAL),
        ("R. Smith", "Robert J. Smith", Closeness.INITIAL),
        ("Bob Smith", "Bob Smyth", Closeness.SPELLING),
        ("Len Hathersage", "Len Hathresage", Closeness.SPELLING),
        ("Stephen Noakes", "Steven Noakes", None),
        ("Winston Arberry", "Winston Arbery", Closeness.SPELLING),
    ],
)
def test_likely_the_same_and_why(one: str, other: str, closeness: Closeness | None) -> None:
    found = likeness(one, other)

    assert (found and found.closeness) == closeness
    assert likeness(other, one) == found


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Robert Smith", "Ronald Smith"),  # the initial fits, but both are written out
        ("Ivy Marsh", "Ivor Marsh"),
        ("R Smith", "Robert Smithers"),
        ("Bob Smith", "Bill Smith"),
        ("Al Lee", "Al Lea"),  # too short to tell a slip from a name
        ("Tom", "Tom Kerrow"),
        ("", "Tom Kerrow"),
        ("R J Smith", "Robert Paul Smith"),
    ],
)
def test_two_people_are_left_alone(one: str, other: str) -> None:
    assert likeness(one, other) is None


def test_the_likeliest_comes_first() -> None:
    known = {1: "Robert Smith", 2: "Bob Smyth", 3: "Ivy Marsh", 4: "Smith Bob"}

    assert [key for key, _ in probably("Bob Smith", known)] == [4, 1, 2]


def test_every_two_of_a_list_are_held_against_each_other() -> None:
    found = pairs({1: "Ivy Marsh", 2: "Bob Smith", 3: "I. Marsh", 4: "Marsh Ivy"})

    assert [(one, other) for one, other, _ in found] == [(1, 4), (1, 3)]
