"""The account of a match: announced, paid, owed, handed over, in the tin; reads only."""

from __future__ import annotations

from dataclasses import dataclass, replace

from league.files.money import plan_from_dict
from league.models import (
    Entry,
    Handed,
    Match,
    Payment,
    PaymentKind,
    PayoutSheet,
    Pools,
    Season,
    TinCount,
)
from league.rules.pools_plan import STAKE, Plan

NO_MONEY = Plan()
# In the pools of a round that keeps its season's old ones: the golden peg's fund still comes in.
FOLLOWS = "follows"


@dataclass(frozen=True, slots=True)
class Due:
    """What one angler pays for one thing, and what has become of it."""

    entry: Entry
    what: str
    pence: int
    payment: Payment | None

    @property
    def paid(self) -> bool:
        """Whether the money is in."""
        return self.payment is not None and self.payment.kind == PaymentKind.PAID

    @property
    def owed(self) -> bool:
        """Whether somebody said that it comes later."""
        return self.payment is not None and self.payment.kind == PaymentKind.OWED


@dataclass(frozen=True, slots=True)
class Account:
    """One match's money as it stands: every figure is worked out from lines that are only added."""

    match: Match
    plan: Plan
    inherited: bool  # what is announced is the season's
    dues: tuple[Due, ...]
    payments: tuple[Payment, ...]  # those in force
    handed: tuple[Handed, ...]
    sheet: PayoutSheet | None
    count: TinCount | None

    @property
    def taken(self) -> int:
        """What anglers have paid, in pence."""
        return sum(each.pence for each in self.payments if each.kind == PaymentKind.PAID)

    @property
    def start(self) -> int:
        """What was in the tin before the first angler paid."""
        return self.plan.brought + (self.plan.golden.carried if self.plan.golden else 0)

    @property
    def gone(self) -> int:
        """What has been handed over."""
        return sum(each.pence for each in self.handed)

    @property
    def had(self) -> dict[str, int]:
        """What each payee has had in all, by key."""
        found: dict[str, int] = {}
        for each in self.handed:
            found[each.key] = found.get(each.key, 0) + each.pence
        return found

    @property
    def tin(self) -> int:
        """What must lie in the tin now."""
        return self.start + self.taken - self.gone

    @property
    def outstanding(self) -> tuple[Due, ...]:
        """Stakes that have not come in, put off or not."""
        return tuple(due for due in self.dues if due.what == STAKE and due.pence and not due.paid)

    @property
    def owed(self) -> int:
        """What is still to come of the stakes."""
        return sum(due.pence for due in self.outstanding)

    @property
    def closed(self) -> bool:
        """Whether the tin was counted and nothing has moved since."""
        return self.count is not None and self.count.expected == self.tin

    def part_payers(self) -> frozenset[str]:
        """The keys of those whose stake came in as less than the whole: fees alone, as a junior."""
        return frozenset(
            str(each.entry.angler_id)
            for each in self.payments
            if each.kind == PaymentKind.PAID and each.what == STAKE and each.pence < self.plan.stake
        )

    def paid_by(self) -> dict[str, frozenset[str]]:
        """The keys of the anglers who have paid, by what for."""
        found: dict[str, set[str]] = {}
        for each in self.payments:
            if each.kind == PaymentKind.PAID:
                found.setdefault(each.what, set()).add(str(each.entry.angler_id))
        return {what: frozenset(keys) for what, keys in found.items()}


def account_of(match: Match) -> Account:
    """The money of *match* now; reads only."""
    plan, inherited = _announced(match)
    sheet = PayoutSheet.objects.of(match).first()
    if sheet is not None:
        # From then on it is what was paid by, whatever becomes of the season's.
        plan = plan_from_dict(sheet.document["plan"])
    payments = tuple(Payment.objects.in_force(match))
    stands = {(each.entry_id, each.what): each for each in payments}
    entries = list(Entry.objects.of(match).in_booking_order())
    booked = {entry.pk for entry in entries}
    # Who withdrew after paying is still in the account until the money is given back.
    entries += list({p.entry_id: p.entry for p in payments if p.entry_id not in booked}.values())
    dues = tuple(
        Due(entry, what, plan.due(what, junior=entry.angler.junior), stands.get((entry.pk, what)))
        for entry in entries
        for what in (STAKE, *plan.extras)
    )
    return Account(
        match,
        plan,
        inherited,
        dues,
        payments,
        tuple(Handed.objects.of(match)),
        sheet,
        TinCount.objects.of(match).first(),
    )


def plan_of(match: Match) -> Plan:
    """What is announced for *match*; nothing to pay where nothing is."""
    return _announced(match)[0]


def plan_of_season(season: Season) -> Plan:
    """What is announced for every round of *season*."""
    pools = Pools.objects.of_season(season)
    return plan_from_dict(pools.plan) if pools else NO_MONEY


def _announced(match: Match) -> tuple[Plan, bool]:
    pools = Pools.objects.of_match(match)
    if pools is None:
        return NO_MONEY, match.season_id is not None
    plan = plan_from_dict(pools.plan)
    inherited = pools.match_id is None
    if (inherited or pools.plan.get(FOLLOWS)) and plan.golden:
        # Each round takes over what the golden peg did not pay the round before.
        plan = replace(plan, golden=replace(plan.golden, carried=carried_into(match)))
    return plan, inherited


def carried_into(match: Match) -> int:
    """
    What the last payout sheet before *match*, in its season or its club, carried over.

    A match without a golden peg in between has nothing to do with the fund: it waits.
    """
    before = list(Match.objects.fished_earlier(match))
    sheets = PayoutSheet.objects.of_matches(before)
    fixed = (sheets[each.pk] for each in before if each.pk in sheets)
    last = next((sheet for sheet in fixed if sheet.document["plan"]["golden"]), None)
    if last is None:
        return 0
    outs = last.document["settlement"]["outs"]
    return sum(each["pence"] for each in outs if each["kind"] == "carried")
