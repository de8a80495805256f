"""Pegs along a bank: which may be used, which are neighbours, how they make sections."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from string import ascii_uppercase

from league.rules.errors import PegError


@dataclass(frozen=True, slots=True)
class Peg:
    """
    One place to fish from. *order* counts along the bank, from one end to the other.

    *gap_after* says that the next peg is too far off to be a neighbour. A peg that is left out
    stays on the plan, with the reason.
    """

    name: str
    order: int
    water: str = ""
    gap_after: bool = False
    easy_access: bool = False
    left_out: bool = False
    why: str = ""
    hazard: str = ""  # what to beware of there: "overhead power line within 30 m, deep margin"


@dataclass(frozen=True, slots=True)
class Cut:
    """A bank cut into sections: runs of pegs by letter, and the usable pegs nobody will fish."""

    sections: dict[str, tuple[Peg, ...]]
    spare: tuple[Peg, ...]
    gaps_crossed: int


# Unfairness is added up in whole billionths, so that equal cuts are equal on every machine.
BILLION = 10**9

Unfairness = Callable[[Sequence[Peg]], float]


def usable(pegs: Iterable[Peg]) -> list[Peg]:
    """The pegs that may be fished, in the order of the bank."""
    return sorted((peg for peg in pegs if not peg.left_out), key=lambda peg: peg.order)


def neighbours(pegs: Iterable[Peg]) -> list[tuple[Peg, Peg]]:
    """
    The pairs of usable pegs with nothing between them, along the bank.

    A peg left out keeps its neighbours apart, and so does a gap or the end of a water.
    """
    bank = sorted(pegs, key=lambda peg: peg.order)
    return [
        (one, other)
        for one, other in pairwise(bank)
        if one.water == other.water and not (one.gap_after or one.left_out or other.left_out)
    ]


def section_letters(count: int) -> list[str]:
    """The letters of *count* sections: A to Z, then AA, AB ..."""
    letters = list(ascii_uppercase)
    doubled = [first + second for first in letters for second in letters]
    return (letters + doubled)[:count]


def section_sizes(anglers: int, target: int, allowed: tuple[int, int] | None = None) -> list[int]:
    """
    The sizes of sections for *anglers*, as near to *target* as can be, the usual size first.

    Of all equal splits (sizes one apart at most) within *allowed*, the one with the fewest
    anglers over or under the target; between two such, the one with fewer sections.
    """
    smallest, largest = allowed or (target - 1, target + 1)
    splits = [_split(anglers, count) for count in range(1, anglers + 1)]
    fitting = [sizes for sizes in splits if smallest <= min(sizes) and max(sizes) <= largest]
    if not fitting:
        raise PegError(
            f"{anglers} anglers cannot be put into sections of {smallest} to {largest}. "
            "Allow other sizes."
        )
    off = {len(sizes): sum(abs(size - target) for size in sizes) for sizes in fitting}
    best = min(fitting, key=lambda sizes: (off[len(sizes)], len(sizes)))
    return sorted(best, key=lambda size: (abs(size - target), -size))


def make_sections(
    pegs: Iterable[Peg],
    sections: int = 4,
    size: int | None = None,
    *,
    unfairness: Unfairness | None = None,
) -> Cut:
    """
    Cut the usable pegs into runs of neighbours, no run across two waters.

    With a *size* every section has so many pegs and the others are spare; without, every peg is
    used and sizes differ by one at most. Easy-access pegs are spared last, then as few gaps as
    possible lie inside a section, then the least *unfairness* (a run's own, added up) decides;
    of equal cuts the one nearest the start of the bank, longer sections first.
    """
    bank = usable(pegs)
    if sections < 1:
        raise PegError("A match has at least one section.")
    short, longer = (size, 0) if size is not None else divmod(len(bank), sections)
    if short < 1:
        raise PegError(f"{len(bank)} usable pegs do not make {sections} sections.")
    spare = len(bank) - short * sections - longer
    if spare < 0:
        raise PegError(
            f"{sections} sections of {short} take {short * sections} pegs, "
            f"and {len(bank)} are usable. Make fewer or smaller sections, or bring pegs back in."
        )
    runs = _best_runs(bank, sections, short, longer, unfairness or (lambda _: 0.0))
    if runs is None:
        raise PegError(_no_cut(bank, sections, short, longer))
    taken = {peg.order for run in runs for peg in run}
    return Cut(
        dict(zip(section_letters(sections), runs, strict=True)),
        tuple(peg for peg in bank if peg.order not in taken),
        sum(_gaps(run) for run in runs),
    )


def room(cut: dict[str, tuple[Peg, ...]], teams: int, per_section: int = 1) -> list[str]:
    """What is wrong with the sections for so many *teams*, in words; empty where all is well."""
    needed = teams * per_section
    return [
        f"Section {letter} has {len(run)} peg{'s' if len(run) > 1 else ''} for {needed} anglers. "
        "Add a peg to it, or take a team out."
        for letter, run in cut.items()
        if len(run) < needed
    ]


def draw_numbers(pegs: Iterable[Peg]) -> tuple[dict[Peg, int], dict[int, str]]:
    """
    The whole number each peg has in a draw, and the shown names where those are other than that.

    Pegs keep their own numbers unless one is no whole number or two waters share one; all are
    then counted 1, 2, 3 ... along the bank.
    """
    bank = sorted(pegs, key=lambda peg: peg.order)
    names = [peg.name for peg in bank]
    plain = all(name.isascii() and name.isdecimal() and str(int(name)) == name for name in names)
    if plain and len(set(names)) == len(names):
        return {peg: int(peg.name) for peg in bank}, {}
    return (
        {peg: number for number, peg in enumerate(bank, 1)},
        {number: peg.name for number, peg in enumerate(bank, 1)},
    )


def _split(anglers: int, sections: int) -> list[int]:
    size, longer = divmod(anglers, sections)
    return [size + 1] * longer + [size] * (sections - longer)


def _gaps(run: Sequence[Peg]) -> int:
    return sum(peg.gap_after for peg in run[:-1])


def _no_cut(bank: Sequence[Peg], sections: int, short: int, longer: int) -> str:
    waters = [
        f"{water or 'the water'} has {len(list(group))}"
        for water, group in groupby(bank, key=lambda peg: peg.water)
    ]
    sizes = f"{short} or {short + 1}" if longer else f"{short}"
    return (
        f"No section may lie on two waters, and {'; '.join(waters)} usable pegs: "
        f"that does not make {sections} sections of {sizes}. "
        "Give a smaller size so that pegs may be spared, or cut by hand."
    )


def _best_runs(
    bank: Sequence[Peg], sections: int, short: int, longer: int, unfairness: Unfairness
) -> list[tuple[Peg, ...]] | None:
    """
    The cheapest runs, found from the far end of the bank towards the near one.

    A state is (next peg, runs made, longer runs made); how many pegs were spared follows from
    these. Its cost is that of everything still to come: easy pegs spared, gaps crossed,
    unfairness. About pegs x sections x longer sections states, so 200 pegs take no time.
    """
    priced: dict[tuple[int, int], tuple[int, int, int] | None] = {}

    def price(start: int, length: int) -> tuple[int, int, int] | None:
        key = start, length
        if key not in priced:
            run = bank[start : start + length]
            fits = len(run) == length and run[0].water == run[-1].water
            priced[key] = (0, _gaps(run), round(unfairness(run) * BILLION)) if fits else None
        return priced[key]

    end = len(bank)
    spares = end - sections * short - longer
    costs: dict[tuple[int, int, int], tuple[int, int, int]] = {(end, sections, longer): (0, 0, 0)}
    steps: dict[tuple[int, int, int], int] = {}
    for at in range(end - 1, -1, -1):
        for made in range(sections + 1):
            for long in range(min(made, longer) + 1):
                spared = at - made * short - long
                if not 0 <= spared <= spares:
                    continue
                choices = (
                    [(short + 1, (at + short + 1, made + 1, long + 1))] if long < longer else []
                )
                if made < sections:
                    choices.append((short, (at + short, made + 1, long)))
                choices.append((0, (at + 1, made, long)))
                for length, then in choices:
                    here = price(at, length) if length else (int(bank[at].easy_access), 0, 0)
                    if here is None or then not in costs:
                        continue
                    rest = costs[then]
                    cost = here[0] + rest[0], here[1] + rest[1], here[2] + rest[2]
                    state = at, made, long
                    if state not in costs or cost < costs[state]:
                        costs[state], steps[state] = cost, length
    if (0, 0, 0) not in costs:
        return None
    runs: list[tuple[Peg, ...]] = []
    at = made = long = 0
    while at < end:
        length = steps[at, made, long]
        if length:
            runs.append(tuple(bank[at : at + length]))
            made, long = made + 1, long + (length > short)
        at += length or 1
    return runs
