"""The letters: on the page in pieces by range, on paper whole, licences beside both."""

from __future__ import annotations

import re

import pytest
from django.conf import settings
from fontTools.ttLib import TTFont

PAGE = settings.BASE_DIR / "league/web/static/league"
SHEETS = settings.BASE_DIR / "league/sheets/fonts"
FACE = re.compile(r"@font-face \{[^}]*?url\(([^)]+)\)[^}]*?unicode-range: ([^;]+);")
FACES = FACE.findall((PAGE / "base.css").read_text())


def in_range(sign: str, ranges: str) -> bool:
    for part in ranges.split(","):
        first, _, last = part.strip().removeprefix("U+").partition("-")
        if int(first, 16) <= ord(sign) <= int(last or first, 16):
            return True
    return False


def test_every_font_file_is_named_in_the_style_sheet_and_exists():
    named = {(PAGE / url).name for url, _ in FACES}

    assert named == {path.name for path in (PAGE / "fonts").glob("*.woff2")}
    assert len(named) == 10


@pytest.mark.parametrize("family", ["archivo-narrow-400", "archivo-narrow-700", "literata-400"])
@pytest.mark.parametrize("sign", list("0123456789½¼¾×÷–’“”£éÖßŁłŠžțŵŷĄ"))
def test_every_sign_of_a_result_has_one_file_that_holds_it(family, sign):
    files = [url for url, ranges in FACES if family in url and in_range(sign, ranges)]

    assert len(files) == 1
    assert ord(sign) in TTFont(PAGE / files[0]).getBestCmap()


STANDS_IN = re.compile(
    r'font-family: "((\w+) by \w+)"; font-weight: (\d+); src: (local[^;]+); size-adjust: ([\d.]+)%'
)
# Widths of letters as English has them, in ems, by the published metrics of these faces.
THEIRS = {
    ("Georgia", "400"): 0.4458, ("Georgia Bold", "600"): 0.5186,
    ("Noto Serif", "400"): 0.4810, ("Noto Serif Bold", "600"): 0.5120,
    ("Arial", "400"): 0.4458, ("Arial Bold", "600"): 0.4800, ("Arial Bold", "700"): 0.4800,
    ("Roboto", "400"): 0.4448, ("Roboto Bold", "600"): 0.4521, ("Roboto Bold", "700"): 0.4521,
    ("DejaVu Serif", "400"): 0.5162, ("DejaVu Serif Bold", "600"): 0.5693,
    ("DejaVu Sans", "400"): 0.5076, ("DejaVu Sans Bold", "600"): 0.5743,
    ("DejaVu Sans Bold", "700"): 0.5743,
}  # fmt: skip
PROSE = "the league table of the winter team league after round six with one round to fish"


def test_what_stands_in_for_a_letter_is_as_wide_as_the_letter():
    found = STANDS_IN.findall((PAGE / "base.css").read_text())
    tokens = (PAGE / "tokens.css").read_text()

    assert len(found) == len(THEIRS)
    for family, ours, weight, named, size in found:
        assert f'"{family}"' in tokens
        name = {"Literata": "literata", "Archivo": "archivo-narrow"}[ours]
        font = TTFont(PAGE / f"fonts/{name}-{weight}-latin.woff2")
        letters, widths = font.getBestCmap(), font["hmtx"]
        ems = sum(widths[letters[ord(sign)]][0] for sign in PROSE) / len(PROSE)
        theirs = THEIRS[re.findall(r'"([^"]+)"', named)[0], weight]
        assert float(size) / 100 * theirs == pytest.approx(ems / font["head"].unitsPerEm, rel=0.04)


@pytest.mark.parametrize("path", sorted(SHEETS.glob("*.ttf")), ids=lambda path: path.stem)
def test_the_fonts_for_paper_hold_the_same_signs(path):
    letters = TTFont(path).getBestCmap()

    assert [sign for sign in "0123456789½¼¾×÷–’£éŁžțŵ" if ord(sign) not in letters] == []


@pytest.mark.parametrize("folder", [PAGE / "fonts", SHEETS], ids=["page", "paper"])
@pytest.mark.parametrize("family", ["Archivo-Narrow", "Literata"])
def test_the_licence_lies_beside_the_fonts(folder, family):
    licence = (folder / f"OFL-{family}.txt").read_text()

    assert "SIL OPEN FONT LICENSE Version 1.1" in licence
    assert "Reserved Font Name" not in licence.split("-----------")[0]
