"""
Who can still win a league: bounds that are certain, and a worked way where there is one.

Whether a team can still win is in general too hard to decide (it is the two-manipulator Borda
problem: Davies, Katsirelos, Narodytska and Walsh 2011; Betzler, Niedermeier and Woeginger 2011).
So: a bound where it settles the matter, else a way it can happen, else "still open". Whatever is
said is true of every way the rounds left can be fished, penalty points to come apart.

Inside, scores are costs: times the sign, so that less is better in every league.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from itertools import accumulate
from math import inf

from league.rules.race import Chance, Contender, Left, Total, Verdict


def chances(contenders: Sequence[Contender], left: Left) -> list[Chance]:
    """What can be said of each of *contenders*, in their order; nothing is left: of nobody."""
    if not left.rounds or len(contenders) < 2:
        return []
    race = _Race(contenders, left)
    return [race.chance(at) for at in range(len(contenders))]


class _Race:
    """The season as costs, its bounds worked out once."""

    def __init__(self, contenders: Sequence[Contender], left: Left) -> None:
        self.left = left
        if left.newcomer is not None:
            contenders = [*contenders, left.newcomer]
        self.keys = [each.key for each in contenders]
        self.table = [left.sign * points for points in left.table]
        self.known = [
            {number: left.sign * points for number, points in each.scores.items()}
            for each in contenders
        ]
        self.penalty = [each.penalty for each in contenders]
        self.keep = [each.kept | left.undroppable for each in contenders]
        self.fished = [each.fished for each in contenders]
        first, worst = left.contests * self.table[0], left.sign * left.worst
        spoilt = set(left.rounds) if left.worst_is_kept else set()
        everybody = range(len(contenders))
        self.best = [self.total(at, dict.fromkeys(left.rounds, first)) for at in everybody]
        self.worst = [
            self.total(at, dict.fromkeys(left.rounds, worst), spoilt, there=False)
            for at in everybody
        ]
        # Of each once, for there may be hundreds of anglers, and each is held against each.
        away = dict.fromkeys(left.rounds, left.sign * (left.away or 0))
        self.away = [self.total(at, away, there=False) for at in everybody if left.alone]
        self.now = [self.total(at, {}) for at in everybody if left.alone]

    def total(
        self,
        at: int,
        to_come: Mapping[int, Total],
        spoilt: Collection[int] = (),
        *,
        there: bool = True,
    ) -> Total:
        """
        What one ends with; as in the table, what may not be dropped counts in any case.

        Whoever cannot fish enough rounds, or is not *there* for those left, is behind everybody.
        """
        if self.fished[at] + there * len(to_come) < self.left.minimum:
            return inf
        keep = self.keep[at]
        held: list[Total] = []
        free: list[Total] = []
        for rounds in (self.known[at], to_come):
            for number, cost in rounds.items():
                (held if number in keep or number in spoilt else free).append(cost)
        free.sort()
        return sum(held) + sum(free[: max(0, self.left.counting - len(held))]) + self.penalty[at]

    def chance(self, at: int) -> Chance:
        rivals = [other for other in range(len(self.keys)) if other != at]
        nearest = min(rivals, key=lambda other: self.best[other])
        surest = min(rivals, key=lambda other: self.worst[other])
        if self.worst[at] < self.best[nearest]:
            return self._said(at, Verdict.CHAMPIONS, nearest, self.best[nearest], share=True)
        share = self.worst[at] <= self.best[nearest] < inf
        if self.worst[surest] < self.best[at]:
            return self._said(at, Verdict.CANNOT, surest, self.worst[surest])
        if self._too_much_to_share_out(at, rivals):
            return self._said(at, Verdict.CANNOT, None, 0)
        if self.left.alone:
            return self._apart(at, rivals, share)
        for verdict, clear in ((Verdict.CAN, True), (Verdict.LEVEL, False)):
            way = self._way(at, rivals, clear)
            if way is not None:
                return self._shown(at, verdict, rivals, way, share=share, clear=clear)
        return self._open(at, rivals, share)

    def _apart(self, at: int, rivals: Sequence[int], share: bool) -> Chance:
        """
        Of one among anglers: it can be where it is so with everybody else away.

        Nobody has to come, and so no two are in each other's way.
        """
        left = self.left
        won = dict.fromkeys(left.rounds, left.sign * (left.won or 0))
        reached, ends = self.total(at, won), self.away
        surest = min(rivals, key=lambda other: ends[other])
        if reached > ends[surest] or reached == inf:
            said = self._said(at, Verdict.OPEN, surest, ends[surest], share=share)
        else:
            verdict = Verdict.CAN if reached < ends[surest] else Verdict.LEVEL
            said = self._said(at, verdict, surest, ends[surest], share=share)
        near = sorted(rivals, key=lambda other: (self.now[other], other))
        threats = [other for other in near if self.best[other] <= self.best[at]]
        return replace(
            said,
            reached=left.sign * reached,
            threats=tuple(self.keys[other] for other in threats),
            enough=int(all(self.best[at] < self.best[other] for other in rivals)),
        )

    def _open(self, at: int, rivals: Sequence[int], share: bool) -> Chance:
        """Not decided; with the rival, if any, who is out of reach even coming last each time."""
        last = dict.fromkeys(self.left.rounds, self.left.contests * self.table[-1])
        ends = {other: self.total(other, last) for other in rivals}
        surest = min(rivals, key=lambda other: ends[other])
        if ends[surest] < self.best[at]:
            return self._said(at, Verdict.OPEN, surest, ends[surest], share=share)
        return self._said(at, Verdict.OPEN, None, 0, share=share)

    def _said(
        self, at: int, verdict: Verdict, rival: int | None, total: Total, *, share: bool = False
    ) -> Chance:
        sign = self.left.sign
        return Chance(
            key=self.keys[at],
            verdict=verdict,
            best=sign * self.best[at],
            worst=sign * self.worst[at],
            share_is_sure=share,
            rival="" if rival is None else self.keys[rival],
            rival_total=sign * total,
        )

    def _shown(
        self,
        at: int,
        verdict: Verdict,
        rivals: Sequence[int],
        way: Mapping[int, Mapping[int, Total]],
        *,
        share: bool,
        clear: bool,
    ) -> Chance:
        sign, keys = self.left.sign, self.keys
        single = len(self.left.rounds) * self.left.contests == 1
        return Chance(
            key=keys[at],
            verdict=verdict,
            best=sign * self.best[at],
            worst=sign * self.worst[at],
            share_is_sure=share,
            way={keys[o]: tuple(sign * cost for cost in way[o].values()) for o in rivals},
            ends={keys[o]: sign * self.total(o, way[o]) for o in rivals},
            held_to={keys[o]: self._held_to(at, o, clear) for o in rivals} if single else {},
            enough=self._enough(at, rivals) if single else 0,
        )

    def _too_much_to_share_out(self, at: int, rivals: Sequence[int]) -> bool:
        """
        Whether the rivals together need more bad places than there are.

        Each rival must end no better than the best this one can; the places left are dealt once
        each. Only where nothing is dropped, for a dropped place costs nothing.
        """
        left = self.left
        rounds = max(len(self.known[other]) for other in (at, *rivals)) + len(left.rounds)
        if not left.dealt or left.minimum or left.counting < rounds:
            return False
        needs = sorted(
            (self.best[at] - self.total(other, {}) for other in rivals),
            reverse=True,
        )
        contests = left.contests * len(left.rounds)
        most = accumulate(contests * cost for cost in reversed(self.table))
        return any(need > there for need, there in zip(accumulate(needs), most, strict=False))

    def _way(
        self, at: int, rivals: Sequence[int], clear: bool
    ) -> dict[int, dict[int, Total]] | None:
        """
        A way in which this one wins everything and nobody else ends better; None if none is found.

        Winning everything may be taken for granted: swapped with whoever wins instead, it only
        helps. In each contest the worst place goes to whoever needs it most.
        """
        left, target = self.left, self.best[at]
        way: dict[int, dict[int, Total]] = {
            other: dict.fromkeys(left.rounds, left.contests * self.table[0]) for other in rivals
        }
        ends = {other: self.best[other] for other in rivals}
        for number in left.rounds:
            for _ in range(left.contests):
                by_need = sorted(rivals, key=lambda other: ends[other])
                for other, cost in zip(by_need, reversed(self.table), strict=False):
                    way[other][number] += cost - self.table[0]
                    ends[other] = self.total(other, way[other])
        if all(end > target if clear else end >= target for end in ends.values()):
            return way
        return None

    def _held_to(self, at: int, other: int, clear: bool) -> int:
        """The best place a rival may take in the one contest left, this one winning it."""
        [number] = self.left.rounds
        for place, cost in enumerate(self.table[1:], 2):
            end = self.total(other, {number: cost})
            if end > self.best[at] or (end == self.best[at] and not clear):
                return place
        return len(self.table) + 1

    def _enough(self, at: int, rivals: Sequence[int]) -> int:
        """The worst place in the one contest left that wins whatever the others do; 0 if none."""
        [number] = self.left.rounds
        enough = 0
        for place, cost in enumerate(self.table, 1):
            end = self.total(at, {number: cost})
            others = self.table[1] if place == 1 else self.table[0]
            if any(end >= self.total(other, {number: others}) for other in rivals):
                break
            enough = place
        return enough
