"""Objections as they stand beside a result."""

from __future__ import annotations

from league.models import Match, Objection
from league.operations.objections import told


def objections_to(match: Match) -> list[tuple[str, str, bool]]:
    """What was objected, what came of it, and whether it is open; no question where nobody did."""
    if not match.objected_at:
        return []
    return [(*told(each), each.is_open) for each in Objection.objects.of(match)]
