"""Rounds as they are pasted. 4 October 2026 is a Sunday, by any calendar on a wall."""

from __future__ import annotations

from datetime import date, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.files.pasted_rounds import (
    PastedRound,
    filled_in,
    numbered,
    read_rounds,
    write_round,
)
from league.rules.errors import SheetError

STARTS = date(2026, 9, 1)
SUNDAY = date(2026, 10, 4)


@pytest.mark.parametrize(
    "line",
    [
        "4 Oct, Heron Lake",
        "Sunday 4 October 2026, Heron Lake",
        "Heron Lake; 04/10/2026",
        "2026-10-04\tHeron Lake",
        "Sun 4th Oct, Heron Lake",
        "4.10.26, Heron Lake",
    ],
)
def test_a_date_is_read_as_people_write_it(line):
    assert read_rounds(line, starts=STARTS) == (PastedRound(1, SUNDAY, "Heron Lake"),)


def test_a_date_without_a_year_is_the_first_from_the_start_of_the_season_on():
    january, september = read_rounds("24 Jan\n1 Sep", starts=STARTS)

    assert (january.date, september.date) == (date(2027, 1, 24), STARTS)


def test_number_and_times_stand_in_cells_of_their_own():
    two, four = read_rounds(
        "Round 3, 4 Oct, Marl Canal, 10:00-15:00\n4\t18 Oct\t07:30\t08:30\t10.00\t15.00",
        starts=STARTS,
    )

    assert (two.number, two.times) == (3, (time(10), time(15)))
    assert (four.number, four.water) == (4, "")
    assert four.times == (time(7, 30), time(8, 30), time(10), time(15))


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("Heron Lake", "Row 1: There is no date. Write it as 4 Oct 2026."),
        ("Monday 4 October 2026", "Row 1: 4 October 2026 is a Sunday, not a Monday."),
        ("31 Apr, Heron Lake", "Row 1: There is no 31 Apr. Write the date as 4 Oct 2026."),
        ("4 Oct, 15:00-10:00", "Row 1: The times do not follow one another. Write 10:00-15:00."),
        ("4 Oct, 25:00", "Row 1: 25:00 is no time of the day."),
        (
            "4 Oct, 9:00-10:00-15:00",
            "Row 1: Write two times, all in and all out, or four with book-in and draw.",
        ),
        (
            "4 Oct, Heron Lake, Marl Canal",
            "Row 1: 'Marl Canal' is neither a date nor a time, and the water is Heron Lake.",
        ),
        ("1, 4 Oct\n1, 18 Oct", "Row 2: Round 1 is in row 1 already."),
        (
            "4 Oct 2062",
            "Row 1: Wed 4 Oct 2062 is far from the season, which starts Tue 1 Sep 2026.",
        ),
        ("0, 4 Oct", "Row 1: Rounds are numbered 1, 2, 3 ..."),
    ],
)
def test_what_cannot_be_is_said_with_its_row(line, words):
    with pytest.raises(SheetError) as refused:
        read_rounds(line, starts=STARTS)

    assert str(refused.value) == words


def test_a_fortnightly_season_is_filled_in_and_numbered_round_what_is_there():
    rounds = filled_in(SUNDAY, count=3, every=14, from_number=2, water="Heron Lake")

    assert [(each.number, each.date.isoformat()) for each in rounds] == [
        (2, "2026-10-04"),
        (3, "2026-10-18"),
        (4, "2026-11-01"),
    ]
    free = numbered([PastedRound(1, SUNDAY), PastedRound(2, SUNDAY, number=2)], taken=[1])
    assert [each.number for each in free] == [3, 2]


waters = st.from_regex(r"[A-Z][a-z]{4,8} (Lake|Mere)", fullmatch=True)


@given(
    st.integers(0, 300),
    waters,
    st.one_of(st.none(), st.integers(1, 40)),
    st.sampled_from([(), (time(10), time(15)), (time(7), time(8, 30), time(10), time(15))]),
)
def test_a_round_written_down_is_read_back(days, water, number, times):
    each = PastedRound(1, STARTS + timedelta(days=days), water, number, times)

    assert read_rounds(write_round(each), starts=STARTS) == (each,)


@given(st.text(max_size=120))
def test_any_text_is_read_or_refused_in_words(text):
    rounds, faults = _tried(text)

    assert all(each.words.endswith((".", "...")) for each in faults)
    assert all(abs(each.date - STARTS) < timedelta(days=800) for each in rounds)


def _tried(text):
    try:
        return read_rounds(text, starts=STARTS), ()
    except SheetError as refused:
        return (), refused.faults
