"""What a phone at the scales knows without signal: its walk, the figures so far, the guard."""

from __future__ import annotations

from typing import Any

from league.models import Match, Phone, WeighIn
from league.operations.guard import known_of
from league.operations.passes import walk_of_pass
from league.operations.score import book_of
from league.rules.doubts import shortly
from league.rules.errors import RuleError
from league.rules.walks import Walk, along
from league.rules.weights import Unit
from league.web.walk import Stop, walk_of


def walk_data(phone: Phone) -> dict[str, Any]:
    """
    Everything for one phone, in drams or grams.

    The phone works out no place and no points; it adds up what it read, and says what the rule
    makes of a net over the limit. Names are those that may be printed.
    """
    match = phone.match
    unit = Unit(match.unit)
    stops = walk_of(match)
    walk = walk_of_pass(phone.scales_pass)
    net = book_of(match).net
    return {
        "match": match.pk,
        "title": match.title,
        "water": match.water.name,
        "date": match.date.isoformat(),
        "unit": unit.value,
        "stage": match.stage,
        # How many of its entries the site has: a phone that knows of more sends them again.
        "kept": WeighIn.objects.sent_by(phone).count(),
        "walk": walk.words,
        "order": [stops[place].entry.pk for place in _places(walk, stops)],
        "pegs": [_peg(stop, phone) for stop in stops],
        "net": {
            "limit": net.limit,
            "said": shortly(net.limit, unit) if net.limit is not None else "",
            "over": net.over.key,
            "tolerance": net.tolerance or 0,
        },
    }


def past_of(match: Match) -> dict[str, Any]:
    """What the guard compares with, by the entry's key."""
    known = known_of(match)
    return {
        "usual": {
            "middle": known.usual.middle,
            "spread": known.usual.spread,
            "scatter": known.usual.scatter,
        },
        "forms": {
            str(stop.entry.pk): round(known.forms[stop.entry.match_peg.peg_id], 4)
            for stop in walk_of(match)
            if stop.entry.match_peg and stop.entry.match_peg.peg_id in known.forms
        },
    }


def _places(walk: Walk, stops: list[Stop]) -> list[int]:
    """The walk's pegs; where a peg it was made for has gone since, the whole bank."""
    bank = [(stop.peg, stop.letter) for stop in stops]
    try:
        return along(walk, bank)
    except RuleError:
        return along(Walk(backwards=walk.backwards), bank)


def _peg(stop: Stop, phone: Phone) -> dict[str, Any]:
    entry = stop.entry
    return {
        "entry": entry.pk,
        "peg": stop.peg,
        "place": entry.match_peg.peg.order if entry.match_peg else 0,
        "section": stop.letter,
        "name": stop.name,
        "team": entry.team.name if entry.team else "",
        "figures": [
            {
                "key": str(each.key),
                "status": each.status,
                "nets": list(each.nets),
                "mine": each.phone_id == phone.pk,
                "by": each.by,
                "at": round(each.received_at.timestamp() * 1000),
            }
            for each in stop.standing.figures
        ],
    }
