"""The payout sheet: who takes what and why, with a line to sign on for each; it all adds up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from league.sheets import cautions, faces
from league.sheets.binding import bind
from league.sheets.flow import paragraph, small_print, under
from league.sheets.frame import LEAD, LEAD_LINE, Foot, lead_runs, title_block
from league.sheets.ledger import Column, Name, ledger_block, set_ledger
from league.sheets.page import MM, Block, SheetHead, write_sheet

MOST_ROWS = 30  # of one ledger on one page: room for a hand to write
SUM = 22 * MM
SIGNED = 62 * MM
LINE = "." * 42  # to sign on


@dataclass(frozen=True, slots=True)
class PaidLine:
    """One angler's line: the whole sum, and what it is made of."""

    name: str
    made_of: str  # "Frame £18.00, Section B £9.00"
    sum: str
    had: str = ""  # "had £18.00": handed over before the sheet was printed


@dataclass(frozen=True, slots=True)
class SumLine:
    """One other sum: what came in, a fee, what is kept."""

    name: str
    why: str
    sum: str


def payout_sheet(
    head: SheetHead,
    paid: Sequence[PaidLine],
    *,
    came: Sequence[SumLine],
    others: Sequence[SumLine],
    totals: tuple[str, str],
    reasons: Sequence[str],
    pools: Sequence[str],
) -> bytes:
    """
    Print the payouts as fixed.

    *totals* are what came in and what goes to anglers. The same arguments give the same bytes.
    """
    faces.load_faces()
    room = head.paper.room
    total, prizes = totals
    blocks = [
        *_paid(paid, prizes, room),
        under("What came in", _sums(came, total, room)),
        under(
            "What goes out",
            _sums([SumLine("To anglers, as signed for above", "", prizes), *others], total, room),
        ),
        *small_print(
            (
                ("Why each sum is what it is", list(reasons)),
                ("As announced", list(pools)),
                ("First of all", [cautions.FIRST, *head.notes]),
            ),
            room,
        ),
    ]
    opening = [title_block(f"Payouts: {head.title}", room)]
    if lead := lead_runs(head):
        opening.append(paragraph(lead, LEAD, LEAD_LINE, room))
    pages = bind(
        head,
        corner=head.series or "Payouts",
        opening=opening,
        blocks=blocks,
        foot=Foot(("The payouts, for the club's officers:",), ("Treasurer", "Match secretary")),
    )
    return write_sheet(f"{head.title}: payouts", head.club, head.series, pages)


def _paid(paid: Sequence[PaidLine], total: str, room: float) -> list[Block]:
    if not paid:
        return [paragraph([("Nobody is paid.", faces.WORDS)], LEAD, LEAD_LINE, room)]
    columns = (
        Column("Angler", 0.0, "name", names=True),
        Column("£", SUM, bold=True),
        Column("Received, signed", SIGNED),
    )
    rows = [(Name(line.name, line.made_of), line.sum, line.had or LINE) for line in paid]
    rows.append((Name("To anglers in all"), total, ""))
    cut = [rows[at : at + MOST_ROWS] for at in range(0, len(rows), MOST_ROWS)]
    return [
        ledger_block(
            set_ledger(
                columns,
                part,
                room,
                after=frozenset([len(part) - 2]) if part is cut[-1] else frozenset(),
            )
        )
        for part in cut
    ]


def _sums(lines: Sequence[SumLine], total: str, room: float) -> Block:
    columns = (Column("", 0.0, "name", names=True), Column("£", SUM, bold=True))
    rows = [(Name(line.name, line.why), line.sum) for line in lines]
    rows.append((Name("In all"), total))
    return ledger_block(set_ledger(columns, rows, room, after=frozenset([len(rows) - 2])))
