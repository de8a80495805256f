"""The season book: contents that are right, bookmarks, and every sheet as it is printed alone."""

from __future__ import annotations

import pytest

from league.sheets.book import Chapter, season_book
from league.sheets.result import result_pages
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
        ],
    )


def test_the_contents_count_the_pages_of_the_book(book: bytes) -> None:
    lines = lines_of(book)
    assert "The table 2" in lines
    assert "Round 1 Pennyfold win outright 3" in lines
    assert "Round 6 6" in lines
    pages = pages_of(book)
    assert len(pages) == 6
    assert "Round 6, Heron Lake" in pages[5]


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
