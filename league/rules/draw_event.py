"""The events of a draw, exact to the byte: numbers called, secret opened, what changes."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import ClassVar, TypeAlias

from league.rules.draw_chain import fingerprint
from league.rules.draw_sheet import Entry, Sheet, listed, opened, parse_entry, same_text
from league.rules.errors import DrawError

EVENT_TAG = "PEGDRAW/1"
HIGHEST_CALL = 9999


@dataclass(frozen=True, slots=True)
class Late:
    """A late entry, or a reserve: chooses among the pegs still in the bag."""

    entry: Entry

    @property
    def line(self) -> str:
        """As the event's text has it."""
        return f"late={self.entry.line}"


@dataclass(frozen=True, slots=True)
class Redraw:
    """One section drawn again; the others stay as they are."""

    section: str

    @property
    def line(self) -> str:
        """As the event's text has it."""
        return f"redraw={self.section}"


@dataclass(frozen=True, slots=True)
class Unsafe:
    """A peg found unsafe: whoever has it chooses among those still in the bag."""

    peg: int

    @property
    def line(self) -> str:
        """As the event's text has it."""
        return f"unsafe={self.peg}"


Change: TypeAlias = Late | Redraw | Unsafe
Call: TypeAlias = tuple[int, int | None]


@dataclass(frozen=True)
class Event:
    """
    One event of a draw: the numbers called, what was revealed, and what it changes.

    *prev* is the seed of the last finished event, or the commitment where there is none.
    A caller who did not call stays in *calls*, with None. Without a *change* it is the draw.
    """

    match: str
    number: int
    prev: str
    sheet: str
    calls: tuple[Call, ...]
    reveal: str
    change: Change | None = None

    @property
    def kind(self) -> str:
        """`draw`, `late`, `redraw` or `unsafe`, as the text itself says."""
        return self.change.line.partition("=")[0] if self.change else "draw"

    @cached_property
    def text(self) -> str:
        """The text that is published, and whose SHA-256 is the seed."""
        lines = [
            EVENT_TAG,
            f"match={self.match}",
            f"event={self.number}",
            f"prev={self.prev}",
            f"sheet={self.sheet}",
            *([self.change.line] if self.change else []),
            *(f"call={no}|{'-' if call is None else call}." for no, call in sorted(self.calls)),
            f"reveal={self.reveal}",
        ]
        return "".join(f"{line}\n" for line in lines)

    @cached_property
    def seed(self) -> str:
        """The SHA-256 of the text: every peg follows from it."""
        return fingerprint(self.text)

    @classmethod
    def parse(cls, text: str) -> Event:
        """Read a published event; a text not exactly as it would be written here is refused."""
        match, *lines = opened(text, EVENT_TAG, "event")
        said: dict[str, str] = {}
        calls: list[Call] = []
        change: Change | None = None
        for line in lines:
            if found := re.fullmatch(r"(event|prev|sheet|reveal)=([0-9a-f]+)", line):
                said[found[1]] = found[2]
            elif found := re.fullmatch(r"call=([0-9]+)\|([0-9]{1,4}|-)\.", line):
                calls.append((int(found[1]), None if found[2] == "-" else int(found[2])))
            elif found := re.fullmatch(r"(late|redraw|unsafe)=(.+)", line):
                change = parse_change(line)
            else:
                raise DrawError(f"The event has a line that no event has: {line!r}.")
        missing = [key for key in ("event", "prev", "sheet", "reveal") if key not in said]
        if missing:
            raise DrawError(f"The event's text has no line {missing[0]}=.")
        if not said["event"].isdecimal():
            raise DrawError(f"An event's number is a whole number, not {said['event']!r}.")
        event = cls(
            match,
            int(said["event"]),
            said["prev"],
            said["sheet"],
            tuple(calls),
            said["reveal"],
            change,
        )
        return same_text(event, text, "event")


@dataclass(frozen=True)
class ByHand:
    """A draw from a real bag, typed in as it came out. It follows from nothing published."""

    number: int
    pegs: Mapping[int, int]
    by: str = ""

    kind: ClassVar[str] = "hand"
    seed: ClassVar[str] = ""


@dataclass(frozen=True)
class Given:
    """
    A peg given by hand after the draw, *after* the event of that number; no event of its own.

    It follows from nothing published, so the record says by whom, when and why.
    """

    after: int
    entry: Entry
    peg: int
    by: str = ""
    at: str = ""
    why: str = ""

    kind: ClassVar[str] = "given"
    number: ClassVar[int] = 0
    seed: ClassVar[str] = ""


Step: TypeAlias = Event | ByHand | Given


def make_event(
    sheet: Sheet,
    *,
    number: int,
    prev: str,
    calls: Iterable[Call],
    reveal: str,
    change: Change | None = None,
) -> Event:
    """The event of *sheet* with what its callers called, once each and from 0 to 9999."""
    called = tuple(calls)
    check_calls(sheet, called)
    return Event(sheet.match, number, prev, sheet.digest, called, reveal, change)


def check_calls(sheet: Sheet, calls: tuple[Call, ...]) -> None:
    """Refuse calls that are not one from every caller the sheet names, each from 0 to 9999."""
    numbers = [no for no, _ in calls]
    for no, call in calls:
        if no not in sheet.callers:
            raise DrawError(
                f"Entry {no} is no caller on the sheet; the callers are {listed(sheet.callers)}."
            )
        if numbers.count(no) > 1:
            raise DrawError(
                f"Entry {no} called twice. Keep the first number, and take out the other."
            )
        if call is not None and not 0 <= call <= HIGHEST_CALL:
            raise DrawError(
                f"Entry {no} called {call}. A call is a whole number from 0 to {HIGHEST_CALL}."
            )
    missing = [no for no in sheet.callers if no not in numbers]
    if missing:
        raise DrawError(
            f"Nothing is written down for caller {listed(missing)}. "
            "A caller who does not call stays in the text, with a dash."
        )


def parse_change(line: str) -> Change:
    """The one line that says what an event changes: `late=13|TAN|A|0`, `redraw=B` or `unsafe=7`."""
    kind, _, text = line.partition("=")
    if kind == "late":
        return Late(parse_entry(text))
    if kind == "redraw" and text:
        return Redraw(text)
    if kind == "unsafe" and re.fullmatch(r"[0-9]+", text):
        return Unsafe(int(text))
    raise DrawError(f"A change reads late=13|TAN|A|0, redraw=B or unsafe=7, not {line!r}.")
