"""The rule book read out in plain sentences: for the page, the sheet and the notice board."""

from __future__ import annotations

from collections.abc import Sequence

from league.rules import weights
from league.rules.figures import and_list, number_word, points_written
from league.rules.nets import NetRules
from league.rules.rulebook import (
    BY_PLACES,
    BY_WEIGHT,
    Rulebook,
    SeasonRules,
    SectionRules,
    TeamRules,
)
from league.rules.scale import HIGH, NO_CAP
from league.rules.splits import RUNGS
from league.rules.statuses import AS_ABSENT, AS_BLANK, NO_SCORE, ScoreRule
from league.rules.weights import Unit

UNITS = {
    Unit.LB_OZ: "Fish are weighed in pounds and ounces.",
    Unit.KG: "Fish are weighed in kilograms and grams.",
}


def sentences(book: Rulebook) -> list[str]:
    """
    Everything *book* says, one sentence a rule, in the order of a match day.

    >>> sentences(Rulebook())[1]
    'Low points: the place is the score, and the lowest total wins.'
    """
    return [
        UNITS[book.unit],
        *_section(book.section),
        *_net(book.net, book.unit),
        *_team(book.team),
        *_season(book.season, book),
    ]


def _section(rules: SectionRules) -> list[str]:
    said = [rules.direction.words]
    if rules.direction == HIGH:
        said.append(rules.top.words)
        if rules.override:
            count = len(rules.override)
            points = and_list([points_written(points) for points in rules.override])
            first = "winner" if count == 1 else f"first {number_word(count)}"
            verb = "scores" if count == 1 else "score"
            said.append(f"The {first} of the whole match {verb} {points} instead.")
    said.append(rules.equal.words)
    said.append(rules.size.words)
    said.append(_scores("A blank", rules.blank))
    if rules.all_blank is not None:
        said.append(_scores("Where nobody in a section has a fish, everybody", rules.all_blank))
    said += _statuses(rules)
    if rules.others_move_up:
        said.append("Those behind a disqualified angler move up.")
    else:
        said.append("Those behind a disqualified angler do not move up.")
    if rules.cap != NO_CAP:
        said.append(rules.cap.words)
    return said


def _statuses(rules: SectionRules) -> list[str]:
    """The other statuses; those with one rule are said in one sentence."""
    subjects: dict[ScoreRule, list[str]] = {}
    for subject, rule in (
        ("did not weigh", rules.not_weighed),
        ("left early without a weight", rules.withdrew),
        ("never came", rules.absent),
        ("was disqualified", rules.disqualified),
    ):
        subjects.setdefault(rule, []).append(subject)
    said = [_scores(f"An angler who {' or '.join(who)}", rule) for rule, who in subjects.items()]
    if rules.vacant not in (AS_ABSENT, rules.absent):
        said.append(_scores("A place for which the team named nobody", rules.vacant))
    return said


def _scores(subject: str, rule: ScoreRule) -> str:
    if rule.key == 0:
        return f"{subject} scores nothing."
    if rule == NO_SCORE:
        return f"{subject} has {rule.words}."
    if rule == AS_BLANK:
        return f"{subject} scores the same as a blank."
    return f"{subject} scores {rule.words}."


def _net(rules: NetRules, unit: Unit) -> list[str]:
    if rules.limit is None:
        return ["There is no limit on a net."]
    limit = weights.spoken(rules.limit, unit)
    over = rules.over.words
    if rules.tolerance is not None:
        over = over.replace("the tolerance", weights.spoken(rules.tolerance, unit))
    return [f"A net may weigh {limit}: {over}."]


def _team(rules: TeamRules) -> list[str]:
    each = number_word(rules.per_section)
    said = [
        f"A team is {number_word(rules.size)} anglers, {each} in a section.",
        "Every member's points count."
        if rules.count is None
        else f"The best {number_word(rules.count)} of a team count.",
        "A team that is short is absent where it lacks an angler.",
    ]
    return [*said, _ladder("Teams level on points", [rung.key for rung in rules.ties])]


def _ladder(who: str, rungs: Sequence[str]) -> str:
    if not rungs:
        return f"{who} share the place."
    chain = ", then ".join(RUNGS[rung] for rung in rungs)
    return f"{who} are split by {chain}; if they are still level, they share the place."


def _season(rules: SeasonRules, book: Rulebook) -> list[str]:
    said = [rules.score.words]
    if rules.score == BY_PLACES:
        high = book.section.direction == HIGH
        first = "as many points as there are teams, and one fewer" if high else "1, and one more"
        said.append(f"First in a round scores {first} for each place below.")
        missed = "nothing" if high else "one more than the last place"
        said.append(f"A team that misses a round scores {missed}.")
    said.append(rules.drops.words)
    if rules.undroppable:
        numbers = and_list([str(number) for number in rules.undroppable])
        word = "Round" if len(rules.undroppable) == 1 else "Rounds"
        said.append(f"{word} {numbers} cannot be dropped.")
    if rules.disqualified_counts:
        said.append("A round with a disqualified angler in it cannot be dropped.")
    if rules.minimum:
        said.append(
            f"Who has fished fewer than {number_word(rules.minimum)} rounds is listed below "
            "everybody who has."
        )
    said.append(rules.cancelled.words)
    if rules.score == BY_WEIGHT:
        said.append("Penalty points change nothing here; a penalty is weight taken off.")
    elif rules.score == BY_PLACES:
        said.append("Penalty points count in their round, and so in its places.")
    elif rules.penalties_after_drop:
        said.append("Penalty points are put on after rounds are dropped, so they always count.")
    else:
        said.append("Penalty points belong to their round and are dropped with it.")
    on = "weight" if rules.score == BY_WEIGHT else "points"
    said.append(_ladder(f"In the table, those level on {on}", [rung.key for rung in rules.ties]))
    for count, where, way in ((rules.up, "first", "up"), (rules.down, "last", "down")):
        if count == 1:
            said.append(f"The {where} goes {way}.")
        elif count:
            said.append(f"The {where} {number_word(count)} go {way}.")
    return said
