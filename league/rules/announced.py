"""A rule book read out: what a league announces, in sentences, part by part."""

from __future__ import annotations

from dataclasses import dataclass

from league.rules.drops import EVERY_ROUND
from league.rules.figures import and_list, capital, number_word, points_written
from league.rules.rulebook import BY_PLACES, BY_POINTS, Rulebook
from league.rules.scale import HIGH, NO_CAP
from league.rules.statuses import ScoreRule
from league.rules.weights import Unit, spoken


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the rules: its heading and its sentences, in the order they are printed."""

    heading: str
    sentences: tuple[str, ...]


def read_out(book: Rulebook) -> tuple[Part, ...]:
    """
    Every rule of *book* in words, so that a page and a sheet can print what is in force.

    >>> [part.heading for part in read_out(Rulebook())]
    ['Weights', 'In a section', 'Who is not placed', 'In a team', 'Over the season']
    """
    return (
        Part("Weights", _weights(book)),
        Part("In a section", _section(book)),
        Part("Who is not placed", _not_placed(book)),
        Part("In a team", _team(book)),
        Part("Over the season", _season(book)),
    )


def _weights(book: Rulebook) -> tuple[str, ...]:
    unit = {Unit.LB_OZ: "pounds and ounces", Unit.KG: "kilograms and grams"}[book.unit]
    said = [f"Fish are weighed in {unit}."]
    net = book.net
    if net.limit is None:
        return (*said, "There is no limit on a net.")
    said.append(f"A net over {spoken(net.limit, book.unit)}: {net.over.words}.")
    if net.tolerance is not None:
        said.append(f"The tolerance is {spoken(net.tolerance, book.unit)}.")
    return tuple(said)


def _section(book: Rulebook) -> tuple[str, ...]:
    section = book.section
    said = [section.direction.words]
    if section.direction == HIGH:
        said.append(section.top.words)
    if section.override:
        points = and_list([points_written(each) for each in section.override])
        said.append(f"The first of the whole match score {points} instead.")
    said.append(section.equal.words)
    said.append(section.size.words)
    if section.cap != NO_CAP:
        said.append(section.cap.words)
    return tuple(said)


def _not_placed(book: Rulebook) -> tuple[str, ...]:
    section = book.section
    said = [f"A blank scores {section.blank.words}."]
    if section.all_blank is not None:
        said.append(
            f"Where nobody in a section has fish, a blank scores {section.all_blank.words}."
        )
    said.append(_who("Who fished but did not weigh", section.not_weighed))
    said.append(f"{_who('Who left early', section.withdrew)} A weight taken before leaving stands.")
    said.append(_who("An absent angler", section.absent))
    said.append(_who("A place for which nobody was named", section.vacant))
    said.append(_who("A disqualified angler", section.disqualified))
    if section.others_move_up:
        said.append("Those behind a disqualified angler move up a place.")
    else:
        said.append("A disqualified angler's place stays open.")
    return tuple(said)


def _who(who: str, rule: ScoreRule) -> str:
    return f"{who} scores {rule.words}."


def _team(book: Rulebook) -> tuple[str, ...]:
    team = book.team
    said = [
        f"{capital(number_word(team.size))} anglers make a team, {_in_section(team.per_section)}."
    ]
    if team.count is None or team.count == team.size:
        said.append("Everybody's points count.")
    else:
        said.append(f"The best {number_word(team.count)} of them count.")
    said.append(_ties([rung.words for rung in team.ties], "Teams on equal points"))
    return tuple(said)


def _in_section(count: int) -> str:
    return "one in a section" if count == 1 else f"{number_word(count)} in a section"


def _season(book: Rulebook) -> tuple[str, ...]:
    season = book.season
    said = [season.score.words]
    if season.score == BY_PLACES:
        said.append(
            "The winner of a round scores as many points as teams fished it, the last scores 1."
            if book.section.direction == HIGH
            else "The winner of a round scores 1, the next 2, and so on."
        )
    said.append(season.drops.words)
    if season.undroppable:
        rounds = and_list([str(number) for number in season.undroppable])
        many = "Rounds" if len(season.undroppable) > 1 else "Round"
        said.append(f"{many} {rounds} cannot be dropped.")
    if season.disqualified_counts:
        said.append("A round with a disqualification cannot be dropped.")
    if season.minimum:
        said.append(
            f"Who has fished fewer than {number_word(season.minimum)} rounds is listed below "
            "everybody who has."
        )
    said.append(season.cancelled.words)
    if season.score == BY_POINTS and season.drops != EVERY_ROUND:
        said.append(
            "Penalty points count after the drops."
            if season.penalties_after_drop
            else "Penalty points belong to their round, and are dropped with it."
        )
    said.append(_ties([rung.words for rung in season.ties], "Those level at the end"))
    if season.up:
        said.append(f"The first {number_word(season.up)} go up.")
    if season.down:
        said.append(f"The last {number_word(season.down)} go down.")
    return tuple(said)


def _ties(rungs: list[str], who: str) -> str:
    if not rungs:
        return f"{who} share the place."
    return (
        f"{who} are told apart by {', then '.join(rungs)}; "
        "level on all of these, they share the place."
    )
