"""The season book: the tables and every round in one PDF, with contents and bookmarks."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from league.sheets import faces
from league.sheets.binding import bind, opening_of
from league.sheets.cutting import deepest
from league.sheets.flow import paragraph
from league.sheets.frame import Foot
from league.sheets.page import MM, TWO_SIDED, Block, Leaf, Page, SheetHead, write_sheet

NAME, BESIDE = 11.0, 9.4
NAME_LINE, BESIDE_LINE = 14.0, 12.4
PAGE = 14 * MM  # of the column of page numbers
OPENING = 20 * MM  # the title of the book and the sentence under it
NUMBER = 8.5  # of the book's page numbers
NUMBER_FOOT = 5.2 * MM  # from the edge of the paper: printers leave five white


@dataclass(frozen=True, slots=True)
class Chapter:
    """One sheet of the book: its name in the contents, what is said beside it, its pages."""

    name: str
    pages: Sequence[Page]
    beside: str = ""  # the answer: "Tannery Lane win on total weight"


def season_book(head: SheetHead, chapters: Sequence[Chapter]) -> bytes:
    """
    Bind *chapters* behind a list of contents; one without pages is only listed.

    Every sheet keeps its own page numbers and version, so that it can be laid beside the wall; the
    book's own numbers, which the contents count, stand at the outer edge.
    """
    faces.load_faces()
    contents = _contents(head, chapters, first=1)
    # The contents' own length moves what they list.
    contents = _contents(head, chapters, first=1 + len(contents))
    pages = [*contents, *(page for chapter in chapters for page in chapter.pages)]
    numbered = [
        replace(page, draw=_numbered(page, number, len(pages)))
        for number, page in enumerate(pages, start=1)
    ]
    return write_sheet(head.title, head.club, head.series, numbered, sides=TWO_SIDED)


def _contents(head: SheetHead, chapters: Sequence[Chapter], *, first: int) -> list[Page]:
    room = head.paper.room
    at = first
    rows = []
    for chapter in chapters:
        rows.append(_row(chapter, at, room))
        at += len(chapter.pages)
    # Shared out evenly where they need more than the first page has under its title.
    deep = deepest(head.paper) - OPENING
    parts = max(1, math.ceil(sum(row.height(0) for row in rows) / deep))
    share = max(1, -(-len(rows) // parts))
    blocks = [_stack(rows[start : start + share]) for start in range(0, len(rows), share)]
    if head.notes:
        blocks.append(paragraph([(" ".join(head.notes), faces.WORDS)], BESIDE, BESIDE_LINE, room))
    said = ("The table as it stands now:",) if head.address else ()
    return bind(
        head, corner="Season book", opening=opening_of(head), blocks=blocks, foot=Foot(said, ())
    )


def _row(chapter: Chapter, page: int, room: float) -> Block:
    """A line of the contents, which a reader on a screen may press."""
    wide = room - PAGE
    names = faces.wrap(chapter.name, faces.WORDS_BOLD, NAME, wide)
    beside = faces.wrap(chapter.beside, faces.WORDS, BESIDE, wide) if chapter.beside else ()
    high = len(names) * NAME_LINE + len(beside) * BESIDE_LINE + 2.4 * MM

    def draw(leaf: Leaf, x: float, y: float, tight: float) -> None:
        foot = y + 1.0 * MM
        for number, line in enumerate(names):
            foot += NAME_LINE
            leaf.say(x, foot - NAME_LINE * 0.28, line, faces.WORDS_BOLD, NAME)
            if chapter.pages and not number:
                at = foot - NAME_LINE * 0.28
                leaf.say_right(x + room, at, str(page), faces.BOARD_BOLD, NAME)
        for line in beside:
            foot += BESIDE_LINE
            leaf.say(x, foot - BESIDE_LINE * 0.28, line, faces.WORDS, BESIDE)
        leaf.rule(x, y + high, x + room, grey=0.45)
        if chapter.pages:
            leaf.lead_to(page - 1, x, y, room, high)

    return Block(lambda tight: high, draw)


def _stack(rows: Sequence[Block]) -> Block:
    """Lines of the contents, one under another."""

    def draw(leaf: Leaf, x: float, y: float, tight: float) -> None:
        for row in rows:
            row.draw(leaf, x, y, tight)
            y += row.height(tight)

    return Block(lambda tight: sum(row.height(tight) for row in rows), draw)


def _numbered(page: Page, number: int, pages: int) -> Callable[[Leaf], None]:
    """The page with its number in the book at its outer edge: right on a right-hand page."""

    def draw(leaf: Leaf) -> None:
        page.draw(leaf)
        paper, said = page.paper, f"Book page {number} of {pages}"
        foot = paper.height - NUMBER_FOOT
        if number % 2:
            leaf.say_right(paper.side + paper.room, foot, said, faces.BOARD_BOLD, NUMBER)
        else:
            leaf.say(paper.side, foot, said, faces.BOARD_BOLD, NUMBER)

    return draw
