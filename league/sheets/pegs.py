"""The draw sheet: who is on which peg, by peg and by name, for the bank and the bailiff."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from league.columns import NOTHING
from league.sheets import cautions, faces
from league.sheets.binding import bind, opening_of
from league.sheets.flow import half, in_pairs, small_print, under
from league.sheets.frame import Foot
from league.sheets.ledger import FIGURE, PAD, Column, Name, ledger_block, set_ledger
from league.sheets.page import MM, Block, SheetHead, write_sheet

MOST_ROWS = 40  # of one ledger on one page


@dataclass(frozen=True, slots=True)
class DrawnPeg:
    """A peg of the match and who sits on it."""

    peg: str
    angler: str = ""  # empty: a peg of the match that nobody sits on
    team: str = ""
    section: str = ""
    easy_access: bool = False
    hazard: str = ""  # "overhead power line behind"
    note: str = ""  # "reserve"


@dataclass(frozen=True, slots=True)
class ClosedPeg:
    """A peg that nobody may fish, and why."""

    peg: str
    why: str = ""


def peg_sheet(
    head: SheetHead, drawn: Sequence[DrawnPeg], *, left_out: Sequence[ClosedPeg] = ()
) -> bytes:
    """
    Print who is where: by peg in the order given, which is the bank's, then by name.

    Hazards stand at their pegs and again with the cautions, which are always printed whole.
    """
    faces.load_faces()
    room = head.paper.room
    by_peg = in_pairs(_by_peg(drawn, half(room)), room)
    by_name = in_pairs(_by_name([peg for peg in drawn if peg.angler], half(room)), room)
    blocks = [
        *_under_heading("By peg", by_peg),
        *_under_heading("By name", by_name),
        *small_print(
            (
                ("Left out", [_closed(peg) for peg in left_out]),
                ("This water", [*_hazards(drawn), *head.hazards]),
                *((title, [words]) for title, words in cautions.ALL),
                ("First of all", [cautions.FIRST, cautions.ADVICE]),
                ("Draw", [head.draw] if head.draw else []),
                ("Notes", head.notes),
            ),
            room,
        ),
    ]
    check = ("The draw, and how to check it:",) if head.address else ()
    pages = bind(
        head,
        corner=head.series or "Draw sheet",
        opening=opening_of(head),
        blocks=blocks,
        foot=Foot(check, ("Match secretary", "Witness")),
    )
    return write_sheet(f"{head.title}: who is where", head.club, head.series, pages)


def _under_heading(heading: str, blocks: Sequence[Block]) -> list[Block]:
    """The heading goes with the first block: it never stands alone at the foot of a page."""
    return [under(heading, blocks[0]), *blocks[1:]] if blocks else []


def _by_peg(drawn: Sequence[DrawnPeg], wide: float) -> list[Block]:
    blocks = []
    for section, together in groupby(drawn, key=lambda peg: peg.section):
        for pegs in _shares(list(together), two=len({peg.section for peg in drawn}) == 1):
            head = (
                # The section's plate takes the place of the heading.
                Column("" if section else "Peg", _peg_wide(pegs), "place"),
                Column(f"Section {section}" if section else "Angler", 0.0, "name", names=True),
            )
            rows = [(peg.peg, Name(peg.angler or "nobody", _beside(peg))) for peg in pegs]
            blocks.append(ledger_block(set_ledger(head, rows, wide, plate=section)))
    return blocks


def _by_name(drawn: Sequence[DrawnPeg], wide: float) -> list[Block]:
    with_sections = any(peg.section for peg in drawn)
    blocks = []
    for pegs in _shares(sorted(drawn, key=lambda peg: by_surname(peg.angler)), two=True):
        head = (
            Column("Angler", 0.0, "name", names=True),
            *((Column("Section", 13 * MM),) if with_sections else ()),
            Column("Peg", _peg_wide(pegs) + 4 * MM, bold=True),
        )
        rows = [
            (
                Name(peg.angler, peg.team),
                *((peg.section or NOTHING,) if with_sections else ()),
                peg.peg,
            )
            for peg in pegs
        ]
        blocks.append(ledger_block(set_ledger(head, rows, wide)))
    return blocks


def _shares(pegs: Sequence[DrawnPeg], *, two: bool) -> list[Sequence[DrawnPeg]]:
    """Cut into even shares that fit a page; a list that stands alone into *two* columns."""
    count = max(1, -(-len(pegs) // MOST_ROWS))
    if two and len(pegs) > 6:
        count += count % 2
    size = max(1, -(-len(pegs) // count))
    return [pegs[at : at + size] for at in range(0, len(pegs), size)]


def _peg_wide(pegs: Iterable[DrawnPeg]) -> float:
    widest = max((faces.width(peg.peg, faces.BOARD_BOLD, FIGURE) for peg in pegs), default=0.0)
    return max(widest + PAD + 1 * MM, 8.5 * MM)


def _beside(peg: DrawnPeg) -> str:
    said = [peg.team, peg.note, "easy access" if peg.easy_access else "", peg.hazard]
    return ", ".join(part for part in said if part)


def _closed(peg: ClosedPeg) -> str:
    return f"Peg {peg.peg}: {peg.why.rstrip('.')}." if peg.why else f"Peg {peg.peg}."


def _hazards(drawn: Sequence[DrawnPeg]) -> list[str]:
    return [f"Peg {peg.peg}: {peg.hazard.rstrip('.')}." for peg in drawn if peg.hazard]


def by_surname(name: str) -> tuple[str, str]:
    """
    A key that puts names in the order of a list on a wall: by surname, accents aside.

    >>> sorted(["Zoë Ash", "Ana Čech", "Tom K. (junior)"], key=by_surname)
    ['Zoë Ash', 'Ana Čech', 'Tom K. (junior)']
    """
    folded = unicodedata.normalize("NFKD", name).casefold()
    plain = "".join(letter for letter in folded if not unicodedata.combining(letter))
    words = [word for word in plain.split() if not word.startswith("(")]
    return (words[-1] if words else "", plain)
