"""
What is left of a real league: read off a round made up for the purpose and scored by its rules.

So every choice of the rule book (equal weights, blanks, who stays away, how a round scores) has its
say, without being known here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise

from league.rules.chances import Chance, Contender, Left, chances
from league.rules.lines import MatchResult, Points, Row, SeasonResult, Status
from league.rules.matches import score_match
from league.rules.rounds import team_rounds
from league.rules.rulebook import BY_POINTS, BY_WEIGHT, NO_LIMIT, Rulebook
from league.rules.scale import NO_CAP

HEAVIEST = 1_000_000  # drams or grams; every weight below it is another one
STATUSES = [status for status in Status if status is not Status.WEIGHED]


def chances_of(season: SeasonResult, book: Rulebook) -> list[Chance]:
    """
    What can be said of each team of *season*, best first; nothing where it cannot be worked out.

    That is so for anglers, of whom nobody knows how many come; where a round's weight is its score,
    which has no limit; and where a round may have no score or a line needs so many rounds.
    """
    left = left_of(season, book)
    if left is None:
        return []
    return chances(
        [
            Contender(
                line.key,
                {each.round: each.score for each in line.rounds if each.score is not None},
                line.penalty,
            )
            for line in season.table
        ],
        left,
    )


def left_of(season: SeasonResult, book: Rulebook) -> Left | None:
    """What is left to fish, if anything, and what it can give."""
    rules = book.season
    if (
        not season.planned
        or not season.held
        or season.table is season.anglers
        or rules.score == BY_WEIGHT
        or rules.minimum
        or rules.disqualified_counts
        or any(each.score is None for line in season.table for each in line.rounds if each.place)
    ):
        return None
    gone = {each.round for each in season.table[0].rounds}
    rounds = tuple(number for number in range(1, season.planned + 1) if number not in gone)
    given = _given(book, len(season.table))
    if not rounds or given is None:
        return None
    contests, table, worst = given
    return Left(
        rounds=rounds,
        contests=contests,
        table=table,
        worst=worst,
        counting=rules.drops.rule(season.held + len(rounds)),
        sign=book.sign,
        undroppable=frozenset(rules.undroppable),
    )


# The same for a whole season, and twenty-six made-up rounds each time it is worked out.
@lru_cache(maxsize=128)
def _given(book: Rulebook, teams: int) -> tuple[int, tuple[Points, ...], Points] | None:
    """How many contests a round is, what each gives from first to last, and the worst round."""
    book = replace(book, net=NO_LIMIT)
    whole = [Status.WEIGHED] * teams
    result = _round(book, whole)
    scores = _scores(result, book, teams)
    spoilt = [
        score
        for status in STATUSES
        for score in (
            _scores(_round(book, [*whole[1:], status]), book, teams)[-1],
            _scores(_round(book, [status] * teams), book, teams)[-1],
        )
    ]
    absent = team_rounds(result, book)[1].score
    found = [score for score in (*scores, *spoilt, absent) if score is not None]
    if len(found) < len(scores) + len(spoilt) + 1:
        return None
    if any(book.sign * better > book.sign * worse for better, worse in pairwise(found[:teams])):
        return None
    worst = max(found, key=lambda score: book.sign * score)
    contests, table = len(result.sections), _section(result, teams)
    if _adds_up(book) and [contests * points for points in table] == found[:teams]:
        return contests, table, worst
    return 1, tuple(found[:teams]), worst


def _adds_up(book: Rulebook) -> bool:
    """Whether a team’s round is the sum of its places, one a section, whatever the others do."""
    return (
        book.season.score == BY_POINTS
        and book.team.per_section == 1
        and book.team.count is None
        and not book.section.override
        and book.section.cap == NO_CAP
    )


def _round(book: Rulebook, became: Sequence[Status]) -> MatchResult:
    """A round in which the teams come one after another in every section, by what they *became*."""
    rows = []
    sections, each = divmod(book.team.size, book.team.per_section)
    for section in range(sections + bool(each)):
        for at, status in enumerate(became):
            for member in range(book.team.per_section):
                name = f"{section} {at} {member}"
                heavy = HEAVIEST - at * book.team.per_section - member
                nets = (heavy,) if status is Status.WEIGHED else ()
                rows.append(Row(str(section), name, name, str(at), status, nets))
    return score_match(rows, book)


def _scores(result: MatchResult, book: Rulebook, teams: int) -> list[Points | None]:
    given, absent = team_rounds(result, book)
    return [given.get(str(at), absent).score for at in range(teams)]


def _section(result: MatchResult, teams: int) -> tuple[Points, ...]:
    """What the places of one section give."""
    lines = result.sections[0].lines
    return tuple(line.points for line in lines[:teams] if line.points is not None)
