"""The columns of a season's table under other rules: page, terminal and file read these."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from league.columns import Column, placing, plain_score, score
from league.rules.lines import SeasonResult, TableLine
from league.rules.what_if import Pair, WhatIf


def what_if_columns(what_if: WhatIf) -> tuple[Column[Pair], ...]:
    """A table as it would be, beside the one there is."""

    def beside(
        when: str, season: SeasonResult, at: Callable[[Pair], TableLine]
    ) -> Iterator[Column[Pair]]:
        yield Column[Pair](
            f"place-{when}",
            f"Place {when}",
            lambda pair: placing(at(pair).place, at(pair).equal),
            True,
        )
        yield Column[Pair](
            f"total-{when}",
            f"Total {when}",
            lambda pair: score(at(pair).total, season.unit, season.by_weight),
            True,
            lambda pair: plain_score(at(pair).total, season.unit, season.by_weight),
        )

    place, total = beside("then", what_if.then, lambda pair: pair.then)
    who = "Team" if what_if.then.table != what_if.then.anglers else "Angler"
    name = Column[Pair]("name", who, lambda pair: pair.then.name)
    return (place, name, total, *beside("now", what_if.now, lambda pair: pair.now))
