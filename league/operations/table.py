"""The league table, worked out from the results as published."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from league.files import result as result_file
from league.files import rulebook as rulebook_file
from league.models import Match, Result, Season, Team
from league.rules.lines import MatchResult, Points, SeasonResult
from league.rules.policies import exact
from league.rules.rulebook import Rulebook
from league.rules.table import score_season


@dataclass(frozen=True, slots=True)
class Published:
    """What a season's table is made of: the rounds as they were published, and who is in it."""

    rounds: tuple[tuple[int, MatchResult], ...]
    rules: Mapping[int, Mapping[str, Any]]  # what each round was scored by, as kept
    planned: int | None
    cancelled: tuple[int, ...]
    teams: Mapping[str, str]
    penalties: Mapping[str, Points]  # of whole teams
    decisions: Mapping[str, tuple[str, ...]]  # by which they have them

    def table(
        self, book: Rulebook, rounds: Sequence[tuple[int, MatchResult]] | None = None
    ) -> SeasonResult:
        """The table by *book*, of the rounds as published or of the same rounds scored again."""
        return score_season(
            self.rounds if rounds is None else rounds,
            book,
            planned=self.planned,
            cancelled=self.cancelled,
            teams=self.teams,
            penalties=self.penalties,
            decisions=self.decisions,
        )


def score_table(season: Season, upto_round: int | None = None) -> SeasonResult:
    """
    The table of *season* after *upto_round*, or as it stands now.

    Three questions, however many rounds and teams. A round counts by the newest version of its
    result; what has not been published does not count, so that table and wall agree.
    """
    return published(season, upto_round).table(rulebook_file.from_dict(season.book))


def tables_around(result: Result) -> tuple[SeasonResult, SeasonResult] | None:
    """
    The table just before *result* was published and just after, the other rounds as they then were.

    None for a match outside a league.
    """
    season = result.match.season
    if season is None or result.match.round is None:
        return None
    book = rulebook_file.from_dict(season.book)
    before, after = (
        published(
            season, results=Result.objects.rounds_at(season, result.published_at, after=after)
        ).table(book)
        for after in (False, True)
    )
    return before, after


def published(
    season: Season, upto_round: int | None = None, *, results: Iterable[Result] | None = None
) -> Published:
    """What has been published of *season*, in three questions; or of these *results* of it."""
    last = upto_round if upto_round is not None else 10**6
    documents = {
        result.match.round: result.document
        for result in (Result.objects.rounds_of(season) if results is None else results)
        if result.match.round is not None and result.match.round <= last
    }
    penalties: dict[str, Points] = {}
    for document in documents.values():
        for key, points in document.get("team_penalties", {}).items():
            penalties[key] = exact(penalties.get(key, 0) + Fraction(points))
    decisions: dict[str, tuple[str, ...]] = {}
    for document in documents.values():
        for decision in document.get("decisions", ()):
            if key := decision["team_id"]:
                decisions[key] = (*decisions.get(key, ()), decision["says"])
    cancelled = [number for number in Match.objects.cancelled_rounds(season) if number <= last]
    return Published(
        rounds=tuple(
            (number, result_file.from_json(document)) for number, document in documents.items()
        ),
        rules={number: document["rules"] for number, document in documents.items()},
        planned=season.planned_rounds or None,
        cancelled=tuple(cancelled),
        teams={str(team.pk): team.name for team in Team.objects.of(season)},
        penalties=penalties,
        decisions=decisions,
    )
