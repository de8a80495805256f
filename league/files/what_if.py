"""A season under other rules as JSON: the table as it would be, who moves, which rule does it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from league.files import rulebook
from league.files.plain import reason_json
from league.files.season import table_as_json
from league.rules import words
from league.rules.lines import Reason
from league.rules.rulebook import Rulebook
from league.rules.weights import Unit
from league.rules.what_if import WhatIf


def as_json(what_if: WhatIf, other: Rulebook) -> dict[str, Any]:
    """The comparison as a dictionary that `json.dumps` takes; *other* is the book of *then*."""
    unit = what_if.now.unit
    return {
        "rules": rulebook.as_dict(other),
        "headline": words.what_if_headline(what_if),
        "table": table_as_json(what_if.then),
        "moves": [_move(move, unit) for move in what_if.moves],
        "changes": [
            {
                "keys": list(change.keys),
                "was": list(change.was),
                "becomes": list(change.becomes),
                "why": words.say_alone(change),
                "moves": [_move(move, unit) for move in change.moves],
            }
            for change in what_if.changes
        ],
    }


def _move(move: Reason, unit: Unit) -> Mapping[str, Any]:
    facts = move.facts
    return {
        "name": facts["name"],
        "from": facts["place"],
        "to": facts["place_then"],
        "why": words.say(move, unit),
        "reason": reason_json(move),
    }
