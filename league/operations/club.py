"""What a club says of itself: its name, who may read, how long things are heard and kept."""

from __future__ import annotations

from dataclasses import dataclass

from django.conf import settings
from django.contrib.auth.models import User

from league.models import Club, PaperSize
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.objections import LONGEST_HEARD
from league.operations.store import change, writing
from league.rules.words import and_list

LONGEST_KEPT = 3660  # days of daily backups: ten years


@dataclass(frozen=True, slots=True)
class AboutClub:
    """What the match secretary can write otherwise."""

    name: str
    public: bool
    objection_hours: int
    paper: str
    keep_backups: int | None = None


def about_club(club: Club) -> AboutClub:
    """What is on record now."""
    return AboutClub(*(getattr(club, field) for field in AboutClub.__slots__))


def change_club(club: Club, new: AboutClub, *, by: User | None) -> list[str]:
    """Write down what is different; says what, a few words each."""
    if not 0 < new.objection_hours <= LONGEST_HEARD:
        raise RefusedError(f"Objections are heard for 1 to {LONGEST_HEARD} hours. Say how many.")
    if new.keep_backups is not None and not 0 < new.keep_backups <= LONGEST_KEPT:
        raise RefusedError(f"Backups are kept for 1 to {LONGEST_KEPT} days. Say how many.")
    with writing():
        club = Club.objects.locked(club.pk)
        told = _told(about_club(club), new)
        if not told:
            raise RefusedError("Nothing is different, so nothing was saved.")
        for field in AboutClub.__slots__:
            setattr(club, field, getattr(new, field))
        change(club, *AboutClub.__slots__)
        write_down(f"The club: {and_list(told)}.", by=by, club=club)
    return told


def days_of_backups() -> int:
    """
    How long daily backups are kept: one backup holds every club of the installation.

    So the longest that any of them asks holds for all; where none asks, as the installation says.
    """
    asked = Club.objects.longest_backups()
    return settings.KEEP_BACKUPS if asked is None else asked


def _told(old: AboutClub, new: AboutClub) -> list[str]:
    told = []
    if new.name != old.name:
        told.append(f"called {new.name}, was {old.name}")
    if new.public != old.public:
        told.append(f"results and tables for {'everybody' if new.public else 'members only'}")
    if new.objection_hours != old.objection_hours:
        told.append(f"objections heard for {new.objection_hours} hours from now on")
    if new.paper != old.paper:
        told.append(f"sheets set for {PaperSize(new.paper).label}")
    if new.keep_backups != old.keep_backups:
        days = new.keep_backups
        told.append(
            f"daily backups asked for {days} day{'' if days == 1 else 's'}"
            if days
            else "daily backups kept as the installation says"
        )
    return told
