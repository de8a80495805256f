"""Pegs as people say them: `1-24, 26-60, not 13, easy 1-4 and 60, gap after 24`."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from league.rules.errors import PegError
from league.rules.pegs import Peg

MOST_PEGS = 1000
CLAUSE = re.compile(
    r"(?P<what>not|without|except|easy|gaps?\s+after)?\s*(?P<which>.+?)\s*(?:\((?P<why>[^()]*)\))?",
    re.I,
)
RUN = re.compile(r"(?P<first>\w+)\s*(?:-|–|to)\s*(?P<last>\w+)", re.I)
NAME = re.compile(r"\w+")
NUMBERED = re.compile(r"(?P<prefix>\D*)(?P<number>\d+)")


def parse_pegs(typed: str, water: str = "") -> tuple[Peg, ...]:
    """
    Read a bank as it is said, pegs in the order they are said.

    `not` leaves a peg out (a reason may follow in brackets), `easy` is for pegs that are easy to
    reach, `gap after` for where the next peg is no neighbour. Everything wrong is told at once.

    >>> [peg.name for peg in parse_pegs("1-3, 5, not 2 (deep margin)") if not peg.left_out]
    ['1', '3', '5']
    """
    wrong: list[str] = []
    names: list[str] = []
    said: list[tuple[str, str, str]] = []
    for clause in re.split(r"[,;\n]", typed):
        if not clause.strip():
            continue
        found = CLAUSE.fullmatch(clause.strip())
        if not found:
            wrong.append(f"{clause.strip()!r} is not understood. Write for example: 1-24, not 13.")
            continue
        what = re.sub(r"\s+", " ", (found["what"] or "").lower())
        listed = list(_names(found["which"], wrong))
        if what:
            said += [(what, name, (found["why"] or "").strip()) for name in listed]
        else:
            names += listed
    pegs = _numbered(names, water, wrong)
    for what, name, why in said:
        if name not in pegs:
            wrong.append(f"Peg {name} is said to be {what!r}, but is not among the pegs.")
        else:
            pegs[name] = _SAID[what](pegs[name], why)
    if not names and not wrong:
        wrong.append("No pegs yet. Write for example: 1-24, 26-60, not 13.")
    if wrong:
        raise PegError("\n".join(wrong))
    return tuple(pegs.values())


def _names(which: str, wrong: list[str]) -> Iterator[str]:
    """The names of `1-4 and 60`."""
    for part in re.split(r"\s*(?:\band\b|&|\+)\s*", which, flags=re.I):
        if run := RUN.fullmatch(part):
            yield from _run(run["first"], run["last"], part, wrong)
        elif NAME.fullmatch(part):
            yield part
        else:
            wrong.append(f"{part!r} is no peg. Write 7, or 1-24, or 1-4 and 60.")


def _run(first: str, last: str, part: str, wrong: list[str]) -> Iterator[str]:
    start, end = NUMBERED.fullmatch(first), NUMBERED.fullmatch(last)
    if not start or not end or end["prefix"] not in ("", start["prefix"]):
        wrong.append(f"{part!r} is no run of pegs. Write 1-24, or A1-A24.")
        return
    low, high = int(start["number"]), int(end["number"])
    if high < low:
        wrong.append(f"{part!r} runs backwards. Write {last}-{first}.")
    elif high - low >= MOST_PEGS:
        wrong.append(f"{part!r} is {high - low + 1} pegs; a water has at most {MOST_PEGS}.")
    else:
        yield from (f"{start['prefix']}{number}" for number in range(low, high + 1))


def _numbered(names: list[str], water: str, wrong: list[str]) -> dict[str, Peg]:
    pegs: dict[str, Peg] = {}
    for name in names:
        if name in pegs:
            wrong.append(
                f"Peg {name} is there twice. For a list after a word write: easy 1-4 and 60."
            )
        else:
            pegs[name] = Peg(name, len(pegs) + 1, water)
    if len(pegs) > MOST_PEGS:
        wrong.append(f"{len(pegs)} pegs; a water has at most {MOST_PEGS}.")
    return pegs


def _left_out(peg: Peg, why: str) -> Peg:
    return replace(peg, left_out=True, why=why)


def _easy(peg: Peg, why: str) -> Peg:
    return replace(peg, easy_access=True)


def _gap(peg: Peg, why: str) -> Peg:
    return replace(peg, gap_after=True)


_SAID = {
    "not": _left_out,
    "without": _left_out,
    "except": _left_out,
    "easy": _easy,
    "gap after": _gap,
    "gaps after": _gap,
}
