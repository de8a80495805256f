"""What a phone sends from the bank: every entry kept exactly once, each with its own answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from uuid import UUID

from django.db import IntegrityError
from django.utils import timezone

from league.models import Entry, Phone, Stage, WeighIn
from league.operations.errors import RefusedError
from league.operations.store import writing
from league.operations.weigh import LONGEST_NOTE, keep, put_aside, say_figure, sent_before
from league.rules.lines import Status
from league.rules.weights import Unit

# What a phone says of itself is written down anew at most so often, unless its queue has changed:
# otherwise every weight would ask the disk twice.
SEEN_EVERY = timedelta(seconds=30)
STEADY = 2  # seconds a clock may seem to move by, from how long an answer takes


class Result(StrEnum):
    """What became of one entry: any of these takes it off the phone's queue."""

    CREATED = "created"
    DUPLICATE = "duplicate"
    REJECTED = "rejected"


class Found(StrEnum):
    """How a kept entry stands beside the others of its peg."""

    APPLIED = "applied"
    SAME = "same"  # a check-weigh
    CONFLICT = "conflict"  # another figure stands too: somebody must say which
    CORRECTED = "corrected"  # it took an earlier entry of the same phone aside, or was taken itself
    LATE = "late"  # after the final result: kept, not applied


@dataclass(frozen=True, slots=True)
class Sent:
    """One entry as a phone made it; *peg* is what its screen showed beside the angler's name."""

    key: UUID
    seq: int
    entry: int
    peg: str
    status: Status
    nets: tuple[int, ...] = ()
    note: str = ""
    corrects: UUID | None = None
    read_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Answer:
    """What became of one entry, in words where a person has to do something."""

    key: UUID
    result: Result
    found: Found | None = None
    words: str = ""


def receive(
    phone: Phone, sent: Sequence[Sent], *, skew: int = 0, at: datetime | None = None
) -> list[Answer]:
    """
    Keep each entry in its own short transaction, so that a bad one never holds up the rest.

    Sent again, late, in another order or by two tabs at once, the same entries come to the same
    figures: an entry is known by its key, and a correction names the entry it corrects.
    """
    at = at or timezone.now()
    return [_receive(phone, each, skew, at) for each in sorted(sent, key=lambda each: each.seq)]


def heard_from(
    phone: Phone, *, waiting: int, skew: int, last_seq: int, at: datetime | None = None
) -> None:
    """Keep when *phone* was last heard of, how much it still holds and how wrong its clock is."""
    at = at or timezone.now()
    known = phone.last_seen_at
    same = phone.waiting == waiting and abs(phone.clock_skew - skew) <= STEADY
    if same and known is not None and at - known < SEEN_EVERY:
        return
    phone.last_seen_at = at
    phone.waiting = waiting
    phone.clock_skew = skew
    phone.last_seq = max(phone.last_seq, last_seq)
    with writing():
        phone.save(update_fields=["last_seen_at", "waiting", "clock_skew", "last_seq"])


def _receive(phone: Phone, sent: Sent, skew: int, at: datetime) -> Answer:
    new = WeighIn(
        key=sent.key,
        entry_id=sent.entry,
        status=sent.status,
        nets=sent.nets,
        note=sent.note[:LONGEST_NOTE],
        weighed_by_id=phone.user_id,
        device=phone.name,
        read_at=sent.read_at,
        received_at=at,
        phone=phone,
        seq=sent.seq,
        corrects=sent.corrects,
        clock_skew=skew,
    )
    try:
        with writing():
            # Locked first, looked at then: the other way round two sendings of one key both see
            # nothing, and on a server with row locks the second would be refused.
            entry = Entry.objects.locked_in(phone.match_id, sent.entry)
            if entry is None:
                raise RefusedError("This angler is not in this match.")
            others = list(WeighIn.objects.beside(entry))
            if any(each.key == new.key for each in others):
                sent_before(new)
                return Answer(sent.key, Result.DUPLICATE)
            _must_be_where_it_was_read(entry, sent)
            keep(entry, new)
            found = _apply(entry, new, others, phone)
    except IntegrityError:
        return _used_key(new)
    except RefusedError as refused:
        return Answer(sent.key, Result.REJECTED, words=str(refused))
    return Answer(sent.key, Result.CREATED, found, _words(found, entry, new, others))


def _used_key(new: WeighIn) -> Answer:
    """The key stands under another angler: no phone makes that by itself."""
    try:
        sent_before(new)
    except RefusedError as refused:
        return Answer(new.key, Result.REJECTED, words=str(refused))
    return Answer(new.key, Result.DUPLICATE)


def _must_be_where_it_was_read(entry: Entry, sent: Sent) -> None:
    """Refuse a figure for an angler who sits elsewhere than the screen said."""
    number = entry.match_peg.peg.number if entry.match_peg else ""
    if number and sent.peg and number != sent.peg:
        raise RefusedError(
            f"{entry.angler} is on peg {number}, not {sent.peg}: the draw has changed. Look who "
            f"sits on peg {sent.peg} and enter the weight there."
        )


def _apply(entry: Entry, new: WeighIn, others: Sequence[WeighIn], phone: Phone) -> Found:
    """Set aside what *new* corrects, or *new* itself, and say how it stands beside the others."""
    match = entry.match
    if match.stage == Stage.FINAL:
        why = "Came after the result was final: kept, not counted."
        put_aside(new, why=why, by=phone.user, match=match)
        return Found.LATE
    # Only what the same phone read: another pair's figure is theirs, and stands beside.
    mine = [each for each in others if each.phone_id == new.phone_id]
    before = next((each for each in mine if each.key == new.corrects and each.stands), None)
    if before is not None:
        put_aside(before, why=_reason(new), by=phone.user, match=match)
    # A correction may overtake what it corrects.
    after = next((each for each in mine if each.corrects == new.key), None)
    if after is not None:
        put_aside(new, why=_reason(after), by=phone.user, match=match)
        return Found.CORRECTED
    standing = [each for each in others if each.stands and each is not before]
    if any(each.figure != new.figure for each in standing):
        return Found.CONFLICT
    if standing:
        return Found.SAME
    return Found.CORRECTED if before is not None else Found.APPLIED


def _reason(correction: WeighIn) -> str:
    why = correction.note.strip() or "no reason given"
    return f"Corrected at the scales: {why}"[:LONGEST_NOTE]


def _words(found: Found, entry: Entry, new: WeighIn, others: Sequence[WeighIn]) -> str:
    peg = entry.match_peg.peg.number if entry.match_peg else "?"
    if found is Found.CONFLICT:
        standing = [*(each for each in others if each.stands and each.key != new.corrects), new]
        said = " or ".join(
            dict.fromkeys(say_figure(each, Unit(entry.match.unit)) for each in standing)
        )
        return f"Peg {peg} has two weights, {said}. Both are kept until somebody says which stands."
    if found is Found.LATE:
        return f"Peg {peg}: the result was final before this came. It is kept, but not counted."
    return ""
