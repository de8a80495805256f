"""What is worth asking about before a weight is accepted. Told that it is right, it is accepted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from league.rules.nets import NetRules, counted_nets
from league.rules.weights import DRAMS_IN_POUND, Unit, spoken, written


@dataclass(frozen=True, slots=True)
class Doubt:
    """
    One question, for the screen to ask and for somebody to answer.

    *key* names what is asked and about which figure: an answer given for 43-6 does not hold when
    the figure becomes 34-6. *net* counts from 1.
    """

    key: str
    net: int
    headline: str
    words: str
    accept: str  # the answer that leaves the figure as it was read
    then: str  # what that answer does


def doubts_about(nets: Sequence[int], rules: NetRules, unit: Unit) -> tuple[Doubt, ...]:
    """
    What to ask about *nets*, in drams or grams, in the order they were weighed.

    >>> [doubt.headline for doubt in doubts_about([43 * 256], NetRules(40 * 256), Unit.LB_OZ)]
    ['This net is over 40 lb']
    """
    if rules.limit is None:
        return ()
    return tuple(
        _over(number, net, rules.limit, rules, unit)
        for number, net in enumerate(nets, start=1)
        if net > rules.limit
    )


def shortly(amount: int, unit: Unit) -> str:
    """A weight without ounces that are none: 40 lb, but 40 lb 8 oz; 20 kg, but 20.500 kg."""
    whole = DRAMS_IN_POUND if unit is Unit.LB_OZ else 1000
    if amount % whole:
        return spoken(amount, unit)
    return f"{amount // whole} {'lb' if unit is Unit.LB_OZ else 'kg'}"


def _over(number: int, net: int, limit: int, rules: NetRules, unit: Unit) -> Doubt:
    read, most = spoken(net, unit), shortly(limit, unit)
    counted = counted_nets([net], rules)
    if counted is None:
        counts = "the angler is disqualified"
        accept, then = f"It read {read}", "The result will show the angler as disqualified"
    elif not counted[0]:
        counts = "the whole net does not count"
        accept, then = (
            "Count nothing of it",
            f"The sheet will show {written(net, unit)} read, none counted",
        )
    else:
        what = shortly(counted[0], unit)
        counts = f"{what} counts, the rest does not"
        accept = f"Count {spoken(counted[0], unit)}"
        then = f"The sheet will show {written(net, unit)} read, {written(counted[0], unit)} counted"
    return Doubt(
        key=f"over-{number}-{net}",
        net=number,
        headline=f"This net is over {most}",
        words=f"{read} is {shortly(net - limit, unit)} over the limit for one net. "
        f"The rule here: {counts}. The fish go back either way.",
        accept=accept,
        then=then,
    )
