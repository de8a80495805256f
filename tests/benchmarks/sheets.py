"""
How long sheets take, as ratios to a bare canvas with the same fonts. Run it by hand:

    python -m tests.benchmarks.sheets

The limit draws the same tables, 8 sections of 24 and 24 teams, with nothing but the canvas: no
names fitted, no heights worked out. Ours and the limit are measured in turn, in processor time; a
goal counts as missed where even the least ratio is over its bound.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from io import BytesIO

from reportlab.pdfgen.canvas import Canvas

from league import columns
from league.rules.lines import MatchResult
from league.sheets import faces
from league.sheets.book import Chapter, season_book
from league.sheets.page import A4, SheetHead
from league.sheets.result import result_pages, result_sheet
from tests.benchmarks.draw import ratio, timed
from tests.sheets.scenes import bank_of, big_match, round_six

BARE = SheetHead(club="Marlbrook & District AC", title="Round 6, Heron Lake")


def bare_canvas(result: MatchResult) -> bytes:
    """The same tables in the same faces, each cell put where it is known to go."""
    out = BytesIO()
    canvas = Canvas(out, pagesize=(A4.width, A4.height), invariant=1, pageCompression=1,
                    initialFontName=faces.WORDS, lang="en-GB")  # fmt: skip
    team_columns = columns.team_columns([s.section for s in result.sections], result.unit)
    _table(canvas, [[c.value(line) for c in team_columns] for line in result.teams], 36, 540)
    section_columns = columns.section_columns(result.unit)
    for number, section in enumerate(result.sections):
        if number % 4 == 0:
            canvas.showPage()
        left, top = (36, 310)[number % 2], (800, 430)[number // 2 % 2]
        rows = [[c.value(line) for c in section_columns] for line in section.lines]
        _table(canvas, rows, left, 250, top=top)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def _table(canvas: Canvas, rows: list[list[str]], left: int, wide: int, top: int = 800) -> None:
    step = wide / len(rows[0])
    for down, row in enumerate(rows):
        y = top - down * 13
        for across, cell in enumerate(row):
            if across in (1, 2) and not cell[:1].isdigit():
                canvas.setFont(faces.WORDS, 9)
                canvas.drawString(left + across * step, y, cell)
            else:
                canvas.setFont(faces.BOARD_MID, 9.75)
                canvas.drawRightString(left + (across + 0.9) * step, y, cell)
        canvas.line(left, y - 3, left + wide, y - 3)


def sheets(result: MatchResult, count: int) -> Callable[[], bytes]:
    """So many sheets in one book, each worked out for itself."""
    head, bank = round_six(), bank_of(result)

    def made() -> bytes:
        pages = [result_pages(head, result, bank=bank) for _ in range(count)]
        return season_book(head, [Chapter(f"Round {n}", each) for n, each in enumerate(pages)])

    return made


def main() -> None:
    """Print the goals P1 and P2, and the sheet as it is printed."""
    result = big_match(8, 24)
    bank = bank_of(result)
    faces.load_faces()
    ratio(
        "P1 results sheet, the tables / bare canvas",
        lambda: result_sheet(BARE, result),
        lambda: bare_canvas(result),
        1.5,
    )
    ratio(
        "   with strip, rules, code / bare tables",
        lambda: result_sheet(round_six(), result, bank=bank),
        lambda: bare_canvas(result),
    )
    ratio("P2 ten sheets / one", sheets(result, 10), sheets(result, 1), 10)
    few, many = 16, 133  # of three pages each, with the contents: 49 and 403
    per_page = [
        (timed(sheets(result, many)) / (many * 3 + 4))
        / (timed(sheets(result, few)) / (few * 3 + 1))
        for _ in range(3)
    ]
    sys.stdout.write(
        f"P2 a page of 400 / a page of 50              {sorted(per_page)[1]:6.2f}  "
        f"[{min(per_page):.2f}-{max(per_page):.2f}]  <= 1.15\n"
    )
    size = len(sheets(result, many)()) / 1024 / (many * 3 + 4)
    sys.stdout.write(f"P3 KiB a page of the book                    {size:6.2f}  <= 4\n")


if __name__ == "__main__":
    main()
