"""Rule books that cannot be meant: each refused in a sentence, all of them at once."""

from __future__ import annotations

import pytest

from league.files.rulebook import read_toml
from league.rules.errors import RulebookError


def refusal(text: str) -> str:
    with pytest.raises(RulebookError) as refused:
        read_toml(text)
    return str(refused.value)


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
