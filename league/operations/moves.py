"""What a correction moved, in sentences: weights first, then points, then places."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from league.rules.lines import AnglerLine, MatchResult, SeasonResult, Status, TableLine
from league.rules.weights import Unit, spoken
from league.rules.words import ordinal, points_said


@dataclass(frozen=True, slots=True)
class Moves:
    """What a correction moved, a sentence each."""

    weights: tuple[str, ...]  # and who is in, who is out, who sat elsewhere
    points: tuple[str, ...]
    places: tuple[str, ...]  # one sentence says so where none changes


def moves(old: MatchResult, new: MatchResult) -> list[str]:
    """What changed from *old* to *new*; one sentence says so where no place changes."""
    told = moves_by_kind(old, new)
    return [*told.weights, *told.points, *told.places]


def moves_by_kind(old: MatchResult, new: MatchResult) -> Moves:
    """The same, what was weighed apart from what it scores and where it places."""
    before, after = _lines(old), _lines(new)
    return Moves(
        tuple(_figures(before, after, new.unit)),
        (*_points(before, after), *_team_points(old, new)),
        tuple(_places(old, new)),
    )


def table_moves(old: SeasonResult, new: SeasonResult) -> list[str]:
    """What a correction moved in the league table; one sentence where nothing."""
    before = {line.key: line for line in old.table}
    sentences = []
    for line in new.table:
        was = before.get(line.key)
        if was is None:
            sentences.append(f"{line.name}: now in the table, {ordinal(line.place)}.")
        elif (was.total, was.place) != (line.total, line.place):
            said = [f"{_total(was, old)} becomes {_total(line, new)}"] * (was.total != line.total)
            if was.place != line.place:
                said.append(f"from {ordinal(was.place)} to {ordinal(line.place)}")
            sentences.append(f"{line.name}: {', '.join(said)}.")
    gone = before.keys() - {line.key for line in new.table}
    sentences += [f"{before[key].name}: no longer in the table." for key in sorted(gone)]
    return sentences or ["The table does not change."]


def _total(line: TableLine, season: SeasonResult) -> str:
    return spoken(int(line.total), season.unit) if season.by_weight else points_said(line.total)


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


def _team_points(old: MatchResult, new: MatchResult) -> Iterator[str]:
    was = {line.team_id or line.team: line.points for line in old.teams}
    for line in new.teams:
        key = line.team_id or line.team
        if key in was and was[key] != line.points:
            yield (
                f"{line.team}, the whole team: from {points_said(was[key])} "
                f"to {points_said(line.points)}."
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
