"""Slots along the bank, worked by hand in slots and hundredths of the width."""

import pytest

from league.strip.pegs import StripPeg, rows_of, stand


def bank(*sections: str) -> list[StripPeg]:
    """Pegs 1 to n, one a letter of each run: "AAB" is two of A and one of B."""
    letters = "".join(sections)
    return [StripPeg(str(n), section=letter) for n, letter in enumerate(letters, start=1)]


def test_pegs_of_one_section_stand_side_by_side():
    across = stand(bank("AAA"))

    assert across.starts == (0, 1, 2)
    assert across.width == 3
    assert across.runs == ((0, 3),)
    assert across.stakes == ()


def test_a_boundary_takes_half_a_slot_and_the_bank_runs_on_through_it():
    across = stand(bank("AABB"))

    assert across.starts == pytest.approx((0, 1, 2.55, 3.55))
    assert across.width == pytest.approx(4.55)
    assert across.runs == (pytest.approx((0, 4.55)),)
    assert across.stakes == pytest.approx((2.275,))
    assert [(s.section, s.start, s.end) for s in across.stretches] == [
        ("A", 0, 2),
        ("B", pytest.approx(2.55), pytest.approx(4.55)),
    ]


@pytest.mark.parametrize(("left_out", "slots"), [(1, 0.85), (2, 1.7), (7, 1.7)])
def test_the_bank_breaks_where_pegs_are_left_out_two_slots_at_most(left_out, slots):
    across = stand([StripPeg("1"), StripPeg("9", gap_before=left_out)])

    assert across.starts == pytest.approx((0, 1 + slots))
    assert across.runs == ((0, 1), pytest.approx((1 + slots, 2 + slots)))


def test_a_boundary_in_a_gap_has_its_stake_in_the_middle_of_it():
    across = stand([StripPeg("1", "A"), StripPeg("3", "B", gap_before=1)])

    assert across.starts == pytest.approx((0, 2.1))  # 0.85 for the peg, 0.25 for the boundary
    assert across.stakes == pytest.approx((1.55,))


def test_an_empty_bank_is_no_bank():
    assert stand([]).width == 0


def test_many_pegs_fold_into_rows_of_two_sections():
    rows = rows_of(stand(bank("A" * 12, "B" * 12, "C" * 12, "D" * 12, "E" * 12)), most=30)

    assert [(row[0].number, row[-1].number) for row in rows] == [
        ("1", "24"),
        ("25", "48"),
        ("49", "60"),
    ]


def test_two_long_sections_have_a_row_each():
    assert [len(row) for row in rows_of(stand(bank("A" * 20, "B" * 20)), most=30)] == [20, 20]


def test_a_section_too_long_for_a_row_is_cut_evenly():
    assert [len(row) for row in rows_of(stand(bank("A" * 46, "B" * 5)), most=30)] == [23, 23, 5]
