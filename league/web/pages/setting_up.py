"""What the pages of a season being set up say: what is there, and what is missing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from league.models import Match, Season, SquadMember, Team
from league.rules.figures import capital, counted


@dataclass(frozen=True, slots=True)
class TeamLine:
    """A team with its squad, and whether it can fill its line-up."""

    team: Team
    squad: tuple[SquadMember, ...]
    size: int

    @property
    def captain(self) -> SquadMember | None:
        """Who names the line-up."""
        return next((each for each in self.squad if each.captain), None)

    @property
    def short(self) -> str:
        """How many are missing from the squad, in words; empty where it can fill the line-up."""
        missing = self.size - len(self.squad)
        return f"{counted(missing, 'angler')} short" if missing > 0 else ""


@dataclass(frozen=True, slots=True)
class Headline:
    """What comes next for a season, and what to say about it."""

    words: str
    lead: str
    next: str  # teams, rounds, match or nothing


def season_headline(
    season: Season, lines: Sequence[TeamLine], matches: Sequence[Match], size: int
) -> Headline:
    """The answer at the head of the page: the first thing that is missing."""
    # Rounds that were fished without teams are no league waiting for them.
    fished = any(match.has_result for match in matches)
    if size > 1 and not lines and not fished:
        return Headline(
            f"{season} has no teams yet",
            "Paste them below, a line a team; squads can come along or later.",
            "teams",
        )
    if not matches:
        return Headline(
            f"{season} has no rounds yet",
            "Say how many, from when and how often, or paste the fixture list.",
            "rounds",
        )
    teams = f"{counted(len(lines), 'team')}, " if lines else ""
    short = [line for line in lines if line.short]
    lead = ""
    if short:
        lead = f"{capital(counted(len(short), 'squad'))} cannot fill a line-up yet."
    return Headline(
        f"{season} is set up",
        capital(f"{teams}{counted(len(matches), 'round')}. {lead}".strip()),
        "match",
    )
