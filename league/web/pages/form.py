"""The season strip: a bar a round along a line, as the bank strip is along the bank."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from league.columns import figure
from league.models import Season
from league.rules.weights import DRAMS_IN_POUND, Unit, spoken
from league.web import cells
from league.web.pages.outings import Outing
from league.web.sentences import short_day

HEIGHT, HEAD, UNDER = 130, 40, 74
LINES = 4
POUND_STEPS = tuple(DRAMS_IN_POUND * n for n in (1, 2, 5, 10, 20, 50, 100, 200, 500))
KILO_STEPS = tuple(100 * n for n in (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000))


def form(outings: Sequence[Outing], season: Season | None) -> dict[str, Any] | None:
    """
    Lay the season out: its section and place under each bar, rounds to come dashed.

    Across in per cent, up in pixels, like the bank strip.
    """
    if not outings:
        return None
    unit = outings[-1].unit
    outings = [each for each in outings if each.unit is unit]
    planned = season.planned_rounds if season else 0
    fished = {each.match.round for each in outings}
    to_come = [
        number
        for number in range(1, planned + 1)
        if number not in fished and number > max((n for n in fished if n), default=0)
    ]
    slots = len(outings) + len(to_come)
    top = max((each.line.weight for each in outings), default=0) or 1
    baseline = HEAD + HEIGHT
    marks = []
    for at, each in enumerate(outings):
        high = max(2.0, HEIGHT * each.line.weight / top) if each.weighed else 0.0
        marks.append(
            {
                "x": round(100 * (at + 0.5) / slots, 3),
                "left": round(100 * (at + 0.33) / slots, 3),
                "width": round(34 / slots, 3),
                "y": round(baseline - high, 1),
                "height": round(high, 1),
                "label": figure(each.line.status, each.line.weight, each.unit),
                "label_y": round(baseline - high - (21 if each.won else 6), 1),
                "weighed": each.weighed,
                "won": each.won,
                "best": each.weighed and each.line.weight == top,
                "letter": each.line.row.section,
                "place": each.in_section,
                "when": f"round {each.match.round}"
                if each.match.round
                else short_day(each.match.date),
                "short": each.match.round or "",
            }
        )
    steps = KILO_STEPS if unit is Unit.KG else POUND_STEPS
    step = next((step for step in steps if top // step <= LINES), steps[-1])
    size = 1000 if unit is Unit.KG else DRAMS_IN_POUND
    return {
        "height": baseline + UNDER,
        "baseline": baseline,
        "plates_y": baseline + 8,
        "many": slots > 8,
        "unit": "kg" if unit is Unit.KG else "lb",
        "scale": [
            {"y": round(baseline - HEIGHT * weight / top, 1), "text": f"{weight / size:g}"}
            for weight in range(step, top + 1, step)
        ],
        "firm": round(100 * len(outings) / slots, 3),
        "marks": marks,
        "to_come": [
            {
                "x": round(100 * (len(outings) + at + 0.5) / slots, 3),
                "when": f"round {number}",
                "short": number,
            }
            for at, number in enumerate(to_come)
        ],
        "described": _described(outings, to_come),
    }


def _described(outings: Sequence[Outing], to_come: Sequence[int]) -> str:
    said = []
    for each in outings:
        when = f"Round {each.match.round}" if each.match.round else short_day(each.match.date)
        where = f" in section {each.line.row.section}" if each.line.row.section else ""
        if each.weighed:
            weight = spoken(each.line.weight, each.unit)
            said.append(f"{when}: {weight}, {each.in_section}{where}.")
        else:
            said.append(f"{when}: {cells.figure_said(each.line.status, 0, each.unit)}{where}.")
    said += [f"Round {number} to come." for number in to_come]
    return " ".join(said)
