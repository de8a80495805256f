"""A bank as it was understood: drawn, and said in words, so that a slip is seen at once."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from league.rules.bank import LINE, say_pegs
from league.rules.figures import so_many
from league.rules.pegs import Peg
from league.rules.weights import Unit
from league.strip import BEFORE, State, Strip, StripPeg, draw_strip

EASY, BEWARE = "E", "!"  # stand over their pegs; the words below say what they mean
OVER = replace(BEFORE, head=30.0)  # px
METRES = re.compile(r"(\d+)\s*m\b")
FAR_ENOUGH = 30  # metres from an overhead line


@dataclass(frozen=True, slots=True)
class SaidBank:
    """The drawing, and what it says beside it."""

    strip: Strip | None
    count: str
    notes: tuple[str, ...]
    warning: str = ""


def said_bank(
    pegs: Sequence[Peg], *, sections: Mapping[str, str] | None = None, key: str = "bank"
) -> SaidBank:
    """Draw *pegs*; *sections* gives the letter of those that are in one."""
    letters = sections or {}
    bank: list[StripPeg] = []
    left_out: list[str] = []
    breaks = 0
    for peg in sorted(pegs, key=lambda each: each.order):
        if peg.left_out:
            left_out.append(peg.name)
        else:
            label = (EASY if peg.easy_access else "") + (BEWARE if peg.hazard else "")
            bank.append(
                StripPeg(
                    number=peg.name,
                    section=letters.get(peg.name, ""),
                    state=State.TURNED if label else State.WAITING,
                    label=label,
                    gap_before=len(left_out) + breaks if bank else 0,
                    left_out=tuple(left_out),
                )
            )
            left_out, breaks = [], 0
        breaks += peg.gap_after
    usable = len(bank)
    notes = _notes(pegs)
    said = " ".join((f"{usable} pegs in bank order.", *notes))
    strip = (
        draw_strip(
            bank,
            OVER,
            unit=Unit.LB_OZ,
            key=key,
            title="The bank as it was understood",
            description=said,
        )
        if bank
        else None
    )
    return SaidBank(strip, so_many(usable, "peg"), notes, _warning(pegs))


def _notes(pegs: Sequence[Peg]) -> tuple[str, ...]:
    notes = []
    whys: dict[str, list[str]] = {}
    hazards: dict[str, list[str]] = {}
    for peg in pegs:
        if peg.left_out:
            whys.setdefault(peg.why or "no reason given", []).append(peg.name)
        if peg.hazard:
            hazards.setdefault(peg.hazard, []).append(peg.name)
    if whys:
        out = ", ".join(f"{say_pegs(names, ' and ')} ({why})" for why, names in whys.items())
        notes.append(f"Left out: {out}.")
    if easy := [peg.name for peg in pegs if peg.easy_access]:
        notes.append(f"{EASY}, easy access: {say_pegs(easy)}.")
    if gaps := [peg.name for peg in pegs if peg.gap_after]:
        notes.append(f"The bank breaks after {say_pegs(gaps)}.")
    notes += [
        f"{BEWARE}, look out at {say_pegs(names)}: {hazard}." for hazard, names in hazards.items()
    ]
    return tuple(notes)


def _warning(pegs: Sequence[Peg]) -> str:
    """Said of pegs near an overhead line that could still be drawn."""
    near = [peg.name for peg in pegs if not peg.left_out and _is_near_a_line(peg.hazard)]
    if not near:
        return ""
    one = len(near) == 1
    return (
        f"Peg{'' if one else 's'} {say_pegs(near)} {'is' if one else 'are'} near an overhead power "
        f"line and can still be drawn. Leave {'it' if one else 'them'} out, unless the venue and a "
        "qualified person say that it is safe to fish there."
    )


def _is_near_a_line(hazard: str) -> bool:
    """Whether a line is said to be there, and no distance that would be enough."""
    far = [int(metres) for metres in METRES.findall(hazard.replace(LINE, "line"))]
    return "line" in hazard.casefold() and not (far and min(far) >= FAR_ENOUGH)
