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

from league.rules.chances import chances
from league.rules.chances_anglers import in_the_race, with_anglers
from league.rules.lines import MatchResult, Points, Row, SeasonResult, Status, TableLine
from league.rules.matches import score_match
from league.rules.race import Chance, Left
from league.rules.rounds import team_rounds
from league.rules.rulebook import BY_POINTS, BY_WEIGHT, NO_LIMIT, Rulebook
from league.rules.scale import NO_CAP

HEAVIEST = 1_000_000  # drams or grams; every weight below it is another one
STATUSES = [status for status in Status if status is not Status.WEIGHED]


WHATEVER_WEIGHT = (
    "Totals are weights, and nobody can say how heavy a round will be: whoever can still fish as "
    "many rounds as it takes can still win."
)
ALL_KEPT = "The rounds that cannot be dropped are all that count, and they are fished."
NO_NUMBER = "Nobody has said how many rounds this season is to have, so nothing can be said yet."
NO_SCORE = (
    "A round may leave somebody without a score under these rules, so nothing certain can be said."
)
KEPT_WHATEVER = (
    "A disqualification counts whatever else is dropped, so nothing certain can be said of teams."
)


def chances_of(season: SeasonResult, book: Rulebook, *, of_anglers: bool = False) -> list[Chance]:
    """
    What can be said of each line of a table of *season*; nothing where nothing is certain.

    `why_silent` says why that is so.
    """
    left = left_of(season, book, of_anglers=of_anglers)
    if left is None:
        return []
    return chances([in_the_race(line, book) for line in _lines(season, of_anglers)], left)


def rounds_left(season: SeasonResult) -> tuple[int, ...]:
    """The rounds still to fish, where it is known how many there are to be."""
    if not season.planned or not season.held:
        return ()
    gone = {each.round for line in season.table[:1] for each in line.rounds}
    return tuple(number for number in range(1, season.planned + 1) if number not in gone)


def left_of(season: SeasonResult, book: Rulebook, *, of_anglers: bool = False) -> Left | None:
    """What is left to fish, if anything, and what it can give."""
    rules, lines = book.season, _lines(season, of_anglers)
    rounds = rounds_left(season)
    if not rounds or not lines or why_silent(season, book, of_anglers=of_anglers):
        return None
    alone = lines is season.anglers
    given = (1, (0,), 0) if alone else _given(book, len(lines))
    if given is None:
        return None
    contests, table, worst = given
    left = Left(
        rounds=rounds,
        contests=contests,
        table=table,
        worst=worst,
        counting=rules.drops.rule(season.held + len(rounds)),
        sign=book.sign,
        undroppable=frozenset(rules.undroppable),
        minimum=rules.minimum,
    )
    return with_anglers(left, season, book) if alone else left


def why_silent(season: SeasonResult, book: Rulebook, *, of_anglers: bool = False) -> str:
    """Why nothing certain is said of who can still win; empty where something is."""
    lines = _lines(season, of_anglers)
    if season.held and not season.planned:
        return NO_NUMBER
    if not rounds_left(season) or not lines:
        return ""
    if book.season.score == BY_WEIGHT:
        return ALL_KEPT if _is_settled(season, book) else WHATEVER_WEIGHT
    if book.season.disqualified_counts and lines is not season.anglers:
        return KEPT_WHATEVER
    if any(each.score is None for line in lines for each in line.rounds if each.place):
        return NO_SCORE
    return ""


def _is_settled(season: SeasonResult, book: Rulebook) -> bool:
    """Whether none of the rounds left can count any more."""
    left, kept = set(rounds_left(season)), set(book.season.undroppable)
    counting = book.season.drops.rule(season.held + len(left))
    return not left & kept and len(kept) >= counting


def _lines(season: SeasonResult, of_anglers: bool) -> tuple[TableLine, ...]:
    return season.anglers if of_anglers else season.table


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
