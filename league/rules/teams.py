"""Team totals and the order of the teams, a member short or not."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from league.rules.ladders import TEAM_POINTS, TeamStanding, climb, placed
from league.rules.lines import (
    AnglerLine,
    Points,
    Reason,
    SectionResult,
    Split,
    TeamLine,
)
from league.rules.policies import exact
from league.rules.rulebook import Rulebook
from league.rules.section_lines import absent_line
from league.rules.statuses import FISHED


def team_lines(sections: Sequence[SectionResult], book: Rulebook) -> tuple[TeamLine, ...]:
    """All the teams of a match, best first."""
    members: dict[str, list[AnglerLine]] = {}
    for section in sections:
        for line in section.lines:
            if line.row.team_key:
                members.setdefault(line.row.team_key, []).append(line)
    drafts = {key: _draft(key, lines, sections, book) for key, lines in members.items()}
    standings = {id(standing): draft for draft, standing in drafts.values()}
    ladder = (TEAM_POINTS, *book.team.ties)
    order = placed(ladder, [standing for _, standing in _by_name(drafts)])
    result = []
    for index, (standing, first, last) in enumerate(order):
        draft = standings[id(standing)]
        above = order[index - 1][0] if index else None
        below = order[index + 1][0] if index + 1 < len(order) else None
        split = None
        if above is not None and above.points == standing.points:
            rungs = climb(ladder, standing, above)
            split = Split(standings[id(above)].team, draft.team, rungs, we_are_ahead=False)
        elif below is not None and below.points == standing.points:
            rungs = climb(ladder, standing, below)
            split = Split(draft.team, standings[id(below)].team, rungs)
        result.append(replace(draft, place=first, equal=last > first, split=split))
    return tuple(result)


def absent_team_points(sections: Sequence[SectionResult], book: Rulebook) -> Points:
    """What a team scores in a match it never came to: an absent angler in every section."""
    points = [
        points_of_member(section.absent_points, section, book)
        for section in sections
        for _ in range(book.team.per_section)
    ]
    return exact(sum(_counting(points[: book.team.size], book)))


def points_of_member(points: Points | None, section: SectionResult, book: Rulebook) -> Points:
    """
    A member's points as the team counts them.

    An angler may be given no score; a team in low points would gain by that, so it counts one more
    than the section has places, and nothing in high points.
    """
    if points is not None:
        return points
    return section.size + 1 if book.sign > 0 else 0


def _by_name(
    drafts: Mapping[str, tuple[TeamLine, TeamStanding]],
) -> list[tuple[TeamLine, TeamStanding]]:
    return sorted(drafts.values(), key=lambda pair: (pair[0].team, pair[0].team_id))


def _draft(
    key: str, lines: Sequence[AnglerLine], sections: Sequence[SectionResult], book: Rulebook
) -> tuple[TeamLine, TeamStanding]:
    """The team's figures before it is placed."""
    name, team_id = lines[0].row.team, lines[0].row.team_id
    short = _short(name, team_id, lines, sections, book)
    in_section = {section.section: section for section in sections}
    everybody = [*lines, *short]
    scored = sorted(
        (
            (
                points_of_member(line.before_penalty, in_section[line.row.section], book),
                index,
                line,
            )
            for index, line in enumerate(everybody)
        ),
        key=lambda each: (book.sign * each[0], each[1]),
    )
    counting = scored if book.team.count is None else scored[: book.team.count]
    counted = {index for _, index, _ in counting}
    left_out = tuple(line.row.angler_key for _, _, line in scored[len(counting) :])
    penalty = exact(sum(line.row.penalty for line in lines))
    points = exact(sum(each[0] for each in counting) + book.sign * penalty)
    weight = sum(line.weight for line in lines)
    section_points: dict[str, tuple[Points, ...]] = {
        section.section: tuple(
            points_of_member(line.points, section, book)
            for line in everybody
            if line.row.section == section.section
        )
        for section in sections
    }
    section_points = {name: points for name, points in section_points.items() if points}
    wins = sum(line.place == 1 and line.weight > 0 for line in lines)
    standing = TeamStanding(
        points=points,
        weight=weight,
        best_weight=max((line.weight for line in lines), default=0),
        member_points=[each[0] for each in scored],
        section_wins=wins,
        sign=book.sign,
    )
    facts = {
        "team": name,
        "points": points,
        "weight": weight,
        "sections": tuple(line.row.section for line in everybody),
        "anglers": tuple(line.row.angler for line in everybody),
        "member_points": tuple(
            points_of_member(line.before_penalty, in_section[line.row.section], book)
            for line in everybody
        ),
        "weights": tuple(line.weight for line in everybody),
        "counts": tuple(index in counted for index in range(len(everybody))),
        "penalty": penalty,
        "direction": book.section.direction.key,
    }
    line = TeamLine(
        place=0,
        equal=False,
        team=name,
        team_id=team_id,
        points=points,
        weight=weight,
        section_points=section_points,
        left_out=left_out,
        split=None,
        reason=Reason("team", facts),
        short=short,
        penalty=penalty,
        section_wins=wins,
        best_weight=standing.best_weight,
        fished=sum(line.status in FISHED for line in lines),
        disqualified=any(line.status == "disqualified" for line in lines),
    )
    return line, standing


def _short(
    name: str,
    team_id: str,
    lines: Sequence[AnglerLine],
    sections: Sequence[SectionResult],
    book: Rulebook,
) -> tuple[AnglerLine, ...]:
    """A line for each member the team is short of, in the sections that lack one."""
    missing = book.team.size - len(lines)
    found: list[AnglerLine] = []
    for section in sections:
        here = sum(line.row.section == section.section for line in lines)
        for _ in range(book.team.per_section - here):
            if len(found) < missing:
                found.append(absent_line(section.section, name, team_id, section, book))
    return tuple(found)


def _counting(points: Sequence[Points], book: Rulebook) -> list[Points]:
    ordered = sorted(points, key=lambda each: book.sign * each)
    return ordered if book.team.count is None else ordered[: book.team.count]
