"""The scales: record a figure exactly once, set one aside, say which of two stands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from django.contrib.auth.models import User
from django.db import IntegrityError, transaction
from django.utils import timezone

from league.models import Entry, Match, SetAside, Stage, WeighIn
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.store import writing
from league.rules.lines import Status
from league.rules.weights import (
    DRAMS_IN_POUND,
    LARGEST_GRAMS,
    LARGEST_POUNDS,
    Unit,
    spoken,
)

MOST_NETS = 20
LONGEST_NOTE = 200
LONGEST_DEVICE = 40
LARGEST = {Unit.LB_OZ: (LARGEST_POUNDS + 1) * DRAMS_IN_POUND - 1, Unit.KG: LARGEST_GRAMS}


@dataclass(frozen=True, slots=True)
class Recorded:
    """A weigh-in as it is kept; *created* is False where the same one had come before."""

    weigh_in: WeighIn
    created: bool


def record_weigh_in(
    entry: Entry,
    *,
    key: UUID,
    status: Status,
    nets: Sequence[int] = (),
    by: User | None,
    note: str = "",
    device: str = "",
    read_at: datetime | None = None,
    at: datetime | None = None,
) -> Recorded:
    """
    Keep what was read at one peg, once however often it is sent.

    *nets* are whole drams or grams, one a net; *key* is the phone's own. A second figure for the
    peg is kept beside the first, and the peg is then in question; the same figure again is a
    check-weigh and agrees. Raises `RefusedError` for a figure no scale reads, for an angler
    without a peg, and for a key that was used for something else. Weights that reach the site
    after the result are kept too: they count once a correction is published.
    """
    if len(note) > LONGEST_NOTE:
        raise RefusedError(f"The note has {len(note)} letters; {LONGEST_NOTE} fit. Shorten it.")
    weigh_in = WeighIn(
        key=key,
        entry_id=entry.pk,
        status=status,
        nets=nets,
        note=note,
        weighed_by=by,
        device=device[:LONGEST_DEVICE],
        read_at=read_at,
        received_at=at or timezone.now(),
    )
    try:
        with writing():
            # Held until the figure is in, so that the peg cannot be drawn again underneath it.
            # The key's own index settles a race between two sendings; looking first would cost a
            # statement a weigh-in and, on a server with row locks, could look too early.
            keep(Entry.objects.locked(entry.pk), weigh_in)
    except IntegrityError:
        return Recorded(sent_before(weigh_in), created=False)
    return Recorded(weigh_in, created=True)


def keep(held: Entry, weigh_in: WeighIn) -> None:
    """Add *weigh_in* to an entry that is held until the transaction ends, or refuse it."""
    _must_be_on_the_bank(held)
    unit = Unit(held.match.unit)
    weigh_in.status, weigh_in.nets = _figure(weigh_in.status, weigh_in.nets, unit)
    weigh_in.save(force_insert=True)


def set_aside(weigh_in: WeighIn, *, why: str, by: User | None) -> SetAside:
    """Say that *weigh_in* does not stand, and why; the figure itself stays readable."""
    why = _reason(why)
    with writing():
        entry = Entry.objects.locked(weigh_in.entry_id)
        aside = put_aside(weigh_in, why=why, by=by, match=entry.match)
    return aside


def settle(weigh_in: WeighIn, *, why: str, by: User | None) -> list[SetAside]:
    """Say that *weigh_in* is the figure that stands: every other figure of the peg is set aside."""
    why = _reason(why)
    with writing():
        entry = Entry.objects.locked(weigh_in.entry_id)
        standing = list(WeighIn.objects.for_entry(entry).standing())
        if weigh_in.pk not in {each.pk for each in standing}:
            raise RefusedError("This figure was set aside meanwhile; look again.")
        others = [each for each in standing if each.figure != weigh_in.figure]
        if not others:
            raise RefusedError("No other figure stands for this peg: there is nothing to settle.")
        return [put_aside(other, why=why, by=by, match=entry.match) for other in others]


def say_figure(weigh_in: WeighIn, unit: Unit) -> str:
    """What was read, as it is said: 12 lb 8 oz, blank, did not weigh."""
    if weigh_in.nets:
        said = spoken(sum(weigh_in.nets), unit)
        return said if weigh_in.status == Status.WEIGHED else f"{said}, then {weigh_in.status}"
    return "did not weigh" if weigh_in.status == Status.NOT_WEIGHED else weigh_in.status


def put_aside(weigh_in: WeighIn, *, why: str, by: User | None, match: Match) -> SetAside:
    """Set *weigh_in* aside inside a transaction that holds its entry."""
    try:
        with transaction.atomic():
            aside = SetAside.objects.create(weigh_in=weigh_in, why=why, by=by, at=timezone.now())
    except IntegrityError as clash:
        raise RefusedError("This figure was set aside already; look again.") from clash
    figure = say_figure(weigh_in, Unit(match.unit))
    write_down(
        f"{weigh_in.entry.angler}: {figure} set aside. {why}", by=by, club=match.club, match=match
    )
    return aside


def _figure(status: str, nets: Sequence[int], unit: Unit) -> tuple[Status, tuple[int, ...]]:
    """What was read, or why it cannot have been."""
    try:
        status = Status(status)
    except ValueError as error:
        raise RefusedError(
            f"{status!r} is no status. Choose weighed, blank, not weighed, withdrew or absent."
        ) from error
    if status is Status.DISQUALIFIED:
        raise RefusedError(
            "The scales do not disqualify anybody. Weigh the fish; "
            "the match secretary decides on the match's page."
        )
    if status is Status.WEIGHED and not nets:
        raise RefusedError("No net is entered. Enter each net's weight, or choose blank.")
    if status not in {Status.WEIGHED, Status.WITHDREW} and nets:
        raise RefusedError(f"{status.value.capitalize()} has no weight: take the nets out.")
    if len(nets) > MOST_NETS:
        raise RefusedError(f"{len(nets)} nets are entered; at most {MOST_NETS} can be.")
    for net in nets:
        # True is a whole number to Python, but no scale reads it.
        if isinstance(net, bool) or not isinstance(net, int):
            raise RefusedError(f"{net!r} is no reading: a net is a whole number of drams or grams.")
        if net < 0:
            raise RefusedError("A net cannot weigh less than nothing. Read it again.")
        if net > LARGEST[unit]:
            raise RefusedError(
                f"{spoken(net, unit)} is more than one net can weigh. Read it again."
            )
    if status is Status.WEIGHED and not sum(nets):
        raise RefusedError("Nothing on the scales is a blank: choose blank.")
    return status, tuple(nets)


def _must_be_on_the_bank(entry: Entry) -> None:
    if entry.match.stage == Stage.CANCELLED:
        raise RefusedError("The match is cancelled, so nothing is weighed.")
    if entry.withdrawn_at:
        raise RefusedError(
            f"{entry.angler} was withdrawn before the draw. "
            "Bring the angler in as a late entry first."
        )
    if not entry.match_peg_id:
        raise RefusedError(
            f"{entry.angler} has no peg, so there is nothing to weigh. Draw a peg first, or look "
            "whether another angler was meant."
        )


def sent_before(weigh_in: WeighIn) -> WeighIn:
    """The weigh-in kept under the same key, if it says the same; another one is refused."""
    kept = WeighIn.objects.by_key(weigh_in.key)
    if kept is None:
        raise RefusedError("This weight could not be kept. Send it again.")
    if kept.entry_id != weigh_in.entry_id or kept.figure != weigh_in.figure:
        unit = Unit(kept.entry.match.unit)
        raise RefusedError(
            f"This entry was sent before as {kept.entry.angler}, {say_figure(kept, unit)}, "
            "and that is kept. Enter the other figure again, as a new one."
        )
    return kept


def _reason(why: str) -> str:
    why = why.strip()
    if not why:
        raise RefusedError("Say why the figure does not stand.")
    if len(why) > LONGEST_NOTE:
        raise RefusedError(f"The reason has {len(why)} letters; {LONGEST_NOTE} fit. Shorten it.")
    return why
