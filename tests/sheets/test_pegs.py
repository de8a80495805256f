"""The draw sheet: everybody twice, by peg and by name, with hazards and every caution."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from league.sheets import cautions
from league.sheets.pegs import ClosedPeg, DrawnPeg, by_surname, peg_sheet
from tests.sheets.reading import codes_of, lines_of, pages_of, words_of
from tests.sheets.scenes import big_match, heron_lake, round_six

HEAD = round_six(
    headline="24 anglers on 24 pegs in four sections",
    address="https://marlbrook.example/matches/6/draw/",
    draw="Commitment 3f9a0c; seed 7bc1d2.",
    hazards=("Soft margin by peg 22.",),
)
LEFT_OUT = (ClosedPeg("13", "overhead power line"), ClosedPeg("20"))


def drawn_of(sections: int = 0, size: int = 0) -> list[DrawnPeg]:
    """Who is where, in bank order."""
    result = big_match(sections, size) if sections else heron_lake()
    rows = [line.row for section in result.sections for line in section.lines]
    rows.sort(key=lambda row: int(row.peg))
    return [DrawnPeg(row.peg, row.angler, row.team, row.section) for row in rows]


def test_by_peg_is_in_the_order_of_the_bank_and_by_name_in_that_of_surnames() -> None:
    words = words_of(peg_sheet(HEAD, drawn_of(), left_out=LEFT_OUT))
    by_peg, by_name = words.split("By name")
    assert "Section A 1 Ana Ferradas Lamplighters 2 Keith Wraggley Tannery Lane 3 Hugh" in by_peg
    assert by_name.index("Hugh Amblerton") < by_name.index("Winston Arberry")
    assert "Hugh Amblerton Bridge End A 3 Winston Arberry Millrace C 18" in by_name
    assert "Keith Wraggley Tannery Lane A 2" in by_name


@pytest.mark.parametrize(("sections", "size"), [(4, 12), (8, 24), (1, 60)])
def test_everybody_stands_in_both_lists_and_no_section_is_cut(sections: int, size: int) -> None:
    drawn = drawn_of(sections, size)
    pages = pages_of(peg_sheet(HEAD, drawn))
    words = " ".join(pages)
    for peg in drawn:
        assert f" {peg.peg} {peg.angler} {peg.team}" in words
        assert f"{peg.angler} {peg.team} {peg.section} {peg.peg}" in words
    if size < 40:
        for letter in {peg.section for peg in drawn}:
            (page,) = [page for page in pages if f"Section {letter} " in page]
            assert all(f" {peg.peg} {peg.angler}" in page for peg in drawn if peg.section == letter)


def test_every_caution_is_printed_whole_and_the_law_comes_first() -> None:
    words = words_of(peg_sheet(HEAD, drawn_of()))
    for title, said in cautions.ALL:
        assert f"{title}. {said}".replace("\u00a0", " ") in words
    assert "First of all. Venue rules, local codes and the law come first." in words
    assert {title for title, _ in cautions.ALL} == {
        "Overhead power lines", "Lightning", "Banks", "Water-borne disease", "Fish welfare",
    }  # fmt: skip


def test_hazards_stand_at_the_peg_and_with_the_cautions() -> None:
    drawn = drawn_of()
    drawn[0] = replace(drawn[0], hazard="overhead line behind", easy_access=True)
    words = words_of(peg_sheet(HEAD, drawn, left_out=LEFT_OUT))
    assert "1 Ana Ferradas Lamplighters, easy access, overhead line behind" in words
    assert "This water. Peg 1: overhead line behind. Soft margin by peg 22." in words
    assert "Left out. Peg 13: overhead power line. Peg 20." in words


def test_a_peg_with_nobody_on_it_says_so_and_is_in_no_list_of_names() -> None:
    words = words_of(peg_sheet(HEAD, [*drawn_of(), DrawnPeg("31", section="D")]))
    assert "31 nobody" in words.split("By name")[0]
    assert "nobody" not in words.split("By name")[1]


def test_the_draw_can_be_checked_from_the_sheet() -> None:
    pdf = peg_sheet(HEAD, drawn_of())
    assert codes_of(pdf) == ["https://marlbrook.example/matches/6/draw/"]
    assert "Draw. Commitment 3f9a0c; seed 7bc1d2." in words_of(pdf)


def test_surnames_are_put_in_order_without_regard_to_accents() -> None:
    names = ["Zoë Ash", "Čeněk Ábel", "Tom K. (junior)", "Ana Čech", "Bea Cole", "Łucja"]
    assert sorted(names, key=by_surname)[:4] == [
        "Čeněk Ábel", "Zoë Ash", "Ana Čech", "Bea Cole",
    ]  # fmt: skip


def test_a_match_without_sections_has_no_column_for_them() -> None:
    drawn = [DrawnPeg(str(n), f"Angler {n}") for n in range(1, 5)]
    lines = lines_of(peg_sheet(HEAD, drawn))
    assert "Peg Angler" in lines
    assert "Angler Peg" in lines
    assert not any(re.match(r"Section", line) for line in lines)
