"""The journal: one line an act, in the words a secretary would use."""

from __future__ import annotations

from datetime import datetime

from django.contrib.auth.models import User
from django.utils import timezone

from league.models import Act, Club, Match


def write_down(
    what: str,
    *,
    by: User | None,
    club: Club,
    match: Match | None = None,
    at: datetime | None = None,
) -> Act:
    """Add a line. Weigh-ins have none: each of them is already kept with who, where and when."""
    longest = 300  # the column's length, which PostgreSQL holds and SQLite does not
    if len(what) > longest:
        what = what[: longest - 1] + "…"
    return Act.objects.create(club=club, match=match, what=what, by=by, at=at or timezone.now())
