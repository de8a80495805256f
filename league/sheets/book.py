"""The season book: the table and every round in one PDF, with contents and bookmarks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from league.sheets import faces
from league.sheets.binding import bind
from league.sheets.frame import Foot, title_block
from league.sheets.ledger import Column, Name, ledger_block, set_ledger
from league.sheets.page import MM, Page, SheetHead, write_sheet

MOST_ROWS = 40


@dataclass(frozen=True, slots=True)
class Chapter:
    """One sheet of the book: its name in the contents, what is said beside it, its pages."""

    name: str
    pages: Sequence[Page]
    beside: str = ""  # the answer: "Tannery Lane win on total weight"


def season_book(head: SheetHead, chapters: Sequence[Chapter]) -> bytes:
    """
    Bind *chapters* behind a list of contents.

    Every sheet keeps its own page numbers and version; the contents count the pages of the book.
    """
    faces.load_faces()
    contents = _contents(head, chapters, first=1)
    # The contents' own length moves what they list.
    contents = _contents(head, chapters, first=1 + len(contents))
    pages = [*contents, *(page for chapter in chapters for page in chapter.pages)]
    return write_sheet(head.title, head.club, head.series, pages)


def _contents(head: SheetHead, chapters: Sequence[Chapter], *, first: int) -> list[Page]:
    room = head.paper.room
    rows = []
    at = first
    for chapter in chapters:
        rows.append((Name(chapter.name, chapter.beside), str(at)))
        at += len(chapter.pages)
    columns = (Column("Contents", 0.0, "name", names=True), Column("Page", 14 * MM, bold=True))
    blocks = [
        ledger_block(set_ledger(columns, rows[start : start + MOST_ROWS], room))
        for start in range(0, len(rows), MOST_ROWS)
    ]
    said = ("Every figure with its reason:",) if head.address else ()
    return bind(
        head,
        corner=head.series,
        opening=[title_block(head.title, room)],
        blocks=blocks,
        foot=Foot(said, ()),
    )
