"""A whole match: sections, teams and the order of all the anglers, from the rows of the bank."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from league.rules.lines import (
    AnglerLine,
    MatchResult,
    OverallLine,
    Points,
    Row,
    SectionResult,
    Status,
)
from league.rules.placings import AVERAGE, runs
from league.rules.policies import exact
from league.rules.rulebook import Rulebook
from league.rules.scale import NO_CAP
from league.rules.section_lines import Override, section_result
from league.rules.sections import Catch, catch, natural, scales
from league.rules.statuses import AS_BLANK, AVERAGE_OF_THE_REST, FISHED
from league.rules.teams import team_lines


def score_match(rows: Sequence[Row], book: Rulebook) -> MatchResult:
    """
    Score a match by the *book*; the order of the *rows* changes nothing.

    >>> rows = [Row("A", "1", "Ana", nets=(3200,)), Row("A", "2", "Keith", nets=(4100,))]
    >>> [(line.row.angler, line.points) for line in score_match(rows, Rulebook()).sections[0].lines]
    [('Keith', 1), ('Ana', 2)]
    """
    by_section: dict[str, list[Catch]] = {}
    for row in rows:
        by_section.setdefault(row.section, []).append(catch(row, book))
    names = sorted(by_section, key=natural)
    sizes = {
        name: sum(each.status in book.section.size.rule for each in by_section[name])
        for name in names
    }
    teams = len({row.team_key for row in rows} - {""})
    scale = scales(sizes, teams, book.section)
    overrides = _overrides([each for name in names for each in by_section[name]], book)
    sections = tuple(
        section_result(name, by_section[name], scale[name], teams, book, overrides)
        for name in names
    )
    lines = [line for section in sections for line in section.lines]
    return MatchResult(
        unit=book.unit,
        sections=sections,
        teams=team_lines(sections, book),
        anglers=_overall(lines),
        section_points=exact(
            sum(line.before_penalty for line in lines if line.before_penalty is not None)
        ),
        expected=_expected(sections, book, [scale[name][1].of_place for name in names]),
    )


def _overrides(catches: Sequence[Catch], book: Rulebook) -> Mapping[int, Override]:
    """What the first of the whole match score instead, by row."""
    override = book.section.override
    if not override:
        return {}
    ranked = sorted((each for each in catches if each.placed), key=lambda each: -each.weight)
    found: dict[int, Override] = {}
    for first, last in runs([each.weight for each in ranked]):
        if first > len(override):
            break
        instead = tuple(
            override[place - 1] if place <= len(override) else None
            for place in range(first, last + 1)
        )
        for each in ranked[first - 1 : last]:
            found[id(each.row)] = (first, instead)
    return found


def _overall(lines: Sequence[AnglerLine]) -> tuple[OverallLine, ...]:
    """Everybody by weight; who fished without one shares the places after, the rest have none."""
    fished = [line for line in lines if line.status in FISHED]
    ordered = sorted(fished, key=lambda line: (-line.weight, *_shown_order(line)))
    result = []
    for first, last in runs([line.weight for line in ordered]):
        result += [_overall_line(line, first, last > first) for line in ordered[first - 1 : last]]
    rest = sorted(
        (line for line in lines if line.status not in FISHED and line.status != Status.VACANT),
        key=_shown_order,
    )
    return (*result, *(_overall_line(line, None, False) for line in rest))


def _shown_order(line: AnglerLine) -> tuple[object, ...]:
    # Level anglers are listed along the bank, which favours nobody and is the same every time.
    return (natural(line.row.section), natural(line.row.peg), line.row.angler, line.row.angler_id)


def _overall_line(line: AnglerLine, place: int | None, equal: bool) -> OverallLine:
    row = line.row
    return OverallLine(
        place=place,
        equal=equal,
        angler=row.angler,
        angler_id=row.angler_id,
        team=row.team,
        section=row.section,
        peg=row.peg,
        status=line.status,
        weight=line.weight,
    )


def _expected(
    sections: Sequence[SectionResult], book: Rulebook, places: Sequence[Sequence[Points]]
) -> Points | None:
    """
    What all the section points must add up to, where the book conserves the sum.

    It does where equals and blanks average the places they fill and nobody is absent,
    disqualified or decided about: then every place of every section is given out once.
    """
    rules = book.section
    conserves = (
        rules.equal == AVERAGE
        and rules.blank == AVERAGE_OF_THE_REST
        and rules.all_blank is None
        and not rules.override
        and rules.cap == NO_CAP
    )
    if not conserves:
        return None
    as_blank = {Status.WEIGHED, Status.BLANK}
    if rules.not_weighed == AS_BLANK:
        as_blank.add(Status.NOT_WEIGHED)
    if rules.withdrew == AS_BLANK:
        as_blank.add(Status.WITHDREW)
    for section in sections:
        for line in section.lines:
            if line.row.decided is not None or not (line.status in as_blank or line.weight):
                return None
    return exact(sum(sum(scale) for scale in places))
