"""CSV as it comes from a club's machine: bytes in, rows of text out, read as a stream."""

from __future__ import annotations

import csv
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from typing import IO

from league.rules.errors import Fault, SheetError

CHUNK = 65_536
LONGEST_LINE = 10_000  # bytes; a row of a sheet is a line
LONGEST_CELL = 200
LONGEST_NOTE = 1_000
LONGEST_ECHO = 60  # letters of a faulty row that are said again

NOT_CSV = {
    b"PK\x03\x04": "This is a spreadsheet, not a CSV file. Save it as CSV, UTF-8, and send that.",
    b"%PDF": "This is a PDF, not a CSV file. Send the sheet the PDF was made from, as CSV.",
    b"\xff\xfe": "This file is UTF-16. Save it as CSV, UTF-8, and send that.",
    b"\xfe\xff": "This file is UTF-16. Save it as CSV, UTF-8, and send that.",
}


@dataclass(frozen=True, slots=True)
class Record:
    """One row as a spreadsheet numbers it, the headings being row 1."""

    number: int
    cells: list[str]
    faults: tuple[Fault, ...] = ()


def refuse(words: str, row: int | None = None) -> SheetError:
    """A file that is not worth reading further, in one sentence."""
    return SheetError((Fault(row, "", words),))


def records(source: IO[bytes] | bytes | str) -> Iterator[Record]:
    """
    Yield the rows of *source*, headings first, with the faults of their text.

    Comma, semicolon or tab, whichever the headings use most; a byte-order mark is taken off.
    Raises `SheetError` where there is no reading on.
    """
    if isinstance(source, str):
        source = source.encode()
    stream = BytesIO(source) if isinstance(source, bytes) else source
    lines = _Lines(stream)
    first = next(lines, "")
    if any(unicodedata.category(letter) == "Cc" and letter not in "\t\r\n" for letter in first):
        raise refuse(
            "This is no CSV file: its first row holds signs that no text has. Send the sheet saved "
            "as CSV, UTF-8."
        )
    if not first.strip():
        raise refuse(
            "The first row is empty. It must hold the headings: section, peg, angler, team, weight."
        )
    delimiter = max(",;\t", key=first.count)
    reader = csv.reader(_again(first, lines), delimiter=delimiter, strict=True)
    number = 0
    while True:
        number += 1
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            raise refuse(f"{_csv_trouble(error)} Nothing after it can be read.", number) from error
        faults = tuple(Fault(number, "", words) for words in lines.taken_troubles())
        yield Record(number, [_clean(cell) for cell in cells], faults)


def _again(first: str, rest: Iterator[str]) -> Iterator[str]:
    yield first
    yield from rest


def _as_it_reads(text: str) -> str:
    """The beginning of a row for whoever looks for it; nothing of one that is no text."""
    if not text.isprintable():
        return ""
    shown = text if len(text) <= LONGEST_ECHO else f"{text[:LONGEST_ECHO]}…"
    return f": it reads {shown!r}"


class _Lines:
    """The lines of a byte stream as text, with what was wrong with each until it is asked for."""

    def __init__(self, stream: IO[bytes]) -> None:
        self._lines = _byte_lines(stream)
        self._troubles: list[str] = []

    def __iter__(self) -> Iterator[str]:
        return self

    def __next__(self) -> str:
        line = next(self._lines)
        if b"\0" in line:
            self._troubles.append(
                "There is a NUL in this row, which no sheet has. Type the row again."
            )
            line = line.replace(b"\0", b"")
        try:
            return line.decode()
        except UnicodeDecodeError:
            self._troubles.append(
                "This row is not UTF-8, probably Latin-1. Save the file as CSV, UTF-8, so that "
                f"names keep their accents{_as_it_reads(line.decode('latin-1').strip())}."
            )
            return line.decode("latin-1")

    def taken_troubles(self) -> list[str]:
        """What was wrong since the last time this was asked."""
        troubles, self._troubles = self._troubles, []
        return troubles


def _byte_lines(stream: IO[bytes]) -> Iterator[bytes]:
    kept, number, start = b"", 0, True
    while chunk := stream.read(CHUNK):
        if start:
            start = False
            for mark, words in NOT_CSV.items():
                if chunk.startswith(mark):
                    raise refuse(words)
            chunk = chunk.removeprefix(b"\xef\xbb\xbf")
        pieces = (kept + chunk).splitlines(keepends=True)
        # The last piece may go on in the next chunk, and a CR at its end may have its LF there.
        kept = pieces.pop() if pieces else b""
        for piece in pieces:
            number += 1
            yield _short_enough(piece, number)
        _short_enough(kept, number + 1)
    if kept:
        yield kept


def _short_enough(line: bytes, number: int) -> bytes:
    if len(line) > LONGEST_LINE:
        raise refuse(f"Line {number} is over {LONGEST_LINE} bytes long: this is no sheet.")
    return line


def _csv_trouble(error: csv.Error) -> str:
    words = str(error)
    if "expected after" in words:
        return (
            "A quotation mark stands inside a quoted cell. Write it twice, or quote the whole cell."
        )
    if "unexpected end" in words or "field larger" in words:
        return "A quotation mark opens here and never closes."
    return "This row is not written as CSV."


def _clean(cell: str) -> str:
    """The cell with single spaces and composed accents, and without a formula's shield."""
    text = unicodedata.normalize("NFC", " ".join(cell.split()))
    if text[:1] == "'" and text[1:2] in FORMULA:
        return text[1:]
    return text


# A spreadsheet takes a cell that starts so for a formula.
FORMULA = ("=", "+", "-", "@")


def shielded(cell: str) -> str:
    """*cell* so that no spreadsheet takes it for a formula; reading takes the shield off again."""
    return f"'{cell}" if cell.startswith(FORMULA) else cell


def text_trouble(cell: str, longest: int = LONGEST_CELL) -> str:
    """What is wrong with a cell of text, or nothing."""
    if len(cell) > longest:
        return f"This is {len(cell)} characters long. Keep it under {longest}."
    if not cell.isprintable():
        return f"There is an invisible character in {cell!r}. Type it again."
    return ""
