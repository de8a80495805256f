"""From rows to results; reads only. What the pages and the acts ask about a match."""

from __future__ import annotations

from typing import Any

from league.files import result as result_file
from league.files import rulebook as rulebook_file
from league.files.plain import amount, fraction
from league.models import Match, MatchPeg, Peg, Result, Season
from league.operations.facts import (
    WHO_DECIDES,
    Facts,
    Gap,
    Standing,
    announce_decision,
    facts_of,
    gaps_of,
    rows_of,
    standing,
    team_penalties,
)
from league.operations.moves import moves
from league.operations.table import score_table
from league.rules import headlines, rounds
from league.rules.lines import MatchResult, Points, Row
from league.rules.matches import score_match
from league.rules.rulebook import Rulebook
from league.rules.weights import Unit, written

__all__ = [
    "Gap",
    "Standing",
    "book_of",
    "book_of_season",
    "changed_since",
    "document",
    "facts_of",
    "gaps",
    "gaps_in",
    "layout",
    "league_points",
    "moved",
    "read",
    "rows",
    "score",
    "score_table",
    "standing",
]


def book_of(match: Match) -> Rulebook:
    """The rules *match* is scored by: its own, or its season's; its unit is the match's."""
    kept = match.announced_book
    return rulebook_file.from_dict(kept or {"unit": match.unit})


def book_of_season(season: Season) -> Rulebook:
    """The rules announced for *season*."""
    return rulebook_file.from_dict(season.book)


def rows(match: Match) -> list[Row]:
    """One row an angler with a peg, decisions included."""
    return rows_of(facts_of(match))


def gaps(match: Match) -> list[Gap]:
    """Who is not weighed yet, in question or without a peg."""
    return gaps_of(facts_of(match))


def score(match: Match) -> MatchResult:
    """The result as it stands now, published or not."""
    return score_match(rows(match), book_of(match))


def read(result: Result) -> MatchResult:
    """A published version, from its own document alone: the rules may have changed since."""
    return result_file.from_json(result.document)


def league_points(result: Result) -> dict[str, Points | None]:
    """What a round gives each team in the table, by this version alone; empty outside a season."""
    if result.match.season_id is None:
        return {}
    return rounds.league_points(read(result), result_file.book_of(result.document))


def gaps_in(result: Result) -> list[str]:
    """What was still missing when *result* was published, in words."""
    return list(result.document.get("gaps", ()))


def moved(old: Result, new: Result) -> list[str]:
    """What changed from one version to another, a sentence each, for the page and the wall."""
    return moves(read(old), read(new))


def changed_since(result: Result) -> list[str]:
    """
    What a correction of *result* would change; empty where nothing has happened since.

    A name written otherwise changes nothing.
    """
    facts = facts_of(result.match)
    now = score_match(rows_of(facts), result_file.book_of(result.document))
    sentences = moves(read(result), now)
    if not _same(read(result), now):
        return sentences
    ours = [_about(decision) for decision in _decisions(facts)]
    theirs = [_about(decision) for decision in result.document.get("decisions", ())]
    return [] if ours == theirs else [*sentences, "The decisions have changed."]


def layout(match: Match) -> list[dict[str, Any]]:
    """
    The pegs of *match* in bank order, as the bank strip takes them.

    Pegs left out, closed or not used stand in `left_out` of the next one; `gap_before` is their
    room, and a break in the bank takes one more.
    """
    used = {match_peg.peg_id: match_peg for match_peg in MatchPeg.objects.of(match)}
    bank: list[dict[str, Any]] = []
    left_out: list[str] = []
    breaks = 0
    for peg in Peg.objects.along(match.water):
        match_peg = used.get(peg.pk)
        if match_peg is None or match_peg.closed_why:
            left_out.append(peg.number)
        else:
            bank.append(
                {
                    "number": peg.number,
                    "order": len(bank) + 1,
                    "gap_before": len(left_out) + breaks if bank else 0,
                    "left_out": left_out,
                    "section": match_peg.section.letter,
                }
            )
            left_out, breaks = [], 0
        breaks += peg.gap_after
    return bank


def document(facts: Facts, book: Rulebook, version: int) -> dict[str, Any]:
    """
    A version as it is kept: the result file, and what the page and the sheet print beside it.

    It holds everything they need, so that it reads the same when names, pegs or rules change.
    """
    match = facts.match
    season = match.season
    about = {
        "name": match.title,
        "date": match.date.isoformat(),
        "club": match.club.name,
        "league": season.league.name if season else None,
        "season": season.name if season else None,
        "round": match.round,
        "rounds": season.planned_rounds if season else None,
        "water": match.water.name,
        "venue": match.water.venue.name,
        "match_id": match.pk,
    }
    result = score_match(rows_of(facts), book)
    return {
        **result_file.as_json(result, book, match=about, version=version, state="provisional"),
        "bank": _bank(facts),
        "gaps": [str(gap) for gap in gaps_of(facts)],
        "decisions": _decisions(facts),
        "team_penalties": {key: fraction(points) for key, points in team_penalties(facts).items()},
        "record": _record(match, result),
    }


def _bank(facts: Facts) -> list[dict[str, Any]]:
    """The layout, with the pegs marked whose anglers are not weighed yet."""
    waiting = {
        entry.match_peg.peg.number
        for entry in (gap.entry for gap in gaps_of(facts))
        if entry.match_peg and not standing(entry).figures
    }
    return [
        {**place, "waiting": True} if place["number"] in waiting else place
        for place in layout(facts.match)
    ]


def _record(match: Match, result: MatchResult) -> dict[str, Any] | None:
    """The heaviest weight of the match where none on its water was heavier; else None."""
    best = max((line.weight for line in result.anglers), default=0)
    unit = result.unit
    earlier = [
        amount(weight, unit)
        for weight, in_unit in Result.objects.best_weights_before(match)
        if in_unit == unit
    ]
    found = headlines.record_of(best, earlier)
    if found is None:
        return None
    return {
        "weight": written(found.weight, unit),
        "before": written(found.before, unit),
        "matches": found.matches,
    }


def _decisions(facts: Facts) -> list[dict[str, Any]]:
    unit = Unit(facts.match.unit)
    return [
        {
            "kind": decision.kind,
            "angler_id": str(decision.entry.angler_id) if decision.entry else None,
            "team_id": str(decision.team_id) if decision.team_id else None,
            "says": announce_decision(decision, unit),
            "why": decision.why,
            "by": WHO_DECIDES if decision.by_id else None,
            "at": decision.at.isoformat() if decision.by_id else None,
            "points": fraction(decision.points),
            "weight": None if decision.weight is None else written(decision.weight, unit),
        }
        for decision in facts.decisions
    ]


def _about(decision: dict[str, Any]) -> tuple[Any, ...]:
    return decision["kind"], decision["angler_id"], decision["team_id"]


def _same(ours: MatchResult, theirs: MatchResult) -> bool:
    return _figures(ours) == _figures(theirs)


def _figures(result: MatchResult) -> set[tuple[Any, ...]]:
    return {
        (
            line.row.angler_key,
            line.row.section,
            line.row.peg,
            line.status,
            line.row.nets,
            line.weight,
            line.place,
            line.points,
        )
        for section in result.sections
        for line in section.lines
    } | {(line.team_id or line.team, line.place, line.points) for line in result.teams}
