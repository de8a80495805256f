"""The account of a season: every line of money in and out, and each round's sums; reads only."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from league.files.money import settlement_from_dict
from league.models import (
    Handed,
    Match,
    Payment,
    PaymentKind,
    PayoutSheet,
    TinCount,
)
from league.operations.money import what_of
from league.rules.figures import capital


@dataclass(frozen=True, slots=True)
class Entered:
    """One line of the account: money in, or out, never both. Pence."""

    match: Match
    what: str
    who: str
    came: int
    went: int
    by: str
    at: datetime


@dataclass(frozen=True, slots=True)
class RoundMoney:
    """One match in the account of its season. Pence."""

    match: Match
    taken: int
    owed: int  # put down as owed; who has neither paid nor been put off is on the match's own page
    prizes: int  # as fixed
    fees: int  # as fixed
    kept: int  # kept for the fund, or carried with the golden peg, as fixed
    handed: int
    difference: int | None  # of the tin as last counted; None before it was

    @property
    def held(self) -> int:
        """What of the money taken has not been handed over."""
        return self.taken - self.handed


def rounds_money(matches: Sequence[Match]) -> list[RoundMoney]:
    """The sums of *matches*, those without any money left out: a fixed number of questions."""
    payments: dict[int, list[Payment]] = {}
    for payment in Payment.objects.of_matches(matches):
        payments.setdefault(payment.match_id, []).append(payment)
    handed: dict[int, list[Handed]] = {}
    for each in Handed.objects.of_matches(matches):
        handed.setdefault(each.match_id, []).append(each)
    sheets = PayoutSheet.objects.of_matches(matches)
    counts = TinCount.objects.of_matches(matches)
    return [
        _round(
            match,
            payments.get(match.pk, []),
            handed.get(match.pk, []),
            sheets.get(match.pk),
            counts.get(match.pk),
        )
        for match in matches
        if match.pk in payments or match.pk in handed
    ]


def entered(matches: Sequence[Match]) -> list[Entered]:
    """Every line of *matches*: what was taken, what was handed over, what a count found."""
    by_pk = {match.pk: match for match in matches}
    counts = TinCount.objects.of_matches(matches)
    lines = [
        *_came(by_pk, Payment.objects.of_matches(matches)),
        *_went(by_pk, Handed.objects.of_matches(matches)),
        *_counted(by_pk, [counts[pk] for pk in counts]),
    ]
    return sorted(lines, key=lambda line: (line.match.date, line.match.pk, line.at))


def _round(
    match: Match,
    payments: Sequence[Payment],
    handed: Sequence[Handed],
    sheet: PayoutSheet | None,
    count: TinCount | None,
) -> RoundMoney:
    settled = settlement_from_dict(sheet.document["settlement"]) if sheet else None
    others = settled.others if settled else ()
    fees = sum(each.pence for each in others if each.kind == "fee")
    return RoundMoney(
        match=match,
        taken=sum(each.pence for each in payments if each.kind == PaymentKind.PAID),
        owed=sum(each.pence for each in payments if each.kind == PaymentKind.OWED),
        prizes=sum(each.pence for each in settled.prizes) if settled else 0,
        fees=fees,
        kept=sum(each.pence for each in others) - fees,
        handed=sum(each.pence for each in handed),
        difference=count.difference if count else None,
    )


def _came(matches: dict[int, Match], payments: Iterable[Payment]) -> Iterator[Entered]:
    for each in payments:
        if each.kind == PaymentKind.PAID:
            yield Entered(
                matches[each.match_id],
                capital(what_of(each.what)),
                each.entry.angler.name,
                each.pence,
                0,
                str(each.by or ""),
                each.at,
            )


def _went(matches: dict[int, Match], handed: Iterable[Handed]) -> Iterator[Entered]:
    for each in handed:
        out = each.pence > 0
        yield Entered(
            matches[each.match_id],
            "Handed over" if out else "Came back",
            each.name,
            0 if out else -each.pence,
            each.pence if out else 0,
            str(each.by or ""),
            each.at,
        )


def _counted(matches: dict[int, Match], counts: Iterable[TinCount]) -> Iterator[Entered]:
    for each in counts:
        if each.difference:
            yield Entered(
                matches[each.match_id],
                "Tin, too much" if each.difference > 0 else "Tin, short",
                each.why,
                max(each.difference, 0),
                max(-each.difference, 0),
                str(each.by or ""),
                each.at,
            )
