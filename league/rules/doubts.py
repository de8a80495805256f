"""What is worth asking about before a weight is accepted. Told that it is right, it is accepted."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from league.rules.nets import NetRules, counted_nets
from league.rules.slips import Guess, guess
from league.rules.usual import ADDED, GRAMS_IN_OUNCE, Today, ounces
from league.rules.weights import (
    DRAMS_IN_POUND,
    OUNCES_IN_POUND,
    Unit,
    spoken,
    written,
)

# Standard deviations from the middle that are worth one question.
FAR = 2.5
# So is a slip this likely; lower, and one ten-pound fish on a day of ounces would be asked about.
LIKELY = 0.3
# What was meant is offered from here on, where something is asked anyway.
WORTH_OFFERING = 0.1
AT_THE_SCALES = "Read the scales again before the fish go back."
PAPER = "Look at the paper again: is it read right, and if so, do the scalesmen remember it?"


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
    offer: tuple[int, ...] = ()  # the nets that were likely meant; empty: nothing is offered
    offered: str = ""  # the answer that takes them instead


def doubts_about(
    nets: Sequence[int],
    rules: NetRules,
    unit: Unit,
    today: Today | None = None,
    *,
    on_paper: bool = False,
) -> tuple[Doubt, ...]:
    """
    What to ask about *nets*, in drams or grams, in the order they were weighed.

    Without *today* nothing is compared with the day's other weights. What is *on_paper* cannot be
    weighed again: the fish are back.

    >>> [doubt.headline for doubt in doubts_about([43 * 256], NetRules(40 * 256), Unit.LB_OZ)]
    ['This net is over 40 lb']
    """
    limit = rules.limit
    asked = (
        []
        if limit is None
        else [
            _over(number, net, limit, rules, unit, on_paper)
            for number, net in enumerate(nets, start=1)
            if net > limit
        ]
    )
    asked += _same(nets, unit)
    if today is not None and any(nets):
        asked += _far(nets, unit, today, on_paper)
    return tuple(asked)


def likely_slip(nets: Sequence[int], unit: Unit, today: Today) -> tuple[int, Guess]:
    """Which of *nets*, counted from 1, is most likely a slip, and of what."""
    total = sum(nets)
    guesses = [guess(net, unit, today, beside=total - net) for net in nets]
    place = max(range(len(nets)), key=lambda each: guesses[each].chance)
    return place + 1, guesses[place]


def shortly(amount: int, unit: Unit) -> str:
    """A weight without ounces that are none: 40 lb, but 40 lb 8 oz; 20 kg, but 20.500 kg."""
    whole = DRAMS_IN_POUND if unit is Unit.LB_OZ else 1000
    if amount % whole:
        return spoken(amount, unit)
    return f"{amount // whole} {'lb' if unit is Unit.LB_OZ else 'kg'}"


def _over(number: int, net: int, limit: int, rules: NetRules, unit: Unit, on_paper: bool) -> Doubt:
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
        f"The rule here: {counts}.{'' if on_paper else ' The fish go back either way.'}",
        accept=accept,
        then=then,
    )


def _same(nets: Sequence[int], unit: Unit) -> list[Doubt]:
    """Nets that read the same to the last figure: two nets, or one entered twice."""
    asked = []
    for place, net in enumerate(nets):
        if not net or net not in nets[:place]:
            continue
        first = nets.index(net) + 1
        second = place + 1
        asked.append(
            Doubt(
                key=f"same-{first}-{second}-{net}",
                net=second,
                headline=f"Net {first} and net {second} read the same",
                words=f"Both read {spoken(net, unit)}. Is it two nets, or one net entered twice?",
                accept="Two nets: count both",
                then=f"The sheet will show {written(net, unit)} for each",
                offer=tuple(nets[:place]) + tuple(nets[place + 1 :]),
                offered="One net, entered twice",
            )
        )
    return asked


def _far(nets: Sequence[int], unit: Unit, today: Today, on_paper: bool) -> list[Doubt]:
    """A weight far from what is usual here today, or one that a slip explains better."""
    total = sum(nets)
    off = today.off_by(ounces(total, unit))
    number, slip = likely_slip(nets, unit, today)
    if abs(off) <= FAR and slip.chance <= LIKELY:
        return []
    read = shortly(total, unit)
    usual = round_figure(math.exp(today.middle) - ADDED, unit)
    offer: tuple[int, ...] = ()
    offered = ""
    if slip.chance > WORTH_OFFERING and slip.meant:
        offer = (*nets[: number - 1], slip.meant, *nets[number:])
        offered = f"It was {spoken(slip.meant, unit)}"
        if len(nets) > 1:
            offered = f"Net {number} was {spoken(slip.meant, unit)}"
    where = "over" if off > 0 else "under"
    doubt = Doubt(
        key=f"far-{total}",
        net=number,
        headline=f"{read} is a long way {where} the usual",
        words=f"About {usual} is usual at this peg today. {PAPER if on_paper else AT_THE_SCALES}",
        accept=f"It is right: {spoken(total, unit)}",
        then="It is saved as it was read",
        offer=offer,
        offered=offered,
    )
    return [doubt]


def round_figure(usual: float, unit: Unit) -> str:
    """
    A middle weight in ounces, said roughly.

    >>> round_figure(53.4, Unit.LB_OZ), round_figure(13.2, Unit.LB_OZ), round_figure(53.4, Unit.KG)
    ('3 lb', '13 oz', '1.5 kg')
    """
    if unit is Unit.KG:
        return f"{max(usual, 0) * GRAMS_IN_OUNCE / 1000:.1f} kg"
    if usual < 2 * OUNCES_IN_POUND:
        return f"{max(round(usual), 1)} oz"
    return shortly(round(usual / OUNCES_IN_POUND) * DRAMS_IN_POUND, unit)
