"""From a worked-out result and the bank it was fished on to the strip."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from league.rules.lines import AnglerLine, MatchResult, Status
from league.rules.pegs import Peg
from league.strip.drawing import RESULT, Purpose, draw_strip
from league.strip.pegs import State, StripPeg
from league.strip.shapes import Strip

STATES = {
    Status.WEIGHED: State.WEIGHED,
    Status.BLANK: State.BLANK,
    Status.NOT_WEIGHED: State.NOT_WEIGHED,
    Status.WITHDREW: State.NOT_WEIGHED,
    Status.ABSENT: State.ABSENT,
    Status.VACANT: State.EMPTY,
    Status.DISQUALIFIED: State.DISQUALIFIED,
}


@dataclass(frozen=True, slots=True)
class BankPeg:
    """A peg of the match where it stands on the bank."""

    number: str
    order: int
    gap_before: int = 0  # pegs left out, or a break in the bank, before this one
    left_out: tuple[str, ...] = ()  # the numbers left out there, where they are known
    section: str = ""  # needed only where nobody sits
    waiting: bool = False  # published before its angler was weighed


def layout_of(pegs: Iterable[Peg]) -> tuple[list[BankPeg], tuple[str, ...]]:
    """
    The bank as it was fished, from every peg along it, those left out included.

    The second figure is the numbers left out beyond the last peg. A gap in the bank, or the next
    water, breaks the strip as one peg left out does.
    """
    layout: list[BankPeg] = []
    left_out: list[str] = []
    before: Peg | None = None
    gap = 0
    for order, peg in enumerate(sorted(pegs, key=lambda peg: peg.order), start=1):
        if before and (before.gap_after or before.water != peg.water):
            gap += 1
        if peg.left_out:
            left_out.append(peg.name)
        else:
            layout.append(BankPeg(peg.name, order, gap + len(left_out), tuple(left_out)))
            left_out, gap = [], 0
        before = peg
    return layout, tuple(left_out)


def pegs_of(result: MatchResult, layout: Sequence[BankPeg]) -> list[StripPeg]:
    """
    Put what became of everybody on the pegs of *layout*.

    An angler without a peg of the layout (absent before the draw, say) is on no bank and not shown.
    """
    lines = {line.row.peg: line for section in result.sections for line in section.lines}
    best = {line.peg for line in result.anglers if line.place == 1 and line.weight > 0}
    pegs: list[StripPeg] = []
    for place in sorted(layout, key=lambda peg: peg.order):
        line = lines.get(place.number)
        section = line.row.section if line else place.section
        if not section and pegs:
            section = pegs[-1].section  # an empty peg belongs with its neighbours
        pegs.append(
            StripPeg(
                number=place.number,
                section=section,
                state=State.WAITING if place.waiting else _state(line),
                weight=line.weight if line else 0,
                name=line.row.angler if line else "",
                gap_before=max(place.gap_before, len(place.left_out)),
                left_out=place.left_out,
                wins_section=line is not None and line.place == 1 and line.weight > 0,
                best=place.number in best,
            )
        )
    return pegs


def strip_of(
    result: MatchResult,
    layout: Sequence[BankPeg],
    purpose: Purpose = RESULT,
    *,
    key: str = "bank",
    title: str = "The bank",
    left_out_after: Sequence[str] = (),
) -> Strip:
    """Draw the bank strip of *result*; *left_out_after* are pegs beyond the last one fished."""
    return draw_strip(
        pegs_of(result, layout),
        purpose,
        unit=result.unit,
        key=key,
        title=title,
        left_out_after=left_out_after,
    )


def _state(line: AnglerLine | None) -> State:
    if line is None:
        return State.EMPTY
    # A weight taken before leaving is shown; the book says whether it counts.
    if line.status is Status.WITHDREW and line.weight > 0:
        return State.WEIGHED
    return STATES[line.status]
