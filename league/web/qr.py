"""A QR code for the screen: one path of dark squares, drawn without a picture or inline style."""

from __future__ import annotations

from dataclasses import dataclass

import segno

QUIET = 4  # modules of white on every side, as ISO/IEC 18004 asks for


@dataclass(frozen=True, slots=True)
class Code:
    """A code laid out: how many modules wide with its white, and the path of the dark ones."""

    size: int
    path: str


def code_of(address: str) -> Code:
    """The code of *address*. Level M: a screen may be wet or cracked."""
    matrix = segno.make(address, error="m", micro=False, boost_error=False).matrix
    path = "".join(
        f"M{place + QUIET} {row + QUIET}h1v1h-1z"
        for row, modules in enumerate(matrix)
        for place, dark in enumerate(modules)
        if dark
    )
    return Code(len(matrix) + 2 * QUIET, path)
