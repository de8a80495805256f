"""The weigh sheet: the walk in order, room to write, gaps and cautions where they are walked."""

from __future__ import annotations

from io import BytesIO
from itertools import pairwise

import pdfplumber

from league.rules.weights import Unit
from league.sheets.page import A4, LETTER
from league.sheets.weigh import Stop, weigh_sheet
from tests.sheets.reading import codes_of, letters_of, pages_of, paper_of, words_of
from tests.sheets.scenes import round_six

POWER = "Peg 61 left out: overhead power line. Keep poles and lines well away."
WALK = [
    Stop("60", "Ana Ferradas", "Lamplighters", "C", address="https://marlbrook.example/s/7/60"),
    Stop("62", "Alan Garrowby", "Pennyfold", "C", (POWER,)),
    Stop("63", "Steve Dunnaway", "Pennyfold", "D"),
    Stop("64", "Della Scarth", "Bridge End, reserve", "D"),
]
HEAD = round_six(
    title="Round 7, Fallow Mere",
    date="Sunday 14 February 2027",
    notes=("All out 15:00.", "Net limit 40 lb."),
    hazards=("Steep, wet bank from 63 to 66.",),
)


def long_walk(stops: int) -> list[Stop]:
    """Two sections of numbered pegs."""
    return [
        Stop(str(number), f"Angler {number}", "Saltway", "A" if number * 2 <= stops else "B",
             address=f"https://marlbrook.example/s/7/{number}")
        for number in range(1, stops + 1)
    ]  # fmt: skip


def test_pegs_stand_in_the_order_of_the_walk_with_gaps_and_sections_between() -> None:
    words = words_of(weigh_sheet(HEAD, WALK, unit=Unit.LB_OZ, who="pair 2"))
    told = ["pair 2: pegs 60 to 64", "All out 15:00. Net limit 40 lb. Write pounds, then ounces.",
            "C Section C", "60 Ana Ferradas Lamplighters", POWER, "62 Alan Garrowby Pennyfold",
            "D Section D", "63 Steve Dunnaway Pennyfold",
            "64 Della Scarth Bridge End, reserve"]  # fmt: skip
    places = [words.index(each) for each in told]
    assert places == sorted(places)


def test_cautions_and_hazards_are_at_the_foot() -> None:
    words = words_of(weigh_sheet(HEAD, WALK, unit=Unit.LB_OZ))
    assert "Steep, wet bank from 63 to 66. Keep 30 m from overhead power lines" in words
    assert "Fish back at once" in words
    assert "Venue rules, local codes and the law come first." in words
    assert "Scales Sheets ticked off by" in words


def test_the_code_of_each_page_opens_the_scales_at_its_first_peg() -> None:
    pdf = weigh_sheet(HEAD, long_walk(30), unit=Unit.LB_OZ)
    first = [
        page.split("Scan to open the scales at peg ")[1].split(".")[0] for page in pages_of(pdf)
    ]
    assert len(first) > 1
    assert codes_of(pdf) == [f"https://marlbrook.example/s/7/{peg}" for peg in first]


def test_every_peg_of_a_long_walk_is_on_one_page_and_its_section_is_named_there() -> None:
    pages = pages_of(weigh_sheet(HEAD, long_walk(60), unit=Unit.LB_OZ))
    for number in range(1, 61):
        (page,) = [page for page in pages if f" {number} Angler {number} Saltway" in page]
        assert f"Section {'A' if number <= 30 else 'B'}" in page


def test_rows_are_twelve_millimetres_and_more() -> None:
    pdf = weigh_sheet(HEAD, long_walk(60), unit=Unit.LB_OZ)
    with pdfplumber.open(BytesIO(pdf)) as opened:
        for page in opened.pages:
            pegs = [word["bottom"] for word in page.extract_words() if word["height"] > 17
                    and word["x0"] < A4.side + 40 and word["text"].isdigit()]  # fmt: skip
            steps = [lower - upper for upper, lower in pairwise(pegs)]
            assert min(steps) >= 12 * 72 / 25.4 - 0.2


def test_a_match_in_kilograms_asks_for_kilograms_then_grams() -> None:
    words = words_of(weigh_sheet(HEAD, WALK, unit=Unit.KG))
    assert "Write kilograms, then grams." in words
    assert words.count("kg g") == 4  # three nets and the total
    assert " oz" not in words


def test_so_many_nets_have_so_many_boxes_and_the_signature_keeps_its_room() -> None:
    pdf = weigh_sheet(HEAD, WALK, unit=Unit.LB_OZ, nets=5)
    assert "Net 5" in words_of(pdf)
    signed = [letter for letter in letters_of(pdf) if letter["text"] == "S"]
    assert any(letter["x0"] <= A4.width - A4.side - 20 * 72 / 25.4 + 6 for letter in signed)


def test_long_names_and_pegs_are_whole_and_stay_in_their_boxes() -> None:
    name = "Maximilian-Alexander Featherstonehaugh-Cholmondeley de Vere Ponsonby-Fane"
    stop = Stop("North Bank 112b", name, "Llanfairpwllgwyngyllgogerychwyrndrobwll", "A")
    pdf = weigh_sheet(HEAD, [stop, *WALK], unit=Unit.LB_OZ)
    bare = words_of(pdf).replace(" ", "").replace("-", "")
    assert name.replace(" ", "").replace("-", "") in bare
    assert "Llanfairpwllgwyngyllgogerychwyrndrobwll" in bare
    in_box = [letter for letter in letters_of(pdf)
              if "Literata" in letter["fontname"] and 200 < letter["top"] < 260]  # fmt: skip
    assert in_box
    assert all(letter["x1"] <= A4.side + 55 * 72 / 25.4 for letter in in_box)


def test_it_prints_on_its_side_and_on_us_letter() -> None:
    turned = weigh_sheet(round_six(paper=LETTER.turned()), WALK, unit=Unit.LB_OZ)
    assert paper_of(turned) == [(792.0, 612.0)]


def test_an_empty_walk_prints_an_empty_sheet() -> None:
    assert "Peg Angler Net 1 lb oz" in words_of(weigh_sheet(HEAD, [], unit=Unit.LB_OZ))
