"""What a match asks of an angler and how the pools are paid, as announced before anybody pays."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeAlias

from league.rules.policies import Policy, by_key
from league.rules.pools_pence import MoneyError, pounds

STAKE, GOLDEN = "stake", "golden peg"  # what money is taken for, beside optional pools by name

MOST_PLACES = 40
UNITS = {1: "the penny", 10: "10p", 50: "50p", 100: "£1"}

# Whether somebody paid in the frame can also have section money.
FrameRule: TypeAlias = Policy[Callable[[bool], bool]]

BY_DEFAULT = FrameRule(
    "by default",
    "Section money is by default: whoever is paid in the frame takes none, and it passes to the "
    "next in the section.",
    lambda in_the_frame: not in_the_frame,
)
STRAIGHT = FrameRule(
    "straight",
    "Section money is paid straight: who is paid in the frame can take it too.",
    lambda in_the_frame: True,
)
FRAME_RULES = by_key(BY_DEFAULT, STRAIGHT)

# Where the money of a section goes that nobody is left to take: the key says it, `pools` does it.
KEPT, OTHER_SECTIONS, TO_THE_WINNER = "kept", "other sections", "winner"
LeftRule: TypeAlias = Policy[str]
LEFT_RULES = by_key(
    LeftRule(KEPT, "Section money that nobody can take is kept for another match.", KEPT),
    LeftRule(
        OTHER_SECTIONS,
        "Section money that nobody can take goes to the other sections, alike.",
        OTHER_SECTIONS,
    ),
    LeftRule(
        TO_THE_WINNER,
        "Section money that nobody can take goes to the winner of the match.",
        TO_THE_WINNER,
    ),
)

# What the holder of the golden peg must also do; the rule says whose place it reads.
FeatRule: TypeAlias = Policy[str]
FEATS = by_key(
    FeatRule("match", "wins the match", "match"), FeatRule("section", "wins the section", "section")
)

STEP = re.compile(r"(?:from\s+(\d{1,3})\s*:\s*)?(\d{1,3}(?:\s*/\s*\d{1,3})*)")
ONE_IN = re.compile(r"one in (\d{1,2})( rounded up)?")


@dataclass(frozen=True, slots=True)
class Split:
    """
    How many places are paid and in what shares: steps by the number in the pool, or one in so many.

    One in so many pays by falling shares, the last place one, the place before it two, and so on.
    """

    steps: tuple[tuple[int, tuple[int, ...]], ...] = ()
    one_in: int = 0
    rounded_up: bool = False

    def shares(self, entrants: int) -> tuple[int, ...]:
        """The shares of the paid places with so many in the pool."""
        if self.one_in:
            full, rest = divmod(entrants, self.one_in)
            places = full + (1 if rest and self.rounded_up else 0)
            return tuple(range(places, 0, -1))
        return next((s for least, s in sorted(self.steps, reverse=True) if least <= entrants), ())

    @classmethod
    def parse(cls, typed: str) -> Split:
        """
        Read a split as a notice gives it.

        >>> Split.parse("60/25/15; from 12: 40/30/20/10").shares(15)
        (40, 30, 20, 10)
        >>> [len(Split.parse(each).shares(20)) for each in ("one in 3", "one in 3 rounded up")]
        [6, 7]
        """
        text = " ".join(typed.lower().split())
        if found := ONE_IN.fullmatch(text):
            if not int(found[1]):
                raise MoneyError("One in nought pays nobody: write one in 3, say.")
            return cls(one_in=int(found[1]), rounded_up=bool(found[2]))
        steps: dict[int, tuple[int, ...]] = {}
        for part in text.split(";"):
            found = STEP.fullmatch(part.strip())
            if not found:
                raise MoneyError(
                    f"Write how it is split as 60/30/10, 60/25/15; from 12: 40/30/20/10, or one in "
                    f"3, not {typed.strip()!r}."
                )
            least, shares = int(found[1] or 1), tuple(int(each) for each in found[2].split("/"))
            if least in steps:
                raise MoneyError(f"Two splits begin from {least}: say from how many each counts.")
            if list(shares) != sorted(shares, reverse=True) or not min(shares):
                raise MoneyError(
                    f"{found[2]} gives a lower place more, or one nothing: the first share is the "
                    "largest and every place has some."
                )
            if len(shares) > MOST_PLACES:
                raise MoneyError(f"{len(shares)} places are more than can be paid here.")
            steps[least] = shares
        return cls(tuple(sorted(steps.items())))

    def __str__(self) -> str:
        if self.one_in:
            return f"one in {self.one_in}{' rounded up' if self.rounded_up else ''}"
        return "; ".join(
            f"{f'from {least}: ' if least > 1 else ''}{'/'.join(map(str, shares))}"
            for least, shares in self.steps
        )


WINNER_ONLY = Split(((1, (1,)),))


@dataclass(frozen=True, slots=True)
class Fee:
    """What comes off every stake before the pools: a peg fee, a levy, a season fund."""

    name: str
    each: int


@dataclass(frozen=True, slots=True)
class OptionalPool:
    """A pool of its own, for those who pay into it."""

    name: str
    stake: int
    split: Split = WINNER_ONLY


@dataclass(frozen=True, slots=True)
class GoldenPeg:
    """A drawn peg whose holder takes the fund by a feat; else it is carried to another day."""

    peg: str = ""  # not drawn yet
    of_stake: int = 0  # of every stake
    stake: int = 0  # paid on top, by those who want to be in it
    carried: int = 0  # from matches before
    feat: FeatRule = field(default_factory=lambda: FEATS["match"])


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """
    The money of a match as announced. All sums are pence a head unless said otherwise.

    Fees, frame, sections, teams and the golden peg's part make up the stake to the penny.
    """

    stake: int = 0
    fees: tuple[Fee, ...] = ()
    frame: int = 0
    frame_split: Split = WINNER_ONLY
    section: int = 0
    section_split: Split = WINNER_ONLY
    team: int = 0
    team_split: Split = WINNER_ONLY
    optional: tuple[OptionalPool, ...] = ()
    golden: GoldenPeg | None = None
    frame_rule: FrameRule = BY_DEFAULT
    left_rule: LeftRule = field(default_factory=lambda: LEFT_RULES[KEPT])
    unit: int = 1  # prizes are rounded to so many pence
    fish_only: bool = True  # no fish, no prize
    juniors: bool = False  # whether juniors are in the pools
    fund: str = "Club fund"  # keeps what does not split and what nobody takes
    brought: int = 0  # change in the tin before the first angler pays; for the whole match

    @property
    def fees_each(self) -> int:
        """What of a stake goes into no pool; all that a junior pays who is in none."""
        return sum(fee.each for fee in self.fees)

    @property
    def asks(self) -> bool:
        """Whether anybody pays anything."""
        return self.stake > 0 or bool(self.extras)

    @property
    def extras(self) -> dict[str, int]:
        """What may be paid beside the stake, by name."""
        found = {pool.name: pool.stake for pool in self.optional}
        if self.golden and self.golden.stake:
            found[GOLDEN] = self.golden.stake
        return found

    def due(self, what: str, *, junior: bool = False) -> int:
        """What an angler pays for *what*; 0 where there is nothing to pay."""
        out = junior and not self.juniors
        if what == STAKE:
            return self.fees_each if out else self.stake
        return 0 if out else self.extras.get(what, 0)


def checked(plan: Plan) -> Plan:
    """Give *plan* back, or refuse it where it does not add up."""
    golden = plan.golden.of_stake if plan.golden else 0
    parts = plan.fees_each + plan.frame + plan.section + plan.team + golden
    if parts != plan.stake:
        raise MoneyError(
            f"The parts of the stake come to {pounds(parts)}, and the stake is "
            f"{pounds(plan.stake)}: put one of them right."
        )
    if plan.golden and plan.golden.of_stake and plan.golden.stake:
        raise MoneyError("The golden peg is a part of the stake or paid on top, not both.")
    names = [pool.name.casefold() for pool in plan.optional]
    if len(set(names)) < len(names) or set(names) & {STAKE, GOLDEN}:
        raise MoneyError("Every optional pool needs a name of its own.")
    if any(not pool.stake for pool in plan.optional):
        raise MoneyError("An optional pool costs something: write its stake.")
    if plan.unit not in UNITS:
        raise MoneyError("Prizes are rounded to 1p, 10p, 50p or £1.")
    return plan
