"""Files as they are named on the command line: read, or refused in a sentence."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

from django.core.management.base import CommandError

from league.files import rulebook
from league.files.sheet import MOST_ROWS
from league.rules.books import READY_MADE
from league.rules.errors import RulebookError
from league.rules.rulebook import Rulebook

# Long enough for the longest league there could be, short enough for any memory.
MOST_BYTES = MOST_ROWS * 500
MOST_BOOK_BYTES = 100_000


@contextmanager
def opened(name: str) -> Iterator[IO[bytes]]:
    """The file called *name*, to be read as a stream; standard input where it is called `-`."""
    try:
        with sys.stdin.buffer if name == "-" else Path(name).open("rb") as file:
            yield file
    except FileNotFoundError as error:
        raise CommandError(f"There is no file {name}. Look at the spelling.") from error
    except OSError as error:
        raise CommandError(f"{name} cannot be read: {error.strerror}.") from error


def read_bytes(name: str, most: int = MOST_BYTES) -> bytes:
    """What the file called *name* holds; standard input where it is called `-`."""
    with opened(name) as file:
        content = file.read(most + 1)
    if len(content) > most:
        raise CommandError(f"{name} is longer than {most} bytes, too long to be what it should be.")
    return content


def read_book(name: str | None) -> Rulebook:
    """The rule book called *name*, ready-made or a TOML file; without a name, the default."""
    if name is None:
        return Rulebook()
    if name in READY_MADE:
        return READY_MADE[name]
    if not Path(name).is_file():
        known = ", ".join(READY_MADE)
        raise CommandError(
            f"{name} is neither a file nor a ready-made rule book. Ready-made are: {known}."
        )
    try:
        text = read_bytes(name, MOST_BOOK_BYTES).decode("utf-8-sig")
        return rulebook.read_toml(text)
    except UnicodeDecodeError as error:
        raise CommandError(f"{name} is not UTF-8 text. Save it as UTF-8.") from error
    except RulebookError as error:
        raise CommandError(f"{name} is no rule book:\n{error}") from error
