"""After the draw: a late entry, an unsafe peg, a section drawn again; each with new numbers."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from django.contrib.auth.models import User
from django.db import IntegrityError, transaction
from django.utils import timezone

from league.models import (
    Angler,
    DrawEvent,
    DrawRecord,
    Entry,
    Match,
    MatchPeg,
    Section,
    Stage,
    Team,
)
from league.operations.draw_cards import show_all
from league.operations.draw_events import held_record, start
from league.operations.draw_sheets import called, number_called, record_of, sheet_entry
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.lineup import enter
from league.operations.store import writing
from league.rules import draw


def late_entry(
    match: Match,
    angler: Angler,
    *,
    team: Team | None = None,
    section: Section | None = None,
    reserve: bool = False,
    easy_access: bool | None = None,
    by: User | None,
    at: datetime | None = None,
) -> DrawEvent:
    """
    Book *angler* in after the draw and begin the event in which they draw from what is left.

    The sheet and those already drawn stay as they are; the callers call new numbers.
    """
    with writing():
        match, record = _drawn(match)
        entry = enter(
            match, angler, team=team, section=section, reserve=reserve, easy_access=easy_access
        )
        return _late(match, record, entry, by, at)


def draw_late(entry: Entry, *, by: User | None, at: datetime | None = None) -> DrawEvent:
    """Begin the event of somebody booked in late whose draw was given up before."""
    with writing():
        match, record = _drawn(entry.match)
        entry = Entry.objects.locked(entry.pk)
        if entry.match_peg_id:
            raise RefusedError(f"{entry.angler} has drawn peg {entry.match_peg} already.")
        return _late(match, record, entry, by, at)


def give_peg(
    entry: Entry, match_peg: MatchPeg, *, why: str, by: User | None, at: datetime | None = None
) -> Entry:
    """
    Give a late angler a peg without the recipe: from a real bag, or when its events are used up.

    The draw's record lists it with who, when and why, and it makes no claim. The peg leaves the
    bag at once, so while an event is open nobody is given one: it could be the one to come out.
    """
    why = _reason(why)
    at = at or timezone.now()
    with writing():
        match, record = _drawn(entry.match)
        events = list(DrawEvent.objects.of(record))
        if begun := next((event for event in events if event.is_open), None):
            raise RefusedError(
                f"Event {begun.number} of this draw was begun and is not finished. "
                "Finish it, or give it up, before a peg is given by hand."
            )
        entry = Entry.objects.locked(entry.pk)
        if entry.match_peg_id:
            raise RefusedError(f"{entry.angler} has drawn peg {entry.match_peg} already.")
        if match_peg.match_id != match.pk or match_peg.closed_why:
            raise RefusedError(f"Peg {match_peg} cannot be fished in this match.")
        if entry.section_id and entry.section_id != match_peg.section_id:
            raise RefusedError(
                f"{entry.angler} is in section {entry.section}, and peg {match_peg} is not."
            )
        if holder := Entry.objects.of(match).on_peg(match_peg):
            raise RefusedError(f"{holder.angler} is on peg {match_peg}.")
        if entry.easy_access and not match_peg.peg.easy_access:
            raise RefusedError(f"{entry.angler} needs an easy-access peg, and {match_peg} is none.")
        entry.match_peg, entry.section = match_peg, match_peg.section
        try:
            with transaction.atomic():
                entry.save(update_fields=["match_peg", "section"])
        except IntegrityError as clash:
            raise RefusedError(f"{entry.angler} cannot be on {match_peg}; look again.") from clash
        _list_given(record, entry, match_peg, events, why=why, by=by, at=at)
        said = f"{entry.angler} given peg {match_peg} by hand: {why}"
        write_down(said, by=by, club=match.club, match=match, at=at)
    return entry


def redraw(section: Section, *, why: str, by: User | None, at: datetime | None = None) -> DrawEvent:
    """Begin drawing one section again, with new numbers; the others stay as they are."""
    with writing():
        match, record = _drawn(section.match)
        letter = section.letter
        sheet = draw.Sheet.parse(record.sheet)
        if letter not in {each.letter for each in sheet.sections}:
            raise RefusedError(
                "The whole water was drawn from one bag, so no section can be drawn again alone."
            )
        if weighed := Entry.objects.of(match).in_section(section).weighed().first():
            raise RefusedError(
                f"{weighed.angler} is weighed, so section {letter} cannot be drawn again."
            )
        return start(
            match,
            record,
            kind="redraw",
            extra=draw.Redraw(letter).line,
            why=_reason(why),
            by=by,
            at=at,
        )


def unsafe_peg(
    match_peg: MatchPeg, *, why: str, by: User | None, at: datetime | None = None
) -> DrawEvent:
    """
    Close a peg found unsafe and begin the event that moves whoever drew it.

    It is closed at once, before any number is called: nobody fishes there meanwhile.
    """
    why = _reason(why)[:120]
    with writing():
        match, record = _drawn(match_peg.match)
        holder = Entry.objects.of(match).on_peg(match_peg)
        if holder and holder.weigh_ins.exists():
            raise RefusedError(
                f"{holder.angler} is weighed on peg {match_peg}, so the peg stays. "
                "Decide on the peg as void instead."
            )
        number = number_called(record, match_peg.peg)
        match_peg.closed_why = why
        match_peg.save(update_fields=["closed_why"])
        return start(
            match,
            record,
            kind="unsafe",
            extra=draw.Unsafe(number).line,
            why=why,
            by=by,
            at=at,
        )


def _list_given(
    record: DrawRecord,
    entry: Entry,
    match_peg: MatchPeg,
    events: list[DrawEvent],
    *,
    why: str,
    by: User | None,
    at: datetime,
) -> None:
    """Put a peg given by hand into the draw's record, after the event it came after."""
    number = number_called(record, match_peg.peg)
    section = next(s for s in draw.Sheet.parse(record.sheet).sections if number in s.pegs)
    given = {
        "after": max(event.number for event in events),
        "entry": replace(sheet_entry(entry), section=section.letter).line,
        "peg": number,
        "by": called(by),
        "at": f"{timezone.localtime(at):%Y-%m-%d %H:%M}",
        "why": why,
    }
    record.given = [*record.given, given]
    record.names = {**record.names, str(entry.number): entry.angler.shown_name}
    record.save(update_fields=["given", "names"])
    show_all(events)


def _late(
    match: Match, record: DrawRecord, entry: Entry, by: User | None, at: datetime | None
) -> DrawEvent:
    sections = {each.letter: each for each in draw.Sheet.parse(record.sheet).sections}
    section = sections.get(sheet_entry(entry).section)
    if section is None:
        raise RefusedError(
            f"{entry.angler} has no section to draw in. Choose {' or '.join(sections)}."
        )
    _something_is_left(match, entry, section)
    record.names = {**record.names, str(entry.number): entry.angler.shown_name}
    record.save(update_fields=["names"])
    extra = draw.Late(sheet_entry(entry)).line
    return start(match, record, kind="late", extra=extra, by=by, at=at)


def _something_is_left(match: Match, entry: Entry, section: draw.Section) -> None:
    """Refuse before any number is called what could not be finished."""
    published = record_of(match)
    outcomes = published.outcomes() if published else []
    left = outcomes[-1].bag[section.letter] if outcomes else ()
    if not any(peg in section.accessible or not entry.easy_access for peg in left):
        what = "easy-access peg" if entry.easy_access else "peg"
        raise RefusedError(
            f"No {what} is left in the bag of section {section.letter} for {entry.angler}. "
            "Choose another section."
        )


def _drawn(match: Match) -> tuple[Match, DrawRecord]:
    match = Match.objects.locked(match.pk)
    if match.stage != Stage.DRAWN:
        raise RefusedError(
            "The result is published, so nothing is drawn any more."
            if match.is_drawn
            else "The pegs are not drawn yet. Change the line-up or the sections instead."
        )
    return match, held_record(match)


def _reason(why: str) -> str:
    why = why.strip()
    if not why:
        raise RefusedError("Say why: it is printed on the draw's record.")
    if len(why) > 200:
        raise RefusedError(f"The reason has {len(why)} letters; 200 fit. Shorten it.")
    return why
