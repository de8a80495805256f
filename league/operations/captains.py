"""A captain's link, and the line-up named by it: who fishes which section, and who is reserve."""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, time

from django.contrib.auth.models import User
from django.core.signing import BadSignature, Signer
from django.utils import timezone

from league.models import Angler, CaptainPass, Entry, Match, Reserve, Section, SquadMember, Team
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.lineup import enter, may_change_line_up
from league.operations.passes import SECRET_BYTES, digest
from league.operations.score import book_of
from league.operations.store import add, writing
from league.rules.words import and_list

SALT = "captain's link"
NOON = time(12)
MOST_RESERVES = 4


@dataclass(frozen=True, slots=True)
class Place:
    """A place in the line-up, in a section where sections are made, and who has it."""

    section: Section | None
    angler: Angler | None


def make_link(
    match: Match, team: Team, *, by: User | None, at: datetime | None = None
) -> tuple[CaptainPass, str]:
    """
    Make the link of *team* for *match*; what opens it comes back once, and only a digest is kept.

    It ends when the draw begins. A new link takes the place of the old one.
    """
    at = at or timezone.now()
    secret = secrets.token_urlsafe(SECRET_BYTES)
    with writing():
        match = Match.objects.locked(match.pk)
        may_change_line_up(match)
        if team.season_id != match.season_id:
            raise RefusedError(f"{team} does not fish this league this season.")
        ends = _draw_begins(match)
        if ends <= at:
            raise RefusedError("The draw was to begin by now: take the line-up down yourself.")
        for old in CaptainPass.objects.still_open(match, team):
            old.revoked_at = at
            old.save(update_fields=["revoked_at"])
        made = add(
            CaptainPass(
                match=match,
                team=team,
                secret_hash=digest(secret),
                made_by=by,
                made_at=at,
                expires_at=ends,
            )
        )
        write_down(f"Captain’s link made for {team}.", by=by, club=match.club, match=match)
    return made, Signer(salt=SALT).sign(secret)


def links_follow(match: Match, at: datetime) -> None:
    """Let the links of a *match* that was moved end when its draw begins now."""
    ends = _draw_begins(match)
    for link in CaptainPass.objects.given_out(match):
        if ends <= link.made_at:
            link.revoked_at = at
        else:
            link.expires_at = ends
        link.save(update_fields=["revoked_at", "expires_at"])


def revoke_link(link: CaptainPass, *, by: User | None, at: datetime | None = None) -> None:
    """Take a link back; a line-up named by it stays until somebody changes it."""
    with writing():
        held = CaptainPass.objects.locked(link.pk)
        if held.revoked_at is not None:
            raise RefusedError(f"The link of {held.team} was taken back already.")
        held.revoked_at = at or timezone.now()
        held.save(update_fields=["revoked_at"])
        match = held.match
        said = f"Captain’s link of {held.team} taken back."
        write_down(said, by=by, club=match.club, match=match)


def opened_by(token: str) -> CaptainPass | None:
    """The link that *token* opens, in force or not; None for one that nobody gave out."""
    try:
        secret = Signer(salt=SALT).unsign(token)
    except BadSignature:
        return None
    return CaptainPass.objects.opened_by(digest(secret))


def why_shut(link: CaptainPass, at: datetime | None = None) -> str:
    """Why a link opens nothing any more; empty while it does."""
    at = at or timezone.now()
    if link.revoked_at is not None:
        return "The match secretary has taken this link back."
    if at >= link.expires_at:
        return "This link has run out: the draw was to begin."
    return ""


def squad_of(match: Match, team: Team) -> list[Angler]:
    """Who may be named: the squad; without one, every angler of the club in nobody else's."""
    squad = [member.angler for member in SquadMember.objects.of(team)]
    if squad:
        return squad
    taken = SquadMember.objects.anglers_of(team.season)
    return [angler for angler in Angler.objects.of(match.club) if angler.pk not in taken]


def places_for(match: Match, team: Team) -> list[Place]:
    """The places *team* has in *match*, section by section, with whoever is named so far."""
    entries = list(Entry.objects.of(match).of_team(team).in_booking_order())
    sections = list(match.sections.all())
    places: list[Place] = []
    for section in sections:
        there = [entry.angler for entry in entries if entry.section_id == section.pk]
        for at in range(match.per_section):
            places.append(Place(section, there[at] if at < len(there) else None))
    if sections:
        return places
    size = max(book_of(match).team.size, len(entries))
    named = [entry.angler for entry in entries]
    return [Place(None, named[at] if at < len(named) else None) for at in range(size)]


def name_line_up(
    match: Match,
    team: Team,
    *,
    places: Sequence[Place],
    reserves: Sequence[Angler] = (),
    by: User | None,
    link: CaptainPass | None = None,
    at: datetime | None = None,
) -> list[Entry]:
    """
    Name who of *team* fishes, where, and who is reserve, in place of what was named before.

    A place may be left empty: a team can be one short. By a *link*, the journal says that the
    captain did it. Whoever stays keeps their number on the draw sheet.
    """
    at = at or timezone.now()
    named = [place for place in places if place.angler is not None]
    _each_once([place.angler for place in named if place.angler], reserves)
    with writing():
        match = Match.objects.locked(match.pk)
        may_change_line_up(match)
        if link is not None and (shut := why_shut(CaptainPass.objects.locked(link.pk), at)):
            raise RefusedError(f"{shut} Ring the match secretary.")
        if not named:
            raise RefusedError("Nobody is named. Choose who fishes, at least one.")
        _may_be_named(match, team, [*(p.angler for p in named if p.angler), *reserves])
        kept = _take_out_the_rest(match, team, named, at)
        entries = [_put_in(match, team, place, kept) for place in named]
        _name_reserves(match, team, reserves, at)
        if link is not None:
            link.named_at = at
            link.save(update_fields=["named_at"])
        _write_down(match, team, entries, reserves, by, by_link=link is not None)
    return entries


def _draw_begins(match: Match) -> datetime:
    return timezone.make_aware(datetime.combine(match.date, match.draw_at or match.all_in or NOON))


def _each_once(fishing: Sequence[Angler], reserves: Sequence[Angler]) -> None:
    seen: set[int] = set()
    for angler in (*fishing, *reserves):
        if angler.pk in seen:
            raise RefusedError(f"{angler} is named twice. Choose somebody else for one place.")
        seen.add(angler.pk)
    if len(reserves) > MOST_RESERVES:
        raise RefusedError(f"{len(reserves)} reserves are too many; {MOST_RESERVES} can be named.")


def _may_be_named(match: Match, team: Team, anglers: Sequence[Angler]) -> None:
    allowed = {angler.pk for angler in squad_of(match, team)}
    booked = {entry.angler_id for entry in Entry.objects.of(match).of_team(team)}
    for angler in anglers:
        if angler.pk not in allowed | booked:
            raise RefusedError(f"{angler} is not in the squad of {team}. Ask the match secretary.")


def _take_out_the_rest(
    match: Match, team: Team, named: Sequence[Place], at: datetime
) -> dict[int, Entry]:
    """Who stays, by angler; out of every section first, since two may change places."""
    wanted = {place.angler.pk for place in named if place.angler}
    kept: dict[int, Entry] = {}
    for entry in Entry.objects.of(match).of_team(team):
        if entry.angler_id in wanted:
            entry.section = None
            entry.save(update_fields=["section"])
            kept[entry.angler_id] = entry
        else:
            entry.withdrawn_at = at
            entry.save(update_fields=["withdrawn_at"])
    return kept


def _put_in(match: Match, team: Team, place: Place, kept: dict[int, Entry]) -> Entry:
    angler = place.angler
    if angler is None:
        raise RefusedError("Nobody is named for this place.")
    if (entry := kept.get(angler.pk)) is None:
        return enter(
            match, angler, team=team, section=place.section, reserve=False, easy_access=None
        )
    entry.section = place.section
    entry.save(update_fields=["section"])
    return entry


def _name_reserves(match: Match, team: Team, reserves: Sequence[Angler], at: datetime) -> None:
    wanted = {angler.pk for angler in reserves}
    before = {}
    for waiting in Reserve.objects.of_team(match, team):
        if waiting.angler_id in wanted:
            before[waiting.angler_id] = waiting
        else:
            waiting.left_at = at
            waiting.save(update_fields=["left_at"])
    for angler in reserves:
        if angler.pk not in before:
            add(Reserve(match=match, team=team, angler=angler, asked_at=at))


def _write_down(
    match: Match,
    team: Team,
    entries: Sequence[Entry],
    reserves: Sequence[Angler],
    by: User | None,
    *,
    by_link: bool,
) -> None:
    who = and_list(
        [f"{e.section.letter} {e.angler}" if e.section else str(e.angler) for e in entries]
    )
    spare = f" Reserve: {and_list([str(each) for each in reserves])}." if reserves else ""
    said = f"{team} {'named by the captain' if by_link else 'named'}: {who}.{spare}"
    write_down(said, by=by, club=match.club, match=match)
