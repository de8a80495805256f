"""Pegs as people say them."""

import pytest

from league.rules.bank import parse_pegs
from league.rules.errors import PegError


def test_a_bank_is_read_as_it_is_said():
    pegs = parse_pegs("1-24, 26-60, not 13, easy 1-4 and 60, gap after 24", "Fallow Mere")

    assert [peg.name for peg in pegs] == [str(n) for n in range(1, 61) if n != 25]
    assert [peg.order for peg in pegs] == list(range(1, 60))
    assert [peg.name for peg in pegs if peg.left_out] == ["13"]
    assert [peg.name for peg in pegs if peg.easy_access] == ["1", "2", "3", "4", "60"]
    assert [peg.name for peg in pegs if peg.gap_after] == ["24"]
    assert {peg.water for peg in pegs} == {"Fallow Mere"}


def test_a_reason_in_brackets_is_kept():
    (peg, *_) = parse_pegs("1-3, not 1 (overhead line)")

    assert (peg.left_out, peg.why) == (True, "overhead line")


@pytest.mark.parametrize(
    ("said", "names"),
    [
        ("7a; 8 to 10\nX1-X3", ["7a", "8", "9", "10", "X1", "X2", "X3"]),
        ("A9-11", ["A9", "A10", "A11"]),
        ("3 and 1 & 2", ["3", "1", "2"]),
        ("1–3, Gap  after 1", ["1", "2", "3"]),
    ],
)
def test_other_ways_to_say_it(said, names):
    assert [peg.name for peg in parse_pegs(said)] == names


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("", "No pegs yet"),
        ("24-1", "runs backwards. Write 1-24."),
        ("1-5000", "is 5000 pegs; a water has at most 1000"),
        ("1-4, easy 1, 4", "Peg 4 is there twice. For a list after a word write: easy 1-4 and 60."),
        ("1-4, not 9", "Peg 9 is said to be 'not', but is not among the pegs."),
        ("1-4, ?", "'?' is no peg"),
        ("a-z", "'a-z' is no run of pegs"),
    ],
)
def test_what_cannot_be_read_is_told_in_words(said, words):
    with pytest.raises(PegError) as refused:
        parse_pegs(said)

    assert words in str(refused.value)


def test_everything_wrong_is_told_at_once():
    with pytest.raises(PegError) as refused:
        parse_pegs("4-1, ?, not 9")

    assert len(str(refused.value).splitlines()) == 3
