"""Where a person is signed in, and how it ends."""

from __future__ import annotations

import logging
from collections.abc import Iterator

from django.contrib.auth import SESSION_KEY
from django.contrib.auth.models import User
from django.contrib.sessions.models import Session
from django.utils import timezone

from league.models import Office
from league.operations.doors import called
from league.operations.journal import write_down
from league.operations.store import writing

# What happens at the doors, for whoever looks after the machine; never a password or a secret.
log = logging.getLogger("drawbag.doors")


def sessions_of(user: User) -> Iterator[Session]:
    """
    The sessions in which *user* is signed in and which have not run out.

    Who a session belongs to is inside it: all of them are opened, some hundreds in a club.
    """
    now = timezone.now()
    for session in Session.objects.iterator():
        if session.expire_date > now and session.get_decoded().get(SESSION_KEY) == str(user.pk):
            yield session


def sign_out_everywhere(user: User, *, by: User, but: str = "") -> int:
    """End every session of *user*, but the one whose key is *but*; returns how many ended."""
    ended = 0
    with writing():
        for session in [each for each in sessions_of(user) if each.session_key != but]:
            session.delete()
            ended += 1
        for club in {office.club for office in Office.objects.of_user(user)}:
            write_down(f"{called(user)} is signed out everywhere else.", by=by, club=club)
    log.info("signed out everywhere: user %s, by %s, %s sessions", user.pk, by.pk, ended)
    return ended
