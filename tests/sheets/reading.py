"""Reading a sheet back: its words, its fonts, its ink, and the code on it, as others see them."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pdfplumber
import zxingcpp
from PIL import Image
from pypdf import PdfReader


def reader(pdf: bytes) -> PdfReader:
    """The document as pypdf reads it."""
    return PdfReader(BytesIO(pdf))


def pages_of(pdf: bytes) -> list[str]:
    """The words of each page in the order in which they are read out, on one line."""
    return [re.sub(r"\s+", " ", page.extract_text()) for page in reader(pdf).pages]


def words_of(pdf: bytes) -> str:
    """The words of the whole sheet."""
    return " ".join(pages_of(pdf))


def lines_of(pdf: bytes) -> list[str]:
    """The words line by line, as they are copied out of a viewer."""
    return [line.strip() for page in reader(pdf).pages for line in page.extract_text().splitlines()]


def fonts_of(pdf: bytes) -> Iterator[tuple[str, bool]]:
    """Every font named on any page, and whether its letters are in the file."""
    for page in reader(pdf).pages:
        for font in page["/Resources"]["/Font"].values():
            font = font.get_object()
            yield str(font["/BaseFont"]), "/FontFile2" in font.get("/FontDescriptor", {})


def letters_of(pdf: bytes) -> list[dict[str, Any]]:
    """Every letter with its place, page by page."""
    with pdfplumber.open(BytesIO(pdf)) as opened:
        return [
            {**letter, "page_width": page.width, "page_height": page.height}
            for page in opened.pages
            for letter in page.chars
        ]


def paper_of(pdf: bytes) -> list[tuple[float, float]]:
    """Width and height of each page in points."""
    return [(float(page.mediabox.width), float(page.mediabox.height)) for page in reader(pdf).pages]


def pictures_of(pdf: bytes, *, dots: int = 150) -> list[Image.Image]:
    """Each page as printed in so many dots to the inch."""
    with TemporaryDirectory() as folder:
        subprocess.run(
            ["pdftoppm", "-r", str(dots), "-png", "-", f"{folder}/page"], input=pdf, check=True
        )
        return [Image.open(BytesIO(path.read_bytes())) for path in sorted(Path(folder).iterdir())]


def codes_of(pdf: bytes) -> list[str]:
    """What a phone reads on each page that carries a code."""
    return [code.text for picture in pictures_of(pdf) for code in zxingcpp.read_barcodes(picture)]
