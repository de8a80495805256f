"""A bank cut into sections: by hand, by trying every way, and by a published table."""

from itertools import combinations
from math import sqrt
from statistics import NormalDist, fmean

import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.rules.errors import PegError
from league.rules.pegs import (
    Peg,
    draw_numbers,
    make_sections,
    neighbours,
    room,
    section_letters,
    section_sizes,
)


def bank(count: int, **changed: object) -> list[Peg]:
    """So many plain pegs; *gaps*, *out* and *easy* name some of them."""
    gaps, out, easy = (changed.get(key, ()) for key in ("gaps", "out", "easy"))
    return [
        Peg(str(n), n, gap_after=n in gaps, left_out=n in out, easy_access=n in easy)
        for n in range(1, count + 1)
    ]


def names(run: tuple[Peg, ...]) -> str:
    """A run as people say it."""
    return f"{run[0].name}-{run[-1].name}"


@pytest.mark.parametrize(
    ("anglers", "sizes"),
    [
        (25, [5, 5, 5, 5, 5]),
        (24, [5, 5, 5, 5, 4]),
        (23, [5, 5, 5, 4, 4]),
        (22, [5, 5, 6, 6]),
        (21, [5, 5, 5, 6]),
    ],
)
def test_sections_of_five_may_be_four_or_six(anglers, sizes):
    """C24, a league's published table of section sizes, 2022: target 5, 4 to 6 allowed."""
    assert section_sizes(anglers, 5) == sizes


def test_eleven_anglers_do_not_make_sections_of_exactly_five():
    with pytest.raises(PegError, match="11 anglers cannot be put into sections of 5 to 5"):
        section_sizes(11, 5, (5, 5))


def test_forty_four_pegs_make_four_sections_of_eleven():
    cut = make_sections(bank(44))

    assert {letter: names(run) for letter, run in cut.sections.items()} == {
        "A": "1-11",
        "B": "12-22",
        "C": "23-33",
        "D": "34-44",
    }
    assert cut.spare == ()


def test_a_peg_left_out_is_in_no_section():
    cut = make_sections(bank(9, out=(4,)), sections=2)

    assert [[peg.name for peg in run] for run in cut.sections.values()] == [
        ["1", "2", "3", "5"],
        ["6", "7", "8", "9"],
    ]


def test_the_longer_section_goes_where_the_gap_wants_it():
    cut = make_sections(bank(7, gaps=(3,)), sections=2)

    assert [names(run) for run in cut.sections.values()] == ["1-3", "4-7"]
    assert cut.gaps_crossed == 0


def test_spare_pegs_make_room_for_a_gap():
    """Pegs 3 and 4 would do for a section, but they have a gap between them."""
    cut = make_sections(bank(6, gaps=(3,)), sections=2, size=2)

    assert [names(run) for run in cut.sections.values()] == ["1-2", "4-5"]
    assert [peg.name for peg in cut.spare] == ["3", "6"]


def test_an_easy_access_peg_is_not_left_spare():
    cut = make_sections(bank(5, easy=(5,)), sections=2, size=2)

    assert [names(run) for run in cut.sections.values()] == ["1-2", "4-5"]


def test_no_section_lies_on_two_waters():
    pegs = [Peg(str(n), n, water="lake" if n <= 5 else "mere") for n in range(1, 10)]

    cut = make_sections(pegs, sections=2)

    assert [names(run) for run in cut.sections.values()] == ["1-5", "6-9"]


def test_waters_that_cannot_be_cut_are_refused_in_words():
    pegs = [Peg(str(n), n, water="lake" if n <= 7 else "mere") for n in range(1, 11)]

    with pytest.raises(PegError, match="lake has 7; mere has 3 usable pegs"):
        make_sections(pegs, sections=2)


def test_too_few_pegs_are_refused_in_words():
    with pytest.raises(PegError, match="4 sections of 6 take 24 pegs, and 20 are usable"):
        make_sections(bank(20), sections=4, size=6)
    with pytest.raises(PegError, match="3 usable pegs do not make 4 sections"):
        make_sections(bank(3))


@given(
    count=st.integers(2, 11),
    sections=st.integers(1, 3),
    size=st.integers(1, 4) | st.none(),
    gaps=st.sets(st.integers(1, 11)),
    easy=st.sets(st.integers(1, 11)),
    water=st.integers(1, 11),
)
def test_no_cut_of_a_short_bank_is_better(count, sections, size, gaps, easy, water):
    """Every way to cut the bank is tried, and none spares fewer easy pegs or crosses fewer gaps."""
    pegs = [
        Peg(str(n), n, str(n <= water), gap_after=n in gaps, easy_access=n in easy)
        for n in range(1, count + 1)
    ]
    ways = []
    for ends in combinations(range(count + 1), sections):
        for lengths in _lengths(count, sections, size):
            runs = [pegs[end - n : end] for end, n in zip(ends, lengths, strict=True)]
            starts = [end - n for end, n in zip(ends, lengths, strict=True)]
            if starts[0] < 0 or any(a < b for a, b in zip(starts[1:], ends, strict=False)):
                continue
            if any(len({peg.water for peg in run}) != 1 for run in runs):
                continue
            used = [peg for run in runs for peg in run]
            spared = sum(peg.easy_access and peg not in used for peg in pegs)
            ways.append((spared, sum(peg.gap_after for run in runs for peg in run[:-1])))

    try:
        cut = make_sections(pegs, sections, size)
    except PegError:
        assert not ways
    else:
        spared = sum(peg.easy_access for peg in cut.spare)
        assert (spared, cut.gaps_crossed) == min(ways)


def _lengths(count, sections, size):
    """The sizes to try, in every order."""
    if size is not None:
        return [(size,) * sections]
    short, longer = divmod(count, sections)
    if not short:
        return []
    return [
        tuple(short + (n in chosen) for n in range(sections))
        for chosen in combinations(range(sections), longer)
    ]


FORM = (0.5, 0.1, 0, -0.1, -0.2, -0.3, 0, 0.1, 0.2, 0.4, -0.4, 0.3)


def luck(run):
    """How unlike the pegs of a run are: the spread of an average angler's placing, squared."""
    form = [FORM[peg.order - 1] for peg in run]
    placing = [
        1 + sum(NormalDist().cdf((q - p) / sqrt(2 * 0.7325)) for m, q in enumerate(form) if m != n)
        for n, p in enumerate(form)
    ]
    return len(run) * fmean((e - fmean(placing)) ** 2 for e in placing)


@pytest.mark.parametrize(
    ("size", "second_water", "runs", "cost"),
    [
        (None, 13, ["1-4", "5-8", "9-12"], 1.111975),
        (3, 13, ["2-4", "5-7", "8-10"], 0.109242),
        (3, 6, ["2-4", "7-9", "10-12"], 0.366340),
    ],
)
def test_sections_can_be_cut_by_what_the_pegs_give(size, second_water, runs, cost):
    """
    Three cuts found by trying them all, with pegs known to differ.

    In the last, 2-4 and 3-5 fall off by the same steps and are equally fair: the first stands.
    """
    pegs = [Peg(str(n), n, str(n < second_water)) for n in range(1, 13)]

    cut = make_sections(pegs, 3, size, unfairness=luck)

    assert [names(run) for run in cut.sections.values()] == runs
    assert sum(luck(run) for run in cut.sections.values()) == pytest.approx(cost, abs=5e-7)


def test_neighbours_are_parted_by_a_gap_a_peg_left_out_and_another_water():
    pegs = [
        Peg("1", 1),
        Peg("2", 2, gap_after=True),
        Peg("3", 3),
        Peg("4", 4, left_out=True),
        Peg("5", 5),
        Peg("6", 6),
        Peg("1", 7, water="mere"),
    ]

    pairs = [(one.name, other.name) for one, other in neighbours(pegs)]

    assert pairs == [("1", "2"), ("5", "6")]


def test_pegs_keep_their_numbers_in_the_draw_where_they_can():
    plain = [Peg("7", 1), Peg("3", 2)]
    lettered = [Peg("7a", 2), Peg("7", 1)]
    shared = [Peg("1", 1, "lake"), Peg("1", 2, "mere")]

    assert draw_numbers(plain) == ({plain[0]: 7, plain[1]: 3}, {})
    assert draw_numbers(lettered) == ({lettered[1]: 1, lettered[0]: 2}, {1: "7", 2: "7a"})
    assert draw_numbers(shared)[1] == {1: "1", 2: "1"}


def test_a_section_too_small_for_the_teams_is_named():
    cut = make_sections(bank(7), sections=2)

    assert room(cut.sections, teams=3) == []
    assert room(cut.sections, teams=4) == [
        "Section B has 3 pegs for 4 anglers. Add a peg to it, or take a team out."
    ]


def test_the_twenty_seventh_section_is_aa():
    assert section_letters(27)[-2:] == ["Z", "AA"]
