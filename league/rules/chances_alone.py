"""What can still happen, of anglers: each for himself, with everybody else there or away."""

from __future__ import annotations

from math import inf

from league.rules.figures import and_list, capital, number_word
from league.rules.race import Chance, Verdict
from league.rules.race_words import MOST_NAMED, Telling, everything, most, written
from league.rules.splits import RUNGS


def _won_alone(chance: Chance, telling: Telling) -> str:
    """What is reached with everything won; as much as the last round gave, where that varies."""
    as_last = f" as round {telling.last} was" if chance.best in (inf, -inf) else ""
    return f"{written(chance.reached)} with {everything(telling)} won{as_last}"


def _can_alone(chance: Chance, telling: Telling) -> str:
    if chance.enough:
        return f"Champion with {everything(telling)} won, whatever others do."
    many = len(chance.threats) - MOST_NAMED
    named = [telling.name(key) for key in chance.threats[:MOST_NAMED]]
    if many > 0:
        named.append("one other" if many == 1 else f"{number_word(many)} others")
    ends = "end" if len(chance.threats) > 1 else "ends"
    more = "more" if telling.low else "less"
    return f"{_won_alone(chance, telling)}, if {and_list(named)} {ends} with {more}."


def _level_alone(chance: Chance, telling: Telling) -> str:
    ties = telling.book.season.ties
    decides = f"then {RUNGS[ties[0].key]}" if ties else "and they share it"
    rival = telling.name(chance.rival)
    return f"{_won_alone(chance, telling)}: level with {rival} at best, {decides}."


def _open_alone(chance: Chance, telling: Telling) -> str:
    if chance.reached in (inf, -inf):
        return f"{capital(most(chance, telling))}, and nobody has fished so many yet."
    return (
        f"{_won_alone(chance, telling)}; {telling.name(chance.rival)} would be ahead even staying "
        f"away, if the rounds left are as round {telling.last} was."
    )


SAY_ALONE = {
    Verdict.CAN: _can_alone,
    Verdict.LEVEL: _level_alone,
    Verdict.OPEN: _open_alone,
}
