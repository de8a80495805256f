"""The pools of a match, shared out by what was announced: what came in is what goes out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass

from league.rules.lines import MatchResult, Reason, SectionResult, TeamLine
from league.rules.pools_pence import MoneyError, evenly
from league.rules.pools_plan import (
    GOLDEN,
    KEPT,
    OTHER_SECTIONS,
    STAKE,
    GoldenPeg,
    OptionalPool,
    Plan,
    Split,
    checked,
)
from league.rules.pools_shares import Contender, Payout, Share, groups_of, pay_places

PRIZES = ("frame", "section", "team", "optional", "golden")


@dataclass(frozen=True, slots=True)
class CameIn:
    """One sum that came in: for what, from how many, how much in all."""

    what: str
    heads: int
    pence: int


@dataclass(frozen=True, slots=True)
class Settlement:
    """A match's money, worked out: every penny that came in stands once among what goes out."""

    came_in: tuple[CameIn, ...]
    outs: tuple[Payout, ...]

    @property
    def total(self) -> int:
        """What came in, and so what goes out."""
        return sum(each.pence for each in self.came_in)

    @property
    def prizes(self) -> tuple[Payout, ...]:
        """What goes to anglers, in the order it is read out."""
        return tuple(each for each in self.outs if each.kind in PRIZES)

    @property
    def others(self) -> tuple[Payout, ...]:
        """Fees, what is kept and what is carried."""
        return tuple(each for each in self.outs if each.kind not in PRIZES)

    def by_angler(self) -> dict[str, int]:
        """What each paid angler takes in all, by key."""
        found: dict[str, int] = {}
        for each in self.prizes:
            found[each.key] = found.get(each.key, 0) + each.pence
        return found


def settle(
    result: MatchResult,
    plan: Plan,
    paid: Mapping[str, Set[str]],
    *,
    juniors: Set[str] = frozenset(),
) -> Settlement:
    """
    Share out what was paid.

    *paid* holds the keys of those who paid, under "stake", "golden peg" and the optional pools'
    names: who has not paid is in no pool. *juniors* who are in no pool pay the fees alone.
    """
    checked(plan)
    out = frozenset() if plan.juniors else frozenset(juniors)
    payers = frozenset(paid.get(STAKE, ()))
    entered = payers - out
    came_in = [
        CameIn(STAKE, len(entered), plan.stake * len(entered)),
        CameIn("junior", len(payers & out), plan.fees_each * len(payers & out)),
    ]
    outs = [
        Payout("fee", fee.name, "", fee.name, fee.each * len(payers),
               Reason("fee", {"each": fee.each, "heads": len(payers)}))
        for fee in plan.fees
    ]  # fmt: skip
    table = _Table(result, plan, entered)
    frame = table.frame()
    outs += [*frame, *table.sections({each.key for each in frame if each.key}, frame)]
    outs += table.teams()
    for pool in plan.optional:
        chosen = frozenset(paid.get(pool.name, ())) - out
        came_in.append(CameIn(pool.name, len(chosen), pool.stake * len(chosen)))
        outs += table.optional(pool, chosen)
    if plan.golden:
        chosen = frozenset(paid.get(GOLDEN, ())) - out if plan.golden.stake else entered
        came_in += [
            CameIn(GOLDEN, len(chosen), plan.golden.stake * len(chosen)),
            CameIn("carried", 0, plan.golden.carried),
        ]
        outs += table.golden(plan.golden, chosen)
    settled = Settlement(
        tuple(each for each in came_in if each.pence),
        tuple(each for each in outs if each.pence),
    )
    if sum(each.pence for each in settled.outs) != settled.total:
        raise MoneyError("The sums do not agree: pay nothing out, and say so to the treasurer.")
    return settled


@dataclass(frozen=True, slots=True)
class _Table:
    """The table at which the pools are paid: the result, what was announced, who is in."""

    result: MatchResult
    plan: Plan
    entered: Set[str]

    def frame(self) -> list[Payout]:
        """The paid places of the whole match."""
        total = self.plan.frame * len(self.entered)
        return self._of_the_match("frame", "Frame", total, self.plan.frame_split, self.entered)

    def optional(self, pool: OptionalPool, chosen: Set[str]) -> list[Payout]:
        """The best placed of those who paid into an optional pool."""
        total = pool.stake * len(chosen)
        return self._of_the_match("optional", pool.name, total, pool.split, chosen)

    def _of_the_match(
        self, kind: str, pool: str, total: int, split: Split, chosen: Set[str]
    ) -> list[Payout]:
        groups = groups_of(self._anglers(chosen))
        shares, left = pay_places(total, groups, split.shares(len(chosen)), self.plan.unit)
        return [*_paid(kind, pool, shares), *self._kept(pool, left, nobody=not shares)]

    def sections(self, in_frame: Set[str], frame: Sequence[Payout]) -> list[Payout]:
        """Each section's own money, and what becomes of it where nobody is left to take it."""
        total = self.plan.section * len(self.entered)
        fished = [each for each in self.result.sections if self._members(each, frozenset())]
        if not total or not fished:
            return self._kept("Sections", total, nobody=True)
        takers = {
            each.section: self._members(
                each, {key for key in in_frame if not self.plan.frame_rule.rule(True)}
            )
            for each in fished
        }
        ready = [letter for letter, left in takers.items() if left]
        others = self.plan.left_rule.rule == OTHER_SECTIONS and bool(ready)
        letters = ready if others else list(takers)
        outs: list[Payout] = []
        for letter, money in zip(letters, evenly(total, len(letters)), strict=True):
            pool, groups = f"Section {letter}", groups_of(takers[letter])
            if not groups:
                outs += self._left(pool, money, frame)
                continue
            split = self.plan.section_split.shares(self._entered_in(letter))
            shares, left = pay_places(money, groups, split, self.plan.unit)
            more = {"section": letter, "passed": self._passed(letter, in_frame)}
            outs += [*_paid("section", pool, shares, more), *self._kept(pool, left)]
        return outs

    def _left(self, pool: str, money: int, frame: Sequence[Payout]) -> list[Payout]:
        """The money of a section that nobody is left to take."""
        winners = [each for each in frame if each.key and each.reason.facts["from"] == 1]
        if self.plan.left_rule.rule == KEPT or not winners:
            return self._kept(pool, money, nobody=True)
        each, spare = divmod(money, len(winners))
        facts = {"money": money, "level": len(winners)}
        return [
            *(
                Payout("section", pool, who.key, who.name, each, Reason("left", facts))
                for who in winners
            ),
            *self._kept(pool, spare),
        ]

    def teams(self) -> list[Payout]:
        """The teams' money, shared alike by the members who are in the pool."""
        total = self.plan.team * len(self.entered)
        sides = {line.team_id or line.team: self._side(line) for line in self.result.teams}
        groups = groups_of(
            Contender(line.team_id or line.team, line.team, line.place)
            for line in self.result.teams
            if sides[line.team_id or line.team] and (line.weight or not self.plan.fish_only)
        )
        split = self.plan.team_split.shares(sum(len(group) for group in groups))
        shares, left = pay_places(total, groups, split, self.plan.unit)
        outs: list[Payout] = []
        for share in shares:
            side = sides[share.who.key]
            facts = {**share.facts, "team": share.who.name, "prize": share.pence, "of": len(side)}
            outs += [
                Payout("team", "Teams", who.key, who.name, money, Reason("team place", facts))
                for who, money in zip(side, evenly(share.pence, len(side)), strict=True)
            ]
        return [*outs, *self._kept("Teams", left, nobody=not shares)]

    def golden(self, golden: GoldenPeg, chosen: Set[str]) -> list[Payout]:
        """The golden peg's fund: to its holder by the feat, or carried to another day."""
        fund = golden.carried + (golden.of_stake or golden.stake) * len(chosen)
        facts = {"peg": golden.peg, "fund": fund, "feat": golden.feat.key}
        holder = next(
            (
                line
                for section in self.result.sections
                for line in section.lines
                if golden.peg and line.row.peg == golden.peg
            ),
            None,
        )
        if holder is None:
            return self._carried(fund, {**facts, "why": "peg" if golden.peg else "no peg"})
        key, name = holder.row.angler_key, holder.row.angler
        places = self._places(golden.feat.rule, holder.row.section)
        won = places.get(key) == 1 and holder.weight > 0
        if not won or key not in chosen:
            return self._carried(fund, {**facts, "why": "lost" if not won else "not in",
                                        "name": name})  # fmt: skip
        joint = sum(place == 1 for place in places.values())
        taken = fund // joint
        facts |= {"level": joint, "name": name}
        return [
            Payout("golden", "Golden peg", key, name, taken, Reason("golden", facts)),
            *self._carried(fund - taken, {**facts, "why": "joint"}),
        ]

    def _places(self, feat: str, section: str) -> dict[str, int | None]:
        """The place of everybody the holder is measured against."""
        if feat == "section":
            lines = next(each.lines for each in self.result.sections if each.section == section)
            return {line.row.angler_key: line.place for line in lines}
        return {line.angler_id or line.angler: line.place for line in self.result.anglers}

    def _anglers(self, chosen: Set[str]) -> list[Contender]:
        return [
            Contender(line.angler_id or line.angler, line.angler, line.place, line.section)
            for line in self.result.anglers
            if line.place is not None
            and (line.angler_id or line.angler) in chosen
            and (line.weight or not self.plan.fish_only)
        ]

    def _members(self, section: SectionResult, without: Set[str]) -> list[Contender]:
        return [
            Contender(line.row.angler_key, line.row.angler, line.place, section.section)
            for line in section.lines
            if line.place is not None
            and line.row.angler_key in self.entered - without
            and (line.weight or not self.plan.fish_only)
        ]

    def _entered_in(self, letter: str) -> int:
        """How many of a section are in the pool, with fish or without."""
        section = next(each for each in self.result.sections if each.section == letter)
        return sum(line.row.angler_key in self.entered for line in section.lines)

    def _side(self, team: TeamLine) -> list[Contender]:
        """The members of a team who are in the pool, in section order."""
        return [
            Contender(line.row.angler_key, line.row.angler, 0, section.section)
            for section in self.result.sections
            for line in section.lines
            if line.row.team_key == (team.team_id or team.team)
            and line.row.angler_key in self.entered
        ]

    def _passed(self, letter: str, in_frame: Set[str]) -> list[str]:
        """Who of a section is passed over because the frame paid them, best first."""
        if self.plan.frame_rule.rule(True):
            return []
        section = next(each for each in self.result.sections if each.section == letter)
        members = sorted(self._members(section, frozenset()), key=lambda each: each.place)
        return [each.name for each in members if each.key in in_frame]

    def _kept(self, pool: str, money: int, *, nobody: bool = False) -> list[Payout]:
        reason = Reason("nobody" if nobody else "spare", {"pool": pool})
        return [Payout("kept", pool, "", self.plan.fund, money, reason)] if money else []

    def _carried(self, money: int, facts: Mapping[str, object]) -> list[Payout]:
        reason = Reason("carried", facts)
        return [Payout("carried", "Golden peg", "", "Golden peg fund", money, reason)]


def _paid(
    kind: str, pool: str, shares: Sequence[Share], more: Mapping[str, object] | None = None
) -> list[Payout]:
    return [
        Payout(kind, pool, share.who.key, share.who.name, share.pence,
               Reason("place", {**share.facts, "pool": pool, **(more or {})}))
        for share in shares
    ]  # fmt: skip
