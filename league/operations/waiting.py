"""The waiting list of an open match: first come, first in."""

from __future__ import annotations

from datetime import datetime

from django.contrib.auth.models import User
from django.utils import timezone

from league.models import Angler, Entry, Match, Reserve, Team
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.lineup import book_in, may_change_line_up, move_up, places_of
from league.operations.store import add, writing


def book_oneself(match: Match, angler: Angler, *, by: User) -> Entry:
    """
    Book in whoever is signed in, for an open match with a place left.

    Somebody who books alone is held to the pegs there are; the match secretary may go beyond.
    """
    if is_of_teams(match):
        raise RefusedError("This is a match of teams: your captain names the line-up.")
    with writing():
        match = Match.objects.locked(match.pk)
        places = places_of(match)
        if places is not None and Entry.objects.of(match).count() >= places:
            raise RefusedError("Every place is taken. Put yourself on the waiting list.")
        return book_in(match, angler, by=by)


def is_of_teams(match: Match) -> bool:
    """Whether captains name who fishes: a round of a season with teams in it."""
    return match.season is not None and Team.objects.of(match.season).exists()


def wait_for_place(
    match: Match, angler: Angler, *, by: User | None, at: datetime | None = None
) -> Reserve:
    """Put *angler* on the waiting list; refused while there is still a place to be had."""
    with writing():
        match = Match.objects.locked(match.pk)
        may_change_line_up(match)
        if angler.club_id != match.club_id:
            raise RefusedError(f"{angler} is not an angler of the club.")
        if Entry.objects.of(match).fishing(angler).exists():
            raise RefusedError(f"{angler} is booked in already.")
        places = places_of(match)
        nobody_waits = not Reserve.objects.on_the_list(match).exists()
        if nobody_waits and (places is None or Entry.objects.of(match).count() < places):
            raise RefusedError(f"There is a place: book {angler} in.")
        waiting = add(Reserve(match=match, angler=angler, asked_at=at or timezone.now()))
        write_down(f"{angler} waits for a place.", by=by, club=match.club, match=match)
    return waiting


def leave_list(waiting: Reserve, *, by: User | None, at: datetime | None = None) -> None:
    """Take somebody off the list who does not want the place any more."""
    with writing():
        match = Match.objects.locked(waiting.match_id)
        still = Reserve.objects.with_angler(match, waiting.angler)
        if still is None:
            raise RefusedError(f"{waiting.angler} waits no longer; look again.")
        still.left_at = at or timezone.now()
        still.save(update_fields=["left_at"])
        said = f"{waiting.angler} taken off the waiting list."
        write_down(said, by=by, club=match.club, match=match)


def set_places(match: Match, places: int | None, *, by: User | None) -> list[Entry]:
    """
    Say how many can be booked in; None for as many as pegs. Whoever then has a place moves up.

    Nobody booked in is put out by a smaller number.
    """
    moved: list[Entry] = []
    with writing():
        match = Match.objects.locked(match.pk)
        may_change_line_up(match)
        if places is not None and places < 1:
            raise RefusedError("Say how many places there are: 1 or more, or nothing at all.")
        match.places = places
        match.save(update_fields=["places"])
        said = "as many as pegs" if places is None else str(places)
        write_down(f"Places to be booked: {said}.", by=by, club=match.club, match=match)
        while (entry := move_up(match, in_place_of=None, by=by)) is not None:
            moved.append(entry)
    return moved
