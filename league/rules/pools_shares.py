"""Pay the places of one pool: who is in it in order, equals together, to the penny."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from league.rules.lines import Reason
from league.rules.pools_pence import apportion


@dataclass(frozen=True, slots=True)
class Contender:
    """Somebody who can be paid, or a team, at the place the result gives."""

    key: str
    name: str
    place: int
    section: str = ""


@dataclass(frozen=True, slots=True)
class Payout:
    """One sum that goes out, or stays in the tin for something, and why."""

    kind: str  # "frame", "section", "team", "optional", "golden", "fee", "kept", "carried"
    pool: str  # the pool's name: Frame, Section A, Teams, Super pool
    key: str  # of the angler; empty where it goes to nobody in the match
    name: str
    pence: int
    reason: Reason


@dataclass(frozen=True, slots=True)
class Share:
    """What one contender takes of a pool."""

    who: Contender
    pence: int
    facts: dict[str, object]


def groups_of(contenders: Iterable[Contender]) -> list[list[Contender]]:
    """The contenders best first, those level together, as the result has them."""
    ordered = sorted(contenders, key=lambda each: each.place)
    return [list(level) for _, level in groupby(ordered, key=lambda each: each.place)]


def pay_places(
    total: int, groups: Sequence[Sequence[Contender]], shares: Sequence[int], unit: int
) -> tuple[list[Share], int]:
    """
    Pay *total* to the *groups* by *shares*; what is left over is the second answer.

    Fewer contenders than places: the list of places is cut, so that the money still goes out.
    Equals share the places they cover alike, the last paid place included; pence that do not
    split between them are left over.
    """
    ready = sum(len(group) for group in groups)
    paid = tuple(shares[:ready])
    if not paid or not total:
        return [], total
    prizes = apportion(total, paid, unit)
    found: list[Share] = []
    first = 0
    for group in groups:
        covered = prizes[first : first + len(group)]
        if not covered:
            break
        together = sum(covered)
        each = together // len(group)
        facts: dict[str, object] = {
            "from": first + 1,
            "to": first + len(covered),
            "level": len(group),
            "together": together,
            "share": sum(paid[first : first + len(group)]),
            "shares": sum(paid),
            "total": total,
            "unit": unit,
        }
        found += [Share(who, each, facts) for who in group if each]
        first += len(group)
    return found, total - sum(share.pence for share in found)
