"""Pegs as people say them: `1-24, 26-60, not 13, easy 1-4 and 60, gap after 24`."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace

from league.rules.errors import PegError
from league.rules.pegs import Peg

MOST_PEGS = 1000
LONGEST_NAME = 8
CLAUSE = re.compile(
    r"(?P<what>(?:not|without|except|easy(?:\s+access)?|gaps?\s+after|beware(?:\s+of)?|"
    r"(?:overhead\s+)?(?:power\s+)?lines?|deep(?:\s+margins?)?|steep(?:\s+banks?)?)\b)?"
    r"\s*(?:at\b\s*|on\b\s*)?(?P<which>[^()]+?)\s*(?:\((?P<why>.*)\))?",
    re.I | re.S,
)
RUN = re.compile(r"(?P<first>\w+)\s*(?:-|–|to)\s*(?P<last>\w+)", re.I)
NAME = re.compile(r"\w+")
NUMBERED = re.compile(r"(?P<prefix>\D*)(?P<number>\d+)")

# What a peg can be near, as it is printed; an organiser keeps 30 m from overhead lines.
LINE, DEEP, STEEP = "overhead power line within 30\u00a0m", "deep margin", "steep bank"
HAZARDS = {"line": LINE, "deep": DEEP, "steep": STEEP}


def parse_pegs(typed: str, water: str = "") -> tuple[Peg, ...]:
    """
    Read a bank as it is said, pegs in the order they are said.

    `not` leaves a peg out (a reason may follow in brackets), `easy` is for pegs that are easy to
    reach, `gap after` for where the next peg is no neighbour. `line`, `deep`, `steep` and
    `beware 7 (sluice)` say what to look out for. Everything wrong is told at once.

    >>> [peg.name for peg in parse_pegs("1-3, 5, not 2 (deep margin)") if not peg.left_out]
    ['1', '3', '5']
    """
    wrong: list[str] = []
    names: list[str] = []
    said: list[tuple[str, str, str]] = []
    for clause in parts_of(typed, ",;\n"):
        found = CLAUSE.fullmatch(clause)
        if not found:
            wrong.append(f"{clause!r} is not understood. Write for example: 1-24, not 13.")
            continue
        what = re.sub(r"\s+", " ", (found["what"] or "").lower())
        listed = list(_names(found["which"], wrong))
        why = " ".join((found["why"] or "").split())
        if what:
            said += [(what, name, why) for name in listed]
        else:
            names += listed
            if why:
                wrong.append(f"{clause!r}: brackets give a reason, as in: not 13 (flooded).")
    pegs = _numbered(names, water, wrong)
    for what, name, why in said:
        if name not in pegs:
            wrong.append(f"Peg {name} is said to be {what!r}, but is not among the pegs.")
        else:
            pegs[name] = _act(what)(pegs[name], why)
    if not names and not wrong:
        wrong.append("No pegs yet. Write for example: 1-24, 26-60, not 13.")
    if wrong:
        raise PegError("\n".join(dict.fromkeys(wrong)))
    return tuple(pegs.values())


def say_bank(pegs: Sequence[Peg]) -> str:
    """
    A bank as it is said; `parse_pegs` reads the same pegs back.

    >>> say_bank(parse_pegs("1-3, 5, not 2 (reeds), easy 1 and 3, gap after 3, steep 5"))
    '1-3, 5, not 2 (reeds), easy 1 and 3, gap after 3, steep bank 5'
    """
    bank = sorted(pegs, key=lambda peg: peg.order)
    clauses = [say_pegs([peg.name for peg in bank])]
    clauses += _said_of("not", bank, lambda peg: [peg.why] if peg.left_out else [])
    clauses += _said_of("easy", bank, lambda peg: [""] if peg.easy_access else [])
    clauses += _said_of("gap after", bank, lambda peg: [""] if peg.gap_after else [])
    for word, hazard in (("overhead line", LINE), ("deep margin", DEEP), ("steep bank", STEEP)):
        clauses += _said_of(word, bank, lambda peg, hazard=hazard: _noted(peg, hazard))  # type: ignore[misc]
    clauses += _said_of("beware", bank, _others)
    return ", ".join(clause for clause in clauses if clause)


def say_pegs(names: Sequence[str], between: str = ", ") -> str:
    """
    Pegs as they are said, runs together.

    >>> say_pegs(["1", "2", "3", "5", "7a"])
    '1-3, 5, 7a'
    """
    runs: list[list[str]] = []
    for name in names:
        if runs and _follows(runs[-1][-1], name):
            runs[-1].append(name)
        else:
            runs.append([name])
    return between.join(run[0] if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in runs)


def parts_of(text: str, separators: str) -> list[str]:
    """
    *text* cut at *separators* that stand outside brackets; what is empty is left out.

    >>> parts_of("1-3, not 2 (reeds, mud)", ",")
    ['1-3', 'not 2 (reeds, mud)']
    """
    parts, depth = [""], 0
    for letter in text:
        depth = max(depth + {"(": 1, ")": -1}.get(letter, 0), 0)
        if letter in separators and not depth:
            parts.append("")
        else:
            parts[-1] += letter
    return [part.strip() for part in parts if part.strip()]


def _follows(one: str, other: str) -> bool:
    first, second = NUMBERED.fullmatch(one), NUMBERED.fullmatch(other)
    return (
        first is not None
        and second is not None
        and first["prefix"] == second["prefix"]
        and second["number"] == str(int(first["number"]) + 1)
    )


def _said_of(word: str, bank: Iterable[Peg], whys: Callable[[Peg], Iterable[str]]) -> Iterator[str]:
    """A clause for each reason, with the pegs it holds for."""
    found: dict[str, list[str]] = {}
    for peg in bank:
        for why in whys(peg):
            found.setdefault(why, []).append(peg.name)
    for why, names in found.items():
        if why.count("(") != why.count(")"):
            why = why.replace("(", "[").replace(")", "]")
        yield f"{word} {say_pegs(names, ' and ')}{f' ({why})' if why else ''}"


def _noted(peg: Peg, hazard: str) -> list[str]:
    """The notes with which *hazard* is said of *peg*: one, empty where there is none."""
    return [
        part.removeprefix(hazard).strip()[1:-1]
        for part in parts_of(peg.hazard, ",")
        if part == hazard or (part.startswith(f"{hazard} (") and part.endswith(")"))
    ]


def _others(peg: Peg) -> list[str]:
    return [
        part
        for part in parts_of(peg.hazard, ",")
        if not any(_noted(replace(peg, hazard=part), each) for each in HAZARDS.values())
    ]


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
        if len(name) > LONGEST_NAME:
            wrong.append(f"{name[:12]}… is too long for a peg; {LONGEST_NAME} letters fit.")
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


def _hazard(words: str) -> Callable[[Peg, str], Peg]:
    def add(peg: Peg, why: str) -> Peg:
        said = f"{words} ({why})" if why else words
        return replace(peg, hazard=", ".join(part for part in (peg.hazard, said) if part))

    return add


def _beware(peg: Peg, why: str) -> Peg:
    return replace(peg, hazard=", ".join(part for part in (peg.hazard, why) if part))


def _act(what: str) -> Callable[[Peg, str], Peg]:
    """What a word says of a peg, by how it begins or what it names."""
    if what.startswith("easy"):
        return _easy
    if what.startswith("gap"):
        return _gap
    if what.startswith("beware"):
        return _beware
    for word, words in HAZARDS.items():
        if word in what:
            return _hazard(words)
    return _left_out
