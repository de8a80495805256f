"""Pegs out of the bag: one section, then attempts at all of them until no team has neighbours."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeAlias

from league.rules.draw_chain import Stream

# After so many attempts the one with the fewest clashes stands, and says so.
ATTEMPTS = 1000

Pegs = dict[int, int]
# The end pegs of an attempt, from the bags, the seed and the attempt's number.
GiveEnds: TypeAlias = "Callable[[tuple[Bag, ...], str, int], Pegs]"


@dataclass(frozen=True, slots=True)
class Clash:
    """Two neighbouring pegs that went to one team."""

    one: int
    other: int
    team: str


@dataclass(frozen=True, slots=True)
class Neighbours:
    """The neighbour rule: pairs of pegs, and the team of every entry that has one."""

    pairs: tuple[tuple[int, int], ...]
    teams: Mapping[int, str]

    def clashes(self, pegs: Pegs) -> tuple[Clash, ...]:
        """The pairs of pegs that one team has both of; without a team, nobody clashes."""
        if not self.pairs:
            return ()
        team_on = {peg: self.teams.get(no, "") for no, peg in pegs.items()}
        return tuple(
            Clash(one, other, team_on[one])
            for one, other in self.pairs
            if team_on.get(one) and team_on[one] == team_on.get(other)
        )

    def only(self, pairs: Iterable[tuple[int, int]]) -> Neighbours:
        """The same rule for some of the pairs."""
        return Neighbours(tuple(pairs), self.teams)


@dataclass(frozen=True, slots=True)
class Bag:
    """
    One section ready to be drawn: pegs ascending, anglers by ascending entry number.

    *fixed* anglers have their pegs, and both are out of the bag. *nested* is for a match in which
    a team has two members or more in one section: the section is then drawn again by itself.
    """

    letter: str
    pegs: tuple[int, ...]
    accessible: tuple[int, ...]
    needing: tuple[int, ...]
    others: tuple[int, ...]
    fixed: Pegs = field(default_factory=dict)
    nested: bool = False

    def without(self, given: Pegs) -> Bag:
        """The same after some of its pegs were given to some of its anglers."""
        if not given:
            return self
        mine = {no: peg for no, peg in given.items() if peg in self.pegs}
        gone = frozenset(mine.values())
        return replace(
            self,
            pegs=tuple(peg for peg in self.pegs if peg not in gone),
            accessible=tuple(peg for peg in self.accessible if peg not in gone),
            needing=tuple(no for no in self.needing if no not in mine),
            others=tuple(no for no in self.others if no not in mine),
            fixed={**self.fixed, **mine},
        )

    def holds(self, pair: tuple[int, int]) -> bool:
        """Whether both pegs of the *pair* belong to this section."""
        return all(peg in self.pegs or peg in self.fixed.values() for peg in pair)


@dataclass(frozen=True, slots=True)
class Refused:
    """An attempt that did not stand, and the neighbours that were the reason."""

    attempt: int
    clashes: tuple[Clash, ...]


@dataclass(frozen=True, slots=True)
class Accepted:
    """
    The attempt that stands.

    *clashes* is empty but where no attempt was free of them. *tries* says how often each
    section was drawn by itself within the attempt that stands (nested draws only). *ends* are the
    end pegs that were given first.
    """

    pegs: Pegs
    attempt: int
    refused: tuple[Refused, ...] = ()
    clashes: tuple[Clash, ...] = ()
    tries: Mapping[str, int] = field(default_factory=dict)
    ends: Pegs = field(default_factory=dict)


def no_end_pegs(bags: tuple[Bag, ...], seed: str, attempt: int) -> Pegs:
    """Where end pegs are drawn like any other."""
    return {}


def draw_section(bag: Bag, stream: Stream) -> Pegs:
    """
    Draw one section: those who need an accessible peg first, then the others from all that is left.

    Every valid outcome is equally likely, since the needing leave the same number of pegs to
    the others whichever they draw.
    """
    left = list(bag.pegs)
    drawn = dict(bag.fixed)
    if bag.needing:
        accessible = list(bag.accessible)
        for no, index in zip(bag.needing, stream.each_below(_sizes(accessible)), strict=False):
            drawn[no] = accessible.pop(index)
            left.remove(drawn[no])
    for no, index in zip(bag.others, stream.each_below(_sizes(left)), strict=False):
        drawn[no] = left.pop(index)
    return drawn


def _sizes(pegs: Sequence[int]) -> range:
    """How many pegs are in the bag as one after another is drawn."""
    return range(len(pegs), 0, -1)


def draw_nested(
    bag: Bag, seed: str, label: str, rule: Neighbours, attempts: int = ATTEMPTS
) -> tuple[Pegs, int]:
    """Draw one section until no team has neighbours inside it, and say how often it took."""
    fewest: tuple[int, int, Pegs] | None = None
    for again in range(1, attempts + 1):
        drawn = draw_section(bag, Stream(seed, f"{label}.{again}"))
        clashes = len(rule.clashes(drawn))
        if fewest is None or clashes < fewest[0]:
            fewest = clashes, again, drawn
        if not clashes:
            break
    assert fewest is not None  # noqa: S101  at least one draw was made
    return fewest[2], fewest[1]


def draw_bags(
    bags: Sequence[Bag],
    seed: str,
    rule: Neighbours,
    standing: Pegs,
    attempts: int = ATTEMPTS,
    end_pegs: GiveEnds = no_end_pegs,
) -> Accepted:
    """
    Draw every bag, again and again until no pair of neighbours belongs to one team.

    *standing* are the pegs of sections that are not drawn. Drawing angler by angler and skipping
    the pegs a team-mate blocks would be quicker, and unfair: some valid outcomes would come up
    several times as often as others.
    """
    inside = {
        bag.letter: rule.only(pair for pair in rule.pairs if bag.holds(pair))
        for bag in bags
        if bag.nested
    }
    apart = {pair for own in inside.values() for pair in own.pairs}
    border = rule.only(pair for pair in rule.pairs if pair not in apart)
    refused: list[Refused] = []
    fewest: tuple[int, Accepted] | None = None
    for attempt in range(1, attempts + 1):
        pegs = dict(standing)
        tries: dict[str, int] = {}
        ends = end_pegs(tuple(bags), seed, attempt)
        for each in bags:
            bag = each.without(ends)
            label = f"{bag.letter}/{attempt}"
            if bag.nested:
                drawn, tries[bag.letter] = draw_nested(
                    bag, seed, label, inside[bag.letter], attempts
                )
                pegs |= drawn
            else:
                pegs |= draw_section(bag, Stream(seed, label))
        clashes = border.clashes(pegs)
        every = rule.clashes(pegs) if apart else clashes
        if not clashes:
            return Accepted(pegs, attempt, tuple(refused), every, tries, ends)
        if fewest is None or len(every) < fewest[0]:
            fewest = len(every), Accepted(pegs, attempt, (), every, tries, ends)
        refused.append(Refused(attempt, clashes))
    assert fewest is not None  # noqa: S101  at least one attempt was made
    stands = fewest[1]
    return replace(stands, refused=tuple(no for no in refused if no.attempt != stands.attempt))
