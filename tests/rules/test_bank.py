"""Pegs as people say them."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.rules.bank import DEEP, LINE, STEEP, parse_pegs, say_bank, say_pegs
from league.rules.errors import PegError
from league.rules.pegs import Peg


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


def test_what_to_look_out_for_is_said_of_its_pegs():
    pegs = parse_pegs(
        "1-4, overhead line at 1 and 2 (25 m behind), deep 2, steep banks 3, beware 4 (sluice, mud)"
    )

    assert [peg.hazard for peg in pegs] == [
        f"{LINE} (25 m behind)",
        f"{LINE} (25 m behind), {DEEP}",
        STEEP,
        "sluice, mud",
    ]


@pytest.mark.parametrize("word", ["line", "power line", "overhead lines", "Overhead power line"])
def test_a_line_is_a_line_however_it_is_called(word):
    assert parse_pegs(f"1, {word} 1")[0].hazard == LINE


def test_a_reason_may_have_commas_and_a_peg_of_the_bank_no_reason():
    assert parse_pegs("1, not 1 (reeds, mud)")[0].why == "reeds, mud"
    with pytest.raises(PegError, match="brackets give a reason"):
        parse_pegs("1 (mud)")
    with pytest.raises(PegError, match="is too long for a peg; 8 letters fit"):
        parse_pegs("123456789")


def test_a_bank_is_said_shortly():
    said = "1-24, 26-60, not 13, easy 1-4 and 60, gap after 24"

    assert say_bank(parse_pegs(said)) == said


def test_pegs_run_together_only_where_the_next_number_follows():
    assert say_pegs(["A9", "A10", "10", "11", "7a", "012", "13"]) == "A9-A10, 10-11, 7a, 012-13"


reasons = st.sampled_from(["", "flooded", "reeds, mud", "branch (low)"])
hazards = st.lists(
    st.sampled_from([LINE, f"{LINE} (25 m, behind)", DEEP, f"{STEEP} (slippery)", "sluice"]),
    unique=True,
    max_size=3,
).map(", ".join)
names = st.one_of(
    st.integers(1, 60).map(str), st.from_regex(r"[A-D][1-9]", fullmatch=True), st.just("7a")
)


@st.composite
def banks(draw):
    pegs = []
    for order, name in enumerate(draw(st.lists(names, unique=True, min_size=1, max_size=25)), 1):
        out = draw(st.booleans())
        pegs.append(
            Peg(
                name,
                order,
                gap_after=draw(st.booleans()),
                easy_access=draw(st.booleans()),
                left_out=out,
                why=draw(reasons) if out else "",
                hazard=draw(hazards),
            )
        )
    return tuple(pegs)


@given(banks())
def test_a_bank_that_is_said_is_read_back_the_same(bank):
    again = parse_pegs(say_bank(bank))

    assert [_sorted(peg) for peg in again] == [_sorted(peg) for peg in bank]


def _sorted(peg):
    """What is said of a peg comes back in the order of its kinds."""
    return replace(peg, hazard=", ".join(sorted(peg.hazard.split(", "))))


@given(st.text(max_size=60))
def test_any_text_is_a_bank_or_is_refused_in_words(text):
    pegs, words = _tried(text)

    assert bool(pegs) != bool(words)
    assert all(line.endswith(".") for line in words)
    assert [peg.order for peg in pegs] == list(range(1, len(pegs) + 1))


def _tried(text):
    try:
        return parse_pegs(text), []
    except PegError as refused:
        return (), str(refused).splitlines()
