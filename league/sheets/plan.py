"""The bailiff's peg plan: every peg along the bank, its section, its hazards, and the cautions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from league.columns import NOTHING
from league.sheets import cautions, faces
from league.sheets.binding import bind, opening_of
from league.sheets.flow import half, in_pairs, small_print
from league.sheets.frame import Foot
from league.sheets.ledger import Column, Name, ledger_block, set_ledger
from league.sheets.page import MM, Block, SheetHead, write_sheet

ROWS = 34  # of one ledger on one page


@dataclass(frozen=True, slots=True)
class PlannedPeg:
    """A peg as it stands along the bank; without a section nobody fishes there, and why."""

    peg: str
    section: str = ""
    why: str = ""
    easy_access: bool = False
    hazard: str = ""
    gap_after: bool = False


def peg_plan(head: SheetHead, pegs: Sequence[PlannedPeg]) -> bytes:
    """Print the bank in its own order, pegs left out included, with every hazard at its peg."""
    faces.load_faces()
    room = head.paper.room
    count = max(1, -(-len(pegs) // ROWS))
    count += count % 2 if len(pegs) > 6 else 0
    size = max(1, -(-len(pegs) // count))
    shares = [pegs[at : at + size] for at in range(0, len(pegs), size)]
    blocks = [
        *in_pairs([_ledger(share, half(room)) for share in shares], room),
        *small_print(
            (
                ("First of all", [cautions.FIRST, cautions.ADVICE]),
                ("This water", head.hazards),
                *((title, [words]) for title, words in cautions.ALL),
                ("Notes", head.notes),
            ),
            room,
        ),
    ]
    pages = bind(
        head,
        corner="Peg plan",
        opening=opening_of(head),
        blocks=blocks,
        foot=Foot(("Walked before the draw, and every peg looked at:",), ("Bailiff", "Secretary")),
    )
    return write_sheet(f"{head.title}: peg plan", head.club, head.series, pages)


def _ledger(pegs: Sequence[PlannedPeg], wide: float) -> Block:
    head = (
        Column("Peg", 13 * MM, "place"),
        Column("Section", 14 * MM),
        Column("Look out for", 0.0, "name", names=True),
    )
    rows = [(peg.peg, peg.section or NOTHING, Name(*_said(peg))) for peg in pegs]
    return ledger_block(set_ledger(head, rows, wide))


def _said(peg: PlannedPeg) -> tuple[str, str]:
    """What matters most, then the rest."""
    said = [
        "" if peg.section else f"left out: {peg.why}" if peg.why else "left out",
        peg.hazard.rstrip("."),
        "easy access" if peg.easy_access else "",
        "bank breaks after this peg" if peg.gap_after else "",
    ]
    first, *rest = [part for part in said if part] or [""]
    return first, ", ".join(rest)
