"""The league table, worked out from the results as published."""

from __future__ import annotations

from fractions import Fraction

from league.files import result as result_file
from league.files import rulebook as rulebook_file
from league.models import Match, Result, Season, Team
from league.rules.lines import Points, SeasonResult
from league.rules.policies import exact
from league.rules.table import score_season


def score_table(season: Season, upto_round: int | None = None) -> SeasonResult:
    """
    The table of *season* after *upto_round*, or as it stands now.

    Three questions, however many rounds and teams. A round counts by the newest version of its
    result; what has not been published does not count, so that table and wall agree.
    """
    last = upto_round if upto_round is not None else 10**6
    documents = {
        result.match.round: result.document
        for result in Result.objects.rounds_of(season)
        if result.match.round is not None and result.match.round <= last
    }
    penalties: dict[str, Points] = {}
    for document in documents.values():
        for key, points in document.get("team_penalties", {}).items():
            penalties[key] = exact(penalties.get(key, 0) + Fraction(points))
    return score_season(
        [(number, result_file.from_json(document)) for number, document in documents.items()],
        rulebook_file.from_dict(season.book),
        planned=season.planned_rounds or None,
        cancelled=[number for number in Match.objects.cancelled_rounds(season) if number <= last],
        teams={str(team.pk): team.name for team in Team.objects.of(season)},
        penalties=penalties,
    )
