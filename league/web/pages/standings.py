"""Where everybody stands in a season, and where they stood a round ago."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django.urls import reverse

from league.models import Match, Result, Season
from league.operations import score as scoring
from league.operations.table import Published, published
from league.rules.lines import SeasonResult, TableLine
from league.rules.rulebook import Rulebook


@dataclass(frozen=True, slots=True)
class Standings:
    """A table, the rounds it is made of or waits for, and where everybody stood a round ago."""

    season: Season
    book: Rulebook
    worked: SeasonResult
    lines: tuple[TableLine, ...]
    matches: Mapping[int, Match]
    results: Mapping[int, Result]
    before: Mapping[str, int]

    @property
    def numbers(self) -> list[int]:
        """Every round, fished or to come."""
        return sorted({*self.matches, *range(1, self.season.planned_rounds + 1)})

    @property
    def last(self) -> int:
        """The last round in the table; 0 before the first."""
        return max((number for number, _ in self.worked.rounds), default=0)

    @property
    def of_teams(self) -> bool:
        """Whether the lines are teams: an angler's line is among the anglers'."""
        return self.lines is not self.worked.anglers


def rules_url(season: Season | None) -> str:
    """Where the rules of the season's league are read out."""
    return reverse("rules", args=[season.pk]) if season else ""


def table_stamp(season: Season) -> str:
    """
    What tells one state of a season's table from every other.

    As with a result, the time of the last publication is in it, for backups that are restored.
    """
    last = Result.objects.last_published_in(season)
    return f"{season.pk} {season.table_version} {last and last.timestamp()} {season}"


def standings(season: Season, *, of_anglers: bool = False) -> Standings:
    """The table of *season* as its published results make it."""
    book = scoring.book_of_season(season)
    told = published(season)
    worked = told.table(book)
    earlier = _a_round_ago(season, told, book)

    def lines(result: SeasonResult) -> tuple[TableLine, ...]:
        return result.anglers if of_anglers or result.table is result.anglers else result.table

    return Standings(
        season=season,
        book=book,
        worked=worked,
        lines=lines(worked),
        matches={
            match.round: match
            for match in Match.objects.rounds_of(season)
            if match.round is not None
        },
        results={
            result.match.round: result
            for result in Result.objects.rounds_of(season).defer("document")
            if result.match.round is not None
        },
        before={line.key: line.place for line in lines(earlier)} if earlier else {},
    )


def movement(line: TableLine, before: Mapping[str, int]) -> str:
    """How many places up or down since the round before; empty where none."""
    was = before.get(line.key)
    if was is None or was == line.place:
        return ""
    return f"up {was - line.place}" if was > line.place else f"down {line.place - was}"


def _a_round_ago(season: Season, told: Published, book: Rulebook) -> SeasonResult | None:
    if len(told.rounds) < 2:
        return None
    if told.penalties:  # one may have been decided in the last round, and is not of the one before
        return scoring.score_table(season, upto_round=told.rounds[-2][0])
    return told.table(book, told.rounds[:-1])
