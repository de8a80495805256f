"""What the versions of a result are told by: which there are, who made them, what moved."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from league.models import Result
from league.operations import score
from league.operations.facts import WHO_DECIDES
from league.operations.moves import moves_by_kind, table_moves
from league.operations.payouts import moved_between
from league.operations.table import tables_around
from league.rules.pools_moved import say_money_moved, say_sum_moved
from league.web.pages.standings import rules_url
from league.web.sentences import moment

SHOWN = 6  # sentences on the result's own page; the rest have a page of their own


@dataclass(frozen=True, slots=True)
class Part:
    """What moved of one kind."""

    key: str
    heading: str
    sentences: tuple[str, ...]


def told(versions: Sequence[Result]) -> list[dict[str, Any]]:
    """The *versions*, newest first, each with the head of what moved since the one before."""
    lines = []
    for at, version in enumerate(versions):
        before = versions[at + 1] if at + 1 < len(versions) else None
        moved = score.moved(before, version) if before else []
        lines.append(
            {
                "number": version.version,
                "at": moment(version.published_at),
                "state": version.state,
                "who": who(version),
                "why": version.why,
                "moved": " ".join(moved[:SHOWN]),
                "more": len(moved) - SHOWN,
            }
        )
    return lines


def who(version: Result) -> str:
    """Who published it: pages name the office, the journal names the person."""
    return f"by the {WHO_DECIDES}" if version.published_by_id else ""


def matter(version: Result, versions: Sequence[Result]) -> dict[str, Any]:
    """The page that tells what a *version* moved; of the first one, that there was none before."""
    before = next((each for each in versions if each.version == version.version - 1), None)
    return {
        "result": version,
        "before": before,
        "newest": versions[0],
        "at": moment(version.published_at),
        "who": who(version),
        "final_at": version.final_at and moment(version.final_at),
        "parts": _parts(before, version) if before else [],
        "rules_url": rules_url(version.match.season),
    }


def money_part(version: Result) -> Part | None:
    """
    Whose money a *version* moved; None where it moved nobody's.

    For officers alone: it names people with sums, and stands on no page that is kept. What was
    handed over and has to come back is said of the version in force, by which it is.
    """
    before = Result.objects.version_of(version.match_id, version.version - 1).first()
    moved = moved_between(before, version) if before else ()
    say = say_money_moved if version.version == version.in_force else say_sum_moved
    return Part("money", "Money", tuple(map(say, moved))) if moved else None


def _parts(before: Result, version: Result) -> list[Part]:
    moved = moves_by_kind(score.read(before), score.read(version))
    decided = tuple(
        each["says"]
        for each in version.document.get("decisions", ())
        if each not in before.document.get("decisions", ())
    )
    parts = [
        Part("weights", "Weights", moved.weights or ("No weight changes.",)),
        Part("decided", "Decisions", decided),
        Part("points", "Points", moved.points or ("No points change.",)),
        Part("places", "Places", moved.places),
    ]
    tables = tables_around(version)
    if tables is not None:
        parts.append(Part("table", "The league table", tuple(table_moves(*tables))))
    return [part for part in parts if part.sentences]
