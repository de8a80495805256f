"""The league table: rounds added up, the worst dropped, and the ladder for those who are level."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from operator import itemgetter
from typing import TypeAlias

from league.rules.drops import dropped_rounds
from league.rules.ladders import (
    SEASON_POINTS,
    SEASON_WEIGHT,
    Rung,
    SeasonStanding,
    climb,
    placed,
)
from league.rules.lines import (
    MatchResult,
    Points,
    Reason,
    RoundScore,
    SeasonResult,
    Split,
    Status,
    TableLine,
)
from league.rules.policies import exact
from league.rules.rounds import Given, angler_rounds, team_rounds
from league.rules.rulebook import BY_WEIGHT, Rulebook

CANCELLED = "cancelled"

Matches: TypeAlias = Sequence[tuple[int, MatchResult]]
Said: TypeAlias = Mapping[str, Sequence[str]]
Rounds: TypeAlias = Mapping[int, tuple[dict[str, Given], Given]]


@dataclass(frozen=True, slots=True)
class Competitor:
    """A team or an angler of the season."""

    key: str
    name: str
    team: str = ""
    decisions: tuple[str, ...] = ()  # why there are penalty points


def score_season(
    rounds: Matches,
    book: Rulebook,
    *,
    planned: int | None = None,
    cancelled: Collection[int] = (),
    teams: Mapping[str, str] | None = None,
    anglers: Mapping[str, str] | None = None,
    penalties: Mapping[str, Points] | None = None,
    decisions: Mapping[str, Sequence[str]] | None = None,
) -> SeasonResult:
    """
    Work out the table from the rounds fished so far, each with its number.

    *planned* is how many rounds the season is to have; *teams* and *anglers* (key: name) also name
    those who have not fished yet; *penalties* (key: points) are the season's, by *decisions*.
    """
    fished = sorted((each for each in rounds if each[0] not in cancelled), key=itemgetter(0))
    numbers = sorted({number for number, _ in fished} | set(cancelled))
    taken = penalties or {}
    said = _decisions(fished, decisions or {})
    by_team = {number: team_rounds(result, book) for number, result in fished}
    by_angler = {number: angler_rounds(result, book) for number, result in fished}
    team_table = _table(_teams(fished, teams or {}, said), by_team, numbers, book, taken)
    # Teams and anglers may share a key; where teams have the table, the penalties are theirs.
    alone = {} if team_table else taken
    angler_table = _table(_anglers(fished, anglers or {}, said), by_angler, numbers, book, alone)
    held = len(numbers) if book.season.cancelled.rule else len(fished)
    return SeasonResult(
        rounds=tuple(fished),
        table=team_table or angler_table,
        anglers=angler_table,
        unit=book.unit,
        planned=planned,
        held=held,
        cancelled=tuple(sorted(set(cancelled))),
        counting=book.season.drops.rule(held),
        by_weight=book.season.score == BY_WEIGHT,
    )


def _decisions(rounds: Matches, by_team: Mapping[str, Sequence[str]]) -> tuple[Said, Said]:
    """What was decided of penalty points: a team's with its members', and each angler's own."""
    teams = {key: list(said) for key, said in by_team.items()}
    anglers: dict[str, list[str]] = {}
    for _, result in rounds:
        for section in result.sections:
            for line in section.lines:
                if line.row.penalty and line.row.decision:
                    teams.setdefault(line.row.team_key, []).append(line.row.decision)
                    anglers.setdefault(line.row.angler_key, []).append(line.row.decision)
    return teams, anglers


def _teams(
    rounds: Matches, registered: Mapping[str, str], said: tuple[Said, Said]
) -> list[Competitor]:
    found = {key: Competitor(key, name) for key, name in registered.items()}
    for _, result in rounds:
        for line in result.teams:
            key = line.team_id or line.team
            found.setdefault(key, Competitor(key, line.team))
    return _by_name(found, said[0])


def _anglers(
    rounds: Matches, registered: Mapping[str, str], said: tuple[Said, Said]
) -> list[Competitor]:
    """Every angler, with the team or teams fished for in the order they were."""
    names = dict(registered)
    teams: dict[str, list[str]] = {key: [] for key in registered}
    for _, result in rounds:
        for section in result.sections:
            for line in section.lines:
                if not line.row.angler or line.status is Status.VACANT:
                    continue
                key = line.row.angler_key
                names.setdefault(key, line.row.angler)
                fished_for = teams.setdefault(key, [])
                if line.row.team and line.row.team not in fished_for:
                    fished_for.append(line.row.team)
    return _by_name(
        {key: Competitor(key, name, ", ".join(teams[key])) for key, name in names.items()}, said[1]
    )


def _by_name(found: Mapping[str, Competitor], said: Said) -> list[Competitor]:
    # Level on every rung, they share a place; the alphabet only says who is printed first.
    told = (replace(one, decisions=tuple(said.get(one.key, ()))) for one in found.values())
    return sorted(told, key=lambda one: (one.name, one.key))


def _table(
    competitors: Sequence[Competitor],
    rounds: Rounds,
    numbers: Sequence[int],
    book: Rulebook,
    penalties: Mapping[str, Points],
) -> tuple[TableLine, ...]:
    drafts = [_draft(who, rounds, numbers, book, penalties.get(who.key, 0)) for who in competitors]
    first = SEASON_WEIGHT if book.season.score == BY_WEIGHT else SEASON_POINTS
    ladder = (first, *book.season.ties)
    finish: list[TableLine] = []
    for qualified in (True, False):
        group = [draft for draft in drafts if draft.qualified is qualified]
        finish += _placed_lines(group, ladder, len(finish), len(competitors), book)
    return tuple(finish)


@dataclass(slots=True)
class Draft:
    """A line of the table before it has its place."""

    who: Competitor
    standing: SeasonStanding
    rounds: tuple[RoundScore, ...]
    penalty: Points
    qualified: bool
    fished: int


def _draft(
    who: Competitor, rounds: Rounds, numbers: Sequence[int], book: Rulebook, extra: Points
) -> Draft:
    given: dict[int, Given] = {}
    for number in numbers:
        if number in rounds:
            entries, absent = rounds[number]
            given[number] = entries.get(who.key, absent)
        elif book.season.cancelled.rule:
            given[number] = Given(0, CANCELLED)
    sign = book.season_sign
    scored = [(number, each.score) for number, each in given.items() if each.score is not None]
    keep = set(book.season.undroppable)
    if book.season.disqualified_counts:
        keep |= {number for number, each in given.items() if each.disqualified}
    dropped = dropped_rounds(
        scored, counting=book.season.drops.rule(len(given)), sign=sign, keep=keep
    )
    counting = [score for number, score in scored if number not in dropped]
    by_weight = book.season.score == BY_WEIGHT
    penalty = 0 if by_weight else exact(extra + sum(each.penalty for each in given.values()))
    standing = SeasonStanding(
        total=exact(sum(counting) + sign * penalty),
        weight=sum(each.weight for each in given.values()),
        counting_weight=sum(
            each.weight
            for number, each in given.items()
            if number not in dropped and each.score is not None
        ),
        best_round_weight=max((each.weight for each in given.values()), default=0),
        round_wins=sum(each.place == 1 and each.fished for each in given.values()),
        scores=[each.score for each in given.values()],
        counting=counting,
        dropped=[score for number, score in scored if number in dropped],
        sign=sign,
        in_weight=by_weight,
    )
    fished = sum(each.fished for each in given.values())
    lines = tuple(
        RoundScore(
            round=number,
            score=each.score,
            dropped=number in dropped,
            status=each.status,
            place=each.place,
            weight=each.weight,
        )
        for number in numbers
        for each in [given.get(number, Given(None, CANCELLED))]
    )
    return Draft(who, standing, lines, penalty, fished >= book.season.minimum, fished)


def _placed_lines(
    drafts: Sequence[Draft],
    ladder: tuple[Rung[SeasonStanding], ...],
    above: int,
    everybody: int,
    book: Rulebook,
) -> list[TableLine]:
    """The *drafts* in their order, after so many who are *above* whatever they score."""
    of_standing = {id(draft.standing): draft for draft in drafts}
    order = placed(ladder, [draft.standing for draft in drafts])
    lines = []
    for index, (standing, first, last) in enumerate(order):
        draft = of_standing[id(standing)]
        split = None
        if index and order[index - 1][0].total == standing.total:
            better = order[index - 1][0]
            rungs = climb(ladder, standing, better)
            split = Split(of_standing[id(better)].who.name, draft.who.name, rungs, False)
        elif index + 1 < len(order) and order[index + 1][0].total == standing.total:
            worse = order[index + 1][0]
            rungs = climb(ladder, standing, worse)
            split = Split(draft.who.name, of_standing[id(worse)].who.name, rungs)
        lines.append(
            TableLine(
                place=above + first,
                equal=last > first,
                name=draft.who.name,
                key=draft.who.key,
                team=draft.who.team,
                rounds=draft.rounds,
                penalty=draft.penalty,
                total=standing.total,
                weight=standing.weight,
                qualified=draft.qualified,
                split=split,
                reason=_reason(draft, book),
                fished=draft.fished,
                mark=_mark(above + first, above + last, everybody, book),
                round_wins=standing.round_wins,
                best_round_weight=standing.best_round_weight,
            )
        )
    return lines


def _mark(first: int, last: int, everybody: int, book: Rulebook) -> str:
    """Which line of promotion or relegation the places from *first* to *last* lie over or under."""
    up, down = book.season.up, everybody - book.season.down
    if last <= up:
        return "up"
    if first <= up:
        return "level"
    if first > down:
        return "down"
    return "level" if last > down else ""


def _reason(draft: Draft, book: Rulebook) -> Reason:
    return Reason(
        "season",
        {
            "name": draft.who.name,
            "score": book.season.score.key,
            "direction": "low" if draft.standing.sign > 0 else "high",
            "counting": tuple(draft.standing.counting),
            "dropped": tuple((each.round, each.score) for each in draft.rounds if each.dropped),
            "penalty": draft.penalty,
            "decisions": draft.who.decisions,
            "total": draft.standing.total,
            "qualified": draft.qualified,
            "fished": draft.fished,
            "minimum": book.season.minimum,
        },
    )
