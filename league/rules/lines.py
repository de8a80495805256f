"""What goes into the rules, rows of facts, and what comes out, lines with their reasons."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction
from typing import Any, TypeAlias

from league.rules.weights import Unit

# Exact for ever: a half or a third is a Fraction, a whole number stays an int.
Points: TypeAlias = int | Fraction


class Status(StrEnum):
    """What became of an angler in a match. One status each, never mixed up."""

    WEIGHED = "weighed"
    BLANK = "blank"
    NOT_WEIGHED = "not weighed"
    WITHDREW = "withdrew"
    ABSENT = "absent"
    VACANT = "vacant"
    DISQUALIFIED = "disqualified"


@dataclass(frozen=True, slots=True)
class Row:
    """One angler in one match, as taken down on the bank. Weights in drams or grams."""

    section: str
    peg: str
    angler: str
    team: str = ""
    status: Status = Status.WEIGHED
    nets: tuple[int, ...] = ()
    penalty: Points = 0
    note: str = ""
    # Keys where names could clash; left empty, the name is the key.
    angler_id: str = ""
    team_id: str = ""
    # Official decisions, the only figures typed in: drams or grams taken off the weight, and points
    # given in place of the section's (a void peg, say). `decision` says it in words.
    weight_penalty: int = 0
    decided: Points | None = None
    decision: str = ""

    @property
    def angler_key(self) -> str:
        """What tells this angler from every other."""
        return self.angler_id or self.angler

    @property
    def team_key(self) -> str:
        """What tells this team from every other; empty without a team."""
        return self.team_id or self.team


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a figure is what it is: the rule's key, and the facts it was applied to."""

    rule: str
    facts: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class AnglerLine:
    """One angler placed in a section."""

    row: Row
    weight: int  # what counts after the net limits, drams or grams
    counted: tuple[int, ...]  # each net as it counts, beside row.nets as read
    place: int | None  # None for absent, vacant and disqualified
    equal: bool  # shares the place
    points: Points | None  # None: the round does not count ("no score"); penalty included
    reason: Reason
    status: Status = Status.WEIGHED  # as scored: no weight left is a blank, whatever was called
    before_penalty: Points | None = None  # the points without the penalty


@dataclass(frozen=True, slots=True)
class SectionResult:
    """One section, best first."""

    section: str
    size: int  # the N of the rule book
    with_fish: int
    lines: tuple[AnglerLine, ...]
    absent_points: Points | None = None  # what an angler absent from it scores


@dataclass(frozen=True, slots=True)
class RungCheck:
    """One rung of a tie-break ladder as it was climbed for two competitors."""

    rung: str  # the rung's key, "points" first
    ours: Any
    theirs: Any
    outcome: str  # "level", "split", "not needed"
    weighed: bool = False  # the figures are weights in drams or grams, not points


@dataclass(frozen=True, slots=True)
class Split:
    """How two that were level on points were told apart, or that nothing did."""

    ahead: str
    behind: str
    rungs: tuple[RungCheck, ...]
    we_are_ahead: bool = True  # whose line this is; `ours` in the rungs is the line's own figure

    @property
    def decided(self) -> RungCheck | None:
        """The rung that split them; None where they stay level."""
        return next((check for check in self.rungs if check.outcome == "split"), None)


@dataclass(frozen=True, slots=True)
class TeamLine:
    """One team in one match."""

    place: int
    equal: bool
    team: str
    team_id: str
    points: Points
    weight: int
    section_points: Mapping[str, tuple[Points, ...]]
    left_out: tuple[str, ...]  # members whose points do not count (best k of n), by angler key
    split: Split | None  # how it was told from the team just above or below on equal points
    reason: Reason
    short: tuple[AnglerLine, ...] = ()  # a line for each member it was short of, without a row
    penalty: Points = 0  # its members' penalty points, in `points` already
    section_wins: int = 0
    best_weight: int = 0
    fished: int = 0  # members who fished; 0: the team is absent
    disqualified: bool = False  # a member was


@dataclass(frozen=True, slots=True)
class OverallLine:
    """One angler in the order of the whole match, by weight."""

    place: int | None
    equal: bool
    angler: str
    angler_id: str
    team: str
    section: str
    peg: str
    status: Status
    weight: int


@dataclass(frozen=True, slots=True)
class MatchResult:
    """A whole match, worked out."""

    unit: Unit
    sections: tuple[SectionResult, ...]
    teams: tuple[TeamLine, ...]
    anglers: tuple[OverallLine, ...]
    section_points: Points  # the sum of everybody's section points
    expected: Points | None  # what that sum must be, where the book conserves it


@dataclass(frozen=True, slots=True)
class RoundScore:
    """What one round gave one competitor of a season."""

    round: int
    score: Points | None  # None: no score
    dropped: bool
    status: str  # "weighed" for a round fished, else the status: "absent", "cancelled" ...
    place: int | None  # in that round
    weight: int


@dataclass(frozen=True, slots=True)
class TableLine:
    """One row of the league table: a team, or an angler in an individual league."""

    place: int
    equal: bool
    name: str
    key: str
    team: str  # an angler's team; empty for a team
    rounds: tuple[RoundScore, ...]
    penalty: Points
    total: Points
    weight: int
    qualified: bool  # False: fewer rounds fished than the minimum
    split: Split | None
    reason: Reason
    fished: int = 0  # rounds fished
    mark: str = ""  # "up", "down", or "level" where equals lie across a line
    round_wins: int = 0
    best_round_weight: int = 0


@dataclass(frozen=True, slots=True)
class SeasonResult:
    """A season so far: its rounds, and the tables they make."""

    rounds: tuple[tuple[int, MatchResult], ...]
    table: tuple[TableLine, ...]  # the anglers' where nobody has a team
    anglers: tuple[TableLine, ...]
    unit: Unit = Unit.LB_OZ
    planned: int | None = None  # rounds the season is to have, where that is known
    held: int = 0  # rounds that are part of the table so far
    cancelled: tuple[int, ...] = ()
    counting: int = 0  # how many of them count
    by_weight: bool = False  # totals are weights, not points
