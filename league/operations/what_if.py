"""A season's table under other rules, from the results as published; writes nothing."""

from __future__ import annotations

from dataclasses import dataclass, replace

from league.files import rulebook as rulebook_file
from league.models import Season
from league.operations.table import published
from league.rules.figures import and_list
from league.rules.lines import SeasonResult
from league.rules.rulebook import Rulebook
from league.rules.what_if import WhatIf, fitted, scored_again, what_if


@dataclass(frozen=True, slots=True)
class Supposed:
    """The answer, and what is to be said about how it was come by."""

    book: Rulebook  # as laid over the season
    answer: WhatIf
    notes: tuple[str, ...]


def suppose(season: Season, other: Rulebook) -> Supposed:
    """
    What the table of *season* would be under *other*.

    Every round is scored again from the rows its newest published version keeps: weights that came
    in since count no more here than on the wall.
    """
    told = published(season)
    book = rulebook_file.from_dict(season.book)
    laid, notes = fitted(other, book)

    def table(rules: Rulebook) -> SeasonResult:
        return told.table(rules, scored_again(told.rounds, rules))

    by_others = [
        str(number)
        for number, rules in told.rules.items()
        if replace(rulebook_file.from_dict(rules), name=book.name) != book
    ]
    if by_others:
        many = len(by_others) > 1
        notes = (
            *notes,
            f"Round{'s' if many else ''} {and_list(by_others)} {'were' if many else 'was'} "
            "published under other rules than the season has now. The table as it is keeps what "
            "was published.",
        )
    return Supposed(laid, what_if(told.table(book), table, book, laid), notes)
