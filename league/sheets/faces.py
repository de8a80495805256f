"""Type for paper: faces, widths, and words broken into lines. Names are never cut."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from functools import cache, lru_cache
from pathlib import Path
from threading import Lock
from typing import TypeAlias

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

# Words in Literata, figures and headings in Archivo Narrow; both SIL Open Font License.
WORDS = "Literata"
WORDS_BOLD = "Literata SemiBold"
BOARD = "Archivo Narrow"
BOARD_MID = "Archivo Narrow SemiBold"
BOARD_BOLD = "Archivo Narrow Bold"

FONTS = Path(__file__).parent / "fonts"
FILES = {
    WORDS: "Literata_400Regular.ttf",
    WORDS_BOLD: "Literata_600SemiBold.ttf",
    BOARD: "ArchivoNarrow_400Regular.ttf",
    BOARD_MID: "ArchivoNarrow_600SemiBold.ttf",
    BOARD_BOLD: "ArchivoNarrow_700Bold.ttf",
}
# Literata has the letters Archivo Narrow lacks: a third, Greek, Cyrillic.
STAND_INS = {BOARD: WORDS, BOARD_MID: WORDS_BOLD, BOARD_BOLD: WORDS_BOLD}

# A stretch of words in one face, and a line of them.
Run: TypeAlias = tuple[str, str]
Line: TypeAlias = tuple[Run, ...]

_loading = Lock()


@cache
def _load() -> None:
    # Otherwise the file would name a Helvetica that is not in it.
    rl_config.canvas_basefontname = WORDS
    # Plain compressed streams: a quarter less to send than in letters and figures.
    rl_config.useA85 = 0
    for face, file in FILES.items():
        pdfmetrics.registerFont(TTFont(face, str(FONTS / file)))


def load_faces() -> None:
    """Read the font files, once a process."""
    with _loading:
        _load()


@lru_cache(maxsize=8192)
def face_for(text: str, face: str) -> str:
    """The face that has every letter of *text*: *face* itself, or the one that stands in for it."""
    letters = pdfmetrics.getFont(face).face.charToGlyph
    if all(ord(letter) in letters for letter in text):
        return face
    return STAND_INS.get(face, face)


@lru_cache(maxsize=16384)
def _ems(text: str, face: str) -> float:
    return float(pdfmetrics.stringWidth(text, face_for(text, face), 1))


def width(text: str, face: str, size: float) -> float:
    """How wide *text* stands, in points."""
    return _ems(text, face) * size


def composed(text: str) -> str:
    """Letters with their accents in one piece and single spaces, as the faces hold them."""
    return " ".join(unicodedata.normalize("NFC", text).split())


def unbroken(text: str) -> str:
    """*text* with spaces at which no line is broken: 58 lb 0 oz stays together."""
    return text.replace(" ", "\u00a0")


def wrap(text: str, face: str, size: float, room: float) -> tuple[str, ...]:
    """Break *text* into lines no wider than *room* points; a word too long for a line is broken."""
    if width(text, face, size) <= room:
        return (text,)
    return tuple(line[0][0] for line in wrap_runs([(text, face)], size, room))


def wrap_runs(runs: Sequence[Run], size: float, room: float) -> tuple[Line, ...]:
    """Break words in several faces into lines no wider than *room* points."""
    lines: list[list[tuple[list[str], str]]] = [[]]
    used = 0.0
    for word, face in _words(runs, size, room):
        space = width(" ", face, size) if lines[-1] else 0.0
        wide = width(word, face, size)
        if lines[-1] and used + space + wide > room:
            lines.append([])
            used, space = 0.0, 0.0
        if lines[-1] and lines[-1][-1][1] == face:
            lines[-1][-1][0].append(word)
        else:
            lines[-1].append(([word], face))
        used += space + wide
    return tuple(tuple((" ".join(words), face) for words, face in line) for line in lines if line)


def _words(runs: Sequence[Run], size: float, room: float) -> Iterator[Run]:
    for text, wanted in runs:
        # One face for the whole run, as it will be written.
        face = face_for(text, wanted)
        # Only at plain spaces: a weight is kept on one line by its unbroken ones.
        for word in filter(None, text.split(" ")):
            while width(word, face, size) > room and len(word) > 1:
                part, word = _break(word, face, size, room)
                yield part, face
            yield word, face


def _break(word: str, face: str, size: float, room: float) -> Run:
    """Break a word too long for a line at its last hyphen that fits, or where it must."""
    for end in range(len(word) - 1, 1, -1):
        if word[end - 1] == "-" and width(word[:end], face, size) <= room:
            return word[:end], word[end:]
    for end in range(len(word) - 1, 1, -1):
        if width(word[:end] + "-", face, size) <= room:
            return f"{word[:end]}-", word[end:]
    return word[:1], word[1:]


def fitted(
    text: str, face: str, sizes: Sequence[float], room: float
) -> tuple[float, tuple[str, ...]]:
    """The largest of *sizes* at which *text* stands on one line; else the smallest, on several."""
    for size in sizes:
        if width(text, face, size) <= room:
            return size, (text,)
    return sizes[-1], wrap(text, face, sizes[-1], room)
