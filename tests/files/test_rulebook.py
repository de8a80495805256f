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
from league.rules.errors import RulebookError
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


def refusal(text: str) -> str:
    with pytest.raises(RulebookError) as refused:
        read_toml(text)
    return str(refused.value)


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


@tried(100, 2000)
@given(data=dictionaries())
def test_any_book_survives_the_file(data):
    data["name"] = "".join(each for each in data["name"] if each.isprintable())
    book = from_dict(data)

    assert read_toml(write_toml(book)) == book
    assert from_dict(as_dict(book)) == book


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('[section]\nequals = "better"', 'section: there is no key "equals". Did you mean equal?'),
        ("[sections]", 'there is no key "sections". Did you mean section?'),
        (
            "[net]\nspecies = 3",
            'net: there is no key "species". The keys are limit, over, tolerance.',
        ),
        (
            '[section]\ndirection = "up"',
            'section: direction = "up" is no choice there. Write "low" or "high".',
        ),
        (
            '[section]\nblank = "no score"',
            'section: blank = "no score" is no choice there. Write "average of the rest", '
            '"half sum", "last place", "N+k", "F+k", "W+k" or a number.',
        ),
        (
            '[section]\nabsent = "last place"',
            'section: absent = "last place" is no choice there. Write "as blank", "blank+k", '
            '"N+k", "F+k", "W+k", "teams+k", a number or "no score".',
        ),
        (
            '[section]\nabsent = "N+0"',
            'section: absent = "N+0" is no choice there. Write "as blank", "blank+k", "N+k", '
            '"F+k", "W+k", "teams+k", a number or "no score".',
        ),
        ("[section]\nblank = -1", "section: blank = -1: points go from 0 upwards."),
        ("[section]\nblank = nan", "section: blank = nan: points go from 0 upwards."),
        ("[section]\nothers_move_up = 1", "section: others_move_up = 1: write true or false."),
        (
            '[section]\ndirection = "high"\ntop = [5, 6]',
            "section: top rises from 5 to 6. First place stands first, so that each number is no "
            "more than the one before it.",
        ),
        (
            '[section]\ndirection = "high"\ntop = []',
            "section: top is empty: write the points, first place first.",
        ),
        (
            '[section]\ndirection = "high"\ntop = "sixty"',
            'section: top = "sixty" is no choice there. Write "section", "teams", "match", a whole '
            'number, "max 60" with your own number, or a list with first place first.',
        ),
        (
            '[section]\ntop = "teams"',
            'section: top is for high points only. Write direction = "high", or leave top out.',
        ),
        (
            "[section]\noverride = [13]",
            'section: override is for high points only. Write direction = "high", or leave '
            "override out.",
        ),
        (
            '[net]\nlimit = "12.8"',
            "net: limit: '12.8' is no weight in pounds and ounces. Write 12-8 for 12 lb 8 oz.",
        ),
        (
            "[net]\nlimit = 50",
            'net: limit = 50 is no weight. Write it in quotes, "40-0" say, or "none".',
        ),
        (
            '[net]\nlimit = "0-0"',
            "net: the limit must be more than nothing. Write none where there is no limit.",
        ),
        (
            '[net]\ntolerance = "5-0"\nover = "cap with tolerance"',
            "net: a tolerance needs a limit. Write the limit, or leave tolerance out.",
        ),
        (
            '[net]\nlimit = "50-0"\nover = "cap with tolerance"',
            'net: over = "cap with tolerance" needs a tolerance. Write one, say "10-0".',
        ),
        (
            '[net]\nlimit = "50-0"\ntolerance = "5-0"',
            'net: a tolerance is used only by over = "cap with tolerance". Write that, or leave '
            "tolerance out.",
        ),
        ("[team]\nsize = 0", "team: size = 0: write a whole number from 1 upwards."),
        ("[team]\nsize = true", "team: size = true: write a whole number from 1 upwards."),
        (
            "[team]\ncount = 5",
            "team: count = 5 is more than the 4 in a team. Write a smaller count, or leave it out "
            "so that all count.",
        ),
        ("[team]\nper_section = 5", "team: per_section = 5 is more than the 4 in a team."),
        (
            '[team]\nties = ["weight", "weight"]',
            'team: ties names "weight" twice. The second can never split anybody: leave it out.',
        ),
        ('[team]\nties = "weight"', 'team: ties = "weight": write a list in square brackets.'),
        (
            '[team]\nties = ["lots"]',
            'team: ties = "lots" is no choice there. Write "weight", "best weight", '
            '"best places" or "section wins".',
        ),
        (
            "[season]\nbest = 5\ndrop = 1",
            "season: best and drop say one thing in two ways. Keep one and leave the other out.",
        ),
        (
            "[season]\ndrop = { 3 = 3 }",
            "season: drop: after 3 rounds, 3 dropped would leave none to count.",
        ),
        (
            "[season]\ndrop = { nine = 3 }",
            "season: drop: 'nine' is no number of rounds. Write drop = { 9 = 3, 7 = 2 }.",
        ),
        ("[season]\nbest = 0", "season: best = 0: write a whole number from 1 upwards."),
        ('unit = "stone"', 'unit = "stone" is no choice there. Write "lb-oz" or "kg".'),
        ("name = 7", "name = 7 must be text in quotes."),
        ("section = 7", "section: this must be a table of keys, not 7."),
    ],
)
def test_what_cannot_be_meant_is_refused_in_a_sentence(text, words):
    assert refusal(text) == words


def test_all_the_faults_are_told_at_once():
    text = '[section]\nequal = "both"\nblank = "x"\n[team]\nsize = "four"\n[season]\nbst = 3'

    assert len(refusal(text).splitlines()) == 4


@pytest.mark.parametrize(
    "text",
    ["[section", "a = \x00", "x = 1\nx = 2", "[" * 5000, "name = 'A'\n" * 20_000],
)
def test_what_is_no_toml_is_refused_and_no_traceback(text):
    assert refusal(text)


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
