"""The QR code of a page's address, drawn as ink: no picture, sharp at any size."""

from __future__ import annotations

from functools import lru_cache

import segno

from league.sheets.page import Leaf

QUIET = 4  # modules of white on every side, as ISO/IEC 18004 asks for


@lru_cache(maxsize=64)
def _runs(address: str) -> tuple[int, tuple[tuple[int, int, int], ...]]:
    """The side in modules, and every run of dark ones as row, first, length."""
    # Level M: a corner may be torn off or rained on.
    matrix = segno.make(address, error="m", micro=False, boost_error=False).matrix
    runs = []
    for row, modules in enumerate(matrix):
        start = None
        for place, dark in enumerate([*modules, 0]):
            if dark and start is None:
                start = place
            elif not dark and start is not None:
                runs.append((row, start, place - start))
                start = None
    return len(matrix), tuple(runs)


def draw_code(leaf: Leaf, x: float, y: float, side: float, address: str) -> None:
    """Draw the code of *address*, quiet zone and all, in a square with its top at *y*."""
    modules, runs = _runs(address)
    step = side / (modules + 2 * QUIET)
    top = leaf.paper.height - y - QUIET * step
    path = leaf.canvas.beginPath()
    for row, first, length in runs:
        # A hair of overlap, so that no printer shows a white line between rows.
        path.rect(
            x + (QUIET + first) * step, top - (row + 1) * step - 0.02, length * step, step + 0.04
        )
    leaf.canvas.setFillGray(0)
    leaf.canvas.drawPath(path, stroke=0, fill=1)
    leaf.canvas.linkURL(
        address,
        (x, leaf.paper.height - y - side, x + side, leaf.paper.height - y),
        relative=0,
        thickness=0,
    )
