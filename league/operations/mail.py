"""
Letters by e-mail: looked at first, sent when somebody presses send, and told in words.

Nothing here runs by itself. Everybody gets a letter of their own, so that nobody reads the
addresses of the others.
"""

from __future__ import annotations

import smtplib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from email.headerregistry import Address
from email.utils import parseaddr

from django.conf import settings
from django.contrib.auth.models import User
from django.core.exceptions import ValidationError
from django.core.mail import EmailMessage, get_connection
from django.core.mail.backends.base import BaseEmailBackend
from django.core.validators import validate_email

from league.models import Club, Match
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.store import writing

LONGEST_SUBJECT = 120
LONGEST_TEXT = 20_000
MOST = 400  # letters in one press: a mail server takes more for a nuisance
CONSOLE = "django.core.mail.backends.console.EmailBackend"


@dataclass(frozen=True, slots=True)
class Letter:
    """What would go out, exactly: to be shown before it does."""

    sender: str
    answers_to: str
    subject: str
    text: str
    to: tuple[str, ...]
    left_out: tuple[str, ...]  # an address that is none, a sentence each

    @property
    def leaves_the_house(self) -> bool:
        """Whether a mail server is set; else letters are only written on the server's screen."""
        return settings.EMAIL_BACKEND != CONSOLE


@dataclass(frozen=True, slots=True)
class Sent:
    """What became of a letter: which addresses it went to, and a sentence for each it did not."""

    to: tuple[str, ...]
    failed: tuple[str, ...]

    @property
    def words(self) -> str:
        """The whole in a sentence or two."""
        count = len(self.to)
        said = f"Sent to {count} {'address' if count == 1 else 'addresses'}."
        return " ".join((said, *self.failed))


def preview(
    club: Club, subject: str, text: str, to: Iterable[str], *, by: User | None = None
) -> Letter:
    """
    The letter as it would go out; an address that is none is left out and said.

    The subject goes into a header, so a line break in it is refused rather than dropped.
    """
    subject, text = subject.strip(), text.strip()
    if not subject:
        raise RefusedError("Say what the letter is about: it has no subject.")
    if len(subject) > LONGEST_SUBJECT:
        raise RefusedError(
            f"The subject has {len(subject)} letters; {LONGEST_SUBJECT} fit. Shorten it."
        )
    if len(subject.splitlines()) > 1:
        raise RefusedError("The subject is one line. Take the line break out.")
    if not text:
        raise RefusedError("The letter is empty. Write what it has to say.")
    if len(text) > LONGEST_TEXT:
        raise RefusedError(f"The letter has {len(text)} letters; {LONGEST_TEXT} fit. Shorten it.")
    good, left_out = _sorted_out(to)
    if len(good) > MOST:
        raise RefusedError(
            f"{len(good)} addresses are too many at once; {MOST} go. Send it in two parts."
        )
    answers_to = by.email if by is not None and _is_address(by.email) else ""
    return Letter(_sender(club), answers_to, subject, text, good, left_out)


def send(
    club: Club, subject: str, text: str, to: Iterable[str], *, by: User, match: Match | None = None
) -> Sent:
    """
    Send the letter to every address, one at a time, because *by* has pressed send.

    One address that fails does not stop the others. Nobody is waiting in the write queue
    meanwhile: the journal's line is written at the end, with numbers and no addresses.
    """
    return send_each(club, [preview(club, subject, text, to, by=by)], by=by, match=match)


def send_each(
    club: Club, letters: Sequence[Letter], *, by: User, match: Match | None = None
) -> Sent:
    """The same for letters that differ: a captain's has the link of one team in it."""
    if not any(letter.to for letter in letters):
        raise RefusedError(
            "There is no address to send to. Write e-mail addresses down for the anglers first."
        )
    gone: list[str] = []
    failed: list[str] = [fault for letter in letters for fault in letter.left_out]
    connection = get_connection()
    try:
        for letter in letters:
            for address in letter.to:
                fault = _one(letter, address, connection)
                if fault is None:
                    gone.append(address)
                else:
                    failed.append(fault)
    finally:
        _hang_up(connection)
    with writing():
        write_down(
            f"E-mail “{letters[0].subject}” sent to {len(gone)}"
            f"{f', not to {len(failed)}' if failed else ''}.",
            by=by,
            club=club,
            match=match,
        )
    return Sent(tuple(gone), tuple(failed))


def _one(letter: Letter, address: str, connection: BaseEmailBackend) -> str | None:
    """Send one; the sentence to say where that failed, the connection fit for the next one."""
    message = EmailMessage(
        letter.subject,
        letter.text,
        letter.sender,
        [address],
        connection=connection,
        reply_to=[letter.answers_to] if letter.answers_to else None,
    )
    try:
        # Opened for each: it does nothing while the line is up, and calls again where it fell.
        connection.open()
        message.send()
    except smtplib.SMTPRecipientsRefused:
        return f"{address}: the mail server does not take this address."
    except smtplib.SMTPAuthenticationError:
        _hang_up(connection)
        return f"{address}: the mail server did not let us in; its name or password is wrong."
    except (smtplib.SMTPException, OSError):
        _hang_up(connection)
        return f"{address}: the mail server did not take the letter. Try this one again later."
    return None


def _hang_up(connection: BaseEmailBackend) -> None:
    try:
        connection.close()
    except (smtplib.SMTPException, OSError):
        return


def _sorted_out(to: Iterable[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    good: dict[str, str] = {}
    bad = []
    for each in to:
        address = each.strip()
        if not address:
            continue
        if _is_address(address):
            good.setdefault(address.casefold(), address)
        else:
            bad.append(f"{address}: that is no e-mail address.")
    return tuple(good.values()), tuple(dict.fromkeys(bad))


def _is_address(address: str) -> bool:
    try:
        validate_email(address)
    except ValidationError:
        return False
    return True


def _sender(club: Club) -> str:
    """The club's name before the installation's address, whatever name that is set with."""
    _, address = parseaddr(settings.DEFAULT_FROM_EMAIL)
    if not address:
        raise RefusedError(
            "No letter can go out: the sender in DRAWBAG_MAIL_FROM is no e-mail address. Whoever "
            "keeps the server has to put it right."
        )
    return str(Address(" ".join(club.name.split()), addr_spec=address))
