"""What a corrected result moves in money, beside what has been handed out already."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from league.rules.pools_pence import shortly


@dataclass(frozen=True, slots=True)
class MoneyMoved:
    """One payee whose sum changes."""

    key: str
    name: str
    was: int
    now: int
    handed: int  # already in their hand

    @property
    def balance(self) -> int:
        """What is still to be handed over; less than nothing has to come back."""
        return self.now - self.handed


def what_moves(
    before: Mapping[str, int],
    after: Mapping[str, int],
    handed: Mapping[str, int],
    names: Mapping[str, str],
) -> tuple[MoneyMoved, ...]:
    """
    Everybody whose sum changes from *before* to *after*, those who lose most first.

    All sums in pence, by the payee's key.
    """
    keys = before.keys() | after.keys()
    moved = [
        MoneyMoved(key, names.get(key, key), before.get(key, 0), after.get(key, 0),
                   handed.get(key, 0))
        for key in keys
        if before.get(key, 0) != after.get(key, 0)
    ]  # fmt: skip
    return tuple(sorted(moved, key=lambda each: (each.now - each.was, each.name, each.key)))


def say_sum_moved(moved: MoneyMoved) -> str:
    """
    One change in a sentence.

    >>> say_sum_moved(MoneyMoved("a", "Ana Ferradas", 6900, 4100, 0))
    'Ana Ferradas: £69 becomes £41.'
    """
    was = shortly(moved.was) if moved.was else "nothing"
    return f"{moved.name}: {was} becomes {shortly(moved.now) if moved.now else 'nothing'}."


def say_money_moved(moved: MoneyMoved) -> str:
    """
    One change in a sentence, and what has to be done about it.

    >>> say_money_moved(MoneyMoved("a", "Ana Ferradas", 6900, 4100, 6900))
    'Ana Ferradas: £69 becomes £41. £69 was handed over, so £28 has to come back.'
    """
    said = say_sum_moved(moved)
    if not moved.handed:
        return f"{said} Nothing was handed over yet."
    handed = f"{shortly(moved.handed)} was handed over"
    if moved.balance < 0:
        return f"{said} {handed}, so {shortly(-moved.balance)} has to come back."
    if moved.balance:
        return f"{said} {handed}, so {shortly(moved.balance)} is still to come."
    return f"{said} {handed}: that is right now."
