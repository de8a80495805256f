"""Results by e-mail, to members who asked for them: nobody is written to who did not."""

from __future__ import annotations

from django.contrib.auth.models import User
from django.core.exceptions import ValidationError
from django.core.validators import validate_email

from league.models import Angler, Club, Result
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.mail import LONGEST_SUBJECT, Letter, Sent, preview, send
from league.operations.store import writing


def ask_for_results(angler: Angler, *, wants: bool, email: str, by: User) -> Angler:
    """Note that *angler* asks for results at *email*, or no longer does."""
    email = email.strip()
    if wants:
        try:
            validate_email(email)
        except ValidationError as error:
            raise RefusedError(
                "Say where the results go: an e-mail address, such as name@example.org."
            ) from error
    with writing():
        held = Angler.objects.locked(angler.pk)
        held.results_by_email = wants
        if wants:
            held.email = email
        held.save(update_fields=["results_by_email", "email"])
        said = "asked for results by e-mail" if wants else "no longer asks for results by e-mail"
        write_down(f"{held} {said}.", by=by, club=held.club)
    return held


def who_asked(club: Club) -> list[Angler]:
    """Who would be written to when a result of *club* is published, by name."""
    return list(Angler.objects.who_asked_for_results(club))


def letter(result: Result, text: str, *, by: User) -> Letter:
    """The letter about *result* as it would go out; *text* is the result in plain words."""
    club = result.match.club
    addresses = [angler.email for angler in who_asked(club)]
    return preview(club, _subject(result), text, addresses, by=by)


def send_result(result: Result, text: str, *, by: User) -> Sent:
    """Send *text* to everybody who asked, because *by* has pressed publish and said so."""
    club = result.match.club
    addresses = [angler.email for angler in who_asked(club)]
    return send(club, _subject(result), text, addresses, by=by, match=result.match)


def _subject(result: Result) -> str:
    match = result.match
    corrected = "" if result.version == 1 else "corrected, "
    subject = f"{match.title}, {match.water}: {corrected}{result.headline}"
    if len(subject) <= LONGEST_SUBJECT:
        return subject
    return f"{subject[: LONGEST_SUBJECT - 1].rstrip()}…"
