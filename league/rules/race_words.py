"""How a race is told: who is spoken of, and the pieces of sentences that all of them share."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf

from league.rules.figures import number_word, points_written
from league.rules.lines import TableLine
from league.rules.race import Chance, Total
from league.rules.rulebook import Rulebook

MOST_NAMED = 4


@dataclass(frozen=True, slots=True)
class Said:
    """One line: who, what can be said, and what it rests on."""

    name: str
    verdict: str
    words: str
    out: bool = False


@dataclass(frozen=True, slots=True)
class Telling:
    lines: Mapping[str, TableLine]
    book: Rulebook
    rounds: tuple[int, ...]
    last: int = 0  # the last round fished
    alone: bool = False  # anglers, who are spoken of one by one

    @property
    def low(self) -> bool:
        return self.book.sign > 0

    def name(self, key: str) -> str:
        return self.lines[key].name if key in self.lines else "somebody new"

    def verb(self, of_many: str, of_one: str) -> str:
        """Teams have, an angler has."""
        return of_one if self.alone else of_many

    def most(self, points: Total) -> str:
        """What a total is at most, or in a low league at least."""
        return f"{written(points)} {'at least' if self.low else 'at most'}"


def most(chance: Chance, telling: Telling) -> str:
    if chance.best not in (inf, -inf):
        return telling.most(chance.best)
    rounds = telling.lines[chance.key].fished + len(telling.rounds)
    return f"{number_word(rounds)} of the {telling.book.season.minimum} rounds it takes"


def written(points: Total) -> str:
    """A total that has a limit."""
    return "any number" if isinstance(points, float) else points_written(points)


def everything(telling: Telling) -> str:
    count = len(telling.rounds)
    return f"round {telling.rounds[0]}" if count == 1 else f"all {number_word(count)} rounds left"
