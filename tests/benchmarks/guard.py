"""
How often the guard asks for nothing, and how many slips it catches, on a made-up club.

Run as `python -m tests.benchmarks.guard`. The club is the simulation's alone: days, pegs, anglers
and numbers of fish vary as below, and slips are put in at known rates. What it prints says which
rules are worth having; it says nothing about a real water.
"""

from __future__ import annotations

import math
import random
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

from league.rules.doubts import doubts_about
from league.rules.nets import NetRules
from league.rules.slips import EXTRA, LOST, ONE_BOX, OTHER_UNIT, SWAPPED, TWICE
from league.rules.usual import Usual, today, usual_at
from league.rules.weights import DRAMS_IN_OUNCE, OUNCES_IN_POUND, Unit

DAY, PEG, NEIGHBOURS, ENDS, ANGLER, NOISE = 0.60, 0.40, 0.5, 0.35, 0.35, 0.60
FISH_OUNCES, FISH_SPREAD = 4.0, 0.8
ANGLERS = 48
KINDS = [SWAPPED] * 4 + [ONE_BOX] * 2 + [LOST] * 4 + [EXTRA] * 3 + [TWICE] * 2 + [OTHER_UNIT] * 2
FORM_RELIABILITY = 0.6
SEED = 909


@dataclass
class Count:
    """What one water gave."""

    good: int = 0
    false_alarms: int = 0
    matches: int = 0
    slips: Counter[str] = field(default_factory=Counter)
    refused: Counter[str] = field(default_factory=Counter)
    asked: Counter[str] = field(default_factory=Counter)
    offered_right: int = 0
    last_look: int = 0
    last_alarms: int = 0


def match(dice: random.Random, mean_fish: float) -> Iterator[tuple[float, int]]:
    """One match: for every peg its true form and the ounces its angler weighed."""
    day = dice.gauss(0, DAY)
    form = dice.gauss(0, PEG)
    for peg in range(ANGLERS):
        form = NEIGHBOURS * form + math.sqrt(1 - NEIGHBOURS**2) * dice.gauss(0, PEG)
        end = ENDS if peg in (0, ANGLERS - 1) else 0.0
        level = day + form + end + dice.gauss(0, ANGLER) + dice.gauss(0, NOISE)
        fish = poisson(dice, mean_fish * math.exp(level))
        sizes = (dice.lognormvariate(math.log(FISH_OUNCES), FISH_SPREAD) for _ in range(fish))
        yield form + end, round(sum(sizes))


def poisson(dice: random.Random, mean: float) -> int:
    """How many fish: exactly for few, by the normal for many."""
    if mean > 60:
        return max(0, round(dice.gauss(mean, math.sqrt(mean))))
    count, left = 0, math.exp(-mean)
    chance = dice.random()
    while chance > left:
        count += 1
        chance *= dice.random()
    return count


def slip(dice: random.Random, kind: str, weight: int) -> tuple[int, int] | None:
    """*weight* ounces typed wrongly, as pounds and ounces; None where this slip changes nothing."""
    pounds, rest = divmod(weight, OUNCES_IN_POUND)
    if kind == SWAPPED:
        typed = (rest, pounds)
    elif kind == ONE_BOX:
        if pounds > 15:
            return None
        typed = (0, pounds)
    elif kind == LOST:
        if pounds < 10:
            return None
        place = dice.randrange(len(str(pounds)))
        typed = (int(str(pounds)[:place] + str(pounds)[place + 1 :]), rest)
    elif kind == EXTRA:
        place = dice.randrange(len(str(pounds)))
        typed = (int(str(pounds)[: place + 1] + str(pounds)[place:]), rest)
    elif kind == TWICE:
        typed = divmod(2 * weight, OUNCES_IN_POUND)
    else:
        kilos = weight / 35.274
        typed = (int(kilos), round(kilos % 1 * 100))
    return None if typed == (pounds, rest) else typed


def look(nets: list[int], seen: list[float], usual: Usual, form: float) -> tuple[bool, list[int]]:
    """Whether the guard asks, and what it offers, in ounces."""
    drams = [net * DRAMS_IN_OUNCE for net in nets]
    asked = doubts_about(drams, NetRules(), Unit.LB_OZ, today(usual, seen, form))
    return bool(asked), [sum(each.offer) // DRAMS_IN_OUNCE for each in asked if each.offer]


def water(mean_fish: float, matches: int, slip_rate: float) -> Count:
    """So many matches on a water, each after twenty that say what is usual there."""
    dice = random.Random(SEED)
    count = Count()
    past = [[float(w) for _, w in match(dice, mean_fish) if w] for _ in range(20)]
    usual = usual_at(past)
    form_noise = PEG * math.sqrt(1 / FORM_RELIABILITY - 1)
    for _ in range(matches):
        count.matches += 1
        seen: list[float] = []
        kept: list[tuple[int, float, str]] = []
        for true_form, weight in match(dice, mean_fish):
            form = FORM_RELIABILITY * (true_form + dice.gauss(0, form_noise))
            kind = dice.choice(KINDS) if dice.random() < slip_rate else ""
            typed = slip(dice, kind, weight) if kind and weight else None
            if typed is None:
                if weight:
                    count.good += 1
                    count.false_alarms += look([weight], seen, usual, form)[0]
                    seen.append(weight)
                    kept.append((weight, form, ""))
                continue
            count.slips[kind] += 1
            if typed[1] >= OUNCES_IN_POUND:
                count.refused[kind] += 1
                seen.append(weight)
                continue
            read = typed[0] * OUNCES_IN_POUND + typed[1]
            # a net typed twice stands as two nets that read the same
            nets = [weight, weight] if kind == TWICE else [read]
            asked, offers = look(nets, seen, usual, form) if read else (False, [])
            if asked:
                count.asked[kind] += 1
                count.offered_right += weight in offers
                seen.append(weight)
            elif read:
                seen.append(read)
                kept.append((read, form, kind))
        for number, (weight, form, kind) in enumerate(kept):
            others = [float(w) for n, (w, _, _) in enumerate(kept) if n != number]
            if look([weight], others, usual, form)[0]:
                count.last_look += bool(kind)
                count.last_alarms += not kind
    return count


def main(matches: int) -> None:
    """Print false alarms, recall and precision for two waters."""
    out = sys.stdout.write
    kinds = list(dict.fromkeys(KINDS))
    for name, mean_fish in (("about 3 lb", 8.0), ("about 30 lb", 85.0)):
        c = water(mean_fish, matches, 0.017)
        slips, caught = c.slips.total(), c.refused.total() + c.asked.total()
        out(f"\n{name}: {c.matches} matches, {c.good} right entries, {slips} slips\n")
        out(f"  refused outright         {c.refused.total() / slips:6.1%} of slips, 0 false\n")
        out(f"  refused or asked about   {caught / slips:6.1%} of slips\n")
        out(f"  and the last look        {(caught + c.last_look) / slips:6.1%} of slips\n")
        out(f"  asked for nothing        {c.false_alarms / c.matches:6.2f} a match of {ANGLERS}")
        out(f", the last look {c.last_alarms / c.matches:.2f} more or again\n")
        asked = c.asked.total()
        out(f"  of the questions, right  {asked / (asked + c.false_alarms):6.1%}")
        out(f"; right figure offered {c.offered_right / max(asked, 1):.1%}\n")
        for kind in kinds:
            of = c.slips[kind]
            got = c.refused[kind] + c.asked[kind]
            out(f"    {kind:14s} {got:4d} of {of:4d}\n")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 400)
