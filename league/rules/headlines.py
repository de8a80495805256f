"""The answer as a headline: who won the match, who leads the table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from league.rules import weights
from league.rules.figures import and_list, capital, counted, number_word
from league.rules.lines import MatchResult, SeasonResult, Split, Status, TableLine
from league.rules.splits import RUNGS
from league.rules.statuses import FISHED
from league.rules.weights import Unit

MOST_NAMED = 3
ENOUGH_FOR_A_RECORD = 5  # matches before it: the best of two is no record


@dataclass(frozen=True, slots=True)
class Record:
    """A weight heavier than every one before it on the same water, and how many matches that is."""

    weight: int  # drams or grams
    before: int  # the heaviest until then
    matches: int  # this one included


def record_of(best: int, earlier: Sequence[int]) -> Record | None:
    """
    Whether *best* beats the best weight of each *earlier* match, all in drams or all in grams.

    >>> record_of(900, [400, 880, 300, 0, 500])
    Record(weight=900, before=880, matches=6)
    >>> record_of(900, [400, 880])
    """
    if len(earlier) < ENOUGH_FOR_A_RECORD or best <= max(earlier):
        return None
    return Record(best, max(earlier), len(earlier) + 1)


def say_record(found: Record, water: str, unit: Unit) -> str:
    """The claim with what it rests on."""
    best, before = weights.spoken(found.weight, unit), weights.spoken(found.before, unit)
    return (
        f"{best} is the heaviest weight of {number_word(found.matches)} matches on {water}; "
        f"the best before was {before}."
    )


def called_off(what: str, *, drawn: bool) -> str:
    """
    What stands where a match has no result.

    >>> called_off("round 5", drawn=True), called_off("Autumn Open", drawn=False)
    ('Round 5 was abandoned', 'Autumn Open was called off')
    """
    return f"{capital(what)} was {'abandoned' if drawn else 'called off'}"


def headline(result: MatchResult, what: str = "", record: Record | None = None) -> str:
    """
    Who won: "Tannery Lane win on total weight", or with *what*, "Tannery Lane win round 6 on ...".

    With a *record*, that too: "Winston Arberry wins with a record 31 lb 6 oz".
    """
    if not any(line.weight for line in result.anglers):
        return _nothing_weighed({line.status for line in result.anglers})
    won = f" {what}" if what else ""
    best = [line for line in result.anglers if line.place == 1]
    names = _named([line.angler for line in best], "anglers")
    weight = f"{'a record ' if record else ''}{weights.spoken(best[0].weight, result.unit)}"
    if result.teams:
        also = f"; {weight} for {names}" if record else ""
        first = [line for line in result.teams if line.place == 1]
        if len(first) > 1:
            return f"{_named([line.team for line in first], 'teams')} share {what or 'it'}{also}"
        return f"{first[0].team} win{won}{_how(first[0].split)}{also}"
    if len(best) > 1:
        return f"{names} share {what or 'it'} with {weight}"
    return f"{names} wins{won} with {weight}"


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
    if len(season.table) == 1 and left != 0:
        return f"{first[0].name} {'are' if is_team else 'is'} alone in the league{when}"
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
        return f" after {counted(season.held, 'round')}"
    return f" with {counted(left, 'round')} to fish" if left else ""


def _how(split: Split | None) -> str:
    """What decided it, where points did not."""
    decided = split.decided if split else None
    return f" on {RUNGS[decided.rung]}" if decided else ""


def _named(names: Sequence[str], kind: str) -> str:
    if len(names) > MOST_NAMED:
        return f"{number_word(len(names)).capitalize()} {kind}"
    return and_list(list(names))
