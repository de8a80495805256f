"""The rule book read out, what it warns of, and what it will not have."""

from __future__ import annotations

import pytest

from league.files.rulebook import from_dict, warnings
from league.rules.books import READY_MADE
from league.rules.notice import sentences


def read_out(**changes):
    return sentences(from_dict(changes))


def test_the_demo_leagues_book_reads_as_on_the_notice_board():
    assert sentences(READY_MADE["high-best-five-places"]) == [
        "Fish are weighed in pounds and ounces.",
        "High points: the highest total wins.",
        "First in a section scores as many points as the section has anglers, and one fewer for "
        "each place below.",
        "Equal weights share the places they take.",
        "A section is as long as the pegs drawn in it.",
        "A blank scores nothing.",
        "An angler who did not weigh or left early without a weight scores the same as a blank.",
        "An angler who never came or was disqualified scores nothing.",
        "Those behind a disqualified angler move up.",
        "A net may weigh 40 lb 0 oz: what is over does not count.",
        "A team is four anglers, one in a section.",
        "Every member's points count.",
        "A team that is short is absent where it lacks an angler.",
        "Teams level on points are split by total weight, then section wins, then best single "
        "weight; if they are still level, they share the place.",
        "The places of the rounds are scored and added up.",
        "First in a round scores as many points as there are teams, and one fewer for each place "
        "below.",
        "A team that misses a round scores nothing.",
        "The best five rounds count.",
        "A cancelled round is left out as if it had never been planned.",
        "Penalty points count in their round, and so in its places.",
        "In the table, those level on points are split by total weight; if they are still level, "
        "they share the place.",
    ]


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"unit": "kg"}, "Fish are weighed in kilograms and grams."),
        (
            {"section": {"direction": "high", "override": [13, 12, 11]}},
            "The first three of the whole match score 13, 12 and 11 instead.",
        ),
        (
            {"section": {"direction": "high", "override": [20]}},
            "The winner of the whole match scores 20 instead.",
        ),
        (
            {"section": {"direction": "high", "top": [15, 13, 11]}},
            "The places score 15, 13, 11; the places after those score 0.",
        ),
        (
            {"section": {"direction": "high", "top": "max 60"}},
            "First in a section scores 60, or the number of anglers in the match if that is more, "
            "and one fewer for each place below.",
        ),
        (
            {"section": {"blank": "F+5"}},
            "A blank scores the fifth place after the last angler with fish.",
        ),
        (
            {"section": {"all_blank": 5}},
            "Where nobody in a section has a fish, everybody scores 5 points.",
        ),
        (
            {"section": {"absent": "no score", "disqualified": 99}},
            "An angler who never came has no score: the match does not count.",
        ),
        ({"section": {"vacant": 7}}, "A place for which the team named nobody scores 7 points."),
        (
            {"section": {"others_move_up": False}},
            "Those behind a disqualified angler do not move up.",
        ),
        (
            {"section": {"cap": "smallest"}},
            "No section gives more points than the smallest section can.",
        ),
        (
            {"net": {"limit": "60-0", "over": "cap with tolerance", "tolerance": "10-0"}},
            "A net may weigh 60 lb 0 oz: up to 10 lb 0 oz over, the limit counts; past that the "
            "whole net is out.",
        ),
        ({"team": {"size": 8, "count": 4}}, "The best four of a team count."),
        ({"team": {"ties": []}}, "Teams level on points share the place."),
        ({"season": {"drop": 1}}, "The worst round is dropped."),
        ({"season": {"best": 1}}, "The best round counts."),
        (
            {"season": {"drop": {"9": 3, "7": 2}}},
            "So many of the worst rounds are dropped: from 7 rounds fished, 2; from 9 rounds "
            "fished, 3.",
        ),
        ({"season": {"best": 3, "undroppable": [7]}}, "Round 7 cannot be dropped."),
        (
            {"season": {"minimum": 5}},
            "Who has fished fewer than five rounds is listed below everybody who has.",
        ),
        (
            {"season": {"disqualified_counts": True}},
            "A round with a disqualified angler in it cannot be dropped.",
        ),
        (
            {"season": {"penalties_after_drop": False}},
            "Penalty points belong to their round and are dropped with it.",
        ),
        (
            {"season": {"score": "weight"}},
            "Penalty points change nothing here; a penalty is weight taken off.",
        ),
        ({"season": {"up": 2, "down": 1}}, "The first two go up."),
        ({"season": {"up": 2, "down": 1}}, "The last goes down."),
        (
            {"season": {"score": "places"}},
            "A team that misses a round scores one more than the last place.",
        ),
    ],
)
def test_each_choice_reads_itself_out(changes, sentence):
    assert sentence in read_out(**changes)


@pytest.mark.parametrize("name", READY_MADE)
def test_every_sentence_begins_and_ends_as_one(name):
    for sentence in sentences(READY_MADE[name]):
        assert sentence[0].isupper()
        assert sentence.endswith(".")
        assert "  " not in sentence


@pytest.mark.parametrize(
    ("changes", "begins"),
    [
        ({"section": {"blank": 9}}, "blank = 9: a blank scores 9 points in every section."),
        ({"section": {"absent": 8}}, "absent = 8: in a section longer than that"),
        ({"section": {"blank": "F+1"}}, 'blank = "F+1": in a section where nobody has a fish'),
        (
            {"section": {"direction": "high", "blank": 1}},
            "blank = 1: the last weigher of a full section",
        ),
        (
            {"section": {"direction": "high", "not_weighed": "blank+1"}},
            'not_weighed = "blank+1": this adds to the points',
        ),
        ({"section": {"absent": "no score"}}, 'absent = "no score": in low points'),
        ({"season": {"cancelled": "all zero"}}, 'cancelled = "all zero": in low points'),
        ({"season": {"undroppable": [3]}}, "undroppable: no round is dropped anyway."),
        ({"season": {"score": "weight"}}, 'ties: "weight" splits nobody'),
    ],
)
def test_a_trap_is_warned_of_and_still_allowed(changes, begins):
    found = warnings(from_dict(changes))

    assert len(found) == 1
    assert found[0].startswith(begins)


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"section": {"blank": "F+1", "all_blank": 5}},
        {"section": {"direction": "high", "blank": 0, "absent": 0}},
        {"section": {"absent": "no score"}, "season": {"minimum": 5}},
        {"season": {"cancelled": "all zero", "score": "weight", "best": 3}},
    ],
)
def test_a_book_without_a_trap_is_not_warned_of(changes):
    assert warnings(from_dict(changes)) == []
