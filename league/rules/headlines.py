"""The answer as a headline: who won the match, who leads the table."""

from __future__ import annotations

from collections.abc import Sequence

from league.rules import weights
from league.rules.figures import and_list, number_word
from league.rules.lines import MatchResult, SeasonResult, Split, Status, TableLine
from league.rules.splits import RUNGS
from league.rules.statuses import FISHED

MOST_NAMED = 3


def headline(result: MatchResult, what: str = "") -> str:
    """
    Who won: "Tannery Lane win on total weight", or with *what*, "Tannery Lane win round 6 on ...".
    """
    if not any(line.weight for line in result.anglers):
        return _nothing_weighed({line.status for line in result.anglers})
    won = f" {what}" if what else ""
    if result.teams:
        first = [line for line in result.teams if line.place == 1]
        if len(first) > 1:
            return f"{_named([line.team for line in first], 'teams')} share {what or 'it'}"
        return f"{first[0].team} win{won}{_how(first[0].split)}"
    best = [line for line in result.anglers if line.place == 1]
    weight = weights.spoken(best[0].weight, result.unit)
    if len(best) > 1:
        names = _named([line.angler for line in best], "anglers")
        return f"{names} share {what or 'it'} with {weight}"
    return f"{best[0].angler} wins{won} with {weight}"


def _nothing_weighed(became: set[Status]) -> str:
    """What is said where no fish was weighed, by what *became* of the anglers."""
    if not became:
        return "Nobody has fished yet"
    if not became & FISHED:
        return "Nobody fished"
    return "A blank for everybody" if became & FISHED == {Status.BLANK} else "Nobody weighed in"


def table_headline(season: SeasonResult) -> str:
    """Who leads or has won: "Old Quarry lead by two with one round to fish"."""
    if not season.held or not season.table:
        return "The table starts after round 1"
    is_team = season.table is not season.anglers and season.table != season.anglers
    # Cancelled rounds that are left out are not fished again.
    gone = len({line.round for line in season.table[0].rounds})
    left = None if season.planned is None else max(0, season.planned - gone)
    first = [line for line in season.table if line.place == 1]
    when = _when(season, left)
    if len(first) > 1:
        names = _named([line.name for line in first], "teams" if is_team else "anglers")
        return f"{names} share the league" if left == 0 else f"{names} are level{when}"
    verb = ("win the league" if left == 0 else "lead") if is_team else "leads"
    if left == 0 and not is_team:
        verb = "wins the league"
    return f"{first[0].name} {verb}{_margin(season, first[0])}{when}"


def _margin(season: SeasonResult, leader: TableLine) -> str:
    behind = next((line for line in season.table if line.place > 1), None)
    if behind is None or behind.qualified != leader.qualified:
        return ""
    lead = max(leader.total - behind.total, behind.total - leader.total)
    if not lead:
        return _how(leader.split)
    if season.by_weight:
        return f" by {weights.spoken(int(lead), season.unit)}"
    return f" by {number_word(lead)}"


def _when(season: SeasonResult, left: int | None) -> str:
    if left is None:
        return f" after {_rounds(season.held)}"
    return f" with {_rounds(left)} to fish" if left else ""


def _rounds(count: int) -> str:
    return f"{number_word(count)} round{'' if count == 1 else 's'}"


def _how(split: Split | None) -> str:
    """What decided it, where points did not."""
    decided = split.decided if split else None
    return f" on {RUNGS[decided.rung]}" if decided else ""


def _named(names: Sequence[str], kind: str) -> str:
    if len(names) > MOST_NAMED:
        return f"{number_word(len(names)).capitalize()} {kind}"
    return and_list(list(names))
