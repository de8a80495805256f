"""Provisional until objections are closed, then final: without anybody having to remember it."""

from __future__ import annotations

from datetime import datetime

from django.utils import timezone

from league.models import Result
from league.operations.errors import RefusedError
from league.operations.publish import make_final


def make_due_final(at: datetime | None = None) -> list[str]:
    """
    Make final every result whose time for objections is over; says which, a sentence each.

    What the match secretary could not make final stays provisional: an open objection, a peg not
    weighed, a weight changed since. The match's own page says so, every day until it is settled.
    """
    at = at or timezone.now()
    said = []
    for result in Result.objects.due_to_be_final(at):
        try:
            made = make_final(result.match, by=None, at=at)
        except RefusedError:
            continue
        said.append(f"{result.match}: version {made.version} is final, objections are closed.")
    return said
