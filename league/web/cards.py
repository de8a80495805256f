"""The cards of a draw: a row a team, a column a section, turned one after another."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from league.rules.weights import Unit
from league.strip import DRAW, State, Strip, StripPeg, draw_strip
from league.web.bank import surname
from league.web.walk import Stop

# Rows and columns of cards for which the style sheet has letters of a size.
COLUMNS = (2, 4, 6, 8, 12, 16, 24)
ROWS = (6, 9, 12, 16, 20, 24, 32)
ALONE_ROWS = 12  # cards of anglers without a team, one under another

Cells: TypeAlias = Mapping[str, Sequence["Stop | None"]]


@dataclass(frozen=True, slots=True)
class Card:
    """One card: who drew which peg, and whether it is turned."""

    stop: Stop
    turn: int  # counts from 1, in the order of turning
    turned: bool
    latest: bool
    next: bool

    @property
    def surname(self) -> str:
        """As much of the name as a small card takes."""
        return surname(self.stop.name)

    @property
    def whose(self) -> str:
        """Whose card it is: the team's, or the angler's own."""
        team = self.stop.entry.team
        return team.name if team else self.stop.name

    @property
    def button(self) -> str:
        """What turning it is called: Turn Pennyfold’s card, Turn Lamplighters’ card."""
        return f"Turn {self.whose}’{'' if self.whose.endswith('s') else 's'} card"


@dataclass(frozen=True, slots=True)
class Row:
    """A team's cards, or one row of anglers who fish alone; None where there is no card."""

    name: str
    cards: tuple[Card | None, ...]


@dataclass(frozen=True, slots=True)
class Head:
    """A section over its columns: one for each member a team has in it."""

    letter: str
    columns: int


@dataclass(frozen=True, slots=True)
class Cards:
    """All the cards, and how far the turning has come."""

    heads: tuple[Head, ...]
    rows: tuple[Row, ...]
    in_teams: bool
    turned: int
    total: int
    latest: Card | None
    next: Card | None

    @property
    def by_peg(self) -> dict[str, Card]:
        """The cards by the number of their peg."""
        return {card.stop.peg: card for row in self.rows for card in row.cards if card}

    @property
    def left(self) -> int:
        """How many are still face down."""
        return self.total - self.turned

    @property
    def with_easy(self) -> bool:
        """Whether a turned card is one of somebody who needs an easy-access peg."""
        return any(card.turned and card.stop.entry.easy_access for card in self.by_peg.values())

    @property
    def room(self) -> str:
        """The style sheet's words for how many rows and columns have to fit on a screen."""
        columns = _at_most(sum(head.columns for head in self.heads), COLUMNS)
        words = f"columns-{columns} rows-{_at_most(len(self.rows), ROWS)}"
        return words if self.in_teams else f"{words} alone"


def cards_of(walk: Sequence[Stop], *, turned: str = "") -> Cards:
    """
    Lay the cards out; *turned* is how many are face up, as an address says it.

    They are turned section by section, down the rows. Anything but a number turns them all.
    """
    letters = sorted({stop.letter for stop in walk}, key=lambda letter: (len(letter), letter))
    teams, alone = _teams(walk), _alone(walk)
    columns = {
        letter: max(
            -(-len(alone.get(letter, ())) // ALONE_ROWS),
            *(len(cells.get(letter, ())) for cells in teams.values()),
            1,
        )
        for letter in letters
    }
    named: list[tuple[str, Cells]] = [
        *teams.items(),
        *(("", cells) for cells in _alone_rows(alone, columns)),
    ]
    order = [
        stop for letter in letters for _, cells in named for stop in cells.get(letter, ()) if stop
    ]
    up = min(int(turned), len(order)) if turned.isdecimal() and len(turned) < 6 else len(order)
    cards = {
        stop.entry.pk: Card(stop, turn, turn <= up, turn == up, turn == up + 1)
        for turn, stop in enumerate(order, start=1)
    }
    return Cards(
        tuple(Head(letter, columns[letter]) for letter in letters),
        tuple(
            Row(
                name,
                tuple(
                    cards[stop.entry.pk] if stop else None
                    for letter in letters
                    for stop in _filled(cells.get(letter, ()), columns[letter])
                ),
            )
            for name, cells in named
        ),
        bool(teams),
        up,
        len(order),
        next((card for card in cards.values() if card.latest), None),
        next((card for card in cards.values() if card.next), None),
    )


def face_up(walk: Sequence[Stop], turned: int | None) -> list[Stop]:
    """The pegs whose card is turned, of so many turned; all where nothing is turned any more."""
    if turned is None:
        return list(walk)
    by_peg = cards_of(walk, turned=str(turned)).by_peg
    return [stop for stop in walk if by_peg[stop.peg].turned]


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


def _at_most(count: int, steps: Sequence[int]) -> int:
    """The first of *steps* with room for *count*; more than the last take the last's letters."""
    return next((step for step in steps if count <= step), steps[-1])


def _filled(stops: Sequence[Stop | None], columns: int) -> list[Stop | None]:
    return [*stops, *([None] * (columns - len(stops)))]


def _teams(walk: Sequence[Stop]) -> dict[str, dict[str, list[Stop | None]]]:
    """The teams in the order of booking, with their members by section."""
    rows: dict[str, dict[str, list[Stop | None]]] = {}
    for stop in sorted(walk, key=lambda each: each.entry.number):
        if stop.entry.team:
            rows.setdefault(stop.entry.team.name, {}).setdefault(stop.letter, []).append(stop)
    return rows


def _alone(walk: Sequence[Stop]) -> dict[str, list[Stop]]:
    """Those without a team, by section, in the order of booking."""
    alone: dict[str, list[Stop]] = {}
    for stop in sorted(walk, key=lambda each: each.entry.number):
        if not stop.entry.team:
            alone.setdefault(stop.letter, []).append(stop)
    return alone


def _alone_rows(alone: dict[str, list[Stop]], columns: dict[str, int]) -> list[Cells]:
    """Their cards in the columns of their section, filled one column after another."""
    high = max((-(-len(stops) // columns[letter]) for letter, stops in alone.items()), default=0)
    return [
        {letter: stops[row::high] for letter, stops in alone.items() if stops[row::high]}
        for row in range(high)
    ]


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
