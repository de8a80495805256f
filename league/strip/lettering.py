"""What a strip has room to write: weights that would touch go up, numbers give way."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil

from league.rules.weights import Unit
from league.strip.pegs import Across, StripPeg

# Widths in ems: a digit of Archivo Narrow (all are equal), its hyphen and point; Literata's mean.
DIGIT, HYPHEN, POINT, LETTER = 0.456, 0.273, 0.228, 0.57

WEIGHT_SIZE, SECTION_SIZE, BEST_SIZE, NUMBER_SIZE = 13.5, 15.0, 17.0, 13.0  # px
LINE = 13.0  # px from one line of weights to the next
TOUCH = 12.9  # px: nearer than this two lines touch; less than LINE, so that lifting ends
NUMBER_SLOT = 16  # px a slot must have for every number, and more where numbers are long
BETWEEN = 3.0  # px from one number to the next
# And for every weight: 12-8 has room in 24, or goes up a line; grams are three figures more.
WEIGHT_SLOTS = {Unit.LB_OZ: 24, Unit.KG: 36}
STEP = 64  # px: the widths at which the page may start to write more are whole steps
GIVES_WAY = 3  # slots: an end's number this near a winner's is not written


@dataclass(frozen=True, slots=True)
class Text:
    """A weight to be written over its peg: *centre* in slots, *y* in px up from the bank."""

    centre: float
    y: float
    text: str
    size: float


def figure_width(text: str, size: float) -> float:
    """The width in px of a weight or a number set in Archivo Narrow at *size* px."""
    ems = sum({"-": HYPHEN, ".": POINT}.get(sign, DIGIT) for sign in text)
    return ems * size


def name_width(name: str, size: float) -> float:
    """About the width in px of a name set in Literata at *size* px."""
    return len(name) * LETTER * size


def from_width(slots: float, slot: int) -> int:
    """The width in px, a whole step, from which each of *slots* has *slot* px."""
    return int(-(-slots * slot // STEP) * STEP)


def number_slot(numbers: Iterable[str]) -> int:
    """The px a slot must have so that no two of *numbers* touch."""
    widest = max((figure_width(number, NUMBER_SIZE) for number in numbers), default=0.0)
    return max(NUMBER_SLOT, ceil(widest + BETWEEN))


def lift(texts: Sequence[Text], slot: float, standing: Sequence[Text] = ()) -> list[Text]:
    """Raise what would touch, where a slot is *slot* px wide: the second goes up a line."""
    placed = list(standing)
    lifted: list[Text] = []
    for text in texts:
        y = text.y
        while touched := [
            other.y
            for other in placed
            if abs(other.y - y) < TOUCH
            and abs(other.centre - text.centre) * slot
            < (figure_width(other.text, other.size) + figure_width(text.text, text.size)) / 2
        ]:
            y = max(touched) + LINE
        text = Text(text.centre, y, text.text, text.size)
        placed.append(text)
        lifted.append(text)
    return lifted


def key_numbers(pegs: Sequence[StripPeg], across: Across, narrowest: float) -> set[int]:
    """
    Which pegs keep their number where not all have room: ends of sections, and winners.

    An end gives way to a winner of its section within three slots, and to any number that it
    would touch where the strip is *narrowest* px wide.
    """
    slot = narrowest / across.width
    kept = [index for index, peg in enumerate(pegs) if peg.stands_out]
    first = 0
    for stretch in across.stretches:
        last = first + len(stretch.pegs) - 1
        winners = [index for index in kept if first <= index <= last]
        for end in (first, last):
            near = any(
                abs(across.starts[end] - across.starts[winner]) < GIVES_WAY for winner in winners
            )
            if not near and not any(_touch(pegs, across, end, other, slot) for other in kept):
                kept.append(end)
        first = last + 1
    return set(kept)


def _touch(pegs: Sequence[StripPeg], across: Across, one: int, other: int, slot: float) -> bool:
    apart = abs(across.starts[one] - across.starts[other]) * slot
    widths = (figure_width(pegs[index].number, NUMBER_SIZE) for index in (one, other))
    return apart < sum(widths) / 2
