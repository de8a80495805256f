"""
What each peg of a water gave: counts and medians, and how it did against the day.

A peg's form is what it gave above its match's average on a log scale, pulled back towards the
average where it has seldom been drawn (shrinkage, as in James and Stein). It makes no allowance
for who sat there. Nothing is said of a peg without the number of matches that says it, and
nothing at all of a water before ten.
"""

from __future__ import annotations

import math
from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from statistics import median

from league.rules.figures import number_word
from league.rules.lines import Status
from league.rules.weights import DRAMS_IN_OUNCE, Unit, spoken

NEEDED = 10  # matches on a water before a peg may be called better or worse than another
ENOUGH_FOR_A_MEDIAN = 3
# How hard a peg is pulled back: the ratio of a day's luck to what pegs differ by. With 3.5 a peg
# drawn twice has a reliability of 0.36, drawn six times of 0.63.
PULL = 3.5
SHOWN_FROM, FAIR_FROM = 0.3, 0.6  # reliability
# Added to every weight before the logarithm, about one fish, so that a blank has one.
ONE_FISH = {Unit.LB_OZ: 4 * DRAMS_IN_OUNCE, Unit.KG: 113}
# More blanks than this, and the log scale squeezes what pegs differ by: no form is given.
MOST_BLANKS = 0.2


@dataclass(frozen=True, slots=True)
class Sat:
    """One angler on one peg in one match, with what was weighed; a blank weighs nothing."""

    match: Hashable
    peg: str
    weight: int
    status: Status
    won: bool = False  # its section, with fish


@dataclass(frozen=True, slots=True)
class PegForm:
    """What one peg gave."""

    peg: str
    drawn: int  # matches somebody fished it
    weighed: int  # of these, with a weight or a blank: what the rest is worked out from
    median: int | None  # None where there is too little to say
    best: int | None
    wins: int
    blanks: int
    times: float | None = None  # against the day's average
    low: float | None = None  # ninety-five times in a hundred it lies between these
    high: float | None = None
    reliability: float = 0.0

    @property
    def is_fair(self) -> bool:
        """Whether the form is more than a guess."""
        return self.times is not None and self.reliability >= FAIR_FROM


@dataclass(frozen=True, slots=True)
class WaterForm:
    """A water's pegs and how many matches speak for them."""

    matches: int
    pegs: tuple[PegForm, ...]
    blanks: float  # of every weigh-in, the share that caught nothing
    unit: Unit

    @property
    def tells_form(self) -> bool:
        """Whether pegs may be held against each other."""
        return self.matches >= NEEDED and self.blanks <= MOST_BLANKS


WEIGHS = {Status.WEIGHED, Status.BLANK}
FISHES = WEIGHS | {Status.NOT_WEIGHED, Status.WITHDREW, Status.DISQUALIFIED}


def water_form(sat: Iterable[Sat], unit: Unit, *, order: Sequence[str] = ()) -> WaterForm:
    """The form of every peg in *sat*, in the *order* of the bank as far as that names them."""
    fished = [each for each in sat if each.status in FISHES]
    weighed = [each for each in fished if each.status in WEIGHS]
    matches = len({each.match for each in fished})
    blanks = sum(not each.weight for each in weighed) / len(weighed) if weighed else 0.0
    told = matches >= NEEDED and blanks <= MOST_BLANKS
    above = _above_the_day(weighed, unit)
    spread = _spread(above, len({each.match for each in weighed}))
    place = {number: at for at, number in enumerate(order)}
    numbers = sorted(
        {each.peg for each in fished}, key=lambda peg: (place.get(peg, len(place)), peg)
    )
    return WaterForm(
        matches,
        tuple(
            _peg(
                number,
                [each for each in fished if each.peg == number],
                [each for each in weighed if each.peg == number],
                [figure for each, figure in above if each.peg == number] if told else [],
                spread,
            )
            for number in numbers
        ),
        blanks,
        unit,
    )


def shrunk(residuals: Sequence[float], pull: float = PULL) -> float:
    """
    The mean of *residuals* pulled back towards nought: their sum over their number and *pull*.

    >>> round(shrunk([0.4, 0.2, -0.1]), 6), round(shrunk([-0.5]), 6)
    (0.076923, -0.111111)
    """
    return sum(residuals) / (len(residuals) + pull)


def _above_the_day(weighed: Sequence[Sat], unit: Unit) -> list[tuple[Sat, float]]:
    by_match: dict[Hashable, list[float]] = {}
    logs = [math.log(each.weight + ONE_FISH[unit]) for each in weighed]
    for each, figure in zip(weighed, logs, strict=True):
        by_match.setdefault(each.match, []).append(figure)
    mean = {match: sum(figures) / len(figures) for match, figures in by_match.items()}
    return [(each, figure - mean[each.match]) for each, figure in zip(weighed, logs, strict=True)]


def _spread(above: Sequence[tuple[Sat, float]], matches: int) -> float:
    """The variance of one weigh-in about its day, a mean being taken from each match."""
    free = len(above) - matches
    return sum(figure**2 for _, figure in above) / free if free > 0 else 0.0


def _peg(
    number: str,
    fished: Sequence[Sat],
    weighed: Sequence[Sat],
    above: Sequence[float],
    spread: float,
) -> PegForm:
    weights = [each.weight for each in weighed]
    bare = PegForm(
        peg=number,
        drawn=len(fished),
        weighed=len(weighed),
        median=round(median(weights)) if len(weights) >= ENOUGH_FOR_A_MEDIAN else None,
        best=max(weights, default=None),
        wins=sum(each.won for each in weighed),
        blanks=sum(not each.weight for each in weighed),
    )
    reliability = len(above) / (len(above) + PULL)
    if reliability < SHOWN_FROM:
        return bare
    form = shrunk(above)
    either_way = 1.96 * math.sqrt(spread / (len(above) + PULL))
    return PegForm(
        bare.peg,
        bare.drawn,
        bare.weighed,
        bare.median,
        bare.best,
        bare.wins,
        bare.blanks,
        times=math.exp(form),
        low=math.exp(form - either_way),
        high=math.exp(form + either_way),
        reliability=reliability,
    )


def what_may_be_said(water: WaterForm) -> str:
    """One or two sentences on a water, with the matches that speak for them; or too little."""
    if not water.matches:
        return "No match on this water is published here yet."
    matches = f"{_counted(water.matches, 'match', 'matches')}"
    if water.matches < NEEDED:
        are = "is" if water.matches == 1 else "are"
        return (
            f"{matches} {are} published here, and that is too little to call a peg good or bad: "
            f"it takes {number_word(NEEDED)}. What each gave stands below."
        )
    if water.blanks > MOST_BLANKS:
        share = round(100 * water.blanks)
        return (
            f"{matches}, and {share} weigh-ins of a hundred were blanks: too many to hold one "
            "peg’s weights against another’s. Section wins and blanks say more here."
        )
    fair = [peg for peg in water.pegs if peg.is_fair]
    ahead = [peg for peg in fair if peg.low is not None and peg.low > 1]
    if not ahead:
        return f"After {matches.lower()} no peg stands clearly above the others."
    best = max(ahead, key=lambda peg: (peg.times or 0.0, peg.peg))
    middle = f", in the middle {spoken(best.median, water.unit)}" if best.median else ""
    return (
        f"Peg {best.peg} has given most against the day: {best.times:.1f} times the average over "
        f"{_counted(best.weighed, 'match', 'matches').lower()}{middle}. "
        "Who sat there is not allowed for."
    )


def _counted(count: int, one: str, many: str) -> str:
    word = number_word(count)
    return f"{word[:1].upper()}{word[1:]} {one if count == 1 else many}"
