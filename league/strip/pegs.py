"""What stands on the bank, and where: one slot a peg, a break where pegs are left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

EDGE = 0.55  # slots for the stake between two sections
GAP = 0.85  # slots for a peg left out,
WIDEST_GAP = 2  # of which two at most are drawn
EDGE_IN_GAP = 0.25  # more, where a section ends in the gap


class State(StrEnum):
    """What there is to show at a peg."""

    WEIGHED = "weighed"
    UNSENT = "unsent"  # weighed, and still on the scalesman's phone
    BLANK = "blank"
    NOT_WEIGHED = "not weighed"
    ABSENT = "absent"
    DISQUALIFIED = "disqualified"
    EMPTY = "empty"  # a peg that may be fished, and nobody on it
    WAITING = "waiting"  # still to weigh, or still to draw
    NOW = "now"  # being weighed
    NAMED = "named"  # drawn: the angler's name stands over it
    TURNED = "turned"  # drawn: the team's letters stand over it
    LATEST = "latest"  # the card turned last


WITH_BAR = frozenset({State.WEIGHED, State.UNSENT})
WITH_LETTERS = frozenset({State.NAMED, State.TURNED, State.LATEST})


@dataclass(frozen=True, slots=True)
class StripPeg:
    """One peg as the strip shows it. Weights in drams or grams, by the match's unit."""

    number: str
    section: str = ""
    state: State = State.WAITING
    weight: int = 0
    name: str = ""  # the angler, as shown to the public
    label: str = ""  # the few letters that stand over the peg: a team's, or a surname
    gap_before: int = 0  # pegs left out between the one before and this one
    left_out: tuple[str, ...] = ()  # their numbers, where they are known
    wins_section: bool = False
    best: bool = False  # the best weight of the day; equals all carry it
    me: bool = False  # the reader's own peg

    @property
    def kind(self) -> str:
        """How its bar is set apart: "win", "sec" or not at all."""
        return "win" if self.best else "sec" if self.wins_section else ""

    @property
    def stands_out(self) -> bool:
        """Whether its number is always written, and in bold."""
        return bool(self.kind) or self.me or self.state in {State.NOW, State.LATEST}


@dataclass(frozen=True, slots=True)
class Stretch:
    """Neighbours of one section, from the first to the last of them without another between."""

    section: str
    pegs: tuple[StripPeg, ...]
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Across:
    """Where everything stands across the bank, in slots from the left."""

    width: float
    starts: tuple[float, ...]  # of each peg's slot
    runs: tuple[tuple[float, float], ...]  # of bank without a break
    stakes: tuple[float, ...]
    stretches: tuple[Stretch, ...]


def stand(pegs: Sequence[StripPeg]) -> Across:
    """Give every peg its slot, in the order given, which is the order of the bank."""
    starts: list[float] = []
    runs: list[tuple[float, float]] = []
    stakes: list[float] = []
    stretches: list[Stretch] = []
    at = run_start = first = 0.0
    members: list[StripPeg] = []
    for index, peg in enumerate(pegs):
        if index:
            changes = peg.section != pegs[index - 1].section
            end = at
            if peg.gap_before:
                runs.append((run_start, at))
                gap = GAP * min(peg.gap_before, WIDEST_GAP) + (EDGE_IN_GAP if changes else 0)
                at = run_start = end + gap
            elif changes:
                at = end + EDGE
            if changes:
                stakes.append((end + at) / 2)
                stretches.append(Stretch(members[0].section, tuple(members), first, end))
                first, members = at, []
        starts.append(at)
        members.append(peg)
        at += 1
    if members:
        runs.append((run_start, at))
        stretches.append(Stretch(members[0].section, tuple(members), first, at))
    return Across(at, tuple(starts), tuple(runs), tuple(stakes), tuple(stretches))


def rows_of(across: Across, most: int) -> list[list[StripPeg]]:
    """Fold the bank into rows of two sections, and of *most* pegs: longer ones are cut evenly."""
    rows: list[list[StripPeg]] = []
    alone = False  # whether the last row has room for a second section
    for stretch in across.stretches:
        if alone and len(rows[-1]) + len(stretch.pegs) <= most:
            rows[-1] += stretch.pegs
            alone = False
            continue
        parts = -(-len(stretch.pegs) // most)
        size = -(-len(stretch.pegs) // parts)
        rows += [list(stretch.pegs[at : at + size]) for at in range(0, len(stretch.pegs), size)]
        alone = parts == 1
    return rows
