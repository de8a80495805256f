"""What the guard knows of a match: the water's past, each peg's, the day so far; the last look."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from league.models import Entry, Match
from league.operations.facts import standing
from league.rules.doubts import Doubt, doubts_about
from league.rules.lines import Status
from league.rules.nets import NetRules
from league.rules.usual import Today, Usual, form_of, middle_of, on_scale, ounces, today, usual_at
from league.rules.weights import Unit

PAST = 20  # matches; more says nothing new and costs a read
NO_LIMIT = NetRules()


@dataclass(frozen=True, slots=True)
class Known:
    """What is usual at a water, and what each of its pegs gives above its day, by the peg's key."""

    usual: Usual
    forms: Mapping[int, float]

    def today(self, seen: Iterable[float], peg: int | None) -> Today:
        """What to expect at *peg* after *seen* ounces."""
        return today(self.usual, list(seen), self.forms.get(peg or 0, 0.0))


@dataclass(frozen=True, slots=True)
class Look:
    """One peg that the last look stops at, and what it asks."""

    entry: Entry
    doubt: Doubt

    def __str__(self) -> str:
        return f"Peg {_peg(self.entry)}, {self.entry.angler}: {self.doubt.headline}."


def known_of(match: Match) -> Known:
    """What past matches on the same water say, those in the same unit alone."""
    past = list(Match.objects.fished_before(match)[:PAST])
    unit = Unit(match.unit)
    days: dict[int, list[float]] = {each.pk: [] for each in past}
    at_pegs: dict[int, list[tuple[int, float]]] = {}
    for entry in Entry.objects.of_matches(past):
        if (weight := _weight(entry, unit)) and entry.match_peg:
            days[entry.match_id].append(weight)
            at_pegs.setdefault(entry.match_peg.peg_id, []).append((entry.match_id, weight))
    middles = {pk: middle_of(day) for pk, day in days.items() if day}
    forms = {
        peg: form_of([on_scale(weight) - middles[day] for day, weight in weights])
        for peg, weights in at_pegs.items()
    }
    return Known(usual_at(list(days.values())), forms)


def today_at(match: Match, entry: Entry, bank: Sequence[Entry]) -> Today:
    """What to expect at one peg of *match* now, after what stands at the others of its *bank*."""
    unit = Unit(match.unit)
    seen = [weight for each in bank if each.pk != entry.pk and (weight := _weight(each, unit))]
    return known_of(match).today(seen, entry.match_peg.peg_id if entry.match_peg else None)


def last_look(match: Match) -> list[Look]:
    """
    The whole bank once more before the result is published, each peg against all the others.

    Nothing is refused: each is a question for somebody with the paper sheet in the hand. Nets over
    the limit are left alone, since the rule has said already what counts of them.
    """
    unit = Unit(match.unit)
    entries = list(Entry.objects.of(match).with_figures())
    weights = {each.pk: _weight(each, unit) for each in entries}
    known = known_of(match)
    found = []
    for entry in entries:
        figure = standing(entry).weigh_in
        if not weights[entry.pk] or figure is None:
            continue
        others = [weight for pk, weight in weights.items() if weight and pk != entry.pk]
        expected = known.today(others, entry.match_peg.peg_id if entry.match_peg else None)
        found += [
            Look(entry, doubt)
            for doubt in doubts_about(figure.nets, NO_LIMIT, unit, expected, on_paper=True)
        ]
    return found


def _weight(entry: Entry, unit: Unit) -> float:
    """Ounces as read; nothing for a blank or for whoever did not weigh."""
    figure = standing(entry).weigh_in
    if figure is None or figure.status != Status.WEIGHED:
        return 0.0
    return ounces(sum(figure.nets), unit)


def _peg(entry: Entry) -> str:
    return entry.match_peg.peg.number if entry.match_peg else "?"
