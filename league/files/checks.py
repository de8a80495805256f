"""Small checks on what a file holds: each returns what it was asked for, or refuses in words."""

from __future__ import annotations

import difflib
import json
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, TypeVar

from league.rules.errors import RulebookError, RuleError
from league.rules.statuses import shown

T = TypeVar("T")


@dataclass
class Faults:
    """The faults found so far, so that all of them can be told at once."""

    words: list[str] = field(default_factory=list)

    def take(self, read: Callable[[], T], instead: T) -> T:
        """What *read* reads; where it refuses, the fault is noted and *instead* stands in."""
        try:
            return read()
        except RuleError as error:
            self.words.append(str(error))
            return instead


def table(data: object, name: str, keys: Sequence[str], faults: Faults) -> dict[str, Any]:
    """*data* as a table with known *keys*; unknown ones are noted, with the likeliest known one."""
    where = f"{name}: " if name else ""
    if not isinstance(data, Mapping):
        faults.words.append(f"{where}this must be a table of keys, not {shown(data)}.")
        return {}
    known = {}
    for key, value in data.items():
        if key in keys:
            known[key] = value
            continue
        near = difflib.get_close_matches(str(key), keys, n=1)
        hint = f"Did you mean {near[0]}?" if near else f"The keys are {', '.join(keys)}."
        faults.words.append(f"{where}there is no key {quoted(str(key))}. {hint}")
    return known


def subtable(
    data: Mapping[str, Any], name: str, keys: Sequence[str], faults: Faults
) -> dict[str, Any]:
    """The table called *name*, empty where it is left out."""
    return table(data.get(name, {}), name, keys, faults)


def text(key: str, value: object) -> str:
    """A line of text."""
    if not isinstance(value, str):
        raise RulebookError(f"{key} = {shown(value)} must be text in quotes.")
    if not value.isprintable() or len(value) > 200:
        raise RulebookError(f"{key} must be one line of at most 200 characters.")
    return value


def yes_or_no(key: str, value: object) -> bool:
    """True or false, written so."""
    if not isinstance(value, bool):
        raise RulebookError(f"{key} = {shown(value)}: write true or false.")
    return value


def whole(key: str, value: object, *, least: int = 0) -> int:
    """A whole number from *least* upwards."""
    if isinstance(value, bool) or not isinstance(value, int) or not least <= value < 100_000:
        raise RulebookError(f"{key} = {shown(value)}: write a whole number from {least} upwards.")
    return value


def array(key: str, value: object) -> Sequence[Any]:
    """A list."""
    if not isinstance(value, (list, tuple)):
        raise RulebookError(f"{key} = {shown(value)}: write a list in square brackets.")
    return value


def numbers(key: str, value: object) -> list[int | float]:
    """A list of points from 0 upwards, at least one."""
    found = array(key, value)
    for each in found:
        if (
            isinstance(each, bool)
            or not isinstance(each, (int, float))
            or not math.isfinite(each)
            or not 0 <= each < 1_000_000
        ):
            raise RulebookError(f"{key}: {shown(each)} is no number of points from 0 upwards.")
    if not found:
        raise RulebookError(f"{key} is empty: write the points, first place first.")
    return list(found)


def quoted(value: str) -> str:
    """*value* as a TOML basic string, in which JSON's escapes serve."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
