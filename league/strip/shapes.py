"""
A strip laid out, for the page and for paper alike.

Across is in per cent of the strip's width and up and down in px from its top, so that a drawing
can stretch without its letters: whoever inks it multiplies one by a width and the other by a unit.
"""

from __future__ import annotations

from dataclasses import dataclass

from league.strip.pegs import WITH_BAR, State


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of bank or of section, from *x1* to *x2* per cent."""

    x1: float
    x2: float


@dataclass(frozen=True, slots=True)
class ScaleLine:
    """A light line at a round weight."""

    y: float
    text: str


@dataclass(frozen=True, slots=True)
class Mark:
    """A peg: its number under the bank, and what stands over it."""

    number: str
    x: float  # its middle
    state: State
    kind: str  # "win" for the best of the day, "sec" for a section's winner
    left: float  # the bar, for a peg with one
    width: float
    y: float
    height: float
    weight: str
    weight_y: float
    name: str
    label: str
    always: bool  # the number is written however narrow the strip
    bold: bool
    me: bool

    @property
    def has_bar(self) -> bool:
        """Whether a weight stands at this peg."""
        return self.state in WITH_BAR


@dataclass(frozen=True, slots=True)
class Plate:
    """A section: its letter in a plate, the brace it hangs from, and who won."""

    letter: str
    x: float
    brace: Run
    who: str
    weight: str


@dataclass(frozen=True, slots=True)
class Strip:
    """A whole strip; `rows` is the same bank folded, for where it is narrow and pegs are many."""

    key: str
    title: str
    description: str
    unit: str  # "lb" or "kg"; empty without a scale
    height: float  # without the winners' names,
    names_height: int  # which need this much more
    baseline: float
    plates_y: float  # where plates and braces hang
    stake_top: float
    stake_bottom: float
    pegs_from: int  # px of width from which every peg has its number
    weights_from: int  # and from which every weight is written
    many: bool
    scale: tuple[ScaleLine, ...]
    runs: tuple[Run, ...]
    stakes: tuple[float, ...]
    marks: tuple[Mark, ...]
    plates: tuple[Plate, ...]
    signs: frozenset[str]  # what a legend has to explain
    rows: tuple[Strip, ...] = ()
