"""A rule book read out."""

from league.files.rulebook import from_dict
from league.rules.announced import read_out
from league.rules.rulebook import Rulebook


def read(book: dict) -> dict[str, str]:
    return {part.heading: " ".join(part.sentences) for part in read_out(from_dict(book))}


def test_the_winter_league_is_read_out_as_it_was_announced():
    said = read(
        {
            "unit": "lb-oz",
            "section": {"direction": "high", "top": "section", "blank": 0, "absent": 0},
            "net": {"limit": "40-0"},
            "team": {"ties": ["weight", "section wins"]},
            "season": {"score": "places", "best": 5, "ties": ["weight"]},
        }
    )

    assert said["Weights"] == (
        "Fish are weighed in pounds and ounces. A net over 40 lb 0 oz: what is over does not count."
    )
    assert "A blank scores 0 points." in said["Who is not placed"]
    assert said["In a team"] == (
        "Four anglers make a team, one in a section. Everybody's points count. Teams on equal "
        "points are told apart by total weight, then section wins; level on all of these, they "
        "share the place."
    )
    assert "The best five rounds count." in said["Over the season"]
    assert "Penalty points" not in said["Over the season"]


def test_what_is_seldom_chosen_is_read_out_too():
    said = read(
        {
            "unit": "kg",
            "section": {
                "direction": "high",
                "override": [13, 12],
                "all_blank": 5,
                "others_move_up": False,
            },
            "net": {"limit": "27", "over": "cap with tolerance", "tolerance": "4.5"},
            "team": {"size": 8, "per_section": 2, "count": 6, "ties": []},
            "season": {
                "drop": 1,
                "minimum": 4,
                "undroppable": [7],
                "disqualified_counts": True,
                "penalties_after_drop": False,
                "up": 2,
                "down": 2,
            },
        }
    )

    assert said["Weights"] == (
        "Fish are weighed in kilograms and grams. A net over 27.000 kg: up to the tolerance over, "
        "the limit counts; past that the whole net is out. The tolerance is 4.500 kg."
    )
    assert "The first of the whole match score 13 and 12 instead." in said["In a section"]
    assert (
        "Where nobody in a section has fish, a blank scores 5 points." in said["Who is not placed"]
    )
    assert "A disqualified angler's place stays open." in said["Who is not placed"]
    assert said["In a team"] == (
        "Eight anglers make a team, two in a section. The best six of them count. "
        "Teams on equal points share the place."
    )
    for sentence in (
        "The worst round is dropped.",
        "Round 7 cannot be dropped.",
        "A round with a disqualification cannot be dropped.",
        "Who has fished fewer than four rounds is listed below everybody who has.",
        "Penalty points belong to their round, and are dropped with it.",
        "The first two go up.",
        "The last two go down.",
    ):
        assert sentence in said["Over the season"]


def test_low_points_say_nothing_about_a_top():
    said = [sentence for part in read_out(Rulebook()) for sentence in part.sentences]

    assert not any("First in a section" in sentence for sentence in said)
