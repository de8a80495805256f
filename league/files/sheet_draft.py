"""A sheet while it is being read: what has come in, and from which row of the file."""

from __future__ import annotations

from dataclasses import dataclass, field

from league.rules.errors import Fault
from league.rules.lines import Row
from league.rules.weights import Unit


@dataclass(slots=True)
class Draft:
    """One match; *where* says which row of the file each of its rows was."""

    round: int | None
    rows: list[Row] = field(default_factory=list)
    where: list[int] = field(default_factory=list)
    # What the sheet says of the match, column by column, and in which row it said so first.
    about: dict[str, tuple[str, int]] = field(default_factory=dict)


@dataclass(slots=True)
class Reading:
    """The whole file so far."""

    unit: Unit
    count: int = 0
    drafts: dict[int | None, Draft] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    unreadable: list[str] = field(default_factory=list)  # nets that are no weight in this unit
