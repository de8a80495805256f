"""How a tie was split, in words: the rungs of a ladder as they were climbed."""

from __future__ import annotations

from collections.abc import Sequence

from league.rules import weights
from league.rules.figures import capital, points_said, points_written
from league.rules.lines import Points, RungCheck, Split
from league.rules.weights import Unit

RUNGS = {
    "points": "points",
    "season weight": "weight",
    "weight": "total weight",
    "counting weight": "total weight over the rounds that count",
    "best weight": "best single weight",
    "best places": "the scores from best to worst",
    "section wins": "section wins",
    "round wins": "rounds won",
    "next best": "the best dropped score",
    "last round": "the last round",
    "best round weight": "the heaviest single round",
    "better": "the better single round",
}


def say_split(split: Split, unit: Unit) -> str:
    """How one was told from another on equal points, in a sentence of the line's own."""
    other = split.behind if split.we_are_ahead else split.ahead
    first = split.rungs[0]
    points = weights.spoken(first.ours, unit) if first.weighed else points_said(first.ours)
    decided = split.decided
    if decided is None:
        return f"Level on {points} with {other}, and on every tie-break: the place is shared."
    side = "ahead" if split.we_are_ahead else "behind"
    ours, theirs = rung_figures(decided, unit)
    return (
        f"Level on {points} with {other}; {side} on {RUNGS[decided.rung]}, {ours} against {theirs}."
    )


def rung_figures(check: RungCheck, unit: Unit) -> tuple[str, str]:
    """The two figures of a rung as printed; of two lists, the first figures that differ."""
    ours, theirs = check.ours, check.theirs
    if isinstance(ours, (tuple, list)):
        padded = max(len(ours), len(theirs))
        pairs = zip(_padded(ours, padded), _padded(theirs, padded), strict=True)
        ours, theirs = next(((a, b) for a, b in pairs if a != b), (None, None))
    return _figure(ours, check, unit), _figure(theirs, check, unit)


def _figure(value: Points | None, check: RungCheck, unit: Unit) -> str:
    if check.weighed and value is not None:
        return weights.written(int(value), unit)
    return points_written(value)


def _padded(scores: Sequence[Points | None], length: int) -> list[Points | None]:
    return [*scores, *[None] * (length - len(scores))]


def say_rung(check: RungCheck, unit: Unit) -> str:
    """One rung as it was climbed: Total weight: 61-4, 58-0. Split here."""
    name = capital(RUNGS[check.rung])
    if check.outcome == "not needed":
        return f"{name}: not needed."
    if isinstance(check.ours, (tuple, list)):
        figures = "; ".join(
            " ".join(_figure(score, check, unit) for score in scores) or "none"
            for scores in (check.ours, check.theirs)
        )
    else:
        figures = ", ".join(_figure(value, check, unit) for value in (check.ours, check.theirs))
    return f"{name}: {figures}. {'Level' if check.outcome == 'level' else 'Split here'}."
