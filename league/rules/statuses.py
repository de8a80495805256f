"""What those score who are not placed by weight: blank, not weighed, absent and so on."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from league.rules.errors import RulebookError
from league.rules.figures import number_word, ordinal_word, points_said
from league.rules.lines import Points, Status
from league.rules.policies import Policy, by_key, exact, mean
from league.rules.scale import Scale

FISHED = frozenset({Status.WEIGHED, Status.BLANK, Status.NOT_WEIGHED, Status.WITHDREW})
DRAWN = frozenset(Status) - {Status.VACANT}

SizeRule: TypeAlias = Policy[frozenset[Status]]
SIZE_DRAWN = SizeRule("drawn", "A section is as long as the pegs drawn in it.", DRAWN)
SIZE_FISHED = SizeRule(
    "fished", "A section is as long as the anglers who fished and kept a result in it.", FISHED
)
SIZES = by_key(SIZE_DRAWN, SIZE_FISHED)


@dataclass(slots=True)
class SectionFacts:
    """What a status rule may look at in one section."""

    size: int  # N
    with_fish: int  # F; a place kept open for a disqualified angler counts as filled
    last_weigher: Points  # W
    teams: int
    blanks: int  # how many are scored as blanks
    scale: Scale
    blank: Points = 0  # what a blank scores here, even if nobody blanked
    absent: Points | None = 0


ScoreRule: TypeAlias = Policy[Callable[[SectionFacts], Points | None]]


def _average_of_the_rest(facts: SectionFacts) -> Points:
    first = facts.with_fish + 1
    if first > facts.size:
        return facts.scale.at(first)
    return mean(facts.scale.of_place[first - 1 : facts.size])


def _half_sum(facts: SectionFacts) -> Points:
    if facts.blanks <= 1:
        return facts.scale.at(facts.with_fish + 1)
    return facts.scale.at(exact(Fraction(facts.with_fish + facts.size, 2)))


AVERAGE_OF_THE_REST = ScoreRule(
    "average of the rest", "the average of the places left", _average_of_the_rest
)
HALF_SUM = ScoreRule(
    "half sum",
    "half the sum of the number with fish and the number in the section, "
    "or a lone one the place after the last weigher",
    _half_sum,
)
LAST_PLACE = ScoreRule(
    "last place", "the last place of the section", lambda facts: facts.scale.at(facts.size)
)
AS_BLANK = ScoreRule("as blank", "the same as a blank", lambda facts: facts.blank)
AS_ABSENT = ScoreRule("as absent", "the same as an absent angler", lambda facts: facts.absent)
NO_SCORE = ScoreRule("no score", "no score: the match does not count", lambda facts: None)


def size_plus(k: int) -> ScoreRule:
    """N+k: so many more than the section has places."""
    return ScoreRule(
        f"N+{k}",
        f"{_more(k)} than the section has places",
        lambda facts: facts.scale.at(facts.size + k),
    )


def with_fish_plus(k: int) -> ScoreRule:
    """F+k: so many places after the last angler with fish."""
    which = "the place" if k == 1 else f"the {ordinal_word(k)} place"
    return ScoreRule(
        f"F+{k}",
        f"{which} after the last angler with fish",
        lambda facts: facts.scale.at(facts.with_fish + k),
    )


def last_weigher_plus(k: int) -> ScoreRule:
    """W+k: so many points more than the last weigher."""
    return ScoreRule(
        f"W+{k}", f"{_more(k)} than the last weigher", lambda facts: facts.last_weigher + k
    )


def teams_plus(k: int) -> ScoreRule:
    """teams+k: so many more than there are teams."""
    return ScoreRule(
        f"teams+{k}",
        f"{_more(k)} than there are teams",
        lambda facts: facts.scale.at(facts.teams + k),
    )


def blank_plus(k: int) -> ScoreRule:
    """blank+k: so many points more than a blank would score there."""
    return ScoreRule(f"blank+{k}", f"{_more(k)} than a blank", lambda facts: facts.blank + k)


def fixed(number: int | float) -> ScoreRule:
    """A plain number is points, whatever the section."""
    points = exact(number)
    return ScoreRule(number, points_said(points), lambda facts: points)


def _more(k: int) -> str:
    return f"{number_word(k)} more"


NAMED = by_key(AVERAGE_OF_THE_REST, HALF_SUM, LAST_PLACE, AS_BLANK, AS_ABSENT, NO_SCORE)
COUNTED: dict[str, Callable[[int], ScoreRule]] = {
    "N": size_plus,
    "F": with_fish_plus,
    "W": last_weigher_plus,
    "teams": teams_plus,
    "blank": blank_plus,
}
_COUNTED = re.compile(r"(N|F|W|teams|blank)\s*\+\s*([1-9]\d{0,2})")

# What each key of the rule book may say; `k` stands for a whole number from 1.
_FOR_ABSENT = ("as blank", "blank+k", "N+k", "F+k", "W+k", "teams+k", "a number", "no score")
_FOR_NOT_WEIGHED = ("as blank", "blank+k", "last place", "N+k", "F+k", "a number")
_FOR_BLANK = ("average of the rest", "half sum", "last place", "N+k", "F+k", "W+k", "a number")
CHOICES: dict[str, tuple[str, ...]] = {
    "blank": _FOR_BLANK,
    "all_blank": _FOR_BLANK,
    "not_weighed": _FOR_NOT_WEIGHED,
    "withdrew": _FOR_NOT_WEIGHED,
    "absent": _FOR_ABSENT,
    "vacant": ("as absent", *_FOR_ABSENT),
    "disqualified": _FOR_ABSENT,
}


def score_rule(key: str, choice: object) -> ScoreRule:
    """
    The rule that *choice* names for the rule book's *key*; refuses what it may not say.

    >>> score_rule("absent", "N+3").words
    'three more than the section has places'
    """
    choices = CHOICES[key]
    if isinstance(choice, (int, float)) and not isinstance(choice, bool):
        if not 0 <= choice < 1_000_000:  # also refuses what is no number
            raise RulebookError(f"{key} = {choice}: points go from 0 upwards.")
        return fixed(choice)
    if isinstance(choice, str):
        if choice in NAMED and choice in choices:
            return NAMED[choice]
        found = _COUNTED.fullmatch(choice)
        if found and f"{found[1]}+k" in choices:
            return COUNTED[found[1]](int(found[2]))
    raise RulebookError(f"{key} = {shown(choice)} is no choice there. Write {listed(choices)}.")


def shown(choice: object) -> str:
    """A refused choice as it would stand in the file."""
    return f'"{choice}"' if isinstance(choice, str) else str(choice).lower()


def listed(choices: tuple[str, ...]) -> str:
    """The choices as a sentence can end with them."""
    quoted = [choice if choice == "a number" else f'"{choice}"' for choice in choices]
    if len(quoted) == 1:
        return quoted[0]
    return f"{', '.join(quoted[:-1])} or {quoted[-1]}"
