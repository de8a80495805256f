"""Who is on which peg, which pegs are left out and why, and what to beware of along the bank."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from league.models import Entry, MatchPeg, Peg
from league.rules.weights import Unit
from league.strip import BEFORE, State, Strip, StripPeg, draw_strip
from league.web.walk import Stop

JUNIOR = " (junior)"
UNUSED = "not used today"


def surname(name: str) -> str:
    """What stands over a peg: Ormesher; a junior's first name and initial stay together."""
    if name.endswith(JUNIOR):
        return name.removesuffix(JUNIOR)
    return name.split()[-1] if name.split() else name


def strip_of_names(
    walk: Sequence[Stop],
    layout: Sequence[dict[str, object]],
    *,
    title: str,
    unit: Unit,
    mine: Entry | None = None,
) -> Strip:
    """The bank with a name over every peg that was drawn."""
    on = {stop.peg: stop for stop in walk}
    pegs = []
    for place in layout:
        stop = on.get(str(place["number"]))
        pegs.append(
            StripPeg(
                number=str(place["number"]),
                section=str(place["section"]),
                state=State.NAMED if stop else State.EMPTY,
                name=stop.name if stop else "",
                label=surname(stop.name) if stop else "",
                gap_before=int(str(place["gap_before"])),
                me=bool(stop and mine and stop.entry.pk == mine.pk),
            )
        )
    return draw_strip(
        pegs,
        BEFORE,
        unit=unit,
        key="who",
        title=title,
        description=" ".join(
            f"Peg {stop.peg}, section {stop.letter}: {_who(stop)}." for stop in walk
        ),
    )


def closed_pegs(
    bank: Sequence[Peg], used: Sequence[MatchPeg], on: date | None = None
) -> list[tuple[str, str]]:
    """
    The pegs between the first and the last that nobody may fish, each with why.

    A peg that is back in use on the day *on* is only not used.
    """
    closed = {each.peg_id: each.closed_why for each in used if each.closed_why}
    taken = {each.peg_id for each in used} - set(closed)
    return [
        (peg.number, closed.get(peg.pk) or (peg.left_out_why if peg.is_out(on) else "") or UNUSED)
        for peg in _between(bank, used)
        if peg.pk not in taken
    ]


def left_out(bank: Sequence[Peg], used: Sequence[MatchPeg], on: date | None = None) -> str:
    """The same as a line: 47 (outlet sluice), 54 and 55 (reed bed)."""
    whys: dict[str, list[str]] = {}
    for number, why in closed_pegs(bank, used, on):
        whys.setdefault(why, []).append(number)
    return ", ".join(f"{_listed(pegs)} ({why})" for why, pegs in whys.items())


def hazards(bank: Sequence[Peg], used: Sequence[MatchPeg]) -> list[str]:
    """What to beware of, peg by peg; at a peg left out the line hangs all the same."""
    found: dict[str, list[str]] = {}
    for peg in _between(bank, used):
        if peg.hazards:
            found.setdefault(peg.hazards.strip().rstrip("."), []).append(peg.number)
    return [
        f"{'Peg' if len(pegs) == 1 else 'Pegs'} {_listed(pegs)}: {hazard}."
        for hazard, pegs in found.items()
    ]


def _between(bank: Sequence[Peg], used: Sequence[MatchPeg]) -> list[Peg]:
    if not used:
        return list(bank)
    orders = [each.peg.order for each in used]
    return [peg for peg in bank if min(orders) <= peg.order <= max(orders)]


def _who(stop: Stop) -> str:
    return f"{stop.name}, {stop.entry.team.name}" if stop.entry.team else stop.name


def _listed(numbers: Sequence[str]) -> str:
    if len(numbers) == 1:
        return numbers[0]
    return f"{', '.join(numbers[:-1])} and {numbers[-1]}"
