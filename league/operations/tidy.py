"""
What is kept of a person, why and how long: a table that is read out on a page and run every day.

A line without a rule is kept until somebody of the club decides; a line with one goes by itself.
"""

from __future__ import annotations

import secrets
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.contrib.sessions.models import Session
from django.utils import timezone

from league.models import CaptainPass, Invitation, Knock, Phone, ScalesPass, Subscription
from league.operations import throttle
from league.operations.store import writing

Rule = Callable[[datetime], int]

AFTER_A_MATCH = timedelta(days=90)  # for disputes about who weighed what
AFTER_AN_INVITATION = timedelta(days=30)
AFTER_TAKEN_BACK = timedelta(days=30)
FORGOTTEN_NAME = "a phone"


@dataclass(frozen=True, slots=True)
class Kept:
    """One thing that is kept of people."""

    key: str
    what: str
    why: str
    how_long: str
    rule: Rule | None = None  # takes out what is over at a time, and says how many

    @property
    def goes_by_itself(self) -> bool:
        """Whether the daily round takes it out."""
        return self.rule is not None


def _sessions(at: datetime) -> int:
    over = [each for each in Session.objects.iterator() if each.expire_date <= at]
    for session in over:
        session.delete()
    return len(over)


def _knocks(at: datetime) -> int:
    return Knock.objects.before(at - throttle.LONGEST).delete()[0]


def _invitations(at: datetime) -> int:
    return Invitation.objects.over(at - AFTER_AN_INVITATION).delete()[0]


def _captains_links(at: datetime) -> int:
    return CaptainPass.objects.over(at - AFTER_A_MATCH).delete()[0]


def _subscriptions(at: datetime) -> int:
    return Subscription.objects.over(at - AFTER_TAKEN_BACK).delete()[0]


def _phones(at: datetime) -> int:
    """Phones that sent nothing go; of those that did the number stays, for the weights' sake."""
    count = 0
    for phone in Phone.objects.over(at - AFTER_A_MATCH):
        if not phone.weigh_ins.exists():
            phone.delete()
        elif phone.name != FORGOTTEN_NAME:
            phone.name, phone.token_hash = FORGOTTEN_NAME, secrets.token_hex(32)
            phone.save(update_fields=["name", "token_hash"])
        else:
            continue
        count += 1
    return count


def _scales_passes(at: datetime) -> int:
    count = 0
    for scales_pass in ScalesPass.objects.over(at - AFTER_A_MATCH):
        if not scales_pass.phones.exists():
            scales_pass.delete()
        elif scales_pass.name != FORGOTTEN_NAME:
            scales_pass.name, scales_pass.secret_hash = FORGOTTEN_NAME, secrets.token_hex(32)
            scales_pass.save(update_fields=["name", "secret_hash"])
        else:
            continue
        count += 1
    return count


KEPT: tuple[Kept, ...] = (
    Kept(
        "results",
        "An angler’s name, team, weights and points",
        "They are the club’s results and tables.",
        "As long as the club keeps its results; the name goes when its owner asks.",
    ),
    Kept(
        "juniors",
        "That somebody is a junior, whether consent to print the name is on record, and who needs "
        "an easy-access peg",
        "So that no child is named in full without consent, and everybody gets a peg they can use.",
        "Until the match secretary changes it, or the name goes.",
    ),
    Kept(
        "addresses",
        "An angler’s e-mail address",
        "Reminders, when the match secretary sends one, and results where their owner asked for "
        "them.",
        "Until its owner or the match secretary takes it out.",
    ),
    Kept(
        "money",
        "Stakes paid or owed, and payouts",
        "The tin has to add up, and the treasurer accounts for the season.",
        "As long as the club has to keep its accounts.",
    ),
    Kept(
        "accounts",
        "A sign-in: name, e-mail, a password that cannot be read back, and the offices held",
        "Only those with an office may run a match.",
        "Until the person or the club closes it.",
    ),
    Kept(
        "sessions",
        "Where somebody is signed in",
        "So that nobody signs in anew on every page.",
        "A fortnight after signing in.",
        _sessions,
    ),
    Kept(
        "tries",
        "Tries to sign in that failed, as a keyed digest of name and address",
        "So that nobody guesses a password.",
        "An hour.",
        _knocks,
    ),
    Kept(
        "invitations",
        "Who was asked in, and where the link was sent",
        "So that the match secretary sees who has not come yet.",
        "30 days after the link has run out.",
        _invitations,
    ),
    Kept(
        "phones",
        "Which phones were at the scales, and under whose name",
        "A dispute may ask which phone sent a weight.",
        "90 days after the match; then the name goes, and the weights stay.",
        _phones,
    ),
    Kept(
        "passes",
        "Scales passes",
        "They say whose walk it was.",
        "90 days after the match; then the name goes.",
        _scales_passes,
    ),
    Kept(
        "captains",
        "Captains’ links",
        "They say which team named its line-up by itself.",
        "90 days after the link has run out.",
        _captains_links,
    ),
    Kept(
        "subscriptions",
        "That a member made an address for calendars and feed readers, and when it was taken back",
        "So that it can be shown to its owner again, and opens nothing afterwards.",
        "30 days after it is taken back; before, until its owner or the club closes the sign-in.",
        _subscriptions,
    ),
    Kept(
        "letters",
        "Letters by e-mail",
        "The journal says that one went out and to how many, never to whom or what.",
        "The letter itself is not kept.",
    ),
    Kept(
        "journal",
        "Who did what for the club, and when",
        "Results and money have to be accounted for.",
        "As long as the club keeps its results; a name that goes, goes from here too.",
    ),
    Kept(
        "backups",
        "Daily backups of all of this",
        "Nothing may be lost to a broken disk.",
        "As many days as the club asks; where no club asks, as the installation says, 30 unless "
        "told. A name that goes stays in them until they do.",
    ),
)


def tidy(*, at: datetime | None = None) -> dict[str, int]:
    """Take out everything whose time is over; how many, by the table's key."""
    at = at or timezone.now()
    gone = {}
    for kept in KEPT:
        if kept.rule is not None:
            with writing():
                gone[kept.key] = kept.rule(at)
    return gone
