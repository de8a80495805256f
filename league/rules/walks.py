"""A walk: the part of the bank one pair of scalesmen weighs, and from which end."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from league.rules.errors import RuleError


@dataclass(frozen=True, slots=True)
class Walk:
    """Some sections, or a run of pegs from *first* to *last*; nothing named is the whole bank."""

    sections: tuple[str, ...] = ()
    first: str = ""
    last: str = ""
    backwards: bool = False

    @property
    def words(self) -> str:
        """
        As it stands on the sheet and the screen.

        >>> Walk(sections=("A", "B")).words, Walk(first="12", last="30", backwards=True).words
        ('Sections A and B', 'Pegs 12 to 30, from 30 down')
        """
        if self.sections:
            *rest, end = self.sections
            said = f"Sections {', '.join(rest)} and {end}" if rest else f"Section {end}"
        elif self.first:
            said = f"Pegs {self.first} to {self.last}"
            return f"{said}, from {self.last} down" if self.backwards else said
        else:
            said = "The whole bank"
        return f"{said}, from the far end" if self.backwards else said


def along(walk: Walk, bank: Sequence[tuple[str, str]]) -> list[int]:
    """
    Which places of *bank* the walk takes, in its order; the bank is (peg, section) pairs.

    Raises `RuleError` for a section or peg that the bank does not have.

    >>> along(Walk(sections=("B",), backwards=True), [("1", "A"), ("2", "B"), ("3", "B")])
    [2, 1]
    """
    if walk.sections:
        unknown = [each for each in walk.sections if each not in {letter for _, letter in bank}]
        if unknown:
            raise RuleError(f"There is no section {unknown[0]} on this bank.")
        places = [place for place, (_, letter) in enumerate(bank) if letter in walk.sections]
    elif walk.first:
        first, last = sorted((_place(walk.first, bank), _place(walk.last, bank)))
        places = list(range(first, last + 1))
    else:
        places = list(range(len(bank)))
    return places[::-1] if walk.backwards else places


def as_dict(walk: Walk) -> dict[str, Any]:
    """As it is kept."""
    return {
        "sections": list(walk.sections),
        "first": walk.first,
        "last": walk.last,
        "backwards": walk.backwards,
    }


def from_dict(kept: Mapping[str, Any]) -> Walk:
    """A kept walk again."""
    return Walk(
        sections=tuple(str(each) for each in kept.get("sections", ())),
        first=str(kept.get("first", "")),
        last=str(kept.get("last", "")),
        backwards=bool(kept.get("backwards", False)),
    )


def _place(peg: str, bank: Sequence[tuple[str, str]]) -> int:
    for place, (number, _) in enumerate(bank):
        if number == peg:
            return place
    raise RuleError(f"There is no peg {peg or '?'} on this bank: name the first and the last peg.")
