"""What can still happen, in sentences."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from league.rules import weights
from league.rules.chances_alone import SAY_ALONE
from league.rules.figures import (
    and_list,
    capital,
    number_word,
    ordinal_word,
)
from league.rules.lines import SeasonResult
from league.rules.race import Chance, Verdict
from league.rules.race_words import MOST_NAMED, Said, Telling, everything, most, written
from league.rules.rulebook import Rulebook
from league.rules.splits import RUNGS

LISTED = 10  # anglers who can still win: those further down go into one line
SAID_APART = 6  # who cannot win: more than so many go into one line


def say_chances(
    season: SeasonResult,
    book: Rulebook,
    said: Sequence[Chance],
    rounds: Sequence[int],
    *,
    of_anglers: bool = False,
) -> list[Said]:
    """The chances of *season* with *rounds* to fish, best first; who is out comes last."""
    alone = of_anglers or season.table is season.anglers
    telling = Telling(
        {line.key: line for line in (season.anglers if alone else season.table)},
        book,
        tuple(rounds),
        max((number for number, _ in season.rounds), default=0),
        alone,
    )
    say = _SAY | SAY_ALONE if alone else _SAY
    inside = [each for each in said if each.verdict is not Verdict.CANNOT]
    out = [each for each in said if each.verdict is Verdict.CANNOT]
    told = [
        Said(telling.name(each.key), _verdict(each, telling), say[each.verdict](each, telling))
        for each in (inside[:LISTED] if alone else inside)
    ]
    if more := inside[len(told) :]:
        told.append(_others(more, telling))
    if len(out) > SAID_APART:
        return [*told, _all_out(out, telling)]
    return told + [
        Said(telling.name(each.key), "Cannot win", _cannot(each, telling), out=True) for each in out
    ]


def _all_out(out: Sequence[Chance], telling: Telling) -> Said:
    """Those who cannot win in one line; of a crowd of anglers only how many they are."""
    rival = min(out, key=lambda each: -telling.book.sign * each.rival_total if each.rival else 0)
    why = f" {_already(rival, telling)}" if rival.rival else ""
    count = capital(number_word(len(out)))
    if telling.alone and len(out) > LISTED:
        first = f"{most(out[0], telling)}, and the others no better."
        return Said(f"{count} others", "Cannot win", f"{capital(first)}{why}", out=True)
    listed = and_list([f"{telling.name(each.key)} ({most(each, telling)})" for each in out])
    name = "anglers" if telling.alone else "teams"
    return Said(f"{count} {name}", "Cannot win", f"{listed}.{why}", out=True)


def _others(more: Sequence[Chance], telling: Telling) -> Said:
    """Those lower down in one line: what they have of a chance needs the most of others."""
    count = capital(number_word(len(more)))
    open_only = all(each.verdict is Verdict.OPEN for each in more)
    return Said(
        "One other" if len(more) == 1 else f"{count} others",
        "Still open" if open_only else "Not ruled out",
        f"With {everything(telling)} won, and everybody above far enough behind.",
    )


def _verdict(chance: Chance, telling: Telling) -> str:
    if chance.verdict is Verdict.LEVEL:
        first = telling.book.season.ties[0] if telling.book.season.ties else None
        if first and first.kind == "weight":
            return f"Can still win, on {RUNGS[first.key]} only"
    if telling.alone and chance.verdict is Verdict.CHAMPIONS:
        return "Champion"
    return str(chance.verdict).capitalize()


def _champions(chance: Chance, telling: Telling) -> str:
    least = "at most" if telling.low else "at least"
    sure = f"Whatever happens: {written(chance.worst)} {least}, and "
    if chance.rival_total in (inf, -inf):
        return f"{sure}nobody else can fish the {telling.book.season.minimum} rounds it takes."
    return f"{sure}{telling.name(chance.rival)}, the nearest, {telling.most(chance.rival_total)}."


def _cannot(chance: Chance, telling: Telling) -> str:
    if not chance.rival:
        return f"{most(chance, telling)}: their rivals cannot all be far enough down at once."
    return f"{capital(most(chance, telling))}; {_already(chance, telling)}"


def _already(chance: Chance, telling: Telling) -> str:
    if chance.rival not in telling.lines:
        return f"somebody new ends with {_sure(chance, telling)}."
    rival = telling.lines[chance.rival]
    if rival.total == chance.rival_total and not telling.low:
        have = telling.verb("have", "has")
        return f"{rival.name} already {have} {written(chance.rival_total)}."
    return f"{rival.name} {telling.verb('end', 'ends')} with {_sure(chance, telling)}."


def _sure(chance: Chance, telling: Telling) -> str:
    return f"{written(chance.rival_total)} {'at most' if telling.low else 'at least'}"


def _can(chance: Chance, telling: Telling) -> str:
    return _single(chance, telling) if chance.held_to else _several(chance, telling)


def _single(chance: Chance, telling: Telling) -> str:
    """Of the one contest left: what must happen is known exactly."""
    [number] = telling.rounds
    if chance.enough > 1:
        place = ordinal_word(chance.enough)
        return f"Champions if they are {place} or better in round {number}, whatever others do."
    held = _held(chance, telling)
    if not held:
        return f"Champions if they win round {number}, whatever others do."
    return f"Win round {number} with {held}."


def _held(chance: Chance, telling: Telling) -> str:
    held = {key: place for key, place in chance.held_to.items() if place > 2}
    by_place: dict[int, list[str]] = {}
    for key, place in held.items():
        by_place.setdefault(place, []).append(telling.name(key))
    return and_list(
        [f"{and_list(names)} {ordinal_word(place)} or worse" for place, names in by_place.items()]
    )


def _several(chance: Chance, telling: Telling) -> str:
    """Of more than that: one way it happens."""
    rivals = _threatening(chance, telling)
    total = written(chance.best)
    said = f"{total} with {everything(telling)} won."
    if not rivals:
        return f"{said} Nobody else can have so {'few' if telling.low else 'many'}."
    shown = [
        f"{telling.name(key)} score {and_list([written(p) for p in chance.way[key]])} "
        f"and end with {written(chance.ends[key])}"
        for key in rivals[:MOST_NAMED]
    ]
    more = len(rivals) - len(shown)
    if more > 0:
        other = "other slips" if more == 1 else "others slip"
        shown.append(f"{number_word(more)} {other} as well")
    return f"{said} One way: {'; '.join(shown)}."


def _threatening(chance: Chance, telling: Telling) -> list[str]:
    """Those whose way matters: by less they would end as well or better."""
    sign = telling.book.sign
    ends = sorted(chance.ends, key=lambda key: sign * chance.ends[key])
    return [key for key in ends if sign * telling.lines[key].total <= sign * chance.best][
        : MOST_NAMED + len(ends)
    ] or ends[:1]


def _level(chance: Chance, telling: Telling) -> str:
    ties = telling.book.season.ties
    decides = f"then {RUNGS[ties[0].key]}" if ties else "and they share it"
    level = f"level on {written(chance.best)}, {decides}{_behind(chance, telling)}"
    if chance.held_to:
        [number] = telling.rounds
        held = _held(chance, telling)
        return f"Win round {number}{f' with {held}' if held else ''}: {level}."
    return f"{_several(chance, telling).rstrip('.')}: {level}."


def _behind(chance: Chance, telling: Telling) -> str:
    """How far behind on weight they are of whoever they may be level with."""
    ties = telling.book.season.ties
    if not ties or ties[0].key != "weight":
        return ""
    ours = telling.lines[chance.key].weight
    level = [key for key, end in chance.ends.items() if end == chance.best]
    most = max((telling.lines[key].weight for key in level), default=ours)
    if most <= ours:
        return ""
    return f", where they are {weights.spoken(most - ours, telling.book.unit)} behind"


def _open(chance: Chance, telling: Telling) -> str:
    if chance.rival:
        return (
            f"{capital(most(chance, telling))}. {telling.name(chance.rival)} do better even in "
            "last place: it takes their staying away, or catching nothing."
        )
    return (
        f"{capital(most(chance, telling))}. Not ruled out, and no way found by which it happens: "
        "that would take every way the rounds left can end."
    )


_SAY = {
    Verdict.CHAMPIONS: _champions,
    Verdict.CAN: _can,
    Verdict.LEVEL: _level,
    Verdict.OPEN: _open,
}
