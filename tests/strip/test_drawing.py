"""The strip laid out, worked by hand: per cent across, px from the top."""

import pytest

from league.rules.weights import DRAMS_IN_POUND, Unit
from league.strip import BEFORE, PAPER, SCALES, State, StripPeg, draw_strip

LB = DRAMS_IN_POUND


def weighed(number: int, pounds: float, section: str = "A", **more) -> StripPeg:
    return StripPeg(str(number), section, State.WEIGHED, int(pounds * LB), **more)


def test_the_heaviest_bar_is_full_height_and_the_rest_are_to_scale():
    strip = draw_strip([weighed(1, 4), weighed(2, 8), weighed(3, 2)], unit=Unit.LB_OZ)

    assert strip.baseline == 184  # 34 over the bars, and 150
    assert [(mark.y, mark.height) for mark in strip.marks] == [(109, 75), (34, 150), (146.5, 37.5)]
    assert [mark.x for mark in strip.marks] == [16.667, 50, 83.333]
    assert [mark.left for mark in strip.marks] == [5.667, 39, 72.333]
    assert {mark.width for mark in strip.marks} == {22}  # 66 % of a third
    assert [(run.x1, run.x2) for run in strip.runs] == [(2, 98)]


def test_light_lines_stand_at_the_first_round_weight_that_gives_four_or_fewer():
    strip = draw_strip([weighed(1, 8)], unit=Unit.LB_OZ)

    assert [(line.text, line.y) for line in strip.scale] == [
        ("2", 146.5),
        ("4", 109),
        ("6", 71.5),
        ("8", 34),
    ]


@pytest.mark.parametrize(
    ("pounds", "lines"),
    [
        (4, ["1", "2", "3", "4"]),
        (4.9, ["1", "2", "3", "4"]),
        (31.375, ["10", "20", "30"]),
        (62, ["20", "40", "60"]),
        (480, ["100", "200", "300", "400"]),
    ],
)
def test_the_scale_in_pounds(pounds, lines):
    strip = draw_strip([weighed(1, pounds)], unit=Unit.LB_OZ)

    assert [line.text for line in strip.scale] == lines
    assert strip.unit == "lb"


@pytest.mark.parametrize(
    ("grams", "lines"),
    [
        (5640, ["2", "4"]),
        (380, ["0.1", "0.2", "0.3"]),
        (2300, ["0.5", "1", "1.5", "2"]),
        (18500, ["5", "10", "15"]),
    ],
)
def test_the_scale_in_kilograms(grams, lines):
    peg = StripPeg("1", state=State.WEIGHED, weight=grams)

    strip = draw_strip([peg], unit=Unit.KG)

    assert [line.text for line in strip.scale] == lines
    assert strip.unit == "kg"
    assert strip.marks[0].weight == f"{grams / 1000:.3f}"


def test_under_a_pound_there_is_no_scale_to_read():
    strip = draw_strip([weighed(1, 0.5)], unit=Unit.LB_OZ)

    assert (strip.scale, strip.unit) == ((), "")


def test_a_weight_of_an_ounce_beside_a_big_one_can_still_be_seen():
    strip = draw_strip([weighed(1, 1 / 16), weighed(2, 100)], unit=Unit.LB_OZ)

    assert strip.marks[0].height == 2


def test_winners_of_sections_that_touch_have_the_second_weight_a_line_higher():
    pegs = [
        weighed(n, 8 if n in (12, 13) else 1, "A" if n < 13 else "B", wins_section=n in (12, 13))
        for n in range(1, 25)
    ]

    strip = draw_strip(pegs, unit=Unit.LB_OZ)

    # 24.55 slots in 260 px, so 16.4 px between the two; "8-0" at 15 px is 17.8 px wide.
    # The second stands 150 + 21 + 13 up, so the head grows from 34 to 41 px to hold it.
    assert strip.baseline == 191
    assert [strip.marks[at].weight_y for at in (11, 12)] == [20, 7]


def test_winners_with_room_between_them_are_both_just_over_their_floats():
    pegs = [weighed(1, 8, wins_section=True), weighed(2, 8, "B", wins_section=True)]

    assert [mark.weight_y for mark in draw_strip(pegs, unit=Unit.LB_OZ).marks] == [13, 13]


def test_equal_firsts_all_carry_a_float_and_their_plate_says_how_many():
    pegs = [
        weighed(1, 8, wins_section=True, best=True, name="Jo Ormesher"),
        weighed(2, 8, wins_section=True, best=True, name="Pete Brackwell"),
        weighed(3, 2, "B", wins_section=True, name="Len Cudworthy"),
    ]

    strip = draw_strip(pegs, unit=Unit.LB_OZ)

    assert [mark.kind for mark in strip.marks] == ["win", "win", "sec"]
    assert [(plate.letter, plate.who, plate.weight) for plate in strip.plates] == [
        ("A", "2 level", "8 lb 0 oz each"),
        ("B", "Len Cudworthy", "2 lb 0 oz"),
    ]


def test_whoever_has_no_weight_has_no_bar():
    states = [State.BLANK, State.NOT_WEIGHED, State.ABSENT, State.WAITING, State.EMPTY, State.NOW]

    strip = draw_strip([StripPeg(str(n), state=s) for n, s in enumerate(states)], unit=Unit.LB_OZ)

    assert not any(mark.has_bar or mark.weight or mark.height for mark in strip.marks)
    assert strip.scale == ()


def test_a_weight_still_to_send_has_a_bar_of_its_own_sign():
    pegs = [StripPeg("1", state=State.UNSENT, weight=LB), StripPeg("2", state=State.NOW)]

    strip = draw_strip(pegs, SCALES, unit=Unit.LB_OZ)

    assert [(mark.has_bar, mark.height, mark.weight) for mark in strip.marks] == [
        (True, 40, ""),
        (False, 0, ""),
    ]
    assert strip.signs == {"unsent", "now"}
    assert strip.height == 74  # 14 over the bars, 40, and 20 for the numbers


def test_a_match_without_sections_has_no_plates_and_no_stakes():
    strip = draw_strip([weighed(1, 4, ""), weighed(2, 5, "")], unit=Unit.LB_OZ)

    assert (strip.plates, strip.stakes) == ((), ())


def test_names_that_would_touch_wait_for_a_wider_page_or_are_left_to_the_tables():
    def named(pegs_a_section: int) -> object:
        pegs = [
            weighed(
                n, 9, "ABCDEFGH"[n // pegs_a_section],
                wins_section=n % pegs_a_section == 0, name="Winston Arberry-Ormesher",
            )
            for n in range(8 * pegs_a_section)
        ]  # fmt: skip
        return draw_strip(pegs, unit=Unit.LB_OZ)

    # Eight names of 24 letters: 178 px each at 13 px, and 960 px of strip give each 120.
    assert named(3).names_height == 0
    assert {plate.who for plate in named(3).plates} == {""}


def test_short_names_stand_under_their_plates():
    pegs = [weighed(1, 9, wins_section=True, name="Jo"), weighed(2, 9, "B", wins_section=True)]

    strip = draw_strip(pegs, unit=Unit.LB_OZ)

    assert (strip.names_height, strip.many) == (42, False)


def test_more_than_thirty_pegs_come_folded_too_all_rows_to_one_scale():
    pegs = [weighed(n, 60 if n == 1 else 30, "ABCD"[(n - 1) // 12]) for n in range(1, 49)]

    strip = draw_strip(pegs, unit=Unit.LB_OZ, key="bank")

    assert strip.baseline == 228  # 38 over the bars, and 190
    assert [row.title for row in strip.rows] == [
        "The bank, sections A and B, pegs 1 to 24",
        "The bank, sections C and D, pegs 25 to 48",
    ]
    assert [row.key for row in strip.rows] == ["bank-row-1", "bank-row-2"]
    assert strip.rows[0].marks[0].height == 110
    assert {mark.height for mark in strip.rows[1].marks} == {55}
    assert strip.rows[1].description == "Same scale as the other rows."


def test_thirty_pegs_and_paper_do_not_fold():
    pegs = [weighed(n, 3) for n in range(1, 41)]

    assert draw_strip(pegs[:30], unit=Unit.LB_OZ).rows == ()
    assert draw_strip(pegs, PAPER, unit=Unit.LB_OZ).rows == ()


def test_names_over_the_pegs_before_a_match():
    pegs = [StripPeg("41", "A", State.NAMED, label="Ormesher", me=True)]

    strip = draw_strip(pegs, BEFORE, unit=Unit.LB_OZ)

    assert (strip.marks[0].label, strip.marks[0].me, strip.marks[0].bold) == (
        "Ormesher",
        True,
        True,
    )
    assert strip.height == 172  # 108 for the names, 20 for numbers, 44 for plates


def test_weights_in_kilograms_wait_for_room_and_then_stand_over_their_bars():
    pegs = [StripPeg(str(n), "A", State.WEIGHED, 4000 - 10 * n) for n in range(1, 13)]

    kilos = draw_strip(pegs, unit=Unit.KG)
    pounds = draw_strip(pegs, unit=Unit.LB_OZ)

    # Twelve slots: 24 px each make 288, up to the next step of 64; 36 px make 432.
    assert (pounds.weights_from, kilos.weights_from) == (320, 448)
    # "3.990" is 28 px wide: with 36 px a slot no two touch, and none goes up a line.
    assert {round(mark.y - mark.weight_y, 1) for mark in kilos.marks} == {5.0}
