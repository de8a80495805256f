"""Move a match: to another day, other times, another water. Calendars hear of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time

from django.contrib.auth.models import User
from django.utils import timezone

from league.models import Match, MatchPeg, Season, Stage, Water
from league.operations.captains import links_follow
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.store import writing

TIMES = ("book_in", "draw_at", "all_in", "all_out")


@dataclass(frozen=True, slots=True)
class When:
    """The day and the times of a match; None where a time is not announced."""

    date: date
    book_in: time | None = None
    draw_at: time | None = None
    all_in: time | None = None
    all_out: time | None = None


def move_match(
    match: Match, *, when: When, water: Water | None = None, why: str = "", by: User | None
) -> Match:
    """
    Move *match*; without a *water* it stays where it is.

    Nothing is counted where nothing moves: a calendar would tell its owner of a change that is
    none.
    """
    if when.all_in and when.all_out and when.all_in >= when.all_out:
        raise RefusedError(
            f"All out at {when.all_out:%H:%M} is not after all in at {when.all_in:%H:%M}."
        )
    with writing():
        match = Match.objects.locked(match.pk)
        if match.stage == Stage.CANCELLED:
            raise RefusedError("The match is cancelled; plan a new one instead.")
        if match.has_result:
            raise RefusedError("The result is published, so the match cannot be moved.")
        if water is not None and water.pk != match.water_id:
            _may_change_water(match, water)
            match.water = water
        before = _said(Match.objects.whole(match.pk))
        match.date = when.date
        for name in TIMES:
            setattr(match, name, getattr(when, name))
        after = _said(match)
        if before == after:
            return match
        match.save(update_fields=["date", "water", *TIMES])
        now = timezone.now()
        Match.objects.moved(match.pk, now)
        links_follow(match, now)
        if match.season_id:
            Season.objects.table_changed(match.season_id)
        because = f": {why.strip()}" if why.strip() else "."
        write_down(
            f"{match} moved from {before} to {after}{because}",
            by=by,
            club=match.club,
            match=match,
        )
    return Match.objects.whole(match.pk)


def _may_change_water(match: Match, water: Water) -> None:
    if water.venue.club_id != match.club_id:
        raise RefusedError(f"{water} is not a water of the club.")
    if MatchPeg.objects.of(match).exists():
        raise RefusedError(
            f"Pegs of {match.water} are chosen for this match. Take its sections away first, "
            "then move it."
        )


def _said(match: Match) -> str:
    """Sun 24 Jan 2027 at Heron Lake, draw 08:30, all in 10:00."""
    named = zip(("book in", "draw", "all in", "all out"), TIMES, strict=True)
    times = [f"{label} {at:%H:%M}" for label, name in named if (at := getattr(match, name))]
    day = f"{match.date:%a} {match.date.day} {match.date:%b %Y}"
    return ", ".join([f"{day} at {match.water}", *times])
