"""The results sheet says the right things, whole, in order, and in one ink."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from league.rules.books import AVERAGED_LOW, WINTER_LEAGUE
from league.rules.lines import MatchResult, Row, Status
from league.rules.matches import score_match
from league.rules.weights import Unit
from league.sheets.page import A4, LETTER
from league.sheets.result import TeamColumn, result_sheet
from tests.sheets.reading import (
    codes_of,
    letters_of,
    lines_of,
    pages_of,
    paper_of,
    pictures_of,
    words_of,
)
from tests.sheets.scenes import bank_of, big_match, heron_lake, round_six, rows_of

LEAGUE = TeamColumn(
    "League",
    {"Tannery Lane": "6", "Old Quarry": "5", "Pennyfold": "4", "Millrace": "3",
     "Lamplighters": "2", "Bridge End": "1"},
)  # fmt: skip


@pytest.fixture(scope="module")
def round_6() -> bytes:
    """The sheet of round 6 as it was pinned up."""
    result = heron_lake()
    return result_sheet(round_six(), result, bank=bank_of(result), season=[LEAGUE])


def test_the_answer_is_the_first_thing_said_under_the_title(round_6: bytes) -> None:
    assert lines_of(round_6)[:4] == [
        "Marlbrook & District AC Winter Team League 2026–27",
        "Round 6, Heron Lake",
        "Sunday 24 January 2027. Tannery Lane win on total weight. Provisional result, version 2, "
        "printed 18:09.",
        "Objections until Monday 20:00.",
    ]


def test_teams_stand_with_their_sections_total_weight_and_league_points(round_6: bytes) -> None:
    assert [line for line in lines_of(round_6) if re.match(r"\d Tannery|\d Millrace", line)] == [
        "1 Tannery Lane 5 6 5 2 18 61 4 6",
        "4 Millrace 4 0 6 3½ 13½ 51 12 3",
    ]


def test_every_team_total_is_the_sum_of_its_sections_as_printed(round_6: bytes) -> None:
    halves = re.compile(r"(\d*)(½?)")

    def figure(text: str) -> Fraction:
        whole, half = halves.fullmatch(text).groups()  # type: ignore[union-attr]
        return Fraction(int(whole or 0)) + (Fraction(1, 2) if half else 0)

    found = [
        line.split(" ")[-8:-3]
        for line in lines_of(round_6)
        if re.search(r"^\d (Tannery|Old Q|Penny|Mill|Lamp|Bridge)", line)
    ]
    assert len(found) == 6
    for *sections, total in found:
        assert sum(map(figure, sections)) == figure(total)


def test_sections_are_read_out_one_after_another_best_first(round_6: bytes) -> None:
    lines = lines_of(round_6)
    start = lines.index("A Peg Section A lb oz Points")
    assert lines[start + 1 : start + 9] == [
        "1 7 Dave Scrimshire Old Quarry 21 12 6",
        "2 2 Keith Wraggley Tannery Lane 14 9 5",
        "3 4 Sue Hadlowe Millrace 11 2 4",
        "4 5 Ian Peverill Pennyfold 9 14 3",
        "5 1 Ana Ferradas Lamplighters 6 0 2",
        "6 3 Hugh Amblerton Bridge End 4 5 1",
        "B Peg Section B lb oz Points",
        "1 11 Jo Ormesher Tannery Lane 27 6 6",
    ]


def test_a_nought_always_has_its_word(round_6: bytes) -> None:
    lines = lines_of(round_6)
    assert "– 10 Pete Brackwell Millrace blank 0" in lines
    assert "– 21 Ron Tibbald Lamplighters did not weigh 0" in lines


def test_equal_weights_share_a_place_and_its_points(round_6: bytes) -> None:
    assert "3= 24 Len Cudworthy Millrace 9 4 3½" in lines_of(round_6)
    assert "3= 29 Chris Maddern Lamplighters 9 4 3½" in lines_of(round_6)


def test_the_tie_is_explained_with_both_figures(round_6: bytes) -> None:
    assert (
        "How the tie was split Tannery Lane and Old Quarry both have 18 points. Tannery Lane are "
        "ahead on total weight: 61 lb 4 oz against 58 lb 0 oz." in words_of(round_6)
    )


def test_rules_notes_and_cautions_are_on_the_sheet(round_6: bytes) -> None:
    words = words_of(round_6)
    assert "A net over 40 lb 0 oz: what is over does not count." in words
    assert "Equal weights share the places they take." in words
    assert "Counted in each section: 6." in words
    assert "Best weight of the day: Winston Arberry, Millrace, peg 18, 31 lb 6 oz." in words
    assert "Left out: pegs 6, 13, 14, 20, 27, 28." in words
    assert "Keep 30 m from overhead power lines" in words
    assert "Venue rules, local codes and the law come first." in words
    assert "Match secretary Scales" in words


def test_the_strip_names_the_weights_and_the_section_winners(round_6: bytes) -> None:
    before_the_tables = words_of(round_6).split("Team A B C D")[0]
    assert "31-6" in before_the_tables
    assert "2-15" in before_the_tables
    assert "C Winston Arberry 31 lb 6 oz D Marek Wilczyk 19 lb 0 oz" in before_the_tables


def test_the_code_opens_the_page_whose_address_stands_beside_it(round_6: bytes) -> None:
    assert codes_of(round_6) == ["https://marlbrook.example/r/6"]
    said = "As a page, for screen readers too, every figure with its reason: marlbrook.example/r/6"
    assert said in words_of(round_6)


def test_it_is_printed_in_one_ink(round_6: bytes) -> None:
    assert {letter["non_stroking_color"] for letter in letters_of(round_6)} == {(0,)}
    picture = pictures_of(round_6, dots=50)[0].convert("RGB")
    assert all(red == green == blue for red, green, blue in set(picture.get_flattened_data()))


def test_four_sections_of_twelve_stand_on_one_page_with_every_rule() -> None:
    result = big_match(4, 12)
    pages = pages_of(result_sheet(round_six(), result, bank=bank_of(result)))
    assert len(pages) == 1
    assert "then best single weight; level on all of these, they share the place." in pages[0]


@pytest.mark.parametrize(("sections", "size"), [(5, 13), (8, 24), (3, 40), (12, 10)])
def test_no_section_is_cut_by_the_end_of_a_page(sections: int, size: int) -> None:
    result = big_match(sections, size)
    pages = pages_of(result_sheet(round_six(), result, bank=bank_of(result)))
    for section in result.sections:
        (page,) = [page for page in pages if f"Section {section.section} " in page]
        rows = page.split(f"Section {section.section} ")[1].split("Peg Section")[0]
        for line in section.lines:
            assert f"{line.row.peg} {line.row.angler} {line.row.team}" in rows


def test_later_pages_say_which_sheet_and_version_they_belong_to() -> None:
    result = big_match(8, 24)
    pages = pages_of(result_sheet(round_six(), result))
    assert len(pages) == 3
    for number, page in enumerate(pages, start=1):
        assert "Marlbrook & District AC" in page
        assert "rovisional result, version 2" in page
        assert f"Page {number} of 3" in page


def test_a_section_longer_than_a_page_goes_on_under_its_own_heading() -> None:
    result = big_match(2, 90, teams=False)
    words = words_of(result_sheet(round_six(), result))
    assert words.count("Section A, continued") == 2
    assert all(f" {number} " in words for number in range(1, 181))


def test_a_match_for_individuals_has_the_best_weights_in_place_of_teams() -> None:
    result = big_match(4, 12, teams=False)
    words = words_of(result_sheet(round_six(), result, bank=bank_of(result)))
    assert "Best of the day" in words
    assert "Team" not in words.split("Notes.")[0].replace("Winter Team League", "")


def test_a_match_of_one_section_is_one_table_in_two_columns() -> None:
    result = big_match(1, 30, teams=False)
    pdf = result_sheet(round_six(), result)
    assert len(pages_of(pdf)) == 1
    assert "Best of the day lb" not in words_of(pdf)
    assert words_of(pdf).count("Section A") == 2


def test_kilograms_stand_in_one_column() -> None:
    book = replace(AVERAGED_LOW, unit=Unit.KG)
    rows = rows_of(
        "A 1 Ana Ferradas | Saltway | 5.640\nA 2 Ian Peverill | Packhorse | blank", Unit.KG
    )
    lines = lines_of(result_sheet(round_six(rules=()), score_match(rows, book)))
    assert "A Peg Section A kg Points" in lines
    assert "1 1 Ana Ferradas Saltway 5.640 1" in lines
    assert any(line.startswith("Notes. Weighed in kilograms and grams.") for line in lines)


def test_drams_get_a_column_where_anybody_weighed_them() -> None:
    rows = rows_of("A 1 Ana Ferradas | Saltway | 5-6-4\nA 2 Ian Peverill | Packhorse | 4-2")
    lines = lines_of(result_sheet(round_six(), score_match(rows, AVERAGED_LOW)))
    assert "1 1 Ana Ferradas Saltway 5 6 4 1" in lines
    assert "2 2 Ian Peverill Packhorse 4 2 0 2" in lines


def test_what_a_net_over_the_limit_lost_is_said() -> None:
    rows = rows_of("A 1 Ana Ferradas | Saltway | 43-2\nA 2 Ian Peverill | Packhorse | 4-2")
    words = words_of(result_sheet(round_six(), score_match(rows, WINTER_LEAGUE)))
    assert "Peg 1, Ana Ferradas: 40-0 counts of 43-2." in words


def test_decisions_are_printed_with_name_and_reason() -> None:
    said = "Ron Tibbald disqualified by the committee: fished with two rods."
    words = words_of(result_sheet(round_six(decisions=(said,)), heron_lake()))
    assert f"Decisions. {said}" in words


LONG = "Maximilian-Alexander Featherstonehaugh-Cholmondeley de Vere Ponsonby-Fane the younger"
UNBROKEN = "Llanfairpwllgwyngyllgogerychwyrndrobwllllantysiliogogogoch"
ACCENTS = "Łukasz Čerňák-Őry, Ngô Đình Şükrü Œlafsson, Ελένη Жукова"


def awkward(name: str) -> MatchResult:
    """A match in which one angler and one team have that name."""
    rows = rows_of("A 1 Ana Ferradas | Saltway | 5-6\nA 2 Ian Peverill | Packhorse | not weighed")
    named = [replace(row, angler=name, team=name) for row in rows[1:]]
    return score_match([rows[0], *named], AVERAGED_LOW)


@pytest.mark.parametrize("name", [LONG, UNBROKEN, ACCENTS])
def test_no_name_is_cut_and_none_leaves_its_margins(name: str) -> None:
    head = round_six(club=name, title=f"{name} memorial, {name}", series=name, headline=name)
    pdf = result_sheet(head, awkward(name))
    bare = re.sub(r"[\s-]", "", words_of(pdf))
    # Club, title twice, series, headline, angler and his team, and the team's own row.
    assert bare.count(re.sub(r"[\s-]", "", name)) == 8
    for letter in letters_of(pdf):
        assert letter["x0"] >= A4.side - 0.5
        assert letter["x1"] <= letter["page_width"] - A4.side + 0.5
        assert letter["bottom"] <= letter["page_height"] - A4.bottom + 3


@pytest.mark.parametrize(
    "result", [awkward(LONG), big_match(8, 24), big_match(5, 13), big_match(4, 12)]
)
def test_no_letter_lies_on_another(result: MatchResult) -> None:
    bank = bank_of(result)
    pages: dict[int, list[dict[str, Any]]] = {}
    for letter in letters_of(result_sheet(round_six(), result, bank=bank)):
        if letter["text"].strip():
            pages.setdefault(letter["page_number"], []).append(letter)
    for letters in pages.values():
        letters.sort(key=lambda letter: letter["top"])
        for number, one in enumerate(letters):
            for other in letters[number + 1 :]:
                if other["top"] > one["bottom"]:
                    break
                assert _apart(one, other), (one["text"], other["text"], one["top"], one["x0"])


def _apart(one: dict[str, Any], other: dict[str, Any]) -> bool:
    """Whether two letters stand clear: the ink of a line is about half as high as its box."""
    across = min(one["x1"], other["x1"]) - max(one["x0"], other["x0"])
    down = min(one["bottom"], other["bottom"]) - max(one["top"], other["top"])
    return across <= 0.8 or down <= 0.55 * min(one["size"], other["size"])


def test_it_prints_on_us_letter_too() -> None:
    pdf = result_sheet(round_six(paper=LETTER), heron_lake())
    assert paper_of(pdf) == [(612.0, 792.0)]


def test_without_an_address_there_is_no_code_and_no_empty_promise() -> None:
    pdf = result_sheet(round_six(address=""), heron_lake())
    assert codes_of(pdf) == []
    assert "every figure with its reason" not in words_of(pdf)


def test_a_match_in_which_everybody_blanked_prints() -> None:
    rows = [Row("A", str(n), f"Angler {n}", "", Status.BLANK) for n in range(1, 7)]
    result = score_match(rows, AVERAGED_LOW)
    pdf = result_sheet(round_six(headline="A blank for everybody"), result, bank=bank_of(result))
    assert words_of(pdf).count("blank 3½") == 6


def test_whoever_left_early_keeps_the_weight_and_the_word() -> None:
    rows = rows_of("A 1 Ana Ferradas | Saltway | 5-6\nA 2 Ian Peverill | Packhorse | 4-2")
    rows[1] = replace(rows[1], status=Status.WITHDREW)
    words = words_of(result_sheet(round_six(), score_match(rows, AVERAGED_LOW)))
    assert "2 2 Ian Peverill Packhorse, withdrew 4 2 2" in words


def test_thirds_are_printed_although_the_narrow_face_has_none() -> None:
    column = TeamColumn("League", {"Tannery Lane": "11⅓"})
    words = words_of(result_sheet(round_six(), heron_lake(), season=[column]))
    assert "11⅓" in words
