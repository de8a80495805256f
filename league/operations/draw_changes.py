"""After the draw: a late entry, an unsafe peg, a section drawn again; each with new numbers."""

from __future__ import annotations

from datetime import datetime

from django.contrib.auth.models import User

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
from league.operations.draw_events import held_record, start
from league.operations.draw_sheets import number_called, sheet_entry
from league.operations.errors import RefusedError
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


def _late(
    match: Match, record: DrawRecord, entry: Entry, by: User | None, at: datetime | None
) -> DrawEvent:
    record.names = {**record.names, str(entry.number): entry.angler.shown_name}
    record.save(update_fields=["names"])
    extra = draw.Late(sheet_entry(entry)).line
    return start(match, record, kind="late", extra=extra, by=by, at=at)


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
