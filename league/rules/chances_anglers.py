"""
What is left of a league of anglers, of whom nobody knows how many come.

A win or a bad day may then be worth more the more there are: made-up rounds of several sizes say
whether it is, and what has no limit is taken to have none.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from functools import lru_cache
from math import inf

from league.rules.lines import MatchResult, Points, Row, SeasonResult, Status, TableLine
from league.rules.matches import score_match
from league.rules.race import NEWCOMER, Contender, Left, Total
from league.rules.rounds import angler_rounds
from league.rules.rulebook import NO_LIMIT, Rulebook

SIZES = (2, 3, 7, 40, 400)  # more than any match has; what still grows there has no limit
HEAVIEST = 1_000_000

Extremes = tuple[Total, Total]  # costs: the best round there can be, and the worst


def in_the_race(line: TableLine, book: Rulebook) -> Contender:
    """A line of a table as somebody in the race."""
    kept = {each.round for each in line.rounds if each.status == Status.DISQUALIFIED.value}
    return Contender(
        line.key,
        {each.round: each.score for each in line.rounds if each.score is not None},
        line.penalty,
        frozenset(kept if book.season.disqualified_counts else ()),
        line.fished,
    )


def with_anglers(left: Left, season: SeasonResult, book: Rulebook) -> Left | None:
    """*left*, with what a round can give an angler; None where somebody may have no score."""
    extremes = _with_teams(season, book) or _given(book)
    away = {number: angler_rounds(result, book)[1].score for number, result in season.rounds}
    # A cancelled round that counts gives everybody nothing.
    away |= {each.round: 0 for each in season.anglers[0].rounds if each.round not in away}
    known = {number: score for number, score in away.items() if score is not None}
    if extremes is None or len(known) < len(away):
        return None
    best, worst = extremes
    sign = book.sign
    given, absent = angler_rounds(season.rounds[-1][1], book)
    scores = [each.score for each in given.values() if each.score is not None]
    won = min(scores, key=lambda score: sign * score, default=None)
    if won is None or absent.score is None:
        return None
    return replace(
        left,
        contests=1,
        table=(sign * best,),
        worst=sign * worst,
        worst_is_kept=book.season.disqualified_counts,
        won=won if isinstance(best, float) else sign * best,
        away=absent.score,
        newcomer=Contender(NEWCOMER, known),
    )


def _with_teams(season: SeasonResult, book: Rulebook) -> Extremes | None:
    """In a league of teams a section is as long as there are teams, unless it was longer before."""
    if season.table is season.anglers:
        return None
    teams = len(season.table)
    longest = max(section.size for _, result in season.rounds for section in result.sections)
    if longest > teams * book.team.per_section:
        return None
    return _of_teams(book, teams)


@lru_cache(maxsize=128)
def _of_teams(book: Rulebook, teams: int) -> Extremes | None:
    sections, more = divmod(book.team.size, book.team.per_section)

    def made(became: Sequence[Status]) -> MatchResult:
        return score_match(
            [
                _row(str(section), at * book.team.per_section + member, status, str(at))
                for section in range(sections + bool(more))
                for at, status in enumerate(became)
                for member in range(book.team.per_section)
            ],
            book,
        )

    book = replace(book, net=NO_LIMIT)
    costs = _costs(book, made, teams)
    return None if costs is None else (min(costs), max(costs))


@lru_cache(maxsize=128)
def _given(book: Rulebook) -> Extremes | None:
    """The same where nobody knows how many come, as far as there is a limit."""
    book = replace(book, net=NO_LIMIT)

    def made(became: Sequence[Status]) -> MatchResult:
        return score_match([_row("A", at, status) for at, status in enumerate(became)], book)

    found = [_costs(book, made, size) for size in SIZES]
    whole = [costs for costs in found if costs is not None]
    if len(whole) < len(found):
        return None
    best, worst = [min(costs) for costs in whole], [max(costs) for costs in whole]
    return (
        -inf if best[-1] < min(best[:-1]) else min(best),
        inf if worst[-1] > max(worst[:-1]) else max(worst),
    )


def _costs(
    book: Rulebook, made: Callable[[Sequence[Status]], MatchResult], size: int
) -> list[Points] | None:
    """Everything a round of that size can give, as costs; None where that may be no score."""
    whole = [Status.WEIGHED] * size
    rounds = [made(whole)]
    for status in Status:
        rounds += [made([*whole[1:], status]), made([status] * size)]
    scores = [score for result in rounds for score in _scores(result, book)]
    costs = [book.sign * score for score in scores if score is not None]
    return costs if len(costs) == len(scores) else None


def _scores(result: MatchResult, book: Rulebook) -> Iterable[Points | None]:
    given, absent = angler_rounds(result, book)
    return [*(each.score for each in given.values()), absent.score]


def _row(section: str, at: int, status: Status, team: str = "") -> Row:
    """An angler of a made-up round, each a little lighter than the one before."""
    nets = (HEAVIEST - at,) if status is Status.WEIGHED else ()
    return Row(section, f"{section} {at}", f"{section} {at} {team}", team, status, nets)
