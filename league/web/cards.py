"""The cards of a draw: a row a team, a column a section, turned one after another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from league.rules.weights import Unit
from league.strip import DRAW, State, Strip, StripPeg, draw_strip
from league.web.walk import Stop


@dataclass(frozen=True, slots=True)
class Card:
    """One card: who drew which peg, and whether it is turned."""

    stop: Stop
    turn: int  # counts from 1, in the order of turning
    turned: bool
    latest: bool
    next: bool

    @property
    def whose(self) -> str:
        """Whose card it is: the team's, or the angler's own."""
        team = self.stop.entry.team
        return team.name if team else self.stop.name


@dataclass(frozen=True, slots=True)
class Row:
    """A team's cards, or one row of anglers who fish alone."""

    name: str
    cells: tuple[tuple[Card, ...], ...]  # a cell a section


@dataclass(frozen=True, slots=True)
class Cards:
    """All the cards, and how far the turning has come."""

    letters: tuple[str, ...]
    rows: tuple[Row, ...]
    turned: int
    total: int
    latest: Card | None
    next: Card | None

    @property
    def by_peg(self) -> dict[str, Card]:
        """The cards by the number of their peg."""
        return {card.stop.peg: card for row in self.rows for cell in row.cells for card in cell}

    @property
    def left(self) -> int:
        """How many are still face down."""
        return self.total - self.turned


def cards_of(walk: Sequence[Stop], *, turned: str = "") -> Cards:
    """
    Lay the cards out; *turned* is how many are face up, as an address says it.

    They are turned section by section, down the rows. Anything but a number turns them all.
    """
    letters = tuple(
        sorted({stop.letter for stop in walk}, key=lambda letter: (len(letter), letter))
    )
    names = _rows(walk)
    order = [
        stop for letter in letters for cells in names.values() for stop in cells.get(letter, ())
    ]
    up = min(int(turned), len(order)) if turned.isdecimal() and len(turned) < 6 else len(order)
    cards = {
        stop.entry.pk: Card(stop, turn, turn <= up, turn == up, turn == up + 1)
        for turn, stop in enumerate(order, start=1)
    }
    rows = tuple(
        Row(
            name,
            tuple(
                tuple(cards[stop.entry.pk] for stop in cells.get(letter, ())) for letter in letters
            ),
        )
        for name, cells in names.items()
    )
    return Cards(
        letters,
        rows,
        up,
        len(order),
        next((card for card in cards.values() if card.latest), None),
        next((card for card in cards.values() if card.next), None),
    )


def strip_of_cards(cards: Cards, layout: Sequence[dict[str, object]], unit: Unit) -> Strip:
    """The bank as drawn so far: a team's letters over every peg whose card is turned."""
    by_peg = cards.by_peg
    pegs = []
    for place in layout:
        card = by_peg.get(str(place["number"]))
        pegs.append(
            StripPeg(
                number=str(place["number"]),
                section=str(place["section"]),
                state=_state(card),
                label=_label(card) if card else "",
                name=card.stop.name if card and card.turned else "",
                gap_before=int(str(place["gap_before"])),
            )
        )
    return draw_strip(
        pegs,
        DRAW,
        unit=unit,
        key="drawn",
        title="The bank as drawn so far",
        description=f"{cards.turned} cards turned, {cards.left} still to turn.",
    )


def _rows(walk: Sequence[Stop]) -> dict[str, dict[str, list[Stop]]]:
    """Teams in the order of booking; anglers without a team share rows, one to a section."""
    rows: dict[str, dict[str, list[Stop]]] = {}
    alone: dict[str, int] = {}
    for stop in sorted(walk, key=lambda each: each.entry.number):
        if stop.entry.team:
            name = stop.entry.team.name
        else:
            alone[stop.letter] = alone.get(stop.letter, 0) + 1
            name = f"Card {alone[stop.letter]}"
        rows.setdefault(name, {}).setdefault(stop.letter, []).append(stop)
    return rows


def _state(card: Card | None) -> State:
    if card is None:
        return State.EMPTY
    if card.latest:
        return State.LATEST
    return State.TURNED if card.turned else State.WAITING


def _label(card: Card) -> str:
    """The few letters over a peg: the team's code, or the angler's initials."""
    if card.stop.entry.team:
        return card.stop.entry.team.code[:3]
    return "".join(word[0] for word in card.stop.name.split()[:2] if word[0].isalpha())
