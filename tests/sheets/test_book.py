"""The season book: contents that are right, bookmarks, and every sheet as it is printed alone."""

from __future__ import annotations

from io import BytesIO

import pdfplumber
import pytest

from league.sheets.book import Chapter, season_book
from league.sheets.page import MM
from league.sheets.result import result_pages, result_sheet
from league.sheets.table import table_pages
from tests.sheets.reading import lines_of, pages_of, reader
from tests.sheets.scenes import big_match, heron_lake, round_six, winter_table


@pytest.fixture(scope="module")
def book() -> bytes:
    """A table of one page, a round of three, and a round of one."""
    return season_book(
        round_six(title="Winter Team League 2026–27, the season"),
        [
            Chapter("The table", table_pages(round_six(title="The table"), winter_table())),
            Chapter(
                "Round 1",
                result_pages(round_six(title="Round 1, Marl Canal"), big_match(8, 24)),
                "Pennyfold win outright",
            ),
            Chapter("Round 6", result_pages(round_six(), heron_lake())),
            Chapter("Round 7, Fallow Mere", (), "Not published yet."),
        ],
    )


def test_the_contents_count_the_pages_of_the_book(book: bytes) -> None:
    lines = lines_of(book)
    assert "The table 2" in lines
    assert lines[lines.index("Round 1 3") + 1] == "Pennyfold win outright"
    assert "Round 6 6" in lines
    pages = pages_of(book)
    assert len(pages) == 6
    assert "Round 6, Heron Lake" in pages[5]


def test_a_round_without_a_sheet_is_listed_without_a_page(book: bytes) -> None:
    lines = lines_of(book)
    assert lines[lines.index("Round 7, Fallow Mere") + 1] == "Not published yet."


def test_a_press_on_a_line_of_the_contents_opens_its_sheet(book: bytes) -> None:
    document = reader(book)
    opened = [
        document.get_page_number(note.get_object()["/Dest"][0].get_object())
        for note in document.pages[0]["/Annots"]
        if "/Dest" in note.get_object()
    ]
    assert opened == [1, 2, 5]


def test_the_numbers_of_the_book_stand_at_the_outer_edge(book: bytes) -> None:
    with pdfplumber.open(BytesIO(book)) as opened:
        for number, page in enumerate(opened.pages, start=1):
            words = page.extract_words(keep_blank_chars=True)
            (said,) = (word for word in words if word["text"] == f"Book page {number} of 6")
            from_left, from_right = said["x0"], page.width - said["x1"]
            assert (from_right < 40) is bool(number % 2)
            assert (from_left < 40) is not bool(number % 2)
            # Printers leave five millimetres white.
            assert page.height - said["bottom"] > 4 * MM


def test_a_book_is_printed_on_both_sides_and_a_notice_on_one(book: bytes) -> None:
    def sides(pdf: bytes) -> str:
        return str(reader(pdf).trailer["/Root"]["/ViewerPreferences"]["/Duplex"])

    assert sides(book) == "/DuplexFlipLongEdge"
    assert sides(result_sheet(round_six(), heron_lake())) == "/Simplex"


def test_the_book_says_what_it_is_and_in_which_language(book: bytes) -> None:
    document = reader(book)
    about = document.metadata
    assert about is not None
    assert (about.title, about.author) == (
        "Winter Team League 2026–27, the season",
        "Marlbrook & District AC",
    )
    assert document.trailer["/Root"]["/Lang"] == "en-GB"


def test_every_sheet_has_a_bookmark(book: bytes) -> None:
    document = reader(book)
    marks = {
        mark.title: document.get_destination_page_number(mark)  # type: ignore[union-attr]
        for mark in document.outline
    }
    assert marks == {
        "Winter Team League 2026–27, the season": 0,
        "The table": 1,
        "Round 1, Marl Canal": 2,
        "Round 6, Heron Lake": 5,
    }


def test_a_sheet_keeps_its_own_page_numbers(book: bytes) -> None:
    assert "Page 2 of 3" in pages_of(book)[3]
