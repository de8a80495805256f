"""Scales passes: make one, let a phone in by it, take it back. Only digests of secrets are kept."""

from __future__ import annotations

import hashlib
import secrets
from datetime import datetime, time, timedelta

from django.contrib.auth.models import User
from django.utils import timezone

from league.models import Entry, Match, Phone, ScalesPass, Stage
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.store import add, writing
from league.rules.errors import RuleError
from league.rules.walks import Walk, along, as_dict, from_dict

# Weighing goes on into the evening and a phone may find signal only at home, the next day.
LASTS = timedelta(hours=36)
SECRET_BYTES = 32
LONGEST_NAME = 40
MOST_PHONES = 12  # on one pass; a pair has two


def make_pass(
    match: Match, *, name: str, walk: Walk, by: User | None, at: datetime | None = None
) -> tuple[ScalesPass, str]:
    """Make a pass for one walk of *match*; the secret comes back once, for the link and the QR."""
    at = at or timezone.now()
    name = name.strip()
    if not name:
        raise RefusedError("Say whose walk it is, for instance Len and Ivy.")
    if len(name) > LONGEST_NAME:
        raise RefusedError(f"The name is {len(name)} letters long; {LONGEST_NAME} fit. Shorten it.")
    if match.stage == Stage.CANCELLED:
        raise RefusedError("The match is cancelled, so nobody weighs.")
    try:
        along(walk, _bank(match))
    except RuleError as error:
        raise RefusedError(str(error)) from error
    secret = secrets.token_urlsafe(SECRET_BYTES)
    with writing():
        scales_pass = add(
            ScalesPass(
                match=match,
                name=name,
                walk=as_dict(walk),
                secret_hash=digest(secret),
                made_by=by,
                made_at=at,
                expires_at=_ends(match, at),
            )
        )
        write_down(
            f"Scales pass made for {name}: {walk.words}.", by=by, club=match.club, match=match
        )
    return scales_pass, secret


def revoke_pass(scales_pass: ScalesPass, *, by: User | None, at: datetime | None = None) -> None:
    """Take a pass back, with every phone that came in by it; what they have sent stays."""
    at = at or timezone.now()
    with writing():
        held = ScalesPass.objects.locked(scales_pass.pk)
        if held.revoked_at is not None:
            raise RefusedError(f"The pass of {held.name} was taken back already.")
        held.revoked_at = at
        held.save(update_fields=["revoked_at"])
        match = held.match
        write_down(f"Scales pass of {held.name} taken back.", by=by, club=match.club, match=match)


def revoke_phone(phone: Phone, *, by: User | None, at: datetime | None = None) -> None:
    """Stop one phone alone."""
    with writing():
        phone.revoked_at = at or timezone.now()
        phone.save(update_fields=["revoked_at"])
        match = phone.match
        write_down(f"{phone.name} may not send any more.", by=by, club=match.club, match=match)


def let_in(
    match_id: int, secret: str, *, name: str, old_token: str = "", at: datetime | None = None
) -> tuple[Phone, str]:
    """
    Let a phone in by the *secret* of a pass; the token comes back once.

    A phone that was in before shows its *old_token* and stays the same phone, so that it can still
    correct what it sent, and what it could not send meanwhile is its own.
    """
    at = at or timezone.now()
    scales_pass = ScalesPass.objects.opened_by(match_id, digest(secret))
    if scales_pass is None:
        raise RefusedError(
            "This link opens no scales. It may be for another match, or a part of it is missing. "
            "Scan the code again, or ask the match secretary for a new one."
        )
    if not scales_pass.in_force(at):
        why = "was taken back" if scales_pass.revoked_at else "has run out"
        raise RefusedError(f"This pass {why}. Ask the match secretary for a new one.")
    known = Phone.objects.by_token(match_id, digest(old_token)) if old_token else None
    if known and known.revoked_at and known.scales_pass_id == scales_pass.pk:
        raise RefusedError(
            "This phone was stopped by the match secretary. Ask for a new pass; "
            "what is on the phone stays on it until then."
        )
    if known is None and Phone.objects.let_in_by(scales_pass).count() >= MOST_PHONES:
        raise RefusedError(
            f"{MOST_PHONES} phones have come in by this pass already. "
            "Ask the match secretary for another one."
        )
    phone = known or Phone(match=scales_pass.match, enrolled_at=at)
    phone.scales_pass = scales_pass
    phone.name = (name.strip() or scales_pass.name)[:LONGEST_NAME]
    phone.expires_at = scales_pass.expires_at
    phone.revoked_at = None
    return _give_token(phone)


def let_in_person(
    match: Match, user: User, *, name: str = "", old_token: str = "", at: datetime | None = None
) -> tuple[Phone, str]:
    """Let in the phone of somebody who is signed in and works the scales."""
    at = at or timezone.now()
    known = Phone.objects.by_token(match.pk, digest(old_token)) if old_token else None
    if known is not None and known.user_id not in (None, user.pk):
        # Another person's phone, or the club's: what is still on it was weighed by them.
        known = None
    phone = known or Phone(match=match, enrolled_at=at)
    phone.user = user
    phone.scales_pass = None
    phone.name = (name.strip() or str(user))[:LONGEST_NAME]
    phone.expires_at = _ends(match, at)
    phone.revoked_at = None
    return _give_token(phone)


def phone_of(match_id: int, token: str) -> Phone | None:
    """The phone that carries *token*, in force or not; None for a token nobody gave out."""
    return Phone.objects.by_token(match_id, digest(token)) if token else None


def walk_of_pass(scales_pass: ScalesPass | None) -> Walk:
    """The walk a pass is for; without one, the whole bank."""
    return from_dict(scales_pass.walk) if scales_pass else Walk()


def digest(secret: str) -> str:
    """What is kept of a secret. It is 32 random bytes, so a plain digest is enough."""
    return hashlib.sha256(secret.encode()).hexdigest()


def _give_token(phone: Phone) -> tuple[Phone, str]:
    token = secrets.token_urlsafe(SECRET_BYTES)
    phone.token_hash = digest(token)
    with writing():
        phone.save()
    return phone, token


def _ends(match: Match, at: datetime) -> datetime:
    begins = timezone.make_aware(datetime.combine(match.date, time(0)))
    return max(begins, at) + LASTS


def _bank(match: Match) -> list[tuple[str, str]]:
    return [
        (entry.match_peg.peg.number, entry.section.letter if entry.section else "")
        for entry in Entry.objects.of(match).in_peg_order()
        if entry.match_peg
    ]
