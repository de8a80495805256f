"""Who holds which office: given, taken, and offered by an invitation that is taken up once."""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Sequence
from datetime import datetime, timedelta

from django.contrib.auth.models import User
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.utils import timezone

from league.models import Club, Invitation, Office, OfficeName
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.store import add, writing
from league.rules.figures import and_list

LASTS = timedelta(days=7)
SECRET_BYTES = 32


def give_office(club: Club, user: User, name: str, *, by: User | None) -> Office:
    """Give *user* one more office in *club*; what they hold already stays."""
    label = _label(name)
    with writing():
        office = add(Office(club=club, user=user, name=name))
        write_down(f"{called(user)} is given an office: {label}.", by=by, club=club)
    return office


def take_office(office: Office, *, by: User | None) -> None:
    """
    Take an office back; the doors it opened are shut from the next page on.

    The last match secretary stays: a club nobody can run has no way back but the server's owner.
    """
    with writing():
        # The club first: two secretaries who take each other's office at once leave one of them.
        club = Club.objects.locked(office.club_id)
        held = Office.objects.of(club)
        if not held.contains(office):
            raise RefusedError("That office was taken back meanwhile; look again.")
        if office.name == OfficeName.SECRETARY and held.called(office.name).count() == 1:
            raise RefusedError(
                f"{called(office.user)} is the only match secretary. Give the office to somebody "
                "else first."
            )
        office.delete()
        write_down(
            f"{called(office.user)} no longer holds an office: {_label(office.name)}.",
            by=by,
            club=club,
        )


def invite(
    club: Club,
    *,
    name: str,
    offices: Sequence[str],
    by: User | None,
    email: str = "",
    at: datetime | None = None,
) -> tuple[Invitation, str]:
    """Ask somebody in; the secret comes back once, for the link."""
    at = at or timezone.now()
    name = name.strip()
    if not name:
        raise RefusedError("Say who is asked, by name.")
    if not offices:
        raise RefusedError("Tick at least one office.")
    labels = [_label(each) for each in offices]
    secret = secrets.token_urlsafe(SECRET_BYTES)
    with writing():
        invitation = add(
            Invitation(
                club=club,
                name=name,
                email=email.strip(),
                offices=[OfficeName(each).value for each in offices],
                secret_hash=digest(secret),
                made_by=by,
                made_at=at,
                expires_at=at + LASTS,
            )
        )
        write_down(f"{name} is asked to be {and_list(labels)}.", by=by, club=club)
    return invitation, secret


def take_invitation_back(invitation: Invitation, *, by: User | None) -> None:
    """End an invitation that nobody has taken up."""
    with writing():
        held = Invitation.objects.locked(invitation.pk)
        if held.taken_up_at:
            raise RefusedError(
                f"{held.name} has taken it up already. Take the office back instead."
            )
        if held.revoked_at is None:
            held.revoked_at = timezone.now()
            held.save(update_fields=["revoked_at"])
            write_down(f"The invitation of {held.name} is taken back.", by=by, club=held.club)


def invitation_for(secret: str, *, at: datetime | None = None) -> Invitation:
    """The invitation that the link opens, if it is still open."""
    found = Invitation.objects.opened_by(digest(secret))
    if found is None:
        raise RefusedError(
            "This link opens nothing: a part of it may be missing. Open it again from the letter, "
            "or ask the match secretary for a new one."
        )
    if not found.in_force(at or timezone.now()):
        why = "was taken up" if found.taken_up_at else "has ended"
        raise RefusedError(f"This invitation {why} already. Ask the match secretary for a new one.")
    return found


def take_up(invitation: Invitation, user: User, *, at: datetime | None = None) -> None:
    """Give *user* what the invitation offers; it opens nothing afterwards."""
    at = at or timezone.now()
    with writing():
        held = Invitation.objects.locked(invitation.pk)
        if not held.in_force(at):
            raise RefusedError("This invitation is over. Ask the match secretary for a new one.")
        has = {office.name for office in Office.objects.of(held.club) if office.user_id == user.pk}
        for name in held.offices:
            if name not in has:
                add(Office(club=held.club, user=user, name=name))
        held.taken_up_at, held.taken_up_by = at, user
        held.save(update_fields=["taken_up_at", "taken_up_by"])
        labels = and_list([_label(name) for name in held.offices])
        write_down(f"{called(user)} has taken up: {labels}.", by=user, club=held.club)


def new_person(
    *, username: str, password: str, name: str, email: str = "", invitation: Invitation
) -> User:
    """Somebody new who signs in, and takes up *invitation* in the same breath."""
    first, _, last = name.strip().partition(" ")
    user = User(username=username.strip(), first_name=first[:150], last_name=last[:150])
    user.email = email.strip()
    refuse_weak(password, user)
    user.set_password(password)
    with writing():
        take_up(invitation, add(user))
    return user


def refuse_weak(password: str, user: User) -> None:
    """Refuse a password that is short, common, or the person's own name."""
    try:
        validate_password(password, user)
    except ValidationError as weak:
        raise RefusedError(" ".join(weak.messages)) from weak


def called(user: User) -> str:
    """A person's name, or what they sign in as where none is known."""
    return user.get_full_name() or user.get_username()


def digest(secret: str) -> str:
    """What is kept of a secret. It is 32 random bytes, so a plain digest is enough."""
    return hashlib.sha256(secret.encode()).hexdigest()


def _label(name: str) -> str:
    try:
        return OfficeName(name).label.lower()
    except ValueError as error:
        raise RefusedError("There is no such office.") from error
