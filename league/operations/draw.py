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

from league.models import DrawEvent, DrawRecord, LineUpBy, Match, Stage
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
from league.operations.draw_sheets import Prepared, code_of, prepare, record_of
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


def doubts(match: Match, *, callers: Sequence[int] = (), line_up: str | None = None) -> list[str]:
    """What is worth asking about before the sheet is frozen; a fault refuses instead."""
    line_up, end_pegs_shared = _as_last_time(match, line_up, None)
    prepared = prepare(match, callers=callers, line_up=line_up, end_pegs_shared=end_pegs_shared)
    return [*draw.doubts(prepared.sheet, prepared.teams), *_looked_over(prepared)]


def freeze(
    match: Match,
    *,
    callers: Sequence[int] = (),
    fixed: Mapping[int, int] | None = None,
    line_up: str | None = None,
    end_pegs_shared: bool | None = None,
    by: User | None,
    at: datetime | None = None,
) -> DrawRecord:
    """
    Fix who draws from which pegs and who calls; its fingerprint is shown before any number is.

    *callers* are entry numbers, *fixed* an entry's number and the id of the `MatchPeg` it keeps.
    By *line_up* (a `LineUpBy`) it is drawn too who of a team fishes which section, and end pegs may
    be shared by tickets; left out, both are as the season's last draw had them.
    """
    with writing():
        match = Match.objects.locked(match.pk)
        _may_be_drawn(match)
        record = _sealed(match, by, None)
        if record.frozen_at:
            raise RefusedError("The draw sheet is frozen already; look again.")
        chosen = _as_last_time(match, line_up, end_pegs_shared)
        prepared = prepare(
            match, callers=callers, fixed=fixed, line_up=chosen[0], end_pegs_shared=chosen[1]
        )
        _looked_over(prepared)
        _write_sheet(record, prepared, at)
        if match.season and (match.season.line_up, match.season.end_pegs_shared) != chosen:
            match.season.line_up, match.season.end_pegs_shared = chosen
            match.season.save(update_fields=["line_up", "end_pegs_shared"])
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
            prepared = prepare(match)
            if faults := draw.faults(prepared.sheet, prepared.teams):
                raise RefusedError("\n".join(faults))
            _write_sheet(record, prepared, at)
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


def _as_last_time(
    match: Match, line_up: str | None, end_pegs_shared: bool | None
) -> tuple[str, bool]:
    """What is not chosen is as the season's last draw had it; alone, a match shares nothing."""
    season = match.season
    if line_up is not None and line_up not in LineUpBy.values:
        raise RefusedError(f"A line-up is {', '.join(LineUpBy.values)}, not {line_up!r}.")
    if line_up is None:
        line_up = season.line_up if season else LineUpBy.NAMED
    if end_pegs_shared is None:
        end_pegs_shared = season.end_pegs_shared if season else False
    return line_up, end_pegs_shared


def _looked_over(prepared: Prepared) -> list[str]:
    """Refuse a sheet that cannot be drawn; say what a draw with made-up numbers shows."""
    if faults := draw.faults(prepared.sheet, prepared.teams):
        raise RefusedError("\n".join(faults))
    try:
        return draw.rehearse(prepared.sheet, teams=prepared.teams, peg_names=prepared.peg_names)
    except DrawError as error:
        raise RefusedError(str(error)) from error


def _write_sheet(record: DrawRecord, prepared: Prepared, at: datetime | None) -> None:
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
