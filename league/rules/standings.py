"""
A league's standings from bare figures: places and points only, without lines or reasons.

For a season looked at many times over, as in what-ifs and chances. The scales, the sharing and the
drops are those of the whole engine, and anything out of the ordinary goes through it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from operator import itemgetter
from typing import TypeAlias

from league.rules.ladders import SEASON_RUNGS
from league.rules.lines import Points, Row, Status
from league.rules.matches import score_match
from league.rules.placings import spread
from league.rules.rulebook import BY_POINTS, NO_LIMIT, Rulebook
from league.rules.scale import NO_CAP, Scale, Sizes
from league.rules.sections import facts_of
from league.rules.table import score_season

# Round, section, team and what counts of the catch: drams or grams, 0 for a blank, or a status.
Figure: TypeAlias = tuple[int, str, str, int | Status]
Bucket: TypeAlias = list[Figure]
Season: TypeAlias = Mapping[int, Mapping[str, Bucket]]
_CATCH = itemgetter(3)


@dataclass(frozen=True, slots=True)
class Standing:
    """One team's place in the table."""

    place: int
    equal: bool
    team: str
    total: Points
    weight: int


def standings(rows: Iterable[Figure], book: Rulebook) -> list[Standing]:
    """
    The league table from *rows*, best first.

    >>> [(s.place, s.team, s.total) for s in standings(
    ...     [(1, "A", "Millrace", 900), (1, "A", "Pennyfold", 700)], Rulebook())]
    [(1, 'Millrace', 1), (2, 'Pennyfold', 2)]
    """
    season: defaultdict[int, defaultdict[str, Bucket]] = defaultdict(lambda: defaultdict(list))
    for row in rows:
        season[row[0]][row[1]].append(row)
    plain = _plain_table(season, book)
    return _whole_engine(season, book) if plain is None else plain


def _plain_table(season: Season, book: Rulebook) -> list[Standing] | None:
    """The table where everybody weighed or blanked and every team is whole; else None."""
    rules = book.season
    if (
        rules.score != BY_POINTS
        or rules.undroppable
        or rules.minimum
        or book.team.count is not None
        or book.team.per_section != 1
        or book.section.override
        or book.section.cap != NO_CAP
    ):
        return None
    teams: set[str] = set()
    scores: list[Mapping[str, Points]] = []
    weights: dict[str, int] = defaultdict(int)
    desk = _Desk(book)
    for number in sorted(season):
        points = desk.round(season[number], weights)
        if points is None:
            return None
        teams |= points.keys()
        scores.append(points)
    if any(len(points) != len(teams) for points in scores):
        return None
    counting, sign = rules.drops.rule(len(scores)), book.sign
    by_weight = bool(rules.ties) and rules.ties[0] == SEASON_RUNGS["weight"]
    lines = []
    for team in teams:
        best_first = sorted([points[team] for points in scores], reverse=sign < 0)
        total = sum(best_first[:counting])
        lines.append((sign * total, -weights[team] if by_weight else 0, team))
    lines.sort()
    if len({line[:2] for line in lines}) < len(lines):
        return None  # further up the ladder, or level on all of it
    return [
        Standing(place, False, team, halved(sign * total), weights[team])
        for place, (total, _, team) in enumerate(lines, 1)
    ]


@dataclass(slots=True)
class _Section:
    """How every section of a plain round is scored; all are as long as there are teams."""

    sizes: Sizes
    scale: Scale
    double: list[Points]
    blanks: dict[tuple[int, Points | None], Points]


class _Desk:
    """
    A book at work on plain rounds; its scales are worked out once for each size.

    Points are doubled in here, so that the half of a shared place is a whole number.
    """

    def __init__(self, book: Rulebook) -> None:
        self._book = book
        self._made: dict[tuple[int, int], _Section] = {}

    def round(
        self, sections: Mapping[str, Bucket], weights: dict[str, int]
    ) -> Mapping[str, Points] | None:
        """Each team's doubled points, its weights added to *weights*; None if not plain."""
        teams = max(map(len, sections.values()))
        if self._book.team.size != len(sections):
            return None
        scored_by = self._scored_by(teams, len(sections))
        totals: dict[str, Points] = defaultdict(int)
        for bucket in sections.values():
            try:
                bucket.sort(key=_CATCH, reverse=True)
                _, _, names, catches = zip(*bucket, strict=True)
                if len(set(names)) != teams or catches[-1] < 0:
                    return None
            except TypeError:
                return None  # a status among the weights
            points = self._points(catches, scored_by)
            for catch, team, scored in zip(catches, names, points, strict=True):
                totals[team] += scored
                weights[team] += catch
        return totals if len(totals) == teams else None

    def _scored_by(self, teams: int, sections: int) -> _Section:
        if (teams, sections) not in self._made:
            sizes = Sizes(teams, teams * sections, teams)
            scale = self._book.section.direction.rule.scale(sizes, self._book.section.top)
            double = [doubled(each) for each in scale.of_place]
            self._made[teams, sections] = _Section(sizes, scale, double, {})
        return self._made[teams, sections]

    def _points(self, catches: Sequence[int], scored_by: _Section) -> list[Points]:
        """The doubled points of a section's *catches*, heaviest first."""
        rules = self._book.section
        if catches[-1]:
            return spread(catches, scored_by.double, rules.equal)
        blanks = catches.count(0)
        weighed = catches[:-blanks]
        points = spread(weighed, scored_by.double, rules.equal)
        # A blank's score depends on these alone, and a season has few different ones.
        alike = (blanks, points[-1] if points else None)
        if alike not in scored_by.blanks:
            last = [halved(points[-1])] if points else []
            sizes, scale = scored_by.sizes, (scored_by.scale, scored_by.scale)
            facts = facts_of(sizes.section, weighed, last, blanks, sizes.teams, scale, rules)
            scored_by.blanks[alike] = doubled(facts.blank)
        return points + [scored_by.blanks[alike]] * blanks


def doubled(points: Points) -> Points:
    """Twice *points*, whole where it can be."""
    double = 2 * points
    return double.numerator if double.denominator == 1 else double


def halved(points: Points) -> Points:
    """Half of *points*, whole where it can be."""
    if isinstance(points, int) and not points % 2:
        return points // 2
    half = Fraction(points, 2)
    return half.numerator if half.denominator == 1 else half


def _whole_engine(season: Season, book: Rulebook) -> list[Standing]:
    """The same table with everything worked out, reasons too."""
    # The figures are what counts already: a limit on a net has done its work.
    book = replace(book, net=NO_LIMIT)
    rounds = [(number, score_match(_rows(season[number]), book)) for number in sorted(season)]
    return [
        Standing(line.place, line.equal, line.name, line.total, line.weight)
        for line in score_season(rounds, book).table
    ]


def _rows(sections: Mapping[str, Bucket]) -> Sequence[Row]:
    """Rows for bare figures; whoever fished a peg is called by it."""
    rows = []
    for name, bucket in sections.items():
        for index, (_, _, team, catch) in enumerate(bucket):
            peg = f"{name}.{index}"
            if isinstance(catch, Status):
                rows.append(Row(name, peg, peg, team, catch))
            else:
                rows.append(Row(name, peg, peg, team, nets=(catch,)))
    return rows
