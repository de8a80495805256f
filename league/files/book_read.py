"""A rule book read from TOML or a plain dictionary, every fault told at once in words."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from league.files import checks
from league.files.checks import Faults
from league.rules.errors import RulebookError, RuleError, WeightError
from league.rules.ladders import SEASON_RUNGS, TEAM_RUNGS
from league.rules.nets import OVERS, NetRules
from league.rules.placings import EQUALS
from league.rules.policies import exact
from league.rules.rulebook import (
    CANCELLED,
    SEASON_SCORES,
    Rulebook,
    SeasonRules,
    SectionRules,
    TeamRules,
)
from league.rules.scale import (
    CAPS,
    DIRECTIONS,
    TOPS,
    TopRule,
    top_at_least,
    top_fixed,
    top_listed,
)
from league.rules.statuses import CHOICES, SIZES, listed, score_rule, shown
from league.rules.weights import Unit, Weight

T = TypeVar("T")
LARGEST_FILE = 100_000  # characters; a rule book is a page


def read_toml(text: str) -> Rulebook:
    """
    Read a rule book; raises `RulebookError` with everything that is wrong with it.

    >>> read_toml('[section]\\nequal = "better"').section.equal.key
    'better'
    """
    if len(text) > LARGEST_FILE:
        raise RulebookError("This file is far too long for a rule book. A rule book is a page.")
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise RulebookError(f"The rule book is not written as TOML: {error}.") from error
    except RecursionError as error:
        raise RulebookError("The rule book is nested too deeply to be one.") from error
    return from_dict(data)


def from_dict(data: Mapping[str, Any]) -> Rulebook:
    """The rule book that *data* describes by the file's keys; what is left out is the default."""
    faults = Faults()
    top = checks.table(data, "", ("name", "unit", "section", "net", "team", "season"), faults)
    default = Rulebook()
    unit = faults.take(lambda: _unit(top.get("unit", default.unit.value)), default.unit)
    section = _section(checks.subtable(top, "section", SECTION_KEYS, faults), faults)
    net = _net(checks.subtable(top, "net", NET_KEYS, faults), unit, faults)
    team = _team(checks.subtable(top, "team", TEAM_KEYS, faults), faults)
    season = _season(checks.subtable(top, "season", SEASON_KEYS, faults), faults)
    name = faults.take(lambda: checks.text("name", top.get("name", default.name)), "")
    if faults.words:
        raise RulebookError("\n".join(faults.words))
    return Rulebook(name, unit, section, net, team, season)


SECTION_KEYS = (
    "direction",
    "top",
    "override",
    "equal",
    "size",
    "blank",
    "all_blank",
    "not_weighed",
    "withdrew",
    "absent",
    "vacant",
    "disqualified",
    "others_move_up",
    "cap",
)
NET_KEYS = ("limit", "over", "tolerance")
TEAM_KEYS = ("size", "per_section", "count", "ties")
SEASON_KEYS = (
    "score",
    "best",
    "drop",
    "minimum",
    "undroppable",
    "cancelled",
    "up",
    "down",
    "ties",
    "penalties_after_drop",
    "disqualified_counts",
)


def _unit(choice: object) -> Unit:
    try:
        return Unit(str(choice))
    except ValueError as error:
        raise RulebookError(
            f'unit = {shown(choice)} is no choice there. Write "lb-oz" or "kg".'
        ) from error


def _section(data: Mapping[str, Any], faults: Faults) -> SectionRules:
    read: dict[str, Callable[[Any], Any]] = {
        "direction": lambda choice: _one_of("direction", DIRECTIONS, choice),
        "top": _top,
        "override": lambda choice: tuple(
            exact(number) for number in checks.numbers("override", choice)
        ),
        "equal": lambda choice: _one_of("equal", EQUALS, choice),
        "size": lambda choice: _one_of("size", SIZES, choice),
        "others_move_up": lambda choice: checks.yes_or_no("others_move_up", choice),
        "cap": lambda choice: _one_of("cap", CAPS, choice),
    }
    for key in CHOICES:
        read[key] = lambda choice, key=key: score_rule(key, choice)  # type: ignore[misc]
    return SectionRules(**_read("section", data, read, faults))


def _net(data: Mapping[str, Any], unit: Unit, faults: Faults) -> NetRules:
    return NetRules(
        **_read(
            "net",
            data,
            {
                "limit": lambda choice: _weight("limit", choice, unit),
                "over": lambda choice: _one_of("over", OVERS, choice),
                "tolerance": lambda choice: _weight("tolerance", choice, unit),
            },
            faults,
        )
    )


def _team(data: Mapping[str, Any], faults: Faults) -> TeamRules:
    return TeamRules(
        **_read(
            "team",
            data,
            {
                "size": lambda choice: checks.whole("size", choice, least=1),
                "per_section": lambda choice: checks.whole("per_section", choice, least=1),
                "count": lambda choice: checks.whole("count", choice, least=1),
                "ties": lambda choice: _ladder("ties", TEAM_RUNGS, choice),
            },
            faults,
        )
    )


def _season(data: Mapping[str, Any], faults: Faults) -> SeasonRules:
    return SeasonRules(
        **_read(
            "season",
            data,
            {
                "score": lambda choice: _one_of("score", SEASON_SCORES, choice),
                "best": lambda choice: checks.whole("best", choice, least=1),
                "drop": _drop,
                "minimum": lambda choice: checks.whole("minimum", choice),
                "undroppable": lambda choice: tuple(
                    checks.whole("undroppable", number)
                    for number in checks.array("undroppable", choice)
                ),
                "cancelled": lambda choice: _one_of("cancelled", CANCELLED, choice),
                "up": lambda choice: checks.whole("up", choice),
                "down": lambda choice: checks.whole("down", choice),
                "ties": lambda choice: _ladder("ties", SEASON_RUNGS, choice),
                "penalties_after_drop": lambda choice: checks.yes_or_no(
                    "penalties_after_drop", choice
                ),
                "disqualified_counts": lambda choice: checks.yes_or_no(
                    "disqualified_counts", choice
                ),
            },
            faults,
        )
    )


def _read(
    where: str, data: Mapping[str, Any], read: Mapping[str, Callable[[Any], Any]], faults: Faults
) -> dict[str, Any]:
    """Each key that is there, read; a fault is noted with its table and the key left out."""
    found = {}
    for key, choice in data.items():
        try:
            found[key] = read[key](choice)
        except RuleError as error:
            faults.words.append(f"{where}: {error}")
    return found


def _one_of(key: str, choices: Mapping[Any, T], choice: object) -> T:
    if isinstance(choice, str) and choice in choices:
        return choices[choice]
    allowed = listed(tuple(str(name) for name in choices))
    raise RulebookError(f"{key} = {shown(choice)} is no choice there. Write {allowed}.")


def _top(choice: object) -> TopRule:
    if isinstance(choice, str):
        if choice in TOPS:
            return TOPS[choice]
        words = choice.split()
        if len(words) == 2 and words[0] == "max" and words[1].isascii() and words[1].isdecimal():
            return top_at_least(checks.whole("top", int(words[1]), least=1))
    if isinstance(choice, int) and not isinstance(choice, bool):
        return top_fixed(checks.whole("top", choice, least=1))
    if isinstance(choice, (list, tuple)):
        return top_listed(checks.numbers("top", choice))
    raise RulebookError(
        f'top = {shown(choice)} is no choice there. Write "section", "teams", "match", a whole '
        'number, "max 60" with your own number, or a list with first place first.'
    )


def _weight(key: str, choice: object, unit: Unit) -> int | None:
    if choice == "none":
        return None
    if not isinstance(choice, str):
        raise RulebookError(
            f'{key} = {shown(choice)} is no weight. Write it in quotes, "{_example(unit)}" say, '
            'or "none".'
        )
    try:
        return Weight.parse(choice, unit).amount
    except WeightError as error:
        raise RulebookError(f"{key}: {error}") from error


def _example(unit: Unit) -> str:
    return "40-0" if unit is Unit.LB_OZ else "20.000"


def _ladder(key: str, rungs: Mapping[str, T], choice: object) -> tuple[T, ...]:
    return tuple(_one_of(key, rungs, name) for name in checks.array(key, choice))


def _drop(choice: object) -> int | tuple[tuple[int, int], ...]:
    if isinstance(choice, Mapping):
        steps = []
        for rounds, dropped in choice.items():
            if not (str(rounds).isascii() and str(rounds).isdecimal()):
                raise RulebookError(
                    f"drop: {rounds!r} is no number of rounds. Write drop = {{ 9 = 3, 7 = 2 }}."
                )
            steps.append((int(rounds), checks.whole("drop", dropped)))
        for rounds, dropped in steps:
            if dropped >= rounds:
                raise RulebookError(
                    f"drop: after {rounds} rounds, {dropped} dropped would leave none to count."
                )
        return tuple(sorted(steps))
    return checks.whole("drop", choice)
