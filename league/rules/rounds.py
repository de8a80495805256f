"""What one round gives each competitor of a season, there or not."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from league.rules.lines import AnglerLine, MatchResult, Points, Status, TeamLine
from league.rules.placings import runs
from league.rules.rulebook import BY_PLACES, BY_POINTS, BY_WEIGHT, Round, Rulebook
from league.rules.scale import NO_CAP, TOP_SECTION, Sizes
from league.rules.section_lines import section_result
from league.rules.sections import catch, scales
from league.rules.statuses import FISHED, SIZE_FISHED
from league.rules.teams import absent_team_points


@dataclass(frozen=True, slots=True)
class Given:
    """A competitor's round before anything is dropped; *penalty* is not in the score."""

    score: Points | None
    status: str
    place: int | None = None
    weight: int = 0
    fished: bool = False
    disqualified: bool = False
    penalty: Points = 0


def team_rounds(result: MatchResult, book: Rulebook) -> tuple[dict[str, Given], Given]:
    """Each team's round by its key, and what a team scores that was not there."""
    places, absent_place = _team_places(result.teams, book)
    given = {}
    for line in result.teams:
        key = line.team_id or line.team
        penalty, points = _apart(line.points, line.penalty, book)
        scored = Round(points, places[key], line.weight)
        given[key] = Given(
            score=book.season.score.rule(scored),
            status=Status.WEIGHED.value if line.fished else Status.ABSENT.value,
            place=line.place if line.fished else None,
            weight=line.weight,
            fished=line.fished > 0,
            disqualified=line.disqualified,
            penalty=penalty,
        )
    absent = Round(absent_team_points(result.sections, book), absent_place, 0)
    return given, Given(book.season.score.rule(absent), Status.ABSENT.value)


def league_points(result: MatchResult, book: Rulebook) -> dict[str, Points | None]:
    """
    What a round gives each team in the table, by its key; from this round alone.

    Empty where the table adds up the section points or the weights themselves: those stand in
    the round's own columns already.
    """
    if book.season.score != BY_PLACES:
        return {}
    return {key: given.score for key, given in team_rounds(result, book)[0].items()}


def placed_in_section(result: MatchResult, book: Rulebook) -> bool:
    """Whether an angler's place in a round is the one in the section, not in the whole match."""
    if book.season.score == BY_PLACES:
        return bool(result.teams)
    return book.season.score != BY_WEIGHT


def angler_rounds(result: MatchResult, book: Rulebook) -> tuple[dict[str, Given], Given]:
    """
    Each angler's round by key, and what an angler scores that was not there.

    Where the season scores places, an angler alone is placed in the whole match. In a league of
    teams the places are the teams', and an angler's round is worth the section points.
    """
    lines = [line for section in result.sections for line in section.lines]
    lines = [line for line in lines if line.row.angler and line.status is not Status.VACANT]
    by_place = book.season.score == BY_PLACES and not result.teams
    whole, absent_whole = _whole_match(lines, book) if by_place else ({}, None)
    in_section = placed_in_section(result, book)
    overall = {line.angler_id or line.angler: line.place for line in result.anglers}
    given = {}
    for line in lines:
        key = line.row.angler_key
        penalty: Points = 0
        points = line.points
        if points is not None:
            penalty, points = _apart(points, line.row.penalty, book)
        places = whole.get(key) if by_place else points
        scored = Round(points, places, line.weight)
        given[key] = Given(
            score=book.season.score.rule(scored),
            status=line.status.value,
            place=line.place if in_section else overall.get(key),
            weight=line.weight,
            fished=line.status in FISHED,
            disqualified=line.status is Status.DISQUALIFIED,
            penalty=penalty,
        )
    worst = _worst([section.absent_points for section in result.sections], book)
    absent = Round(worst, absent_whole if by_place else worst, 0)
    return given, Given(book.season.score.rule(absent), Status.ABSENT.value)


def _apart(points: Points, penalty: Points, book: Rulebook) -> tuple[Points, Points]:
    """The penalty the season adds after the drops, and the round's points without it."""
    if book.season.score != BY_POINTS or not book.season.penalties_after_drop:
        # A place or a weight has no points to take a penalty off, and without the rule the
        # penalty stays inside the round.
        return 0, points
    return penalty, points - book.sign * penalty


def _team_places(lines: Sequence[TeamLine], book: Rulebook) -> tuple[Mapping[str, Points], Points]:
    """What the teams' places score, and what a team that fished nobody scores: worse than last."""
    fished = [line for line in lines if line.fished]
    count = len(fished) if book.section.size == SIZE_FISHED else len(lines)
    scale = book.section.direction.rule.scale(Sizes(count, count, count), TOP_SECTION)
    absent = scale.at(count + 1)
    places: dict[str, Points] = {line.team_id or line.team: absent for line in lines}
    for first, last in runs([line.place for line in fished]):
        shared = book.section.equal.rule(scale.of_place[first - 1 : last])
        for line in fished[first - 1 : last]:
            places[line.team_id or line.team] = shared
    return places, absent


def _whole_match(
    lines: Sequence[AnglerLine], book: Rulebook
) -> tuple[Mapping[str, Points | None], Points | None]:
    """The points of every angler where the whole match is one section, and of an absent one."""
    rules = replace(book.section, top=TOP_SECTION, override=(), cap=NO_CAP)
    whole = replace(book, section=rules)
    catches = [catch(line.row, whole) for line in lines]
    size = sum(each.status in rules.size.rule for each in catches)
    teams = len({line.row.team_key for line in lines} - {""})
    scale = scales({"": size}, teams, rules)[""]
    result = section_result("", catches, scale, teams, whole, {})
    points = {line.row.angler_key: line.before_penalty for line in result.lines}
    return points, result.absent_points


def _worst(points: Sequence[Points | None], book: Rulebook) -> Points | None:
    """The worst of *points*: nobody gains by staying away from a match of uneven sections."""
    found = [each for each in points if each is not None]
    return max(found, key=lambda each: book.sign * each, default=None)
