"""What a correction moved, in sentences: weights first, then points, then places."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from league.rules.lines import AnglerLine, MatchResult, Status
from league.rules.weights import Unit, spoken
from league.rules.words import ordinal, points_said


def moves(old: MatchResult, new: MatchResult) -> list[str]:
    """What changed from *old* to *new*; one sentence says so where no place changes."""
    before, after = _lines(old), _lines(new)
    return [*_figures(before, after, new.unit), *_points(before, after), *_places(old, new)]


def _lines(result: MatchResult) -> dict[str, AnglerLine]:
    """The anglers in the order of the sections, by key."""
    return {line.row.angler_key: line for section in result.sections for line in section.lines}


def _figures(
    before: Mapping[str, AnglerLine], after: Mapping[str, AnglerLine], unit: Unit
) -> Iterator[str]:
    for key, line in after.items():
        who = f"Peg {line.row.peg}, {line.row.angler}"
        earlier = before.get(key)
        if earlier is None:
            yield f"{who}: added, {_figure(line, unit)}."
            continue
        if earlier.row.peg != line.row.peg:
            yield f"{who}: was on peg {earlier.row.peg}."
        was, now = _figure(earlier, unit), _figure(line, unit)
        if was != now:
            yield f"{who}: {was} becomes {now}."
    for key, line in before.items():
        if key not in after:
            yield f"Peg {line.row.peg}, {line.row.angler}: taken out, was {_figure(line, unit)}."


def _points(before: Mapping[str, AnglerLine], after: Mapping[str, AnglerLine]) -> Iterator[str]:
    for key, line in after.items():
        earlier = before.get(key)
        if earlier is not None and earlier.points != line.points:
            yield (
                f"Section {line.row.section}, {line.row.angler}: "
                f"from {points_said(earlier.points)} to {points_said(line.points)}."
            )


def _places(old: MatchResult, new: MatchResult) -> Iterator[str]:
    """Teams that change place; of a match without teams, anglers."""
    if new.teams or old.teams:
        was = {line.team_id or line.team: line.place for line in old.teams}
        now = [(line.team_id or line.team, line.team, line.place) for line in new.teams]
        nobody = "No team changes place."
    else:
        was = {line.angler_id or line.angler: line.place for line in old.anglers if line.place}
        now = [
            (line.angler_id or line.angler, line.angler, line.place)
            for line in new.anglers
            if line.place
        ]
        nobody = "Nobody changes place."
    changed = [
        f"{name}: from {ordinal(was[key])} to {ordinal(place)}."
        for key, name, place in now
        if key in was and was[key] != place
    ]
    yield from changed or [nobody]


def _figure(line: AnglerLine, unit: Unit) -> str:
    if line.status is Status.NOT_WEIGHED:
        return "did not weigh"
    if line.weight or line.status is Status.WEIGHED:
        return spoken(line.weight, unit)
    return line.status.value
