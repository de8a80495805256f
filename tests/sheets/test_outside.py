"""Sheets as other programs see them: fonts and words by Poppler's tools, and one by its pixels."""

from __future__ import annotations

import re
import subprocess
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageStat

from league.rules.books import WINTER_LEAGUE
from league.sheets.book import Chapter, season_book
from league.sheets.page import A4, LETTER
from league.sheets.result import result_pages, result_sheet
from league.sheets.table import table_pages, table_sheet
from tests.sheets.reading import pictures_of
from tests.sheets.scenes import bank_of, heron_lake, round_six, winter_table

# Made again with `python -m tests.sheets.test_outside`, and looked at before it is kept.
GOLDEN = Path(__file__).parent / "golden" / "round-6.png"
DOTS = 60
BLOCK = 8  # pixels: about one figure
# Of 255. Another version of Poppler smooths letters differently; another figure is far more.
TOLERANCE = 30


def said_by(program: list[str], pdf: bytes) -> str:
    """What one of Poppler's programs prints about *pdf*."""
    return subprocess.run(program, input=pdf, capture_output=True, check=True).stdout.decode()


def test_pdffonts_finds_every_font_embedded_cut_down_and_with_its_letters_named() -> None:
    result = heron_lake()
    head = round_six(club="Łąka, Žďár & Ørjan’s Ğüneş AC")
    pdf = season_book(
        head,
        [
            Chapter("Table", table_pages(head, winter_table())),
            Chapter("Round 6", result_pages(head, result, bank=bank_of(result))),
        ],
    )

    heading, _, *fonts = said_by(["pdffonts", "-"], pdf).splitlines()

    assert heading.split()[-5:] == ["emb", "sub", "uni", "object", "ID"]
    assert len(fonts) >= 4
    assert {tuple(font.split()[-5:-2]) for font in fonts} == {("yes", "yes", "yes")}


def test_pdftotext_reads_names_with_accents_as_they_are_written() -> None:
    names = "Łąka, Žďár & Ørjan’s Ğüneş AC, Þórður, Đorđe Ștefănescu, Ħal Għargħur, Ŵyn Ỳstrad"

    said = said_by(["pdftotext", "-", "-"], result_sheet(round_six(club=names), heron_lake()))

    assert names in " ".join(said.split())


@pytest.mark.parametrize("paper", [A4, LETTER], ids=["A4", "US Letter"])
def test_a_table_of_forty_teams_and_sixteen_rounds_adds_up_as_printed(paper: object) -> None:
    """The best five count in this league: so they are added up from the words on the paper."""
    season = replace(winter_table(rounds=16, teams=40), planned=16)

    said = said_by(["pdftotext", "-layout", "-", "-"], table_sheet(round_six(paper=paper), season))

    rows = [
        found
        for line in said.splitlines()
        # place, team, sixteen rounds, total, pounds and ounces
        if (found := re.fullmatch(r"\s*(\d+=?)\s+(\D+?)\s+((?:\d+\s+){18}\d+)\s*", line))
    ]
    assert len(rows) == 40
    assert WINTER_LEAGUE.season.best == 5
    for row in rows:
        *rounds, total, _, _ = (int(figure) for figure in row[3].split())
        assert sum(sorted(rounds, reverse=True)[:5]) == total, row[2]


def furthest_apart(one: Image.Image, other: Image.Image) -> float:
    """The mean difference of the two pictures where they differ most, a figure's width across."""
    assert one.size == other.size
    apart = ImageChops.difference(one.convert("L"), other.convert("L"))
    wide, high = apart.size
    return max(
        ImageStat.Stat(apart.crop((x, y, x + BLOCK, y + BLOCK))).mean[0]
        for x in range(0, wide - BLOCK + 1, BLOCK // 2)
        for y in range(0, high - BLOCK + 1, BLOCK // 2)
    )


def round_six_as_printed(**values: object) -> Image.Image:
    """The results sheet of round 6 at Heron Lake, in greys."""
    result = heron_lake()
    pdf = result_sheet(round_six(**values), result, bank=bank_of(result))
    return pictures_of(pdf, dots=DOTS)[0].convert("L")


def test_the_sheet_of_round_6_looks_as_it_did() -> None:
    assert furthest_apart(round_six_as_printed(), Image.open(GOLDEN)) < TOLERANCE


def test_one_figure_changed_is_another_picture() -> None:
    changed = round_six_as_printed(printed="18:08")

    assert furthest_apart(changed, Image.open(GOLDEN)) > TOLERANCE


if __name__ == "__main__":
    kept = BytesIO()
    round_six_as_printed().quantize(16).save(kept, "PNG", optimize=True)
    GOLDEN.parent.mkdir(exist_ok=True)
    GOLDEN.write_bytes(kept.getvalue())
