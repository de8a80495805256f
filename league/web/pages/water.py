"""What the page of a water is made of: its pegs and what each gave."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.utils.html import format_html

from league.columns import NOTHING, Column, plain_weight
from league.models import Peg, Result, Water
from league.operations import score
from league.rules.peg_form import (
    ENOUGH_FOR_A_MEDIAN,
    PegForm,
    Sat,
    WaterForm,
    water_form,
    what_may_be_said,
)
from league.rules.weights import Unit, spoken, written
from league.strip import Purpose, State, Strip, StripPeg, draw_strip
from league.web import cells
from league.web.ledgers import ledger
from league.web.published import remembered

MEDIANS = Purpose(height=120.0, head=24.0, scale=True, plates=False, folds=True)
TOO_LITTLE = "too little to say"


def form_of(water: Water) -> tuple[WaterForm, int]:
    """
    What the pegs of *water* gave, and how many matches are left out for another unit.

    Worked out once a publication of the club.
    """
    club = water.venue.club
    version = f"water {water.pk} {Result.objects.last_change_of(club)}"
    found: tuple[WaterForm, int] = remembered(version, lambda: _work_out(water))
    return found


def _work_out(water: Water) -> tuple[WaterForm, int]:
    sat: list[Sat] = []
    unit: Unit | None = None
    left_out = 0
    for result in Result.objects.on_water(water):
        worked = score.read(result)
        unit = unit or worked.unit  # the newest match's
        if worked.unit is not unit:
            left_out += 1
            continue
        sat += [
            Sat(
                result.match_id,
                line.row.peg,
                line.weight,
                line.status,
                won=line.place == 1 and line.weight > 0,
            )
            for section in worked.sections
            for line in section.lines
            if line.row.peg
        ]
    order = [peg.number for peg in Peg.objects.along(water)]
    return water_form(sat, unit or Unit.LB_OZ, order=order), left_out


def columns(unit: Unit, *, form: bool) -> tuple[Column[PegForm], ...]:
    """The pegs, for page and file alike; *form* where they may be held against each other."""
    return (
        Column("peg", "Peg", lambda each: each.peg),
        Column("drawn", "Matches", lambda each: str(each.drawn), is_number=True),
        Column(
            "median",
            "Median",
            lambda each: NOTHING if each.median is None else written(each.median, unit),
            is_number=True,
            plain=lambda each: "" if each.median is None else plain_weight(each.median, unit),
        ),
        Column(
            "best",
            "Best",
            lambda each: written(each.best, unit) if each.best else NOTHING,
            is_number=True,
            plain=lambda each: plain_weight(each.best, unit) if each.best else "",
        ),
        Column("wins", "Section wins", lambda each: str(each.wins), is_number=True),
        Column("blanks", "Blanks", lambda each: str(each.blanks), is_number=True),
        *((_form_column(),) if form else ()),
    )


def _form_column() -> Column[PegForm]:
    def said(each: PegForm) -> str:
        if each.times is None:
            return TOO_LITTLE
        return f"× {each.times:.1f} ({each.low:.1f} to {each.high:.1f})"

    def plain(each: PegForm) -> str:
        return "" if each.times is None else f"{each.times:.2f}"

    return Column("form", "Against the day", said, plain=plain)


def _strip(pegs: Sequence[Peg], form: WaterForm) -> Strip | None:
    """The bank with each peg's median over it; none where no peg has one."""
    medians = {each.peg: each.median for each in form.pegs if each.median is not None}
    if not medians:
        return None
    shown = []
    gap = 0
    for peg in pegs:
        if peg.number not in {each.peg for each in form.pegs}:
            gap += 1
            continue
        middle = medians.get(peg.number)
        shown.append(
            StripPeg(
                number=peg.number,
                state=State.EMPTY if middle is None else State.WEIGHED if middle else State.BLANK,
                weight=middle or 0,
                gap_before=gap if shown else 0,
            )
        )
        gap = 0
    said = [f"Peg {peg} {spoken(middle, form.unit)}" for peg, middle in medians.items()]
    return draw_strip(
        shown,
        MEDIANS,
        unit=form.unit,
        key="medians",
        title="The median weight of each peg, along the bank",
        description=f"{', '.join(said)}.",
    )


def matter(water: Water) -> dict[str, Any]:
    """The page of *water*."""
    form, left_out = form_of(water)
    pegs = list(Peg.objects.along(water))
    return {
        "water": water,
        "matches": form.matches,
        "says": what_may_be_said(form),
        "left_out": left_out,
        "unit": "kilograms" if form.unit is Unit.KG else "pounds and ounces",
        "tells_form": form.tells_form,
        "needed": ENOUGH_FOR_A_MEDIAN,
        "strip": _strip(pegs, form),
        "table": _table(form) if form.pegs else None,
        "cautions": [
            f"Peg {peg.number}: {peg.hazards.strip().rstrip('.')}." for peg in pegs if peg.hazards
        ],
    }


def _table(form: WaterForm) -> Any:
    unit = form.unit

    def weight(amount: int | None) -> str:
        return cells.weight(amount, unit) if amount else NOTHING

    def against(each: PegForm, text: str) -> str:
        return text if each.is_fair else format_html('<span class="faint">{}</span>', text)

    return ledger(
        columns(unit, form=form.tells_form),
        form.pegs,
        row_header="peg",
        cells={
            "median": lambda each, text: weight(each.median),
            "best": lambda each, text: weight(each.best),
            "form": against,
        },
        classes={
            "peg": "n",
            "drawn": "num",
            "median": "num",
            "best": "num",
            "wins": "num",
            "blanks": "num lap",
            "form": "num lap",
        },
        **{"class": "ledger pegform"},
    )
