"""A rule book written as TOML or a plain dictionary, with the keys that reading takes in."""

from __future__ import annotations

from typing import Any

from league.files import checks
from league.files.book_read import SECTION_KEYS
from league.rules.policies import Policy
from league.rules.rulebook import Rulebook
from league.rules.weights import Unit, written


def as_dict(book: Rulebook) -> dict[str, Any]:
    """
    Every key of *book* as the file writes it, ready for TOML or JSON; what is off is left out.

    >>> as_dict(Rulebook())["section"]["absent"]
    'N+1'
    """
    section: dict[str, Any] = {}
    for key in SECTION_KEYS:
        value = getattr(book.section, key)
        if key == "top" and book.section.direction.key == "low":
            continue
        if value is None or value == ():
            continue
        section[key] = _plain(value)
    net = {
        "limit": _weight_written(book.net.limit, book.unit),
        "over": book.net.over.key,
        "tolerance": _weight_written(book.net.tolerance, book.unit),
    }
    team: dict[str, Any] = {"size": book.team.size, "per_section": book.team.per_section}
    if book.team.count is not None:
        team["count"] = book.team.count
    team["ties"] = [rung.key for rung in book.team.ties]
    rules = book.season
    season: dict[str, Any] = {"score": rules.score.key}
    if rules.best is not None:
        season["best"] = rules.best
    if rules.drop is not None:
        season["drop"] = (
            rules.drop
            if isinstance(rules.drop, int)
            else {str(rounds): dropped for rounds, dropped in rules.drop}
        )
    for key in ("minimum", "up", "down"):
        if getattr(rules, key):
            season[key] = getattr(rules, key)
    if rules.undroppable:
        season["undroppable"] = list(rules.undroppable)
    season["cancelled"] = rules.cancelled.key
    season["ties"] = [rung.key for rung in rules.ties]
    season["penalties_after_drop"] = rules.penalties_after_drop
    season["disqualified_counts"] = rules.disqualified_counts
    return {
        "name": book.name,
        "unit": book.unit.value,
        "section": section,
        "net": net,
        "team": team,
        "season": season,
    }


def _plain(value: Any) -> Any:
    if isinstance(value, Policy):
        return list(value.key) if isinstance(value.key, tuple) else value.key
    if isinstance(value, tuple):
        return [number if isinstance(number, int) else float(number) for number in value]
    return value


def _weight_written(amount: int | None, unit: Unit) -> str:
    return "none" if amount is None else written(amount, unit)


def write_toml(book: Rulebook) -> str:
    """*book* as the file, whole: every key that is not off."""
    data = as_dict(book)
    lines = [f"name = {_toml(data['name'])}", f"unit = {_toml(data['unit'])}"]
    for table in ("section", "net", "team", "season"):
        lines += ["", f"[{table}]"]
        lines += [f"{key} = {_toml(value)}" for key, value in data[table].items()]
    return "\n".join(lines) + "\n"


def _toml(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return checks.quoted(value)
    if isinstance(value, list):
        return f"[{', '.join(_toml(each) for each in value)}]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_toml(each)}" for key, each in value.items()) + " }"
    return str(value)
