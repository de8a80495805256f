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
