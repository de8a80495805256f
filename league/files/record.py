"""The record weight that a kept result claims."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from league.files.plain import amount
from league.rules.headlines import Record
from league.rules.weights import Unit


def record_in(kept: Mapping[str, Any]) -> Record | None:
    """The record a kept document claims; None in most, and in those kept before records were."""
    told, unit = kept.get("record"), Unit(kept["match"]["unit"])
    if not told:
        return None
    return Record(amount(told["weight"], unit), amount(told["before"], unit), told["matches"])
