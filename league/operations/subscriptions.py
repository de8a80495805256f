"""A member's own address, by which a calendar or a feed reader may read a private club's pages."""

from __future__ import annotations

from datetime import datetime

from django.contrib.auth.models import User
from django.utils import timezone
from django.utils.crypto import constant_time_compare, salted_hmac

from league.models import Club, Subscription
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.store import add, writing

SALT = "league.subscription"
LONGEST_NUMBER = 18  # digits; no database counts further


def subscribe(club: Club, user: User, *, at: datetime | None = None) -> Subscription:
    """The address of *user* for *club*: the one there is, else a new one."""
    if club.public:
        raise RefusedError(
            f"The pages of {club} are public: every program can read them as they are."
        )
    with writing():
        held = Subscription.objects.open_of(Club.objects.locked(club.pk), user)
        if held is not None:
            return held
        made = add(Subscription(club=club, user=user, made_at=at or timezone.now()))
        write_down("An address for calendars and feed readers made.", by=user, club=club)
    return made


def take_back(club: Club, user: User, *, at: datetime | None = None) -> None:
    """End the address of *user* for *club*; whatever reads it is told that it is gone."""
    with writing():
        held = Subscription.objects.open_of(Club.objects.locked(club.pk), user)
        if held is None:
            raise RefusedError("There is no address to take back: it was taken back before.")
        held.revoked_at = at or timezone.now()
        held.save(update_fields=["revoked_at"])
        write_down("An address for calendars and feed readers taken back.", by=user, club=club)


def token_of(subscription: Subscription) -> str:
    """What stands in the address: its number, and a signature nobody else can write."""
    return f"{subscription.pk}.{_signature(subscription)}"


def opened_by(token: str) -> Subscription | None:
    """The subscription that *token* is of, in force or not; None where nobody was given it."""
    number, _, signature = token.partition(".")
    if not (number.isascii() and number.isdecimal() and len(number) <= LONGEST_NUMBER):
        return None
    found = Subscription.objects.numbered(int(number))
    if found is None or not constant_time_compare(signature, _signature(found)):
        return None
    return found


def why_ended(subscription: Subscription) -> str:
    """Why it opens nothing any more; empty while it does."""
    if subscription.revoked_at is not None:
        return "This address was taken back."
    readable = Club.objects.visible_to(subscription.user).contains(subscription.club)
    if not subscription.user.is_active or not readable:
        return "Whoever this address was made for is no longer a member."
    return ""


def _signature(subscription: Subscription) -> str:
    # Whose it is and since when are signed too: after a backup is restored, the same number may
    # come to be somebody else's.
    signed = (
        f"{subscription.pk} {subscription.club_id} {subscription.user_id} "
        f"{subscription.made_at.timestamp()}"
    )
    return salted_hmac(SALT, signed, algorithm="sha256").hexdigest()
