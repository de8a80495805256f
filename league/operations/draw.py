"""
The draw, step by step: seal a secret, freeze the sheet, begin, call, finish.

Between any two steps a phone may die and another take over: what was done is kept, and doing it
again finds it done. The secret is opened in `finish` alone, after every number is in.
"""

from __future__ import annotations

import secrets
from collections.abc import Mapping, Sequence
from datetime import datetime

from django.contrib.auth.models import User
from django.utils import timezone
from django.views.decorators.debug import sensitive_variables

from league.models import DrawEvent, DrawRecord, Match, Stage
from league.operations import sealing
from league.operations.draw_changes import draw_late, give_peg, late_entry, redraw, unsafe_peg
from league.operations.draw_events import (
    abandon,
    call,
    finish,
    held_record,
    start,
    take_by_hand,
)
from league.operations.draw_sheets import code_of, prepare, record_of
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.store import add, writing
from league.rules import draw
from league.rules.errors import DrawError

__all__ = [
    "abandon",
    "begin",
    "call",
    "doubts",
    "draw_by_hand",
    "draw_late",
    "draw_match",
    "finish",
    "freeze",
    "give_peg",
    "late_entry",
    "record_of",
    "redraw",
    "seal",
    "thaw",
    "unsafe_peg",
]


@sensitive_variables("secret")
def seal(match: Match, *, by: User | None, secret: str | None = None) -> DrawRecord:
    """
    Lock a secret away and publish its commitment; doing it twice finds it done.

    It comes before the sheet is frozen, so that nobody can choose a secret to suit the entries.
    """
    with writing():
        match = Match.objects.locked(match.pk)
        _may_be_drawn(match)
        return _sealed(match, by, secret)


def doubts(match: Match, *, callers: Sequence[int] = ()) -> list[str]:
    """What is worth asking about before the sheet is frozen; a fault refuses instead."""
    prepared = prepare(match, callers=callers)
    if faults := draw.faults(prepared.sheet):
        raise RefusedError("\n".join(faults))
    return [*draw.doubts(prepared.sheet), *draw.rehearse(prepared.sheet)]


def freeze(
    match: Match,
    *,
    callers: Sequence[int] = (),
    fixed: Mapping[int, int] | None = None,
    by: User | None,
    at: datetime | None = None,
) -> DrawRecord:
    """
    Fix who draws from which pegs and who calls; its fingerprint is shown before any number is.

    *callers* are entry numbers, *fixed* an entry's number and the id of the `MatchPeg` it keeps.
    """
    with writing():
        match = Match.objects.locked(match.pk)
        _may_be_drawn(match)
        record = _sealed(match, by, None)
        if record.frozen_at:
            raise RefusedError("The draw sheet is frozen already; look again.")
        _write_sheet(match, record, callers, fixed, at)
        write_down("Draw sheet frozen.", by=by, club=match.club, match=match, at=at)
    return record


def thaw(match: Match, *, why: str, by: User | None) -> DrawRecord:
    """Open the sheet again because somebody rang in ill, say; only before an event is begun."""
    if not why.strip():
        raise RefusedError("Say why the draw sheet is opened again.")
    with writing():
        match = Match.objects.locked(match.pk)
        record = held_record(match)
        if DrawEvent.objects.of(record).exists():
            raise RefusedError(
                "The draw was begun, so its sheet stays as it is. Bring an angler in as a late "
                "entry after the draw, or put one who does not come down as absent."
            )
        record.sheet, record.frozen_at = "", None
        record.save(update_fields=["sheet", "frozen_at"])
        write_down(f"Draw sheet opened again: {why.strip()}", by=by, club=match.club, match=match)
    return record


def begin(match: Match, *, by: User | None, at: datetime | None = None) -> DrawEvent:
    """Begin the draw; whoever presses second joins the event that was begun."""
    with writing():
        match = Match.objects.locked(match.pk)
        _may_be_drawn(match)
        return start(match, held_record(match), kind="draw", by=by, at=at)


@sensitive_variables("secret")
def draw_match(
    match: Match,
    *,
    calls: Mapping[int, int | None] | None = None,
    by: User | None,
    secret: str | None = None,
    at: datetime | None = None,
) -> DrawEvent:
    """
    Seal, freeze, begin, call and finish in one go: all of it happens, or none.

    *calls* are the numbers called by entry number; its entries are the callers.
    """
    called = dict(calls or {})
    with writing():
        seal(match, by=by, secret=secret)
        freeze(match, callers=sorted(called), by=by, at=at)
        event = begin(match, by=by, at=at)
        if called:
            call(event, called, by=by)
        return finish(event, by=by, at=at)


def draw_by_hand(
    match: Match, pegs: Mapping[int, str], *, by: User | None, at: datetime | None = None
) -> DrawEvent:
    """
    Enter what came out of a real bag: *pegs* by entry number, as they are painted.

    The record then says that it was drawn by hand and by whom, and makes no claim.
    """
    with writing():
        match = Match.objects.locked(match.pk)
        _may_be_drawn(match)
        if sealing.is_possible():
            # Not for this draw, which makes no claim, but for the late entry that may follow.
            record = _sealed(match, by, None)
        else:
            record = DrawRecord.objects.of(match) or add(
                DrawRecord(match=match, code=code_of(match))
            )
        if not record.frozen_at:
            _write_sheet(match, record, (), None, at)
        return take_by_hand(match, record, pegs, by=by, at=at)


@sensitive_variables("secret")
def _sealed(match: Match, by: User | None, secret: str | None) -> DrawRecord:
    record = DrawRecord.objects.of(match)
    if record and record.commitment:
        if secret is not None:
            raise RefusedError("A secret is locked away for this draw already; look again.")
        return record
    secret = secret or secrets.token_hex(32)
    try:
        commitment = draw.commitment(secret)
    except DrawError as error:
        raise RefusedError(str(error)) from error
    record = record or DrawRecord(match=match, code=code_of(match))
    record.commitment = commitment
    record.sealed_secret = sealing.close(secret)
    record.save()
    write_down("Secret of the draw locked away.", by=by, club=match.club, match=match)
    return record


def _write_sheet(
    match: Match,
    record: DrawRecord,
    callers: Sequence[int],
    fixed: Mapping[int, int] | None,
    at: datetime | None,
) -> None:
    prepared = prepare(match, callers=callers, fixed=fixed)
    if faults := draw.faults(prepared.sheet):
        raise RefusedError("\n".join(faults))
    record.sheet = prepared.sheet.text
    record.peg_names = {str(number): name for number, name in prepared.peg_names.items()}
    record.names = {str(number): name for number, name in prepared.names.items()}
    record.frozen_at = at or timezone.now()
    record.save(update_fields=["sheet", "peg_names", "names", "frozen_at"])


def _may_be_drawn(match: Match) -> None:
    if match.stage == Stage.CANCELLED:
        raise RefusedError("The match is cancelled, so nothing is drawn.")
    if match.is_drawn:
        raise RefusedError(
            "The pegs are drawn. A late entry, an unsafe peg or one section drawn again are "
            "events of their own, with new numbers."
        )
