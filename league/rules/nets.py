"""Net limits: from the nets as read to the weight that counts, net by net."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from league.rules.policies import Policy, by_key

# From net, limit and tolerance to what counts; None puts the angler out.
OverRule: TypeAlias = Policy[Callable[[int, int, int], int | None]]

CAP = OverRule(
    "cap",
    "what is over does not count",
    lambda net, limit, tolerance: min(net, limit),
)
CAP_WITH_TOLERANCE = OverRule(
    "cap with tolerance",
    "up to the tolerance over, the limit counts; past that the whole net is out",
    lambda net, limit, tolerance: min(net, limit) if net <= limit + tolerance else 0,
)
TWICE_THE_EXCESS = OverRule(
    "twice the excess",
    "what is over is taken off twice",
    lambda net, limit, tolerance: max(0, net - 2 * max(0, net - limit)),
)
NET_OUT = OverRule(
    "net out",
    "the whole net does not count",
    lambda net, limit, tolerance: net if net <= limit else 0,
)
ANGLER_OUT = OverRule(
    "angler out",
    "the angler is disqualified",
    lambda net, limit, tolerance: net if net <= limit else None,
)
OVERS = by_key(CAP, CAP_WITH_TOLERANCE, TWICE_THE_EXCESS, NET_OUT, ANGLER_OUT)


@dataclass(frozen=True, slots=True)
class NetRules:
    """The limit on each net, in drams or grams; None where there is none."""

    limit: int | None = None
    over: OverRule = CAP
    tolerance: int | None = None


def counted_nets(nets: Sequence[int], rules: NetRules) -> tuple[int, ...] | None:
    """
    What counts of each net; None where the angler is out.

    >>> counted_nets([58 * 256, 64 * 256 + 128, 71 * 256],
    ...              NetRules(60 * 256, CAP_WITH_TOLERANCE, 10 * 256))
    (14848, 15360, 0)
    """
    if rules.limit is None:
        return tuple(nets)
    counted = []
    for net in nets:
        counts = rules.over.rule(net, rules.limit, rules.tolerance or 0)
        if counts is None:
            return None
        counted.append(counts)
    return tuple(counted)
