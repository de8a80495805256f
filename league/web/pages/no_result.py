"""What a result page says where there is no such result."""

from __future__ import annotations

from typing import Any

from league.models import Act, Entry, Match, Result, Stage
from league.operations.score import book_of_season
from league.rules.headlines import called_off
from league.web.sentences import long_day


def nothing(match: Match, version: int | None) -> dict[str, Any]:
    """The words for a *match* without a result, or without the *version* asked for."""
    newest = Result.objects.of(match).defer("document").first()
    if newest is not None:
        headline = f"There is no version {version}"
        lead = f"The newest is version {newest.version}, and it counts. Nothing was taken away."
    elif match.stage == Stage.CANCELLED:
        headline, lead = called_off(match.title, drawn=_was_drawn(match)), why_off(match)
    else:
        headline, lead = "No result yet", _when(match)
    return {"match": match, "newest": newest, "headline": headline, "lead": lead}


def _was_drawn(match: Match) -> bool:
    return Entry.objects.of(match).in_peg_order().exists()


def why_off(match: Match) -> str:
    """Why *match* was called off, and what that does to the table."""
    said = [Act.objects.why_cancelled(match)]
    if match.season:
        said.append(book_of_season(match.season).season.cancelled.words)
    return " ".join(part for part in said if part)


def _when(match: Match) -> str:
    if match.is_drawn:
        return "The result will be here as soon as the match secretary publishes it."
    return f"{match.title} is on {long_day(match.date)}, at {match.water}."
