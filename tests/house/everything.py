"""One of everything an address can name, in one club; and requests that leave no trace."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta
from typing import Any

from django.core.cache import cache
from django.db import transaction
from django.utils import timezone

from league.models import (
    CaptainPass,
    Club,
    DecisionKind,
    Objection,
    OfficeName,
    Reserve,
)
from league.operations.decide import decide
from league.operations.doors import invite
from league.operations.draw import draw_match
from league.operations.money import announce_pools, take
from league.operations.passes import let_in, make_pass
from league.operations.payouts import fix_payouts
from league.operations.publish import publish
from league.rules.pools_plan import Plan
from league.rules.walks import Walk
from tests.builders import give_office, make_entry, make_match, make_season, make_weigh_in
from tests.factories import AnglerFactory, UserFactory


@contextmanager
def rolled_back() -> Iterator[None]:
    """Undo what is written inside."""
    with transaction.atomic():
        mark = transaction.savepoint()
        yield
        transaction.savepoint_rollback(mark)
    cache.clear()


def everything(club: Club) -> dict[str, Any]:
    """
    What the names in addresses stand for, by name: `<int:entry_id>` is `entry_id` here.

    A new name in an address needs its line here, and nothing else.
    """
    season = make_season(club, teams=["Reedmace", "Tannery Lane"])
    team = season.teams.get(code="T1")
    user = UserFactory(username=f"held-{club.slug}")
    match = make_match(season=season, drawn=False, sections={"A": 3, "B": 3})
    for each in season.teams.all():
        for section in match.sections.all():
            make_entry(match, team=each, section=section)
    draw_match(match, by=user)
    for booked in match.entries.all():
        make_weigh_in(booked)
    entry = match.entries.get(number=1)
    office = give_office(club, user, OfficeName.SCALES)
    made, secret = make_pass(match, name="Len and Ivy", walk=Walk(), by=None)
    phone, _ = let_in(match.pk, secret, name="Len")
    decision = decide(match, kind=DecisionKind.DISQUALIFIED, entry=entry, why="late", by=user)
    result = publish(match, by=user, gaps_confirmed=True, at=timezone.now() - timedelta(minutes=1))
    announce_pools(match, Plan(stake=1000, frame=1000), by=user)
    payment = take(entry, by=user)
    fix_payouts(match, by=user)
    now = timezone.now()
    captains = CaptainPass.objects.create(
        match=match,
        team=team,
        secret_hash=f"captain {club.slug}",
        made_at=now,
        expires_at=now + timedelta(days=1),
    )
    reserve = Reserve.objects.create(match=match, angler=AnglerFactory(club=club), asked_at=now)
    objection = Objection.objects.create(
        match=match, result=result, team=team, what="Peg 3 was late.", made_at=now
    )
    invitation, link = invite(club, name="Ada", offices=["member"], by=user)
    return {
        "slug": club.slug,
        "match_id": match.pk,
        "season_id": season.pk,
        "league_id": season.league_id,
        "team_id": team.pk,
        "other_team": season.teams.get(code="T2").pk,
        "water_id": match.water_id,
        "angler_id": entry.angler_id,
        "entry_id": entry.pk,
        "decision_id": decision.pk,
        "version": result.version,
        "payment_id": payment.pk,
        "pass_id": made.pk,
        "phone_id": phone.pk,
        "letter": "A",
        "number": 1,
        "link_id": captains.pk,
        "reserve_id": reserve.pk,
        "objection_id": objection.pk,
        "office_id": office.pk,
        "user_id": user.pk,
        "invitation_id": invitation.pk,
        "secret": link,
        "uidb64": "none",
        "token": "none",
    }
