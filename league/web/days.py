"""From what is kept to a match day that the rules can read: one place for every page that asks."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from django.utils import timezone

from league.models import Match, Objection, Result, Stage
from league.rules.stages import Day
from league.web.walk import Stop


def day_of(
    match: Match,
    *,
    booked: int,
    pegs: int,
    walk: Sequence[Stop] = (),
    newest: Result | None = None,
    changed: bool = False,
    now: datetime | None = None,
) -> Day:
    """The day as the rules know it; *now* is the clock, else the machine's own."""
    return Day(
        title=match.title,
        date=match.date,
        now=timezone.localtime(now),
        book_in=match.book_in,
        draw_at=match.draw_at,
        all_in=match.all_in,
        all_out=match.all_out,
        booked=booked,
        pegs=pegs,
        drawn=match.is_drawn,
        to_weigh=tuple(stop.peg for stop in walk if not stop.weighed),
        in_question=tuple(stop.peg for stop in walk if stop.standing.in_question),
        version=newest.version if newest else 0,
        changed=changed,
        objections_until=_until(newest),
        to_answer=_to_answer(match),
        final=match.stage == Stage.FINAL,
        cancelled=match.stage == Stage.CANCELLED,
    )


def _to_answer(match: Match) -> int:
    """Asked for only where somebody has ever objected: a desk has many matches."""
    return Objection.objects.still_open(match).count() if match.objected_at else 0


def _until(newest: Result | None) -> datetime | None:
    if newest is None or newest.objections_until is None:
        return None
    return timezone.localtime(newest.objections_until)
