"""The walk along the bank: every peg in the scales' order, and what has been read at it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from league.columns import STATUS_WORDS
from league.models import Entry, Match, WeighIn
from league.operations.facts import Standing, standing
from league.rules.lines import Status
from league.rules.weights import Unit, spoken
from league.strip import SCALES, State, Strip, StripPeg, draw_strip
from league.strip.results import STATES


@dataclass(frozen=True, slots=True)
class Stop:
    """One peg of the walk."""

    entry: Entry
    standing: Standing
    unit: Unit

    @property
    def peg(self) -> str:
        """The peg's number."""
        return self.entry.match_peg.peg.number if self.entry.match_peg else ""

    @property
    def letter(self) -> str:
        """The section's letter."""
        return self.entry.section.letter if self.entry.section else ""

    @property
    def name(self) -> str:
        """The angler as shown."""
        return self.entry.angler.shown_name

    @property
    def weighed(self) -> bool:
        """Whether a figure stands for this peg."""
        return self.standing.weigh_in is not None

    @property
    def done(self) -> bool:
        """Whether there is nothing left to do here."""
        return self.weighed and not self.standing.in_question

    @property
    def said(self) -> str:
        """What was read, as it is said; both figures where there are two."""
        return " or ".join(dict.fromkeys(say(each, self.unit) for each in self.standing.figures))

    @property
    def figures(self) -> list[tuple[WeighIn, str]]:
        """One weigh-in of every differing figure, the first of each, with its words."""
        first = {each.figure: each for each in reversed(self.standing.figures)}
        return [
            (each, say(each, self.unit))
            for each in self.standing.figures
            if first[each.figure] is each
        ]


def walk_of(match: Match) -> list[Stop]:
    """Every peg with an angler on it, in bank order: three questions, however many pegs."""
    unit = Unit(match.unit)
    return [Stop(entry, standing(entry), unit) for entry in Entry.objects.of(match).in_peg_order()]


def say(weigh_in: WeighIn, unit: Unit) -> str:
    """A figure as it is read out: 46 lb 2 oz, did not weigh."""
    if weigh_in.status == Status.WEIGHED:
        return spoken(sum(weigh_in.nets), unit)
    said = STATUS_WORDS[Status(weigh_in.status)]
    return f"{spoken(sum(weigh_in.nets), unit)}, then {said}" if weigh_in.nets else said


def next_stop(walk: Sequence[Stop], after: Entry) -> Stop | None:
    """The next peg without a figure, further along first, then round from the start."""
    place = next((n for n, stop in enumerate(walk) if stop.entry.pk == after.pk), -1)
    onwards = [*walk[place + 1 :], *walk[: max(place, 0)]]
    return next((stop for stop in onwards if not stop.weighed), None)


def strip_of_walk(walk: Sequence[Stop], unit: Unit, now: Entry | None = None) -> Strip:
    """The walk as a strip: bars for what is in, a float at the peg being weighed."""
    weighed = sum(stop.weighed for stop in walk)
    return draw_strip(
        [_strip_peg(stop, now) for stop in walk],
        SCALES,
        unit=unit,
        key="walk",
        title=f"The walk: {weighed} of {len(walk)} pegs weighed",
        description="Bars: weighed. Short grey ticks: still to weigh. Float: this peg.",
    )


def _strip_peg(stop: Stop, now: Entry | None) -> StripPeg:
    state, weight = State.WAITING, 0
    figure = stop.standing.weigh_in
    if figure:
        state, weight = STATES[Status(figure.status)], sum(figure.nets)
    if now and now.pk == stop.entry.pk:
        state = State.NOW
    return StripPeg(stop.peg, section=stop.letter, state=state, weight=weight, name=stop.name)


def stop_of(entry: Entry, unit: Unit) -> Stop:
    """One peg of the walk alone."""
    return Stop(entry, standing(entry), unit)
