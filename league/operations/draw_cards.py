"""The cards of a draw, face down until they are turned: how many are kept, for every device."""

from __future__ import annotations

from collections.abc import Iterable

from django.contrib.auth.models import User

from league.models import DrawEvent, DrawRecord, Entry, Match
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.store import writing


def turn(match: Match, up_to: int | None, *, by: User | None) -> int | None:
    """
    Turn the cards up to number *up_to*, or all of them: how many are face up, None for all.

    No card is turned back: pressed twice, or on two devices, the further one stands.
    """
    with writing():
        match = Match.objects.locked(match.pk)
        record = DrawRecord.objects.with_events(match)
        event = face_down(record.events.all()) if record else None
        if event is None:
            if not match.is_drawn:
                raise RefusedError("The pegs are not drawn yet, so there are no cards to turn.")
            return None
        total = len(Entry.objects.of(match).in_peg_order())
        if up_to is None or up_to >= total:
            event.turned = None
            write_down("All cards of the draw are turned.", by=by, club=match.club, match=match)
        else:
            event.turned = max(event.turned or 0, up_to)
        event.save(update_fields=["turned"])
        return event.turned


def face_down(events: Iterable[DrawEvent]) -> DrawEvent | None:
    """The event whose cards are not all turned yet, if there is one."""
    return next((event for event in events if event.turned is not None), None)


def show_all(events: Iterable[DrawEvent]) -> None:
    """Turn what is still face down, since what comes now changes the draw; the match is held."""
    if event := face_down(events):
        event.turned = None
        event.save(update_fields=["turned"])
