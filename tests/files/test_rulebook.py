"""Rule books as files: what comes in goes out the same, and nonsense is refused in sentences."""

from __future__ import annotations

import json
import tomllib
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.files.rulebook import as_dict, changed, from_dict, read_toml, write_toml
from league.rules.books import READY_MADE
from league.rules.ladders import SEASON_RUNGS, TEAM_RUNGS
from league.rules.rulebook import Rulebook
from tests.examples import tried

# The documented file, every key of it, off keys put on where they can stand together.
EVERY_KEY = """
name = "Every key"
unit = "lb-oz"

[section]
direction = "high"
top = "max 60"
override = [13, 12.5, 11]
equal = "worse"
size = "fished"
blank = "half sum"
all_blank = 5
not_weighed = "last place"
withdrew = "F+2"
absent = "teams+3"
vacant = "as blank"
disqualified = "no score"
others_move_up = false
cap = "smallest"

[net]
limit = "60-0"
over = "cap with tolerance"
tolerance = "10-8"

[team]
size = 8
per_section = 2
count = 6
ties = ["best places", "section wins"]

[season]
score = "places"
drop = { 9 = 3, 7 = 2, 5 = 1 }
minimum = 5
undroppable = [7]
cancelled = "all zero"
up = 2
down = 3
ties = ["counting weight", "next best", "last round", "best round weight", "better"]
penalties_after_drop = false
disqualified_counts = true
"""


def test_an_empty_file_is_the_default_book():
    assert read_toml("") == Rulebook()
    assert from_dict({}) == Rulebook()


def test_the_default_is_averaged_low_points_as_documented():
    assert as_dict(Rulebook()) == {
        "name": "Averaged low points",
        "unit": "lb-oz",
        "section": {
            "direction": "low",
            "equal": "average",
            "size": "drawn",
            "blank": "average of the rest",
            "not_weighed": "as blank",
            "withdrew": "as blank",
            "absent": "N+1",
            "vacant": "as absent",
            "disqualified": "N+1",
            "others_move_up": True,
            "cap": "none",
        },
        "net": {"limit": "none", "over": "cap", "tolerance": "none"},
        "team": {"size": 4, "per_section": 1, "ties": ["weight", "best weight"]},
        "season": {
            "score": "points",
            "cancelled": "not fished",
            "ties": ["weight", "round wins"],
            "penalties_after_drop": True,
            "disqualified_counts": False,
        },
    }


def test_every_key_is_read_and_written_as_it_stood():
    written = write_toml(read_toml(EVERY_KEY))

    assert tomllib.loads(written) == tomllib.loads(EVERY_KEY)


def test_a_half_in_the_file_is_an_exact_half():
    assert read_toml(EVERY_KEY).section.override == (13, Fraction(25, 2), 11)


@pytest.mark.parametrize("name", READY_MADE)
def test_a_ready_made_book_survives_toml_and_json(name):
    book = READY_MADE[name]

    assert read_toml(write_toml(book)) == book
    assert from_dict(json.loads(json.dumps(as_dict(book)))) == book


SCORES = st.one_of(
    st.sampled_from(["as blank"]),
    st.builds("{}+{}".format, st.sampled_from(["N", "F", "blank"]), st.integers(1, 9)),
    st.integers(0, 60),
)


@st.composite
def dictionaries(draw: st.DrawFn) -> dict[str, object]:
    """Any rule book that does not contradict itself."""
    direction = draw(st.sampled_from(["low", "high"]))
    tops = ["section", "teams", "match", 10, "max 60", [15, 13, 11.5]]
    section = {
        "direction": direction,
        **({"top": draw(st.sampled_from(tops))} if direction == "high" else {}),
        "equal": draw(st.sampled_from(["average", "better", "worse"])),
        "size": draw(st.sampled_from(["drawn", "fished"])),
        "blank": draw(st.sampled_from(["average of the rest", "half sum", "last place", "W+5", 9])),
        "not_weighed": draw(SCORES),
        "withdrew": draw(SCORES),
        "absent": draw(SCORES),
        "others_move_up": draw(st.booleans()),
        "cap": draw(st.sampled_from(["none", "smallest"])),
    }
    drops = draw(st.sampled_from([{}, {"best": 4}, {"drop": 2}, {"drop": {"8": 2, "5": 1}}]))
    season = {
        **drops,
        "score": draw(st.sampled_from(["points", "places", "weight"])),
        "minimum": draw(st.integers(0, 5)),
        "ties": draw(st.lists(st.sampled_from(sorted(SEASON_RUNGS)), unique=True)),
    }
    return {
        "name": draw(st.text(st.characters(categories=["L", "N", "P", "Zs"]), max_size=30)).strip(),
        "unit": draw(st.sampled_from(["lb-oz", "kg"])),
        "section": section,
        "net": {"limit": draw(st.sampled_from(["none", "50"])), "over": "twice the excess"},
        "team": {
            "size": draw(st.integers(2, 12)),
            "ties": draw(st.lists(st.sampled_from(sorted(TEAM_RUNGS)), unique=True)),
        },
        "season": season,
    }


@tried(50, 500)
@given(data=dictionaries())
def test_any_book_survives_the_file(data):
    data["name"] = "".join(each for each in data["name"] if each.isprintable())
    book = from_dict(data)

    assert read_toml(write_toml(book)) == book
    assert from_dict(as_dict(book)) == book


def test_changed_writes_some_keys_otherwise_and_leaves_the_rest():
    book = READY_MADE["capped-low"]

    other = changed(book, {"section": {"equal": "better"}, "season": {"drop": None, "best": 9}})

    assert other.section.equal.key == "better"
    assert (other.season.drop, other.season.best) == (None, 9)
    assert other.section.absent == book.section.absent
    assert book.section.equal.key == "average"


def test_two_books_that_say_the_same_are_the_same():
    assert from_dict({"section": {"blank": "N+1"}}) == from_dict({"section": {"blank": "N + 1"}})
    assert from_dict({"section": {"blank": "N+1"}}) != from_dict({"section": {"blank": "N+2"}})
