"""What is too high for a page, cut between its rows or paragraphs into parts that are not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from league.sheets.flow import headed
from league.sheets.ledger import Ledger, ledger_height
from league.sheets.page import MM, Block, Paper

# Of a page, for its margins, the head of a later page and the largest foot.
ROUND_A_BLOCK = 62 * MM
LATER = ", continued"


def deepest(paper: Paper) -> float:
    """How high a block may be, set as close as can be read, to stand on a page whole."""
    return paper.height - ROUND_A_BLOCK


def cut(ledger: Ledger, deep: float) -> list[Ledger]:
    """
    The *ledger* in as many parts as *deep* asks for, about even; later ones say what they continue.

    Rows are counted elsewhere; this is for names so long that even few rows fill a page.
    """
    high = ledger_height(ledger, 1.0)
    if high <= deep:
        return [ledger]
    bare = ledger_height(_rows(ledger, 0, 0), 1.0)
    heights = [
        ledger_height(_rows(ledger, at, at + 1), 1.0) - bare for at in range(len(ledger.rows))
    ]
    parts = -(-(high - bare) // (deep - bare))
    even = min(deep - bare, (high - bare) / parts + max(heights))
    starts, filled = [0], 0.0
    for at, each in enumerate(heights):
        if filled and filled + each > even:
            starts.append(at)
            filled = 0.0
        filled += each
    ends = [*starts[1:], len(heights)]
    return [
        _rows(ledger, start, end, later=start > 0) for start, end in zip(starts, ends, strict=True)
    ]


def _rows(ledger: Ledger, start: int, end: int, *, later: bool = False) -> Ledger:
    heads = tuple(
        (*lines[:-1], f"{lines[-1].removesuffix(LATER)}{LATER}")
        if later and column.names and lines[-1]
        else lines
        for column, lines in zip(ledger.columns, ledger.heads, strict=True)
    )
    return replace(
        ledger,
        rows=ledger.rows[start:end],
        lines=ledger.lines[start:end],
        heads=heads,
        after=frozenset(row - start for row in ledger.after if start <= row < end),
    )


def headed_parts(heading: str, paragraphs: Sequence[str], room: float, deep: float) -> list[Block]:
    """Paragraphs under a heading beside a bar, in as many blocks as *deep* asks for."""
    whole = headed(heading, paragraphs, room, barred=True)
    if whole.height(1.0) <= deep or len(paragraphs) < 2:
        return [whole]
    middle = len(paragraphs) // 2
    middle += middle % 2  # in two columns, the first is never the shorter
    again = f"{heading.removesuffix(LATER)}{LATER}"
    return [
        *headed_parts(heading, paragraphs[:middle], room, deep),
        *headed_parts(again, paragraphs[middle:], room, deep),
    ]
