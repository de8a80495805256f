"""Anglers without teams shared among sections, and a team drawn by number and turn."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from math import inf

from league.rules.errors import DrawError

Below = Callable[[int], int]

# Chance is a whole word of 32 bits for an angler in a section: all of it together can never
# outweigh one visit, and two ways hardly ever weigh the same.
WORDS = 2**32


def share_anglers(
    visits: Sequence[Sequence[int]],
    places: Sequence[int],
    below: Below,
    *,
    needing: Collection[int] = (),
    easy: Sequence[int] = (),
) -> tuple[int, ...]:
    """
    Put every angler into a section so that all have fished the sections as evenly as can be.

    *visits* has a row an angler and a column a section, *places* says how many each section
    takes; those *needing* an easy-access peg, counted from 0, only as many as are *easy*. The
    sharing with the fewest earlier visits comes out, and of several the one whose words, one for
    each angler in each section, add up to the least. Where nobody fished or needs anything every
    sharing is as likely as any other; else of equally fair ones some may come out more often.
    """
    if len(visits) > sum(places):
        raise DrawError(f"{len(visits)} anglers do not fit into {sum(places)} places.")
    visit = WORDS * max(len(visits), 1)
    weights = [[count * visit + below(WORDS) for count in row] for row in visits]
    slots = [
        (section, place < (easy[section] if easy else 0))
        for section, count in enumerate(places)
        for place in range(count)
    ]
    chosen = _assigned(
        [
            [
                inf if angler in needing and not is_easy else row[section]
                for section, is_easy in slots
            ]
            for angler, row in enumerate(weights)
        ]
    )
    return tuple(slots[slot][0] for slot in chosen)


def even_places(anglers: int, pegs: Sequence[int]) -> tuple[int, ...]:
    """
    How many anglers each section takes: one place after another where fewest are so far.

    Of sections with as many the first along the bank gets it, and none more than it has *pegs*.
    """
    if anglers > sum(pegs):
        raise DrawError(f"{anglers} anglers do not fit on {sum(pegs)} pegs.")
    places = [0] * len(pegs)
    for _ in range(anglers):
        room = [n for n, count in enumerate(places) if count < pegs[n]]
        places[min(room, key=lambda n: (places[n], n))] += 1
    return tuple(places)


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


def _assigned(costs: Sequence[Sequence[float]]) -> list[int]:
    """
    The cheapest column for every row, each column once (Kuhn 1955, Munkres 1957).

    Rows come in one at a time; each takes the cheapest path of changes, by prices on rows and
    columns. Cubic in the number of anglers, which are a hundred or so. Whole numbers stay whole;
    an endless cost is a column that the row may not have.
    """
    rows, columns = len(costs), len(costs[0]) if costs else 0
    row_price: list[float] = [0] * rows
    column_price: list[float] = [0] * columns
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
            if far == inf:
                raise DrawError(
                    "The anglers who need accessible pegs cannot all be in a section that has one. "
                    "Mark another peg as accessible."
                )
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
