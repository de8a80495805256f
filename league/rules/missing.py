"""What a match day still lacks, step by step, in short sentences."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from league.rules.figures import and_list, number_word, so_many
from league.rules.pools_pence import shortly

NAMED = 8  # pegs named one by one; more are counted


def line_ups_missing(teams: Mapping[str, int], size: int) -> tuple[str, ...]:
    """
    Which teams are short, and by how many.

    *teams* is how many of each are booked in.

    >>> line_ups_missing({"Bridge End": 2, "Millrace": 4, "Old Quarry": 0}, 4)
    ('Old Quarry has nobody in yet.', 'Bridge End is two short.')
    """
    nobody = [name for name, booked in teams.items() if not booked]
    short = {name: size - booked for name, booked in teams.items() if 0 < booked < size}
    said = []
    if nobody:
        said.append(f"{and_list(nobody)} {'has' if len(nobody) == 1 else 'have'} nobody in yet.")
    said += [f"{name} is {number_word(lacking)} short." for name, lacking in short.items()]
    return tuple(said)


def sections_missing(without: int) -> tuple[str, ...]:
    """How many of the teams' anglers have no section yet."""
    if not without:
        return ()
    return (f"{so_many(without, 'angler')} {_has(without)} no section yet.",)


def stakes_missing(owe: int, owed: int) -> tuple[str, ...]:
    """How many stakes are still to come; *owed* in pence."""
    return (f"{so_many(owe, 'angler')} still to pay, {shortly(owed)}.",) if owe else ()


def weights_missing(to_weigh: Sequence[str], in_question: Sequence[str]) -> tuple[str, ...]:
    """The pegs still to weigh, and those with two weights."""
    said = []
    if to_weigh:
        pegs = "peg" if len(to_weigh) == 1 else "pegs"
        named = and_list(list(to_weigh)) if len(to_weigh) <= NAMED else ""
        said.append(
            f"Still to weigh: {pegs} {named}."
            if named
            else f"{len(to_weigh)} pegs still to weigh, the next is {to_weigh[0]}."
        )
    if in_question:
        pegs = "Peg" if len(in_question) == 1 else "Pegs"
        said.append(f"{pegs} {and_list(list(in_question))}: two weights, say which one stands.")
    return tuple(said)


def phones_missing(waiting: Mapping[str, int]) -> tuple[str, ...]:
    """The phones that said they still hold weights."""
    return tuple(
        f"{name} has {so_many(count, 'weight')} still to send."
        for name, count in waiting.items()
        if count
    )


def _has(count: int) -> str:
    return "has" if count == 1 else "have"
