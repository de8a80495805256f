"""What must never be false of objections, links, invitations and waiting lists."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable

from django.db import models

from league.models import CaptainPass, Club, Invitation, Objection, Outcome, Reserve, Subscription
from tests.builders import make_entry, make_match, make_season
from tests.factories import AnglerFactory, TeamFactory, UserFactory

NOW = dt.datetime(2027, 1, 24, 17, 0, tzinfo=dt.UTC)


def objection_says_to_what(club: Club) -> models.Model:
    entry = make_entry(make_match(club), angler=AnglerFactory(club=club))
    return Objection(match=entry.match, entry=entry, what="", made_at=NOW)


def objection_is_somebodys(club: Club) -> models.Model:
    return Objection(match=make_match(club), what="Peg 9 was weighed twice.", made_at=NOW)


def objection_is_answered_whole(club: Club) -> models.Model:
    entry = make_entry(make_match(club), angler=AnglerFactory(club=club))
    return Objection(
        match=entry.match,
        entry=entry,
        what="Peg 9 was weighed twice.",
        made_at=NOW,
        outcome=Outcome.UPHELD,
        answered_at=NOW,
    )


def once_on_the_waiting_list(club: Club) -> models.Model:
    match, angler = make_match(club), AnglerFactory(club=club)
    Reserve.objects.create(match=match, angler=angler, asked_at=NOW)
    return Reserve(match=match, angler=angler, asked_at=NOW)


def an_invitation_ends_after_it_begins(club: Club) -> models.Model:
    return Invitation(club=club, name="Ned Sparrow", secret_hash="x", made_at=NOW, expires_at=NOW)


def a_link_ends_after_it_begins(club: Club) -> models.Model:
    match = make_match(club)
    team = TeamFactory(season=make_season(club))
    return CaptainPass(match=match, team=team, secret_hash="x", made_at=NOW, expires_at=NOW)


def one_open_subscription_a_member(club: Club) -> models.Model:
    user = UserFactory()
    Subscription.objects.create(club=club, user=user, made_at=NOW, revoked_at=NOW)
    Subscription.objects.create(club=club, user=user, made_at=NOW)
    return Subscription(club=club, user=user, made_at=NOW)


FALSE_DOORS: list[tuple[Callable[[Club], models.Model], str]] = [
    (objection_says_to_what, "Say what the objection is to."),
    (objection_is_somebodys, "Say who objects: one angler, or one team."),
    (objection_is_answered_whole, "An answer says what came of it and why."),
    (once_on_the_waiting_list, "This angler is on the list already."),
    (an_invitation_ends_after_it_begins, "The invitation would end before it begins."),
    (a_link_ends_after_it_begins, "The link would end before it begins."),
    (one_open_subscription_a_member, "This member has an address for programs already."),
]
