"""What a league announces before the season: one policy a question."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias

from league.rules.drops import EVERY_ROUND, DropRule, best_of, drop_by_length, drop_worst
from league.rules.errors import RulebookError
from league.rules.ladders import SEASON_RUNGS, TEAM_RUNGS, Rung, SeasonStanding, TeamStanding
from league.rules.lines import Points
from league.rules.nets import CAP_WITH_TOLERANCE, NetRules
from league.rules.placings import AVERAGE, EqualRule
from league.rules.policies import Policy, by_key
from league.rules.scale import HIGH, LOW, NO_CAP, TOP_SECTION, CapRule, Direction, TopRule
from league.rules.statuses import (
    AS_ABSENT,
    AS_BLANK,
    AVERAGE_OF_THE_REST,
    SIZE_DRAWN,
    ScoreRule,
    SizeRule,
    size_plus,
)
from league.rules.weights import Unit

ONE_MORE = size_plus(1)
NO_LIMIT = NetRules()


@dataclass(frozen=True, slots=True)
class SectionRules:
    """How a section is scored."""

    direction: Direction = LOW
    top: TopRule = TOP_SECTION
    override: tuple[Points, ...] = ()
    equal: EqualRule = AVERAGE
    size: SizeRule = SIZE_DRAWN
    blank: ScoreRule = AVERAGE_OF_THE_REST
    all_blank: ScoreRule | None = None
    not_weighed: ScoreRule = AS_BLANK
    withdrew: ScoreRule = AS_BLANK
    absent: ScoreRule = ONE_MORE
    vacant: ScoreRule = AS_ABSENT
    disqualified: ScoreRule = ONE_MORE
    others_move_up: bool = True
    cap: CapRule = NO_CAP


@dataclass(frozen=True, slots=True)
class TeamRules:
    """How a team's round is added up, and what splits teams that are level."""

    size: int = 4
    per_section: int = 1
    count: int | None = None
    ties: tuple[Rung[TeamStanding], ...] = (TEAM_RUNGS["weight"], TEAM_RUNGS["best weight"])


@dataclass(frozen=True, slots=True)
class Round:
    """One competitor's round, from which the season takes its score."""

    points: Points | None
    places: Points | None
    weight: int


SeasonScore: TypeAlias = Policy[Callable[[Round], Points | None]]
BY_POINTS = SeasonScore(
    "points", "The points of the rounds are added up.", lambda round_: round_.points
)
BY_PLACES = SeasonScore(
    "places", "The places of the rounds are scored and added up.", lambda round_: round_.places
)
BY_WEIGHT = SeasonScore(
    "weight",
    "The weights of the rounds are added up, and the heaviest total wins.",
    lambda round_: round_.weight,
)
SEASON_SCORES = by_key(BY_POINTS, BY_PLACES, BY_WEIGHT)

# Whether a cancelled round is a round of the season, with 0 for everybody.
CancelledRule: TypeAlias = Policy[bool]
NOT_FISHED = CancelledRule(
    "not fished", "A cancelled round is left out as if it had never been planned.", False
)
ALL_ZERO = CancelledRule(
    "all zero", "A cancelled round counts as fished, and everybody scores 0.", True
)
CANCELLED = by_key(NOT_FISHED, ALL_ZERO)


@dataclass(frozen=True, slots=True)
class SeasonRules:
    """How rounds become a table."""

    score: SeasonScore = BY_POINTS
    best: int | None = None
    drop: int | tuple[tuple[int, int], ...] | None = None
    minimum: int = 0
    undroppable: tuple[int, ...] = ()
    cancelled: CancelledRule = NOT_FISHED
    up: int = 0
    down: int = 0
    ties: tuple[Rung[SeasonStanding], ...] = (SEASON_RUNGS["weight"], SEASON_RUNGS["round wins"])
    penalties_after_drop: bool = True
    disqualified_counts: bool = False

    @property
    def drops(self) -> DropRule:
        """How many rounds count, as `best` or `drop` says."""
        if self.best is not None:
            return best_of(self.best)
        if isinstance(self.drop, int):
            return drop_worst(self.drop)
        return drop_by_length(dict(self.drop)) if self.drop else EVERY_ROUND


@dataclass(frozen=True, slots=True)
class Rulebook:
    """
    Everything a league may choose, with averaged low points as the default.

    Books are varied with `league.files.rulebook.changed`, which reads the same keys as the file.
    """

    name: str = "Averaged low points"
    unit: Unit = Unit.LB_OZ
    section: SectionRules = SectionRules()
    net: NetRules = NO_LIMIT
    team: TeamRules = TeamRules()
    season: SeasonRules = SeasonRules()

    def __post_init__(self) -> None:
        faults = contradictions(self)
        if faults:
            raise RulebookError("\n".join(faults))

    @property
    def sign(self) -> int:
        """1 where the smaller total is the better one, -1 where the larger is."""
        return self.section.direction.rule.sign

    @property
    def season_sign(self) -> int:
        """The same for the season's total, where weights always run upwards."""
        return -1 if self.season.score == BY_WEIGHT else self.sign


def contradictions(book: Rulebook) -> list[str]:
    """What in *book* cannot be meant together, in words."""
    faults = []
    section, net, team, season = book.section, book.net, book.team, book.season
    if season.best is not None and season.drop is not None:
        faults.append(
            "season: best and drop say one thing in two ways. Keep one and leave the other out."
        )
    if section.direction != HIGH:
        if section.top != TOP_SECTION:
            faults.append(
                'section: top is for high points only. Write direction = "high", or leave top out.'
            )
        if section.override:
            faults.append(
                'section: override is for high points only. Write direction = "high", '
                "or leave override out."
            )
    if isinstance(section.top.key, tuple):
        faults += _falling("top", section.top.key)
    faults += _falling("override", section.override)
    if net.limit is not None and net.limit <= 0:
        faults.append(
            "net: the limit must be more than nothing. Write none where there is no limit."
        )
    if net.limit is None and net.tolerance is not None:
        faults.append("net: a tolerance needs a limit. Write the limit, or leave tolerance out.")
    if net.tolerance is not None and net.over != CAP_WITH_TOLERANCE:
        faults.append(
            'net: a tolerance is used only by over = "cap with tolerance". '
            "Write that, or leave tolerance out."
        )
    if net.tolerance is None and net.limit is not None and net.over == CAP_WITH_TOLERANCE:
        faults.append('net: over = "cap with tolerance" needs a tolerance. Write one, say "10-0".')
    if team.count is not None and team.count > team.size:
        faults.append(
            f"team: count = {team.count} is more than the {team.size} in a team. "
            "Write a smaller count, or leave it out so that all count."
        )
    if team.per_section > team.size:
        faults.append(
            f"team: per_section = {team.per_section} is more than the {team.size} in a team."
        )
    for name, rungs in (("team", team.ties), ("season", season.ties)):
        keys = [rung.key for rung in rungs]
        faults += [
            f'{name}: ties names "{key}" twice. The second can never split anybody: leave it out.'
            for key in dict.fromkeys(keys)
            if keys.count(key) > 1
        ]
    return faults


def _falling(name: str, points: tuple[Points | float, ...]) -> list[str]:
    rises = [(better, worse) for better, worse in pairwise(points) if worse > better]
    return [
        f"section: {name} rises from {better} to {worse}. First place stands first, "
        "so that each number is no more than the one before it."
        for better, worse in rises
    ]
