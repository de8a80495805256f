"""An angler's name taken out of everything, on request; the results stand without it."""

from __future__ import annotations

from datetime import datetime

from django.contrib.auth.models import User
from django.db import models
from django.utils import timezone

from league.models import Angler, Entry, Match, Office, OfficeName, Reserve, SquadMember
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.names import Carried, carry_through
from league.operations.people import day_of, is_still_here
from league.operations.store import writing
from league.rules.words import and_list


def erase(angler: Angler, *, by: User | None, at: datetime | None = None) -> Carried:
    """
    Take *angler*'s name out of everything; the results stand, to the ounce, without it.

    What stands instead counts up, so that two who are erased are still told apart in a table.
    Refused while something is still to come of them; what was printed or backed up cannot be
    called back, and the page says so.
    """
    at = at or timezone.now()
    with writing():
        held = Angler.objects.locked(angler.pk)
        is_still_here(held)
        if reasons := still_to_come(held):
            raise RefusedError("\n".join(reasons))
        old = {held.name, held.shown_name}
        user = held.user
        held.name = f"Name removed {Angler.objects.erased(held.club).count() + 1}"
        held.email, held.user, held.erased_at = "", None, at
        held.results_by_email = False
        held.junior = held.consent_to_publish = held.initial_only = held.easy_access = False
        held.save()
        for entry in Entry.objects.every_one_of(held):
            entry.easy_access, entry.rang_in = False, ""
            entry.save(update_fields=["easy_access", "rang_in"])
        carried = carry_through(held, old=old, at=at, everywhere=True)
        for waiting in Reserve.objects.waited_on_by(held):
            # Nobody moves up who has asked to be forgotten.
            waiting.left_at = at
            waiting.save(update_fields=["left_at"])
        for squad in SquadMember.objects.with_angler(held):
            squad.delete()
        if user is not None:
            close_account(user)
        write_down(f"{held}: a name was taken out on request.", by=by, club=held.club)
    return carried


def still_to_come(angler: Angler) -> list[str]:
    """What has to be settled before a name can go, a sentence each."""
    unfinished = Match.objects.unfinished().booked_by(angler)
    reasons = [
        f"Booked in for {match} on {day_of(match)}, whose result is not final yet. Withdraw "
        "the angler, or wait until it is."
        for match in unfinished
    ]
    if angler.user:
        held = Office.objects.of_user(angler.user)
        names = [office.get_name_display() for office in held if office.name != OfficeName.MEMBER]
        if names:
            reasons.append(
                f"Holds an office: {and_list(names)}. Take the office back first: who did what "
                "in an office stays in the journal."
            )
    return reasons


def close_account(user: User) -> None:
    """
    End a sign-in and empty it; the row stays, without a name, where the journal points at it.

    Whatever belongs to the sign-in alone goes with it: offices, addresses, keys.
    """
    for relation in user._meta.related_objects:
        name = relation.get_accessor_name()
        if name and getattr(relation, "on_delete", None) is models.CASCADE:
            rows = getattr(user, name, None)
            if rows is not None:
                rows.all().delete() if hasattr(rows, "all") else rows.delete()
    user.username = f"removed-{user.pk}"
    user.first_name = user.last_name = user.email = ""
    user.is_active = user.is_staff = user.is_superuser = False
    user.set_unusable_password()
    user.save()
