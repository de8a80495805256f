"""
The sheet of a draw, exact to the byte: who, and which pegs, before any number is called.

What is published is text, so that anybody can put it through SHA-256 with any tool. Lines end
in a line feed, every number in a full stop, and an angler is a number: names are never hashed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from itertools import zip_longest
from typing import Protocol, TypeVar

from league.rules.draw_chain import fingerprint
from league.rules.errors import DrawError

SHEET_TAG = "PEGSHEET/1"
# A sheet that also says what the draw shares out: who fishes which section, and the end pegs.
SHARING_TAG = "PEGSHEET/2"
# The section of an angler whose team draws who fishes which.
TO_DRAW = "-"


class HasText(Protocol):
    """A sheet or an event."""

    @property
    def text(self) -> str:
        """The text that is published."""


T = TypeVar("T", bound=HasText)


@dataclass(frozen=True, slots=True)
class Section:
    """One section's pegs in the bag before the draw; *accessible* of them are easy to reach."""

    letter: str
    pegs: tuple[int, ...]
    accessible: tuple[int, ...] = ()

    @property
    def line(self) -> str:
        """As the sheet has it: `A|1.2.3.4.5.7.|1.2.`"""
        return f"{self.letter}|{dots(self.pegs)}|{dots(self.accessible)}"


@dataclass(frozen=True, slots=True)
class Entry:
    """
    One angler in the draw. Without a team the code is empty, and clashes with nobody.

    The section is a dash where it is drawn which member of the team fishes which.
    """

    no: int
    team: str
    section: str
    needs: bool = False

    @property
    def line(self) -> str:
        """As the sheet has it: `4|BLU|A|1`"""
        return f"{self.no}|{self.team}|{self.section}|{int(self.needs)}"


@dataclass(frozen=True)
class Sheet:
    """
    Everything a draw is made from but its numbers: frozen and fingerprinted before any is called.

    *adjacent* are the pairs of pegs that no team may hold both of; *fixed* are an entry number
    and its peg, given before the draw; *callers* are the entry numbers of those who will call.

    *visits* say how often an entry's angler fished each section of the season before, *ends* are
    the pegs given by tickets, *had* how many of them an entry's team has had. Where none of these
    is there and every section is known, the text is a PEGSHEET/1, else a PEGSHEET/2.
    """

    match: str
    sections: tuple[Section, ...]
    entries: tuple[Entry, ...]
    adjacent: tuple[tuple[int, int], ...] = ()
    callers: tuple[int, ...] = ()
    fixed: tuple[tuple[int, int], ...] = ()
    visits: tuple[tuple[int, tuple[int, ...]], ...] = ()
    ends: tuple[int, ...] = ()
    had: tuple[tuple[int, int], ...] = ()

    @cached_property
    def to_place(self) -> tuple[Entry, ...]:
        """Those whose section is drawn, by entry number."""
        waiting = (entry for entry in self.entries if entry.section == TO_DRAW)
        return tuple(sorted(waiting, key=lambda entry: entry.no))

    @cached_property
    def shares(self) -> bool:
        """Whether the draw shares anything out besides the pegs."""
        return bool(self.to_place or self.visits or self.ends or self.had)

    @cached_property
    def text(self) -> str:
        """The text that is published, the same for the same facts in any order."""
        entries = sorted(self.entries, key=lambda entry: entry.no)
        pairs = sorted((min(pair), max(pair)) for pair in self.adjacent)
        lines = [
            SHARING_TAG if self.shares else SHEET_TAG,
            f"match={self.match}",
            *(f"section={section.line}" for section in self.sections),
            *(f"entry={entry.line}" for entry in entries),
            *(f"visits={no}|{in_turn(counts)}" for no, counts in sorted(self.visits)),
            *(f"fixed={no}|{peg}." for no, peg in sorted(self.fixed)),
            *([f"ends={dots(self.ends)}"] if self.ends else []),
            *(f"had={no}|{count}." for no, count in sorted(self.had)),
            *(f"adjacent={one}.{other}." for one, other in pairs),
            f"callers={dots(self.callers)}",
        ]
        return "".join(f"{line}\n" for line in lines)

    @cached_property
    def digest(self) -> str:
        """The SHA-256 of the text."""
        return fingerprint(self.text)

    @cached_property
    def by_no(self) -> dict[int, Entry]:
        """The entries by their numbers."""
        return {entry.no: entry for entry in self.entries}

    @classmethod
    def parse(cls, text: str) -> Sheet:
        """Read a published sheet; a text not exactly as it would be written here is refused."""
        tag = SHARING_TAG if text.startswith(f"{SHARING_TAG}\n") else SHEET_TAG
        match, *lines = opened(text, tag, "sheet")
        sections: list[Section] = []
        entries: list[Entry] = []
        adjacent: list[tuple[int, int]] = []
        fixed: list[tuple[int, int]] = []
        callers: tuple[int, ...] = ()
        visits: list[tuple[int, tuple[int, ...]]] = []
        ends: tuple[int, ...] = ()
        had: list[tuple[int, int]] = []
        for line in lines:
            if found := re.fullmatch(r"section=([^|]*)\|([0-9.]*)\|([0-9.]*)", line):
                sections.append(Section(found[1], undotted(found[2]), undotted(found[3])))
            elif found := re.fullmatch(r"entry=(.*)", line):
                entries.append(parse_entry(found[1]))
            elif found := re.fullmatch(r"fixed=([0-9]+)\|([0-9]+)\.", line):
                fixed.append((int(found[1]), int(found[2])))
            elif found := re.fullmatch(r"visits=([0-9]+)\|((?:[0-9]+\.)+)", line):
                visits.append((int(found[1]), undotted(found[2])))
            elif found := re.fullmatch(r"ends=((?:[0-9]+\.)+)", line):
                ends = undotted(found[1])
            elif found := re.fullmatch(r"had=([0-9]+)\|([0-9]+)\.", line):
                had.append((int(found[1]), int(found[2])))
            elif found := re.fullmatch(r"adjacent=([0-9]+)\.([0-9]+)\.", line):
                adjacent.append((int(found[1]), int(found[2])))
            elif found := re.fullmatch(r"callers=([0-9.]*)", line):
                callers = undotted(found[1])
            else:
                raise DrawError(f"The sheet has a line that no sheet has: {line!r}.")
        sheet = cls(
            match,
            tuple(sections),
            tuple(entries),
            tuple(adjacent),
            callers,
            tuple(fixed),
            tuple(visits),
            ends,
            tuple(had),
        )
        return same_text(sheet, text, "sheet")


def dots(numbers: Iterable[int]) -> str:
    """Whole numbers smallest first, each closed by a full stop: `2.5.8.`, as in RFC 3797."""
    return "".join(f"{number}." for number in sorted(numbers))


def in_turn(numbers: Iterable[int]) -> str:
    """The same for numbers whose order has a meaning: the first is of the first section."""
    return "".join(f"{number}." for number in numbers)


def undotted(text: str) -> tuple[int, ...]:
    """The numbers of such a list."""
    return tuple(int(part) for part in text.split(".") if part)


def parse_entry(text: str) -> Entry:
    """An entry as the texts have it."""
    found = re.fullmatch(r"([0-9]+)\|([^|]*)\|([^|]*)\|([01])", text)
    if not found:
        raise DrawError(f"An entry reads number|team|section|0 or 1, not {text!r}.")
    return Entry(int(found[1]), found[2], found[3], found[4] == "1")


def opened(text: str, tag: str, what: str) -> list[str]:
    """The match and the remaining lines of a text that starts as it should."""
    if not text.isascii() or not text.endswith("\n"):
        raise DrawError(f"The {what}'s text is plain ASCII, with a line feed after every line.")
    first, *lines = text[:-1].split("\n")
    if first != tag:
        raise DrawError(f"The {what}'s text starts with {first!r}; this program knows {tag}.")
    if not lines or not lines[0].startswith("match="):
        raise DrawError(f"The {what}'s second line names the match: match=...")
    return [lines[0].removeprefix("match="), *lines[1:]]


def same_text(read: T, text: str, what: str) -> T:
    """Refuse a text that says the same in another way: two texts would have two fingerprints."""
    for theirs, ours in zip_longest(text.split("\n"), read.text.split("\n")):
        if theirs != ours:
            raise DrawError(f"The {what}'s text reads {theirs!r} where it should read {ours!r}.")
    return read


def listed(numbers: Iterable[int]) -> str:
    """Numbers as a sentence has them: `2, 5, 9`."""
    return ", ".join(str(number) for number in numbers)
