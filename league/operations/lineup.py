"""Who fishes: book in, with team and section where they are known, and withdraw again; reserves."""

from __future__ import annotations

from datetime import datetime

from django.contrib.auth.models import User
from django.utils import timezone

from league.models import (
    Angler,
    DrawRecord,
    Entry,
    Match,
    MatchPeg,
    Reserve,
    Section,
    SquadMember,
    Stage,
    Team,
)
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.store import add, writing


def book_in(
    match: Match,
    angler: Angler,
    *,
    team: Team | None = None,
    section: Section | None = None,
    reserve: bool = False,
    easy_access: bool | None = None,
    by: User | None,
) -> Entry:
    """
    Enter *angler* for *match*; the entry's number is its number on the draw sheet.

    Without *easy_access* the need on record for the angler holds. A number is never given twice,
    so that a draw sheet names one angler by it for ever. Refused where the match is full.
    """
    with writing():
        match = Match.objects.locked(match.pk)
        may_change_line_up(match)
        if team is None and match.places is not None:
            _is_not_full(match, match.places, angler)
        entry = enter(
            match, angler, team=team, section=section, reserve=reserve, easy_access=easy_access
        )
        write_down(
            f"{angler} booked in as {entry.number}{f', {team}' if team else ''}.",
            by=by,
            club=match.club,
            match=match,
        )
    return entry


def choose_section(entry: Entry, section: Section | None, *, by: User | None) -> Entry:
    """Say before the draw which section *entry* fishes; None leaves it open."""
    with writing():
        match = Match.objects.locked(entry.match_id)
        may_change_line_up(match)
        entry = Entry.objects.locked(entry.pk)
        _fits(match, entry.angler, entry.team, section, entry)
        entry.section = section
        entry.save(update_fields=["section"])
        write_down(
            f"{entry.angler} put in section {section}."
            if section
            else f"{entry.angler} put in no section.",
            by=by,
            club=match.club,
            match=match,
        )
    return entry


def withdraw(entry: Entry, *, by: User | None, at: datetime | None = None) -> Entry:
    """Take *entry* off the line-up before the draw; afterwards the scales say what became of it."""
    with writing():
        match = Match.objects.locked(entry.match_id)
        entry = Entry.objects.locked(entry.pk)
        if entry.withdrawn_at:
            raise RefusedError(f"{entry.angler} is withdrawn already.")
        if entry.match_peg_id:
            raise RefusedError(
                f"{entry.angler} has drawn peg {entry.match_peg}. Put the angler down as absent, "
                "or as withdrew, at the scales: the peg and the section stay as drawn."
            )
        if not match.is_drawn:
            may_change_line_up(match)
        entry.withdrawn_at = at or timezone.now()
        entry.save(update_fields=["withdrawn_at"])
        write_down(f"{entry.angler} withdrawn.", by=by, club=match.club, match=match)
        if entry.team_id is None and may_still_change(match):
            move_up(match, in_place_of=entry, by=by)
    return entry


def move_up(match: Match, *, in_place_of: Entry | None, by: User | None) -> Entry | None:
    """
    Enter whoever has waited longest, if there is a place; None where nobody waits.

    The caller holds the match. Who moved up is told on the screen and by nobody else: the match
    secretary rings them, or sends a letter.
    """
    places = places_of(match)
    first = Reserve.objects.on_the_list(match).first()
    if first is None or (places is not None and Entry.objects.of(match).count() >= places):
        return None
    entry = enter(match, first.angler, team=None, section=None, reserve=False, easy_access=None)
    first.came_in, first.in_place_of = entry, in_place_of
    first.save(update_fields=["came_in", "in_place_of"])
    said = f"{entry.angler} moves up from the waiting list, as {entry.number}."
    write_down(said, by=by, club=match.club, match=match)
    return entry


def places_of(match: Match) -> int | None:
    """How many can be booked in: as said, else as many as pegs are chosen; None for any number."""
    if match.places is not None:
        return match.places
    return MatchPeg.objects.counts([match]).get(match.pk)


def bring_in(entry: Entry, reserve: Angler, *, by: User | None) -> Entry:
    """
    Let *reserve* fish in the place of an angler who does not come: same number, team and peg.

    The number is what was drawn, so the draw holds; nothing may be weighed yet.
    """
    with writing():
        match = Match.objects.locked(entry.match_id)
        if match.stage not in {Stage.PLANNED, Stage.DRAWN}:
            raise RefusedError("The line-up cannot change any more: the result is published.")
        entry = Entry.objects.locked(entry.pk)
        if entry.weigh_ins.exists():
            raise RefusedError(f"{entry.angler} is weighed, so nobody can come in instead.")
        if reserve.club_id != match.club_id:
            raise RefusedError(f"{reserve} is not an angler of the club.")
        if Entry.objects.of(match).fishing(reserve).exists():
            raise RefusedError(f"{reserve} is booked in already.")
        peg = entry.match_peg
        if peg and reserve.easy_access and not peg.peg.easy_access:
            raise RefusedError(f"{reserve} needs an easy-access peg, and {peg} is none.")
        _fits(match, reserve, entry.team, None, entry)
        out, entry.angler, entry.reserve = entry.angler, reserve, True
        entry.save(update_fields=["angler", "reserve"])
        if waiting := Reserve.objects.with_angler(match, reserve):
            waiting.came_in, waiting.in_place_of = entry, None
            waiting.save(update_fields=["came_in", "in_place_of"])
        if (record := DrawRecord.objects.of(match)) and record.frozen_at:
            record.names = {**record.names, str(entry.number): reserve.shown_name}
            record.save(update_fields=["names"])
        said = f"{reserve} comes in for {out}, entry {entry.number}."
        write_down(said, by=by, club=match.club, match=match)
    return entry


def enter(
    match: Match,
    angler: Angler,
    *,
    team: Team | None,
    section: Section | None,
    reserve: bool,
    easy_access: bool | None,
) -> Entry:
    """Write the entry itself; the caller holds the match and has said whether it may change."""
    if angler.club_id != match.club_id:
        raise RefusedError(f"{angler} is not an angler of the club.")
    _fits(match, angler, team, section, None)
    return add(
        Entry(
            match=match,
            number=Entry.objects.next_number(match),
            angler=angler,
            team=team,
            section=section,
            reserve=reserve,
            easy_access=angler.easy_access if easy_access is None else easy_access,
            alone_in_section=team is not None and match.per_section == 1,
        )
    )


def rang_in(entry: Entry, words: str, *, by: User | None) -> Entry:
    """Keep what an angler said on the morning, late or ill; empty words take it back."""
    words = " ".join(words.split())
    longest = 80  # the column's length
    if len(words) > longest:
        raise RefusedError(f"That is {len(words)} letters; {longest} fit. Shorten it.")
    with writing():
        entry = Entry.objects.locked(entry.pk)
        if entry.withdrawn_at:
            raise RefusedError(f"{entry.angler} is withdrawn already.")
        entry.rang_in = words
        entry.save(update_fields=["rang_in"])
        said = f"{entry.angler} rang in: {words}" if words else f"{entry.angler}: all as planned"
        write_down(f"{said}.", by=by, club=entry.match.club, match=entry.match)
    return entry


def may_still_change(match: Match) -> bool:
    """Whether anybody can still be booked in or out before the draw."""
    try:
        may_change_line_up(match)
    except RefusedError:
        return False
    return True


def may_change_line_up(match: Match) -> None:
    """Refuse a change once the draw sheet is frozen, the pegs are drawn or the match is off."""
    if match.stage == Stage.CANCELLED:
        raise RefusedError("The match is cancelled, so nobody can be booked in or out.")
    if match.is_drawn:
        raise RefusedError(
            "The pegs are drawn. Bring the angler in as a late entry: "
            "a late entry draws from the pegs left in the bag."
        )
    record = DrawRecord.objects.of(match)
    if record and record.frozen_at:
        raise RefusedError(
            "The draw sheet is frozen. Open it again before a number is called, "
            "or bring the angler in as a late entry after the draw."
        )


def _is_not_full(match: Match, places: int, angler: Angler) -> None:
    if Entry.objects.of(match).count() >= places:
        raise RefusedError(
            f"The match is full: {places} {'place' if places == 1 else 'places'}. "
            f"Put {angler} on the waiting list; whoever waits longest moves up."
        )
    waiting = Reserve.objects.on_the_list(match).first()
    if waiting is not None and waiting.angler_id != angler.pk:
        raise RefusedError(
            f"{waiting.angler} has waited longest for a place and comes first. "
            "Let them move up, or take them off the waiting list."
        )


def _fits(
    match: Match, angler: Angler, team: Team | None, section: Section | None, entry: Entry | None
) -> None:
    """Refuse a team of another season, a section of another match, a team twice in a section."""
    if team is not None:
        if team.season_id != match.season_id:
            raise RefusedError(f"{team} does not fish this league this season.")
        if other := SquadMember.objects.elsewhere(team, angler):
            raise RefusedError(f"{angler} is in the squad of {other.team}, not of {team}.")
    if section is None:
        return
    if section.match_id != match.pk:
        raise RefusedError(f"Section {section} belongs to another match.")
    if team is not None:
        members = Entry.objects.of(match).together(team, section)
        others = [other for other in members if entry is None or other.pk != entry.pk]
        if len(others) >= match.per_section:
            names = " and ".join(str(other.angler) for other in others)
            raise RefusedError(
                f"{team} already has {names} in section {section}; "
                f"a section takes {match.per_section} of a team."
            )
