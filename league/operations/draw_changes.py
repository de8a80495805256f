"""After the draw: a late entry, an unsafe peg, a section drawn again; each with new numbers."""

from __future__ import annotations

from datetime import datetime

from django.contrib.auth.models import User
from django.db import IntegrityError, transaction

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

    It stands in the journal and makes no claim; the draw's record does not list it.
    """
    why = _reason(why)
    with writing():
        match, _ = _drawn(entry.match)
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


def _late(
    match: Match, record: DrawRecord, entry: Entry, by: User | None, at: datetime | None
) -> DrawEvent:
    letters = [section.letter for section in draw.Sheet.parse(record.sheet).sections]
    if sheet_entry(entry).section not in letters:
        raise RefusedError(
            f"{entry.angler} has no section to draw in. Choose {' or '.join(letters)}."
        )
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
