"""
Headings and cells of every published table, said once.

Pages, sheets and files for other programs read these, so that they cannot disagree on the day. A
cell has two faces: `value` as it is printed (3½, 12-8), and `plain` as it is written in a file,
where 12-8 would be taken for a date in August and 3½ for no number at all.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from league.files.plain import fraction
from league.rules.lines import (
    AnglerLine,
    OverallLine,
    Points,
    RoundScore,
    Status,
    TableLine,
    TeamLine,
)
from league.rules.policies import written as points_written
from league.rules.weights import Unit
from league.rules.weights import spoken as weight_spoken
from league.rules.weights import written as weight_written

Line = TypeVar("Line")

NOTHING = "–"

# What stands where there is no weight; people say "did not weigh" where a sheet says "not weighed".
STATUS_WORDS = {
    Status.WEIGHED: "weighed",
    Status.BLANK: "blank",
    Status.NOT_WEIGHED: "did not weigh",
    Status.WITHDREW: "withdrew",
    Status.ABSENT: "absent",
    Status.VACANT: "nobody named",
    Status.DISQUALIFIED: "disqualified",
}


@dataclass(frozen=True)
class Column(Generic[Line]):
    """One column of a table of *Line*s."""

    key: str
    heading: str
    value: Callable[[Line], str]
    is_number: bool = False
    plain: Callable[[Line], str] | None = None

    def in_file(self, line: Line) -> str:
        """The cell as it is written in a file."""
        return (self.plain or self.value)(line)


def placing(place: int | None, equal: bool) -> str:
    """
    A place as it is printed.

    >>> placing(3, True), placing(1, False), placing(None, False)
    ('3=', '1', '–')
    """
    if place is None:
        return NOTHING
    return f"{place}=" if equal else str(place)


def _placing(line: TableLine) -> str:
    return placing(line.place, line.equal)


def has_weight(status: Status, weight: int) -> bool:
    """Whether a weight is printed: whoever left early may have weighed before leaving."""
    return status is Status.WEIGHED or (status is Status.WITHDREW and weight > 0)


def section_place(line: AnglerLine) -> str:
    """
    The place in a section, of those with something on the scales.

    A blank's points come from a rule and not from a place, so it has a dash, as on a results board.
    """
    if has_weight(line.status, line.weight):
        return placing(line.place, line.equal)
    return NOTHING


def figure(status: Status, weight: int, unit: Unit) -> str:
    """The weight as on a sheet, or the word that stands in its place."""
    return weight_written(weight, unit) if has_weight(status, weight) else STATUS_WORDS[status]


def plain_figure(status: Status, weight: int, unit: Unit) -> str:
    """The weight as a spreadsheet leaves it alone: 12 lb 8 oz, or 5.640."""
    return plain_weight(weight, unit) if has_weight(status, weight) else STATUS_WORDS[status]


def plain_weight(weight: int, unit: Unit) -> str:
    """A weight that no spreadsheet takes for a date."""
    return weight_written(weight, unit) if unit is Unit.KG else weight_spoken(weight, unit)


def plain_points(points: Points | None) -> str:
    """Points that a program can add up: exact decimals, or a fraction where none is exact."""
    return fraction(points) or ""


def points_or_dash(points: Points | None) -> str:
    """Points as they are printed; a dash where the round does not count."""
    return NOTHING if points is None else points_written(points)


def section_columns(unit: Unit) -> tuple[Column[AnglerLine], ...]:
    """One section, best first."""
    return (
        Column("place", "Place", section_place, is_number=True),
        Column("peg", "Peg", lambda line: line.row.peg, is_number=True),
        Column("angler", "Angler", lambda line: line.row.angler),
        Column("team", "Team", lambda line: line.row.team),
        _figure_column(unit),
        Column(
            "points",
            "Points",
            lambda line: points_or_dash(line.points),
            is_number=True,
            plain=lambda line: plain_points(line.points),
        ),
    )


def match_columns(unit: Unit, *, decisions: bool = False) -> tuple[Column[AnglerLine], ...]:
    """Every section of a match in one list, and what was decided about whom."""
    section = Column[AnglerLine]("section", "Section", lambda line: line.row.section)
    decided = Column[AnglerLine]("decision", "Decision", lambda line: line.row.decision)
    return (section, *section_columns(unit), *((decided,) if decisions else ()))


def team_columns(
    sections: Sequence[str], unit: Unit, league: Mapping[str, Points | None] | None = None
) -> tuple[Column[TeamLine], ...]:
    """The teams of one match, a column for each of its *sections*, last what the *league* gives."""
    last = (league_column(league),) if league else ()
    return (
        Column("place", "Place", lambda line: placing(line.place, line.equal), is_number=True),
        Column("team", "Team", lambda line: line.team),
        *(_team_section(letter) for letter in sections),
        Column(
            "points",
            "Points",
            lambda line: points_written(line.points),
            is_number=True,
            plain=lambda line: plain_points(line.points),
        ),
        _weight_column(unit),
        *last,
    )


def league_column(league: Mapping[str, Points | None]) -> Column[TeamLine]:
    """What the round gives each team in the league table, by the team's key."""
    return Column(
        "league",
        "League points",
        lambda line: points_or_dash(league.get(line.team_id or line.team)),
        is_number=True,
        plain=lambda line: plain_points(league.get(line.team_id or line.team)),
    )


def overall_columns(unit: Unit) -> tuple[Column[OverallLine], ...]:
    """Every angler of a match, by weight."""
    return (
        Column("place", "Place", _overall_place, is_number=True),
        Column("angler", "Angler", lambda line: line.angler),
        Column("team", "Team", lambda line: line.team),
        Column("section", "Section", lambda line: line.section),
        Column("peg", "Peg", lambda line: line.peg, is_number=True),
        _figure_column(unit),
    )


def table_columns(
    rounds: Sequence[int],
    unit: Unit,
    *,
    of_teams: bool = True,
    total: str = "Points",
    by_weight: bool = False,
) -> tuple[Column[TableLine], ...]:
    """
    The league table with a column for each of its *rounds*, fished or to come.

    *by_weight* is for a league in which a round's score is the weight itself.
    """
    return (
        Column("place", "Place", _placing, is_number=True),
        Column("name", "Team" if of_teams else "Angler", lambda line: line.name),
        *(_table_round(number, unit, by_weight) for number in rounds),
        Column(
            "total",
            total,
            lambda line: score(line.total, unit, by_weight),
            is_number=True,
            plain=lambda line: plain_score(line.total, unit, by_weight),
        ),
        _weight_column(unit),
    )


def _figure_column(unit: Unit) -> Column[Any]:
    """What one angler's line has: a weight, or the word in its place."""
    return Column(
        "weight",
        weight_heading(unit),
        lambda line: figure(line.status, line.weight, unit),
        is_number=True,
        plain=lambda line: plain_figure(line.status, line.weight, unit),
    )


def _weight_column(unit: Unit) -> Column[Any]:
    """What a line adds up to."""
    return Column(
        "weight",
        weight_heading(unit),
        lambda line: weight_written(line.weight, unit),
        is_number=True,
        plain=lambda line: plain_weight(line.weight, unit),
    )


def weight_heading(unit: Unit) -> str:
    """What stands over a column of weights."""
    return "Weight (kg)" if unit is Unit.KG else "Weight"


def score(points: Points | None, unit: Unit, by_weight: bool) -> str:
    """A round's score or a season's total as it is printed."""
    if by_weight and points is not None:
        return weight_written(int(points), unit)
    return points_or_dash(points)


def plain_score(points: Points | None, unit: Unit, by_weight: bool) -> str:
    """The same as it is written in a file."""
    if by_weight and points is not None:
        return plain_weight(int(points), unit)
    return plain_points(points)


def round_score(line: TableLine, number: int) -> RoundScore | None:
    """What round *number* gave; None where it is still to come."""
    return next((score for score in line.rounds if score.round == number), None)


def _overall_place(line: OverallLine) -> str:
    if has_weight(line.status, line.weight):
        return placing(line.place, line.equal)
    return NOTHING


def _team_section(letter: str) -> Column[TeamLine]:
    def points(line: TeamLine) -> tuple[Points, ...]:
        return tuple(line.section_points.get(letter, ()))

    return Column(
        f"section-{letter}",
        letter,
        lambda line: " + ".join(points_written(each) for each in points(line)) or NOTHING,
        is_number=True,
        plain=lambda line: " + ".join(plain_points(each) for each in points(line)),
    )


def _table_round(number: int, unit: Unit, by_weight: bool) -> Column[TableLine]:
    def printed(line: TableLine) -> str:
        given = round_score(line, number)
        return score(given.score, unit, by_weight) if given else ""

    def plain(line: TableLine) -> str:
        given = round_score(line, number)
        if given is None:
            return ""
        # Never "(6)" for a dropped six: a spreadsheet reads that as minus six.
        written = plain_score(given.score, unit, by_weight)
        return f"{written} dropped" if given.dropped else written

    return Column(f"round-{number}", str(number), printed, is_number=True, plain=plain)
