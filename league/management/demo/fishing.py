"""What is caught: days, pegs and anglers, better and worse, and fish that come one by one."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from league.management.demo.luck import Luck
from league.rules.weights import DRAMS_IN_OUNCE

# Most anglers start another net at about so much.
NET_OUNCES = 22 * 16


def nets(ounces: int) -> tuple[int, ...]:
    """Drams a net: a good catch is spread over two nets or three, long before any limit."""
    count = 1 + ounces // NET_OUNCES
    share = ounces * 5 // (count * 4) if count > 1 else ounces
    shares = [share] * (count - 1) + [ounces - share * (count - 1)]
    return tuple(net * DRAMS_IN_OUNCE for net in shares) if ounces else ()


@dataclass(frozen=True)
class Fishing:
    """How much days, pegs and anglers differ, as the settings say."""

    spread: Mapping[str, Any]
    waters: Mapping[str, Mapping[str, Any]]
    seed: str
    _pegs: dict[str, dict[int, float]] = field(default_factory=dict)

    def usable(self, water: str) -> list[int]:
        """The pegs of *water* that may be drawn, along the bank."""
        first, last = self.waters[water]["pegs"]
        left_out = {int(peg) for peg in self.waters[water]["left_out"]}
        return [peg for peg in range(first, last + 1) if peg not in left_out]

    def peg(self, water: str, number: int) -> float:
        """How much better this peg is than the next one: for good, not for a day."""
        if water not in self._pegs:
            self._pegs[water] = self._along(water)
        return self._pegs[water][number]

    def _along(self, water: str) -> dict[int, float]:
        """Neighbouring pegs are alike; the end of a run has more water to itself."""
        luck = Luck(f"{self.seed}/pegs/{water}")
        usable, like = self.usable(water), self.spread["neighbours"]
        form, here = {}, luck.normal(self.spread["peg"])
        for number in usable:
            at_an_end = number - 1 not in usable or number + 1 not in usable
            form[number] = here + (self.spread["end_peg"] if at_an_end else 0)
            fresh = luck.normal(self.spread["peg"]) * math.sqrt(1 - like**2)
            here = here * like + fresh
        return form

    def angler(self, name: str) -> float:
        """How much better than the average angler, for good."""
        return Luck(f"{self.seed}/angler/{name}").normal(self.spread["angler"])

    def day(self, date: dt.date, luck: Luck) -> float:
        """How a day fishes, as a share of an ordinary October day."""
        season: float = self.spread["month"][str(date.month)]
        return season * math.exp(luck.normal(self.spread["day"]))

    def catch(self, name: str, water: str, number: int, day: float, luck: Luck) -> int:
        """Whole ounces off one peg on one day; 0 is a blank."""
        spread, there = self.spread, self.waters[water]
        level = self.angler(name) + self.peg(water, number) + luck.normal(spread["on_the_day"])
        typical = math.log(there["ounces"]) - spread["fish"] ** 2 / 2
        fish = luck.count(there["fish"] * day * math.exp(min(level, 1.5)))
        ounces = sum(math.exp(typical + luck.normal(spread["fish"])) for _ in range(fish))
        return max(round(ounces), 1) if fish else 0
