"""Anglers without teams shared among sections, and a team drawn by number and turn."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from league.rules.draw_chain import pick
from league.rules.errors import DrawError

Below = Callable[[int], int]

# Chance is added in parts so small that it can never outweigh one visit, however many anglers.
PART = 1000


def share_anglers(
    visits: Sequence[Sequence[int]], places: Sequence[int], below: Below
) -> tuple[int, ...]:
    """
    Put every angler into a section so that all have fished the sections as evenly as can be.

    *visits* has a row an angler and a column a section, *places* says how many each section
    takes. Least cost by 2v + 1 a place, with a little chance added; the same seed gives the same
    sections, but of equally fair ways some may come out more often than others.
    """
    if len(visits) > sum(places):
        raise DrawError(f"{len(visits)} anglers do not fit into {sum(places)} places.")
    slots = [section for section, count in enumerate(places) for _ in range(count)]
    anglers = _shuffled(range(len(visits)), below)
    slots = _shuffled(slots, below)
    scale = PART * (len(visits) + 1)
    costs = [
        [(2 * visits[angler][section] + 1) * scale + below(PART) for section in slots]
        for angler in anglers
    ]
    chosen = _assigned(costs)
    sections = {angler: slots[slot] for angler, slot in zip(anglers, chosen, strict=True)}
    return tuple(sections[angler] for angler in range(len(visits)))


def team_card(number: int, turn: int, sections: Sequence[Sequence[int]]) -> list[tuple[int, int]]:
    """
    The section, counted from 0, and the peg of each member of a team that drew *number* and *turn*.

    The captain draws two discs: the number is the team's place along every section, and the turn
    says which section the first member fishes, the others following in order. Every peg is used
    once. The team that draws 1, or the last number, has an end peg in every section.
    """
    smallest = min(len(pegs) for pegs in sections)
    if not 1 <= number <= smallest:
        raise DrawError(f"A team's number is 1 to {smallest} here, not {number}.")
    if not 1 <= turn <= len(sections):
        raise DrawError(f"A turn is 1 to {len(sections)} here, not {turn}.")
    places = [(member + turn - 1) % len(sections) for member in range(len(sections))]
    return [(section, sections[section][number - 1]) for section in places]


def _shuffled(items: Sequence[int], below: Below) -> list[int]:
    left = list(items)
    return [pick(left, below) for _ in range(len(left))]


def _assigned(costs: Sequence[Sequence[int]]) -> list[int]:
    """
    The cheapest column for every row, each column once (Kuhn 1955, Munkres 1957).

    Rows come in one at a time; each takes the cheapest path of changes, by prices on rows and
    columns. Cubic in the number of anglers, which are a hundred or so.
    """
    rows, columns = len(costs), len(costs[0]) if costs else 0
    row_price, column_price = [0] * rows, [0] * columns
    holder: list[int | None] = [None] * columns
    for row in range(rows):
        nearest = [
            costs[row][column] - row_price[row] - column_price[column] for column in range(columns)
        ]
        came_from: list[int | None] = [None] * columns
        done: list[int] = []
        waiting = set(range(columns))
        while True:
            at = min(waiting, key=lambda column: (nearest[column], column))
            waiting.remove(at)
            done.append(at)
            far = nearest[at]
            held_by = holder[at]
            if held_by is None:
                break
            for column in waiting:
                through = far + costs[held_by][column] - row_price[held_by] - column_price[column]
                if through < nearest[column]:
                    nearest[column], came_from[column] = through, at
        row_price[row] += far
        for column in done[:-1]:
            held = holder[column]
            if held is not None:
                row_price[held] += far - nearest[column]
            column_price[column] -= far - nearest[column]
        while (before := came_from[at]) is not None:
            holder[at], at = holder[before], before
        holder[at] = row
    chosen = [0] * rows
    for column, held in enumerate(holder):
        if held is not None:
            chosen[held] = column
    return chosen
