"""A season under other rules, in words: who would lead, who would move and past whom."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from league.rules import weights
from league.rules.figures import (
    and_list,
    capital,
    number_word,
    ordinal,
    points_said,
    points_written,
)
from league.rules.lines import Points, RungCheck, SeasonResult
from league.rules.splits import RUNGS, rung_figures
from league.rules.weights import Unit
from league.rules.what_if import RuleChange, WhatIf

MOST_NAMED = 4
MOST_ROUNDS = 3


def what_if_headline(what_if: WhatIf) -> str:
    """The answer: "Old Quarry would lead, not Tannery Lane", or that nobody changes place."""
    if not what_if.then.table or not what_if.then.rounds:
        return "Nothing has been fished yet"
    if not what_if.moves:
        return "Nobody changes place"
    was = [line.name for line in what_if.now.table if line.place == 1]
    would = [line.name for line in what_if.then.table if line.place == 1]
    over = _is_over(what_if.now)
    if was == would or set(was) == set(would):
        of_teams = what_if.then.table != what_if.then.anglers
        singular, plural = ("wins", "win") if over else ("leads", "lead")
        verb = plural if of_teams or len(was) > 1 else singular
        first = "the same" if len(was) > MOST_NAMED else and_list(was)
        return f"{capital(first)} still {verb}; {_places(len(what_if.moves))}"
    verb = "win" if over else "lead"
    first = and_list(would) if len(would) <= MOST_NAMED else capital(_named(would))
    return f"{first} would {verb}, not {_named(was)}"


def _is_over(season: SeasonResult) -> bool:
    gone = len({line.round for line in season.table[0].rounds})
    return season.planned is not None and gone >= season.planned


def _places(count: int) -> str:
    return f"{number_word(count)} change{'s' if count == 1 else ''} place"


def _named(names: list[str]) -> str:
    return and_list(names) if len(names) <= MOST_NAMED else f"{number_word(len(names))} level"


def say_orders(what_if: WhatIf) -> str:
    """Both orders in a sentence each, and who changes place."""
    now, then = (
        ", ".join(f"{_place(line.place, line.equal)} {line.name}" for line in season.table)
        for season in (what_if.now, what_if.then)
    )
    moved = [move.facts["name"] for move in what_if.moves]
    change = f"{and_list(moved)} change place" if len(moved) > 1 else "Nobody changes place"
    if len(moved) == 1:
        change = f"{moved[0]} changes place"
    return f"Now: {now}. Then: {then}. {change}."


def say_alone(change: RuleChange) -> str:
    """What one changed rule moves on its own."""
    if not change.moves:
        return "On its own this moves nobody."
    moved = [
        f"{each.facts['name']} from {ordinal(each.facts['place'])} to "
        f"{ordinal(each.facts['place_then'])}"
        for each in change.moves
        if each.facts["place"] != each.facts["place_then"]
    ]
    if not moved:
        return "On its own this only makes or splits a tie."
    more = len(moved) - MOST_NAMED
    if more > 1:
        moved = [*moved[:MOST_NAMED], f"{number_word(more)} more"]
    return f"On its own: {and_list(moved)}."


def say_moved(facts: Mapping[str, Any], unit: Unit) -> str:
    """Whoever moves: past whom, by which points and rounds, and how near it is."""
    said = [_step(facts), _total(facts, unit), *_rounds(facts, unit), *_nearest(facts, unit)]
    if facts["short"]:
        said.append("Listed below everybody who has fished enough rounds.")
    if facts["enough"]:
        said.append("No longer listed below those who have fished enough rounds.")
    return " ".join(said)


def _step(facts: Mapping[str, Any]) -> str:
    was = _place(facts["place"], facts["equal"])
    then = _place(facts["place_then"], facts["equal_then"])
    parts = [
        f"{how} {_names(facts[key])}"
        for how, key in (("past", "past"), ("level with", "level"), ("behind", "behind"))
        if facts[key]
    ]
    return f"{capital(', '.join([f'from {was} to {then}', *parts]))}."


def _place(place: int, equal: bool) -> str:
    return f"equal {ordinal(place)}" if equal else ordinal(place)


def _names(names: tuple[str, ...]) -> str:
    if len(names) > MOST_NAMED:
        return f"{number_word(len(names))} others"
    return and_list(list(names))


def _total(facts: Mapping[str, Any], unit: Unit) -> str:
    was, then = facts["total"], facts["total_then"]
    if facts["weighed"] == facts["weighed_then"] and was == then:
        return f"Still {_figure(was, facts['weighed'], unit)}."
    same = facts["weighed"] == facts["weighed_then"]
    becomes = (
        points_written(then)
        if same and not facts["weighed"]
        else (_figure(then, facts["weighed_then"], unit))
    )
    verb = "becomes" if facts["weighed"] or was == 1 else "become"
    return f"{_figure(was, facts['weighed'], unit)} {verb} {becomes}."


def _figure(total: Points, weighed: bool, unit: Unit) -> str:
    return weights.spoken(int(total), unit) if weighed else points_said(total)


def _short_figure(total: Points | None, weighed: bool, unit: Unit) -> str:
    if weighed and total is not None:
        return weights.written(int(total), unit)
    return points_written(total)


def _rounds(facts: Mapping[str, Any], unit: Unit) -> list[str]:
    """Which rounds score, count or drop otherwise."""
    weighed = facts["weighed_then"]
    said = []
    if facts["every_round"]:
        said.append("Every round scores otherwise.")
    elif len(facts["rescored"]) > MOST_ROUNDS:
        said.append(f"{capital(number_word(len(facts['rescored'])))} rounds score otherwise.")
    else:
        said += [
            f"Round {number} scores {_short_figure(then, weighed, unit)}, "
            f"not {_short_figure(was, weighed, unit)}."
            for number, was, then in facts["rescored"]
        ]
    for key, one, many in (
        ("counts", "counts", "count"),
        ("dropped", "is dropped", "are dropped"),
    ):
        rounds = [
            f"round {number} ({_short_figure(score, weighed, unit)})"
            for number, score in facts[key]
        ]
        if rounds:
            said.append(f"{capital(and_list(rounds))} {one if len(rounds) == 1 else many}.")
    return said


def _nearest(facts: Mapping[str, Any], unit: Unit) -> list[str]:
    """How near the one just overtaken is, now and then."""
    if "rival" not in facts:
        return []
    now = _against(
        facts["total"], facts["rival_total"], facts["weighed"], facts["split"], "now", unit
    )
    then = _against(
        facts["total_then"],
        facts["rival_total_then"],
        facts["weighed_then"],
        facts["split_then"],
        "then",
        unit,
    )
    return [f"Against {facts['rival']}: {now}; {then}."]


def _against(ours: Points, theirs: Points, weighed: bool, split: Any, when: str, unit: Unit) -> str:
    mine, other = _short_figure(ours, weighed, unit), _short_figure(theirs, weighed, unit)
    if ours != theirs:
        return f"{mine} to {other} {when}"
    if split is None:
        return f"level on {mine} {when}"
    rung, our_figure, their_figure, is_weight, ahead = split
    check = RungCheck(rung, our_figure, their_figure, "split", is_weight)
    figures = " to ".join(rung_figures(check, unit))
    return f"level on {mine} {when}, {'ahead' if ahead else 'behind'} on {RUNGS[rung]}, {figures}"
