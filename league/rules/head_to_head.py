"""Two teams of a season held against each other, round by round and in the sections they shared."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from league.rules.lines import AnglerLine, MatchResult, Points, TeamLine


@dataclass(frozen=True, slots=True)
class Meeting:
    """One round both teams were placed in."""

    round: int
    ours: TeamLine
    theirs: TeamLine
    sections: tuple[tuple[str, int], ...]  # by letter: 1 ahead, 0 level, -1 behind

    @property
    def outcome(self) -> int:
        """1 where the first team came ahead, 0 level, -1 behind."""
        return (self.theirs.place > self.ours.place) - (self.theirs.place < self.ours.place)


@dataclass(frozen=True, slots=True)
class Tally:
    """So many ahead, level and behind."""

    ahead: int = 0
    level: int = 0
    behind: int = 0

    @property
    def total(self) -> int:
        """How many in all."""
        return self.ahead + self.level + self.behind


@dataclass(frozen=True, slots=True)
class HeadToHead:
    """Every meeting, and what they come to."""

    meetings: tuple[Meeting, ...]
    rounds: Tally
    sections: Tally
    points: tuple[Points, Points]  # over the rounds both were in
    weight: tuple[int, int]


def head_to_head(rounds: Sequence[tuple[int, MatchResult]], ours: str, theirs: str) -> HeadToHead:
    """
    Hold the team *ours* against *theirs*, by their keys.

    Ahead is what the match's own placings say, ladders of ties included. In a section the better
    placed angler of each team counts; a section in which either had nobody placed does not.
    """
    meetings = tuple(
        meeting
        for number, result in rounds
        if (meeting := _meeting(number, result, ours, theirs)) is not None
    )
    outcomes = [each.outcome for each in meetings]
    in_sections = [outcome for each in meetings for _, outcome in each.sections]
    return HeadToHead(
        meetings,
        _tally(outcomes),
        _tally(in_sections),
        (sum(each.ours.points for each in meetings), sum(each.theirs.points for each in meetings)),
        (sum(each.ours.weight for each in meetings), sum(each.theirs.weight for each in meetings)),
    )


def said(held: HeadToHead, ours: str, theirs: str) -> str:
    """
    What it comes to in a sentence, *ours* and *theirs* by name; never without the count.
    """
    rounds = held.rounds
    if not rounds.total:
        return f"{ours} and {theirs} have not met yet"
    of = f"{rounds.total} round{'' if rounds.total == 1 else 's'}"
    if rounds.ahead == rounds.behind:
        level = f", {rounds.level} level" if rounds.level else ""
        return f"{ours} and {theirs} are even over {of}: {rounds.ahead} each{level}"
    name, more = (ours, rounds.ahead) if rounds.ahead > rounds.behind else (theirs, rounds.behind)
    return f"{name} ahead in {more} of {of}"


def _meeting(number: int, result: MatchResult, ours: str, theirs: str) -> Meeting | None:
    lines = {line.team_id or line.team: line for line in result.teams}
    if ours not in lines or theirs not in lines:
        return None
    sections = []
    for section in result.sections:
        mine, other = (_best(section.lines, team) for team in (ours, theirs))
        if mine is not None and other is not None:
            sections.append((section.section, (other > mine) - (other < mine)))
    return Meeting(number, lines[ours], lines[theirs], tuple(sections))


def _best(lines: Sequence[AnglerLine], team: str) -> int | None:
    """The best place of *team* in a section; blanks share the places behind whoever weighed."""
    places = [line.place for line in lines if line.row.team_key == team and line.place is not None]
    return min(places, default=None)


def _tally(outcomes: Sequence[int]) -> Tally:
    return Tally(outcomes.count(1), outcomes.count(0), outcomes.count(-1))
