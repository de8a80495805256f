"""The board: the weigh-in as it comes, shown when the secretary wants it."""

from __future__ import annotations

from django.contrib.auth.models import User

from league.models import Match
from league.operations.journal import write_down
from league.operations.store import writing


def show_board(match: Match, shown: bool, *, by: User | None) -> None:
    """Show the board of *match*, or stop showing it."""
    with writing():
        held = Match.objects.locked(match.pk)
        if held.board_shown == shown:
            return
        held.board_shown = shown
        held.save(update_fields=["board_shown"])
        words = "The board is shown." if shown else "The board is not shown any more."
        write_down(words, by=by, club=held.club, match=held)
