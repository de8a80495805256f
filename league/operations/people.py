"""A club's anglers: added, put right, two records of one person made one."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from django.contrib.auth.models import User
from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.formats import date_format

from league.files.people import LONGEST_NAME
from league.models import Angler, Club, Entry, Match, Reserve, SquadMember
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.names import Carried, carry_through
from league.operations.store import add, writing
from league.rules.words import and_list


@dataclass(frozen=True, slots=True)
class About:
    """What a club keeps of an angler."""

    name: str
    email: str = ""
    junior: bool = False
    consent_to_publish: bool = False
    initial_only: bool = False
    easy_access: bool = False


FACTS = {
    "junior": ("a junior", "no junior any more"),
    "consent_to_publish": ("consent to print the full name on record", "consent taken back"),
    "initial_only": ("printed by first name and initial", "printed by the full name"),
    "easy_access": ("needs an easy-access peg", "needs no easy-access peg"),
}


def about(angler: Angler) -> About:
    """What is on record of *angler* now."""
    return About(
        angler.name,
        angler.email,
        angler.junior,
        angler.consent_to_publish,
        angler.initial_only,
        angler.easy_access,
    )


def what_changes(old: About, new: About) -> list[str]:
    """What would be different, a few words each; an address is said to change and not shown."""
    said = []
    if new.name != old.name:
        said.append(f"the name becomes {new.name}, was {old.name}")
    if new.email != old.email:
        said.append("e-mail address taken out" if not new.email else "another e-mail address")
    for fact, (yes, no) in FACTS.items():
        if getattr(new, fact) != getattr(old, fact):
            said.append(yes if getattr(new, fact) else no)
    return said


def add_angler(club: Club, about: About, *, by: User | None) -> Angler:
    """Put somebody new on the club's list."""
    about = _looked_over(about)
    with writing():
        _is_not_taken(club, about.name, None)
        angler = add(Angler(club=club, **_fields(about)))
        write_down(f"{angler} added to the anglers.", by=by, club=club)
    return angler


def change_angler(
    angler: Angler, new: About, *, by: User | None, at: datetime | None = None
) -> Carried:
    """
    Put right what is on record; another name, or one withheld, goes through all that is published.

    A result keeps every figure; who reads it afterwards reads the name as it may be printed now.
    """
    new = _looked_over(new)
    with writing():
        held = Angler.objects.locked(angler.pk)
        is_still_here(held)
        old = about(held)
        changes = what_changes(old, new)
        if not changes:
            raise RefusedError("Nothing is different, so nothing was saved.")
        _is_not_taken(held.club, new.name, held)
        shown = held.shown_name
        for field, value in _fields(new).items():
            setattr(held, field, value)
        held.full_clean()
        held.save()
        carried = Carried(0, ())
        if held.shown_name != shown:
            carried = carry_through(held, old={old.name, shown}, at=at or timezone.now())
        # A name that is withheld from now on does not go into the journal in full once more.
        told = what_changes(replace(old, name=""), replace(new, name=""))
        if new.name != old.name:
            told.insert(0, "name put right")
        write_down(f"{held}: {and_list(told)}.", by=by, club=held.club)
    return carried


def join_sign_in(angler: Angler, user: User | None, *, by: User | None) -> None:
    """Say whose sign-in is *angler*'s, so that they can book in; None for nobody's."""
    with writing():
        held = Angler.objects.locked(angler.pk)
        is_still_here(held)
        if user is not None:
            other = Angler.objects.with_user(held.club, user)
            if other is not None and other.pk != held.pk:
                raise RefusedError(f"That sign-in belongs to {other.name} already.")
        held.user = user
        held.save(update_fields=["user"])
        said = "has a sign-in" if user else "has no sign-in any more"
        write_down(f"{held} {said}.", by=by, club=held.club)


def merge(keep: Angler, gone: Angler, *, by: User | None, at: datetime | None = None) -> Carried:
    """
    Make two records of one person one: every result, squad and line of *gone* becomes *keep*'s.

    Results stand, to the ounce; the lines of *gone* carry *keep*'s name from now on. Refused where
    both fished one match, or were in two teams of one season: those are two people.
    """
    if keep.pk == gone.pk:
        raise RefusedError("That is one record already. Choose two.")
    with writing():
        keep, gone = Angler.objects.locked(keep.pk), Angler.objects.locked(gone.pk)
        for each in (keep, gone):
            is_still_here(each)
        if reasons := two_people(keep, gone):
            raise RefusedError("\n".join(reasons))
        was = about(gone)
        _same_squads_once(keep, gone)
        for waiting in Reserve.objects.clashing(keep, gone):
            waiting.left_at = at or timezone.now()
            waiting.save(update_fields=["left_at"])
        carried = carry_through(
            gone, old={gone.name, gone.shown_name}, at=at or timezone.now(), into=keep
        )
        _hand_over(keep, gone)
        user = gone.user
        gone.user = None
        gone.save(update_fields=["user"])
        keep.user = keep.user or user
        keep.email = keep.email or was.email
        keep.easy_access = keep.easy_access or was.easy_access
        keep.initial_only = keep.initial_only or was.initial_only
        keep.save()
        shown = gone.shown_name
        gone.delete()
        write_down(f"{shown} and {keep} are one person: kept as {keep}.", by=by, club=keep.club)
    return carried


def two_people(keep: Angler, gone: Angler) -> list[str]:
    """Why two records cannot be one person's, a sentence each; none where they can."""
    if keep.club_id != gone.club_id:
        return ["They are anglers of two clubs."]
    reasons = []
    together = list(Entry.objects.clashing(keep, gone))
    if together:
        last = max(together, key=lambda entry: entry.match.date).match
        many = f"{len(together)} matches, the last of them " if len(together) > 1 else ""
        reasons.append(
            f"Both were booked in for {many}{last} on {day_of(last)}, so they are two people. If "
            "one of the two entries was a mistake, withdraw it first."
        )
    teams = {squad.team.season_id: squad.team for squad in SquadMember.objects.with_angler(keep)}
    for squad in SquadMember.objects.clashing(keep, gone):
        mine = teams[squad.team.season_id]
        if mine != squad.team:
            reasons.append(
                f"{keep} is in the squad of {mine} and {gone} in that of {squad.team}, in one "
                "season. Take one of the two out of a squad first."
            )
    if keep.user_id and gone.user_id and keep.user_id != gone.user_id:
        reasons.append("Both have a sign-in of their own. Take one sign-in back first.")
    return reasons


def _same_squads_once(keep: Angler, gone: Angler) -> None:
    """Both in one squad become once in it, the captain still the captain."""
    mine = {squad.team_id: squad for squad in SquadMember.objects.with_angler(keep)}
    for squad in SquadMember.objects.with_angler(gone):
        if (kept := mine.get(squad.team_id)) is None:
            continue
        if squad.captain and not kept.captain:
            kept.captain = True
            kept.save(update_fields=["captain"])
        squad.delete()


def _hand_over(keep: Angler, gone: Angler) -> None:
    """Every row of any table that points at *gone* points at *keep*: also tables yet to come."""
    try:
        with transaction.atomic():
            for relation in gone._meta.related_objects:
                rows = getattr(gone, str(relation.get_accessor_name()))
                rows.all().update(**{relation.field.name: keep})
    except IntegrityError as clash:
        raise RefusedError(
            "Both records have a line of their own where one person can have only one. "
            "Look through their matches and money first."
        ) from clash


def day_of(match: Match) -> str:
    """14 February 2027."""
    return date_format(match.date, "j F Y")


def _fields(about: About) -> dict[str, object]:
    return {name: getattr(about, name) for name in About.__slots__}


def _looked_over(about: About) -> About:
    name = " ".join(about.name.split())
    if not name:
        raise RefusedError("Write the angler's name.")
    if len(name) > LONGEST_NAME:
        raise RefusedError(f"The name is {len(name)} letters long; {LONGEST_NAME} fit. Shorten it.")
    return replace(about, name=name, email=about.email.strip())


def _is_not_taken(club: Club, name: str, but: Angler | None) -> None:
    for other in Angler.objects.called(club, name):
        if but is None or other.pk != but.pk:
            raise RefusedError(
                f"{name} is on the list already. If they are two people, tell them apart: "
                f"{name} (Ashby)."
            )


def is_still_here(angler: Angler) -> None:
    """Refuse a record whose name was taken out."""
    if angler.erased_at:
        raise RefusedError("This name was taken out on request, and stays out.")
