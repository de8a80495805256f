"""From pegs to a strip: bars, scale, plates, what is written, and the same folded into rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from league.rules.weights import DRAMS_IN_POUND, Unit, spoken, written
from league.strip.lettering import (
    BEST_SIZE,
    SECTION_SIZE,
    WEIGHT_SIZE,
    WEIGHT_SLOTS,
    Text,
    from_width,
    key_numbers,
    lift,
    name_width,
    number_slot,
)
from league.strip.pegs import WITH_BAR, Across, StripPeg, rows_of, stand
from league.strip.shapes import Mark, Plate, Run, ScaleLine, Strip
from league.strip.words import describe

BAR = 0.66  # of a slot
MANY = 30  # pegs: with more, the strip folds into rows where it is narrow
FOLDED_BELOW, NAMES_FROM, NAMES_FROM_IF_MANY = 740, 740, 960  # px
NARROWEST = 260  # px a strip has on the smallest phone
LONG_HEIGHT, LONG_HEAD = 190.0, 38.0  # px, where the pegs are many
NUMBERS, PLATES, NAMES = 20, 44, 42  # px under the bank
OVER_BEST, OVER_SECTION, OVER_BAR = 27.0, 21.0, 5.0  # px from bar to weight, past the tip
TOPMOST = 7.0  # px: no weight is written higher than this
LINES = 4  # of scale at most
# Round weights: 1 lb to 500 lb, 100 g to 200 kg.
STEPS = {
    Unit.LB_OZ: tuple(DRAMS_IN_POUND * n for n in (1, 2, 5, 10, 20, 50, 100, 200, 500)),
    Unit.KG: tuple(100 * n for n in (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000)),
}


@dataclass(frozen=True, slots=True)
class Purpose:
    """What a strip is for: how tall it is, and what is written on it."""

    height: float  # px of the tallest bar
    head: float  # px over it
    weights: bool = False
    scale: bool = False
    plates: bool = True
    names: bool = False  # the winners', under the plates
    folds: bool = False  # into rows, where the pegs are many and the page is narrow


RESULT = Purpose(height=150.0, head=34.0, weights=True, scale=True, names=True, folds=True)
ROW = Purpose(height=110.0, head=30.0, weights=True, scale=True)
PAPER = replace(RESULT, height=88.0, folds=False)
SCALES = Purpose(height=40.0, head=14.0, plates=False)  # the walk along the bank
BEFORE = Purpose(height=0.0, head=108.0, folds=True)  # names stand over the pegs
DRAW = Purpose(height=0.0, head=36.0)  # team letters stand over the pegs


def draw_strip(
    pegs: Sequence[StripPeg],
    purpose: Purpose = RESULT,
    *,
    unit: Unit,
    key: str = "bank",
    title: str = "The bank",
    description: str = "",
    left_out_after: Sequence[str] = (),
    top: int = 0,
) -> Strip:
    """
    Lay the *pegs* out, in the order given.

    *top* is the weight of a full-height bar where it is not the heaviest here: rows folded from
    one strip share it. A *description* replaces the one made from the pegs.
    """
    many = len(pegs) > MANY
    row = ROW if purpose.scale else replace(purpose, folds=False)
    if many and purpose.folds and purpose.scale:
        purpose = replace(purpose, height=LONG_HEIGHT, head=LONG_HEAD)
    across = stand(pegs)
    top = top or max((peg.weight for peg in pegs if peg.state in WITH_BAR), default=0) or 1
    bars = [
        max(2.0, purpose.height * peg.weight / top) if peg.state in WITH_BAR else 0.0
        for peg in pegs
    ]
    narrowest = FOLDED_BELOW if many and purpose.folds else NARROWEST
    written_at = _weights(pegs, across, bars, unit, narrowest) if purpose.weights else {}
    tallest = max((text.y for text in written_at.values()), default=0.0)
    head = max(purpose.head, TOPMOST + tallest - purpose.height)
    baseline = head + purpose.height
    scale = _scale(top, unit, purpose.height, baseline) if purpose.scale else ()
    keys = key_numbers(pegs, across, narrowest)
    drawn_plates = _plates(across, unit) if purpose.plates else ()
    names_from = _names_from(drawn_plates, many) if purpose.names else 0
    if not names_from:
        drawn_plates = tuple(Plate(p.letter, p.x, p.brace, "", "") for p in drawn_plates)
    under = NUMBERS + (PLATES if drawn_plates else 0)
    plates_y = baseline + NUMBERS + 4
    description = description or describe(pegs, unit, left_out_after=left_out_after)
    marks = tuple(
        Mark(
            number=peg.number,
            x=_per_cent(across.starts[index] + 0.5, across),
            state=peg.state,
            kind=peg.kind if peg.state in WITH_BAR else "",
            left=_per_cent(across.starts[index] + 0.5 - BAR / 2, across),
            width=_per_cent(BAR, across),
            y=round(baseline - bars[index], 1),
            height=round(bars[index], 1),
            weight=written_at[index].text if index in written_at else "",
            weight_y=round(baseline - written_at[index].y, 1) if index in written_at else 0.0,
            name=peg.name,
            label=peg.label,
            always=index in keys,
            bold=peg.stands_out,
            me=peg.me,
        )
        for index, peg in enumerate(pegs)
    )
    return Strip(
        key=key,
        title=title,
        description=description,
        unit=("kg" if unit is Unit.KG else "lb") if scale else "",
        height=round(baseline + under, 1),
        names_height=NAMES if names_from else 0,
        baseline=round(baseline, 1),
        stake_top=round(head - 4, 1),
        plates_y=round(plates_y, 1),
        stake_bottom=round(plates_y if drawn_plates else baseline + under, 1),
        pegs_from=from_width(across.width, number_slot(peg.number for peg in pegs)),
        weights_from=from_width(across.width, WEIGHT_SLOTS[unit]),
        many=names_from == NAMES_FROM_IF_MANY,
        scale=scale,
        runs=tuple(_run(start + 0.06, end - 0.06, across) for start, end in across.runs),
        stakes=tuple(_per_cent(stake, across) for stake in across.stakes),
        marks=marks,
        plates=drawn_plates,
        signs=_signs(pegs, left_out_after),
        rows=_rows(across, row, unit, key, title, description, top)
        if many and purpose.folds
        else (),
    )


def _per_cent(slots: float, across: Across) -> float:
    return round(100 * slots / across.width, 3)


def _run(start: float, end: float, across: Across) -> Run:
    return Run(_per_cent(start, across), _per_cent(end, across))


def _weights(
    pegs: Sequence[StripPeg], across: Across, bars: Sequence[float], unit: Unit, narrowest: float
) -> dict[int, Text]:
    """Where each weight is written, in px up from the bank, by the peg's index."""

    def text(index: int, over: float, size: float) -> Text:
        figure = written(pegs[index].weight, unit)
        return Text(across.starts[index] + 0.5, bars[index] + over, figure, size)

    weighed = [index for index, peg in enumerate(pegs) if peg.state in WITH_BAR]
    winners = [index for index in weighed if pegs[index].kind]
    others = [index for index in weighed if not pegs[index].kind]
    first = lift(
        [
            text(index, OVER_BEST, BEST_SIZE)
            if pegs[index].best
            else text(index, OVER_SECTION, SECTION_SIZE)
            for index in winners
        ],
        narrowest / across.width,
    )
    rest = lift([text(index, OVER_BAR, WEIGHT_SIZE) for index in others], WEIGHT_SLOTS[unit], first)
    return dict(zip([*winners, *others], [*first, *rest], strict=True))


def _scale(top: int, unit: Unit, height: float, baseline: float) -> tuple[ScaleLine, ...]:
    step = next((step for step in STEPS[unit] if top // step <= LINES), STEPS[unit][-1])
    size = DRAMS_IN_POUND if unit is Unit.LB_OZ else 1000
    return tuple(
        ScaleLine(round(baseline - height * weight / top, 1), f"{weight / size:g}")
        for weight in range(step, top + 1, step)
    )


def _plates(across: Across, unit: Unit) -> tuple[Plate, ...]:
    """A plate a stretch; none where the match has no sections."""
    plates = []
    for stretch in across.stretches:
        if not stretch.section:
            continue
        winners = [peg for peg in stretch.pegs if peg.wins_section and peg.state in WITH_BAR]
        who = weight = ""
        if winners:
            who = winners[0].name if len(winners) == 1 else f"{len(winners)} level"
            weight = spoken(winners[0].weight, unit) + ("" if len(winners) == 1 else " each")
        plates.append(
            Plate(
                letter=stretch.section,
                x=_per_cent((stretch.start + stretch.end) / 2, across),
                brace=_run(stretch.start + 0.1, stretch.end - 0.1, across),
                who=who,
                weight=weight,
            )
        )
    return tuple(plates)


def _names_from(plates: Sequence[Plate], many: bool) -> int:
    """The width in px from which the winners' names stand clear of one another; 0 where never."""
    named = [plate for plate in plates if plate.who]
    if not named:
        return 0
    for width, size in ((NAMES_FROM, 15.0), (NAMES_FROM_IF_MANY, 13.0)):
        if many and width == NAMES_FROM:
            continue
        if all(
            (right.x - left.x) * width / 100
            >= (name_width(left.who, size) + name_width(right.who, size)) / 2
            for left, right in pairwise(named)
        ):
            return width
    return 0


def _signs(pegs: Sequence[StripPeg], left_out_after: Sequence[str]) -> frozenset[str]:
    signs = {str(peg.state) for peg in pegs}
    signs |= {peg.kind for peg in pegs if peg.kind and peg.state in WITH_BAR}
    if any(peg.gap_before for peg in pegs[1:]) or left_out_after:
        signs.add("left out")
    return frozenset(signs)


def _rows(
    across: Across,
    purpose: Purpose,
    unit: Unit,
    key: str,
    title: str,
    description: str,
    top: int,
) -> tuple[Strip, ...]:
    strips = []
    for number, row in enumerate(rows_of(across, MANY), start=1):
        sections = list(dict.fromkeys(peg.section for peg in row if peg.section))
        letters = " and ".join(sections)
        named = f", section{'s' if len(sections) > 1 else ''} {letters}" if sections else ""
        said = "Same scale as the other rows." if purpose.scale else ""
        strips.append(
            draw_strip(
                row,
                purpose,
                unit=unit,
                key=f"{key}-row-{number}",
                title=f"{title}{named}, pegs {row[0].number} to {row[-1].number}",
                description=f"{said} {description}".strip() if number == 1 else said,
                top=top,
            )
        )
    return tuple(strips)
