"""What can still happen, in sentences."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from league.rules import weights
from league.rules.chances import Chance, Verdict
from league.rules.figures import and_list, number_word, ordinal_word, points_written
from league.rules.lines import SeasonResult, TableLine
from league.rules.rulebook import Rulebook
from league.rules.splits import RUNGS

MOST_NAMED = 4
SAID_APART = 6  # who cannot win: more than so many go into one line


@dataclass(frozen=True, slots=True)
class Said:
    """One line: who, what can be said, and what it rests on."""

    name: str
    verdict: str
    words: str
    out: bool = False


@dataclass(frozen=True, slots=True)
class _Telling:
    lines: Mapping[str, TableLine]
    book: Rulebook
    rounds: tuple[int, ...]

    @property
    def low(self) -> bool:
        return self.book.sign > 0

    def name(self, key: str) -> str:
        return self.lines[key].name


def say_chances(
    season: SeasonResult, book: Rulebook, said: Sequence[Chance], rounds: Sequence[int]
) -> list[Said]:
    """The chances of *season* with *rounds* to fish, best first; who is out comes last."""
    telling = _Telling({line.key: line for line in season.table}, book, tuple(rounds))
    inside = [each for each in said if each.verdict is not Verdict.CANNOT]
    out = [each for each in said if each.verdict is Verdict.CANNOT]
    told = [
        Said(telling.name(each.key), _verdict(each, telling), _SAY[each.verdict](each, telling))
        for each in inside
    ]
    if len(out) > SAID_APART:
        listed = and_list([f"{telling.name(e.key)} ({_most(e, telling)})" for e in out])
        rival = min(out, key=lambda each: -book.sign * each.rival_total if each.rival else 0)
        why = f" {_already(rival, telling)}" if rival.rival else ""
        return [*told, Said(f"{number_word(len(out)).capitalize()} teams", "Cannot win",
                            f"{listed}.{why}", out=True)]  # fmt: skip
    return told + [
        Said(telling.name(each.key), "Cannot win", _cannot(each, telling), out=True) for each in out
    ]


def _verdict(chance: Chance, telling: _Telling) -> str:
    if chance.verdict is Verdict.LEVEL:
        first = telling.book.season.ties[0] if telling.book.season.ties else None
        if first and first.kind == "weight":
            return f"Can still win, on {RUNGS[first.key]} only"
    return str(chance.verdict).capitalize()


def _champions(chance: Chance, telling: _Telling) -> str:
    least = "at most" if telling.low else "at least"
    most = "at least" if telling.low else "at most"
    return (
        f"Whatever happens: {points_written(chance.worst)} {least}, and "
        f"{telling.name(chance.rival)}, the nearest, {points_written(chance.rival_total)} {most}."
    )


def _cannot(chance: Chance, telling: _Telling) -> str:
    if not chance.rival:
        return f"{_most(chance, telling)}: their rivals cannot all be far enough down at once."
    return f"{_most(chance, telling)}; {_already(chance, telling)}"


def _most(chance: Chance, telling: _Telling) -> str:
    return f"{points_written(chance.best)} {'at least' if telling.low else 'at most'}"


def _already(chance: Chance, telling: _Telling) -> str:
    rival = telling.lines[chance.rival]
    total = points_written(chance.rival_total)
    if rival.total == chance.rival_total and not telling.low:
        return f"{rival.name} already have {total}."
    sure = "at most" if telling.low else "at least"
    return f"{rival.name} end with {total} {sure}."


def _can(chance: Chance, telling: _Telling) -> str:
    return _single(chance, telling) if chance.held_to else _several(chance, telling)


def _single(chance: Chance, telling: _Telling) -> str:
    """Of the one contest left: what must happen is known exactly."""
    [number] = telling.rounds
    if chance.enough > 1:
        place = ordinal_word(chance.enough)
        return f"Champions if they are {place} or better in round {number}, whatever others do."
    held = _held(chance, telling)
    if not held:
        return f"Champions if they win round {number}, whatever others do."
    return f"Win round {number} with {held}."


def _held(chance: Chance, telling: _Telling) -> str:
    held = {key: place for key, place in chance.held_to.items() if place > 2}
    by_place: dict[int, list[str]] = {}
    for key, place in held.items():
        by_place.setdefault(place, []).append(telling.name(key))
    return and_list(
        [f"{and_list(names)} {ordinal_word(place)} or worse" for place, names in by_place.items()]
    )


def _several(chance: Chance, telling: _Telling) -> str:
    """Of more than that: one way it happens."""
    rivals = _threatening(chance, telling)
    total = points_written(chance.best)
    said = f"{total} with {_everything(telling)} won."
    if not rivals:
        return f"{said} Nobody else can have so {'few' if telling.low else 'many'}."
    shown = [
        f"{telling.name(key)} score {and_list([points_written(p) for p in chance.way[key]])} "
        f"and end with {points_written(chance.ends[key])}"
        for key in rivals[:MOST_NAMED]
    ]
    more = len(rivals) - len(shown)
    if more > 0:
        other = "other slips" if more == 1 else "others slip"
        shown.append(f"{number_word(more)} {other} as well")
    return f"{said} One way: {'; '.join(shown)}."


def _threatening(chance: Chance, telling: _Telling) -> list[str]:
    """Those whose way matters: by less they would end as well or better."""
    sign = telling.book.sign
    ends = sorted(chance.ends, key=lambda key: sign * chance.ends[key])
    return [key for key in ends if sign * telling.lines[key].total <= sign * chance.best][
        : MOST_NAMED + len(ends)
    ] or ends[:1]


def _everything(telling: _Telling) -> str:
    count = len(telling.rounds)
    return f"round {telling.rounds[0]}" if count == 1 else f"all {number_word(count)} rounds left"


def _level(chance: Chance, telling: _Telling) -> str:
    ties = telling.book.season.ties
    decides = f"then {RUNGS[ties[0].key]}" if ties else "and they share it"
    level = f"level on {points_written(chance.best)}, {decides}{_behind(chance, telling)}"
    if chance.held_to:
        [number] = telling.rounds
        held = _held(chance, telling)
        return f"Win round {number}{f' with {held}' if held else ''}: {level}."
    return f"{_several(chance, telling).rstrip('.')}: {level}."


def _behind(chance: Chance, telling: _Telling) -> str:
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


def _open(chance: Chance, telling: _Telling) -> str:
    if chance.rival:
        return (
            f"{_most(chance, telling)}. {telling.name(chance.rival)} do better even in last place: "
            "it takes their staying away, or catching nothing."
        )
    return (
        f"{_most(chance, telling)}. Not ruled out, and no way found by which it happens: that "
        "would take every way the rounds left can end."
    )


_SAY = {
    Verdict.CHAMPIONS: _champions,
    Verdict.CAN: _can,
    Verdict.LEVEL: _level,
    Verdict.OPEN: _open,
}
