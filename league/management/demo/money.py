"""The made-up club's money: two rounds paid out, a third half paid in, a match with side pools."""

from __future__ import annotations

import datetime as dt
from typing import Any

from django.utils import timezone

from league.management.demo.fill import Ground
from league.management.demo.settings import Settings
from league.models import Entry, Match, Season
from league.operations.money import announce_for_season, announce_pools, put_off, take
from league.operations.money_account import account_of
from league.operations.payouts import fix_payouts, hand_over, payees
from league.operations.tin import close
from league.rules.pools_plan import GOLDEN, Fee, GoldenPeg, OptionalPool, Plan, Split

MINUTE = dt.timedelta(minutes=1)


def winter_money(ground: Ground, season: Season, settings: Settings) -> None:
    """The winter's pools: rounds 5 and 6 paid out, round 7 still coming in."""
    told, by = settings["money"]["winter"], ground.treasurer
    announce_for_season(season, _plan(told), by=by)
    for match in Match.objects.rounds_of(season):
        if match.round in told["rounds"]:
            owing = told["owes"] if match.round == max(told["rounds"]) else ""
            _paid_out(ground, match, settings, owing=owing)
        elif not match.is_drawn:
            early = settings["money"]["paid_early"]
            for entry in list(Entry.objects.of(match).in_booking_order())[:early]:
                take(entry, by=by)


def club_match_money(ground: Ground, match: Match, settings: Settings) -> None:
    """A club match with a super pool and a golden peg, paid on top."""
    told, by = settings["money"]["club_match"], ground.treasurer
    plan = _plan(
        told,
        optional=(OptionalPool("Super pool", told["super_pool"], Split.parse("60/40")),),
        golden=GoldenPeg(stake=told["golden"], carried=told["carried"]),
    )
    announce_pools(match, plan, by=by)
    for entry in list(Entry.objects.of(match).in_booking_order())[: told["paid"]]:
        take(entry, by=by)
        take(entry, "Super pool", by=by)
        if entry.number % 2:
            take(entry, GOLDEN, by=by)


def _plan(told: dict[str, Any], **more: Any) -> Plan:
    return Plan(
        stake=told["stake"],
        fees=tuple(Fee(name, each) for name, each in told["fees"].items()),
        frame=told["frame"],
        frame_split=Split.parse(told["split"]),
        section=told.get("section", 0),
        unit=told.get("unit", 1),
        **more,
    )


def _paid_out(ground: Ground, match: Match, settings: Settings, *, owing: str) -> None:
    """Everybody pays at book-in, the prizes go out after the result, the tin agrees."""
    by, morning = ground.treasurer, _at(match, match.book_in or dt.time(8))
    for place, entry in enumerate(Entry.objects.of(match).in_booking_order()):
        act = put_off if entry.angler.name == owing else take
        act(entry, by=by, at=morning + place * MINUTE)
    fixed = _at(match, settings["money"]["fixed"])
    fix_payouts(match, by=by, at=fixed)
    due = [each for each in payees(account_of(match)) if each.prize]
    waits = settings["money"]["winter"]["waits"] if owing else 0
    for payee in due[: len(due) - waits]:
        hand_over(match, payee.key, payee.balance, by=by, at=fixed + MINUTE)
    if not owing:
        close(match, account_of(match).tin, by=by, at=fixed + 10 * MINUTE)


def _at(match: Match, hour: dt.time) -> dt.datetime:
    return timezone.make_aware(dt.datetime.combine(match.date, hour))
