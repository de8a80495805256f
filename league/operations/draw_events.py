"""One event of a draw, whatever it is about: begun, numbers called, finished or abandoned."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from django.contrib.auth.models import User
from django.utils import timezone

from league.files.draw import Record
from league.models import DrawEvent, DrawRecord, Entry, Match, MatchPeg, Stage
from league.operations import sealing
from league.operations.draw_cards import show_all
from league.operations.draw_sheets import called, number_called, peg_called, record_of
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.store import add, writing
from league.rules import draw
from league.rules.errors import DrawError

HIGHEST_CALL = 9999
THE_DRAW = "draw"  # the kind of the first event; the others change what it gave
SAID = {
    "draw": "the draw",
    "late": "a late entry",
    "redraw": "a section drawn again",
    "unsafe": "a peg found unsafe",
    "hand": "drawn from a bag",
}


def held_record(match: Match) -> DrawRecord:
    """The draw of a match that is held; refused before its sheet is frozen."""
    record = DrawRecord.objects.of(match)
    if record is None or not record.frozen_at:
        raise RefusedError("The draw sheet is not frozen yet. Freeze it first.")
    return record


def start(
    match: Match,
    record: DrawRecord,
    *,
    kind: str,
    extra: str = "",
    why: str = "",
    by: User | None,
    at: datetime | None = None,
) -> DrawEvent:
    """Begin an event, or join the same one where it was begun already; the match is held."""
    events = list(DrawEvent.objects.of(record))
    for event in events:
        if event.is_open:
            if (event.kind, event.extra) == (kind, extra):
                return event
            raise RefusedError(
                f"Event {event.number} of this draw was begun and is not finished. "
                "Finish it, or abandon it and say why."
            )
    if kind != draw.ByHand.kind and not record.commitment:
        raise RefusedError(
            "No secret was locked away for this draw, so it cannot go on. Give the peg by hand."
        )
    number = len(events) + 1
    if number > draw.EVENTS:
        raise RefusedError(
            f"The secret of this draw was made for {draw.EVENTS} events, and all are used. "
            "What comes now is drawn by hand from a bag."
        )
    show_all(events)
    event = add(
        DrawEvent(
            record=record,
            number=number,
            kind=kind,
            extra=extra,
            why=why,
            begun_by=by,
            begun_at=at or timezone.now(),
        )
    )
    write_down(
        f"Draw event {number} begun: {SAID[kind]}.", by=by, club=match.club, match=match, at=at
    )
    return event


def call(event: DrawEvent, calls: Mapping[int, int | None], *, by: User | None) -> DrawEvent:
    """
    Take numbers down as they are called; None is a caller who does not call.

    A number misheard may be taken down again until the event is finished.
    """
    with writing():
        match, event = _held(event)
        if not event.is_open:
            raise RefusedError(f"Event {event.number} is closed: no number can be added.")
        callers = draw.Sheet.parse(event.record.sheet).callers
        for no, number in calls.items():
            if no not in callers:
                raise RefusedError(f"Entry {no} is not named as a caller on the draw sheet.")
            if number is not None and (
                isinstance(number, bool)
                or not isinstance(number, int)
                or not 0 <= number <= HIGHEST_CALL
            ):
                raise RefusedError(
                    f"Entry {no} called {number!r}. A call is a whole number from 0 to "
                    f"{HIGHEST_CALL}."
                )
        event.calls = {**event.calls, **{str(no): number for no, number in calls.items()}}
        event.save(update_fields=["calls"])
        said = ", ".join(
            f"entry {no} {'did not call' if number is None else f'called {number}'}"
            for no, number in calls.items()
        )
        write_down(f"Draw event {event.number}: {said}.", by=by, club=match.club, match=match)
    return event


def finish(
    event: DrawEvent, *, by: User | None, at: datetime | None = None, face_down: bool = False
) -> DrawEvent:
    """
    Reveal, work the event out and put everybody on their pegs: all of it, or nothing.

    Finishing again finds it finished, whoever presses and however often. With *face_down* the
    cards of a draw are still to be turned, and what is not turned is on no page yet.
    """
    at = at or timezone.now()
    with writing():
        match, event = _held(event)
        if event.is_abandoned:
            raise RefusedError(f"Event {event.number} was abandoned: {event.why}")
        if not event.is_open:
            return event
        _every_caller_is_down(event)
        if face_down and event.kind == THE_DRAW:
            event.turned = 0
        sealing.out_of_reports(lambda: _reveal(match, event, at))
        if match.stage == Stage.PLANNED:
            match.stage = Stage.DRAWN
            match.save(update_fields=["stage"])
        write_down(
            f"Draw event {event.number} finished.", by=by, club=match.club, match=match, at=at
        )
    return event


def abandon(
    event: DrawEvent, *, why: str, by: User | None, at: datetime | None = None
) -> DrawEvent:
    """Give an event up before its secret is revealed; it keeps its number and stays listed."""
    why = why.strip()
    if not why:
        raise RefusedError("Say why the draw is given up: it stays on the record.")
    if len(why) > 200:
        raise RefusedError(f"The reason has {len(why)} letters; 200 fit. Shorten it.")
    with writing():
        match, event = _held(event)
        if event.is_abandoned:
            return event
        if not event.is_open:
            raise RefusedError(
                f"Event {event.number} is finished and its secret is out, so it cannot be given up."
            )
        event.why, event.finished_at = why, at or timezone.now()
        event.save(update_fields=["why", "finished_at"])
        write_down(
            f"Draw event {event.number} given up: {why}", by=by, club=match.club, match=match
        )
    return event


def take_by_hand(
    match: Match,
    record: DrawRecord,
    typed: Mapping[int, str],
    *,
    by: User | None,
    at: datetime | None = None,
) -> DrawEvent:
    """Put everybody on the pegs that came out of a real bag; the match is held."""
    own = MatchPeg.objects.by_own_number(match)
    faults = [
        f"Entry {no}: peg {peg} is not in this match."
        for no, peg in typed.items()
        if peg.strip() not in own
    ]
    if faults:
        raise RefusedError("\n".join(faults))
    pegs = {no: number_called(record, own[peg.strip()].peg) for no, peg in typed.items()}
    event = start(match, record, kind=draw.ByHand.kind, by=by, at=at)
    published = _published(match)
    try:
        outcome = draw.replay(
            published.sheet, [*published.finished, draw.ByHand(event.number, pegs, called(by))]
        )[-1]
    except DrawError as error:
        raise RefusedError(str(error)) from error
    _put_on_pegs(match, event, outcome)
    _keep(event, outcome, at or timezone.now())
    match.stage = Stage.DRAWN
    match.save(update_fields=["stage"])
    write_down("Drawn by hand from a bag.", by=by, club=match.club, match=match, at=at)
    return event


def _held(event: DrawEvent) -> tuple[Match, DrawEvent]:
    """The match, held, and the event as it is now."""
    match = Match.objects.locked(event.record.match_id)
    return match, DrawEvent.objects.of(event.record).get(pk=event.pk)


def _published(match: Match) -> Record:
    record = record_of(match)
    if record is None:
        raise RefusedError("The draw sheet was opened again meanwhile; look again.")
    return record


def _every_caller_is_down(event: DrawEvent) -> None:
    callers = draw.Sheet.parse(event.record.sheet).callers
    if missing := [str(no) for no in callers if str(no) not in event.calls]:
        raise RefusedError(
            f"Nothing is written down for caller {', '.join(missing)}. "
            "Enter the number, or say that they do not call."
        )


def _reveal(match: Match, event: DrawEvent, at: datetime) -> None:
    """Open the secret, and put what follows from it on pegs and on record."""
    try:
        outcome = _work_out(_published(match), event)
    except DrawError as error:
        raise RefusedError(str(error)) from None
    _put_on_pegs(match, event, outcome)
    _keep(event, outcome, at)


def _work_out(record: Record, event: DrawEvent) -> draw.Outcome:
    """The event from its texts; the one place where the secret is opened."""
    earlier = record.finished
    seeds = [before.seed for before in earlier if before.seed]
    made = draw.make_event(
        record.sheet,
        number=event.number,
        prev=seeds[-1] if seeds else record.commitment,
        calls=[(int(no), number) for no, number in event.calls.items()],
        reveal=draw.reveal(sealing.open_up(event.record.sealed_secret), event.number),
        change=draw.parse_change(event.extra) if event.extra else None,
    )
    draw.check_event(record.sheet, made, record.commitment, earlier)
    return draw.run(record.sheet, made, earlier)


def _put_on_pegs(match: Match, event: DrawEvent, outcome: draw.Outcome) -> None:
    """Write the pegs of those who drew; who is weighed already cannot be moved."""
    own = MatchPeg.objects.by_own_number(match)
    entries = {entry.number: entry for entry in Entry.objects.all_locked(match)}
    weighed = {entry.number for entry in Entry.objects.of(match).weighed()}
    held = {entry.match_peg_id: entry for entry in entries.values() if entry.match_peg_id}
    moving = []
    for no in outcome.moved:
        entry = entries.get(no)
        if entry is None:
            continue
        peg = own[peg_called(event.record, outcome.pegs[no])]
        if no in weighed and entry.match_peg_id != peg.pk:
            raise RefusedError(
                f"{entry.angler} is weighed on peg {entry.match_peg}, so nothing can be drawn "
                "again there."
            )
        other = held.get(peg.pk)
        if other is not None and other.number not in outcome.moved:
            # Which peg is not said: the event is not finished, and nobody may choose by it.
            raise RefusedError(
                f"{other.angler} is on a peg that the draw's record does not know of. "
                f"Give event {event.number} up, and give {entry.angler} a peg by hand."
            )
        moving.append((entry, peg))
    # First off every peg, then on: two may swap, and the database allows one angler a peg.
    for entry, _ in moving:
        entry.match_peg, entry.section = None, None
    Entry.objects.bulk_update([entry for entry, _ in moving], ["match_peg", "section"])
    for entry, peg in moving:
        entry.match_peg, entry.section = peg, peg.section
    Entry.objects.bulk_update([entry for entry, _ in moving], ["match_peg", "section"])


def _keep(event: DrawEvent, outcome: draw.Outcome, at: datetime) -> None:
    made = outcome.event
    if isinstance(made, draw.Event):
        event.text, event.seed = made.text, made.seed
    event.attempt = outcome.attempt
    event.pegs = {str(no): peg for no, peg in outcome.pegs.items()}
    event.bag = {letter: list(pegs) for letter, pegs in outcome.bag.items()}
    event.finished_at = at
    event.save(update_fields=["text", "seed", "attempt", "pegs", "bag", "finished_at", "turned"])
