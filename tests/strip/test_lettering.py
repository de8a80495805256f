"""What a strip has room to write."""

import pytest
from django.conf import settings
from fontTools.ttLib import TTFont

from league.strip import lettering
from league.strip.lettering import (
    Text,
    figure_width,
    from_width,
    key_numbers,
    lift,
    number_slot,
)
from league.strip.pegs import StripPeg, stand


def numbers_kept(pegs: list[StripPeg], narrowest: float) -> list[str]:
    kept = key_numbers(pegs, stand(pegs), narrowest)
    return [peg.number for index, peg in enumerate(pegs) if index in kept]


def section(letter: str, first: int, count: int, winner: int) -> list[StripPeg]:
    return [
        StripPeg(str(n), section=letter, wins_section=n == winner)
        for n in range(first, first + count)
    ]


@pytest.mark.parametrize(
    ("sign", "ems"),
    [
        ("0", lettering.DIGIT),
        ("7", lettering.DIGIT),
        ("-", lettering.HYPHEN),
        (".", lettering.POINT),
    ],
)
def test_the_widths_of_the_figures_are_those_of_the_font(sign, ems):
    font = TTFont(settings.BASE_DIR / "league/sheets/fonts/ArchivoNarrow_700Bold.ttf")
    advance = font["hmtx"][font.getBestCmap()[ord(sign)]][0]

    assert ems == pytest.approx(advance / font["head"].unitsPerEm, abs=0.0005)


def test_a_weight_is_as_wide_as_its_signs():
    assert figure_width("12-8", 10) == pytest.approx(4.56 * 3 + 2.73)


def test_two_weights_that_would_touch_the_second_goes_up_a_line():
    first, second = Text(0.5, 100, "12-8", 15), Text(1.5, 104, "11-15", 15)

    assert [text.y for text in lift([first, second], slot=10)] == [100, 113]


def test_weights_far_enough_apart_stay_where_they_are():
    apart = [Text(0.5, 100, "12-8", 15), Text(1.5, 104, "11-15", 15)]
    above = [Text(0.5, 100, "12-8", 15), Text(1.5, 113, "11-15", 15)]

    assert lift(apart, slot=40) == apart
    assert lift(above, slot=10) == above


def test_a_third_weight_goes_up_two_lines():
    level = [Text(n + 0.5, 50, "10-0", 15) for n in range(3)]

    assert [text.y for text in lift(level, slot=8)] == [50, 63, 76]


def test_every_number_is_written_from_a_whole_step_of_sixteen_px_a_slot():
    assert from_width(14, 16) == 256  # 224, up to the next step of 64
    assert from_width(16, 16) == 256
    assert from_width(16.55, 16) == 320


def test_a_narrow_strip_keeps_the_ends_and_the_winner_of_each_section():
    pegs = section("A", 1, 12, winner=6) + section("B", 13, 12, winner=20)

    # 24.55 slots in 260 px: 10.6 px a slot. Pegs 12 and 13 are 16.4 px apart, and 11.9 px wide.
    assert numbers_kept(pegs, 260) == ["1", "6", "12", "13", "20", "24"]


def test_an_end_gives_way_within_three_slots_of_its_winner():
    assert numbers_kept(section("A", 1, 12, winner=3), 260) == ["3", "12"]
    assert numbers_kept(section("A", 1, 12, winner=4), 260) == ["1", "4", "12"]


def test_an_end_gives_way_where_it_would_touch_its_neighbour():
    pegs = section("A", 101, 15, winner=0) + section("B", 116, 15, winner=0)

    # 30.55 slots in 260 px: pegs 115 and 116 are 13.2 px apart, and 17.8 px wide.
    assert numbers_kept(pegs, 260) == ["101", "115", "130"]


@pytest.mark.parametrize(("numbers", "slot"), [(["1", "30"], 16), (["99", "203"], 21), ([], 16)])
def test_long_numbers_want_more_room(numbers, slot):
    """A figure is 0.456 em of 13 px: three of them are 17.8 px, and 3 px stand between."""
    assert number_slot(numbers) == slot
