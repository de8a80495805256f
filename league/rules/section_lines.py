"""The lines of one section: everybody placed and scored, each figure with its reason."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, TypeAlias

from league.rules.lines import AnglerLine, Points, Reason, Row, SectionResult, Status
from league.rules.placings import runs
from league.rules.rulebook import Rulebook, SectionRules
from league.rules.scale import Scale
from league.rules.sections import Catch, facts_of, natural, placed_points, rule_for
from league.rules.statuses import AS_BLANK, FISHED, SectionFacts

Override: TypeAlias = tuple[int, tuple[Points | None, ...]]


def section_result(
    section: str,
    catches: Sequence[Catch],
    scale: tuple[Scale, Scale],
    teams: int,
    book: Rulebook,
    overrides: Mapping[int, Override],
) -> SectionResult:
    """
    Place and score one section.

    *overrides* holds, by the row's identity, the place in the whole match and what the places
    filled there are worth; None for a place past the end of the override.
    """
    rules = book.section
    size = sum(each.status in rules.size.rule for each in catches)
    ranked = sorted((each for each in catches if each.placed), key=_heaviest_first)
    held = [] if rules.others_move_up else [each for each in catches if each.held > 0]
    field = sorted([*ranked, *held], key=lambda each: (-(each.weight or each.held), each.held))
    weights = [each.weight or each.held for each in field]
    points = placed_points(weights, scale[1], rules)
    blanks = sum(_scored_as_blank(each, rules) for each in catches)
    facts = facts_of(size, weights, points, blanks, teams, scale, rules)

    lines = []
    for first, last in runs(weights):
        level = [each for each in field[first - 1 : last] if not each.held]
        for each in level:
            shared: dict[str, Any] = {
                "places": tuple(scale[1].at(place) for place in range(first, last + 1)),
                "pegs": tuple(other.row.peg for other in level),
            }
            extra: dict[str, Any] = shared if last > first else {}
            mine = points[first - 1]
            rule = "equal" if last > first else "placed"
            if id(each.row) in overrides:
                match_place, instead = overrides[id(each.row)]
                mine, rule = _overridden(mine, instead, rules), "override"
                extra |= {"instead": instead, "match_place": match_place}
            reason = _reason(
                rule,
                section=section,
                place=first,
                last=last,
                size=size,
                equal=rules.equal.key,
                weight=each.weight,
                **extra,
            )
            lines.append(_line(each, first, last > first, mine, reason, book))
    unplaced = [each for each in catches if not each.placed]
    lines += _finishers(section, unplaced, facts, len(weights), book)
    lines += _others(section, unplaced, facts, book)
    return SectionResult(section, size, len(ranked), tuple(lines), facts.absent)


def _finishers(
    section: str, unplaced: Iterable[Catch], facts: SectionFacts, filled: int, book: Rulebook
) -> list[AnglerLine]:
    """Lines for who fished but is not placed by weight: after the weighers, level on points."""
    scored = [
        (_status_points(each, facts, book.section), each)
        for each in unplaced
        if each.status in FISHED and each.row.decided is None
    ]
    keyed = sorted(
        scored,
        # Whoever fished has a score in every book: "no score" is for those who did not.
        key=lambda pair: (book.sign * (pair[0] or 0), *_by_peg(pair[1].row)),
    )
    lines = []
    for first, last in runs([points for points, _ in keyed]):
        for points, each in keyed[first - 1 : last]:
            place = filled + first
            reason = _status_reason(section, each, facts, place, filled + last, book)
            lines.append(_line(each, place, last > first, points, reason, book))
    return lines


def _others(
    section: str, unplaced: Iterable[Catch], facts: SectionFacts, book: Rulebook
) -> list[AnglerLine]:
    """Lines for those without a place: decided by an official, disqualified, absent, vacant."""
    order = list(Status)
    lines = []
    for each in sorted(unplaced, key=lambda one: (order.index(one.status), *_by_peg(one.row))):
        if each.row.decided is not None:
            reason = _reason("decided", section=section, decision=each.row.decision)
            lines.append(_line(each, None, False, each.row.decided, reason, book))
        elif each.status not in FISHED:
            points = _status_points(each, facts, book.section)
            reason = _status_reason(section, each, facts, None, None, book)
            lines.append(_line(each, None, False, points, reason, book))
    return lines


def _status_points(each: Catch, facts: SectionFacts, rules: SectionRules) -> Points | None:
    # What a blank scores is in the facts already: the rule for a section without fish, the cap.
    return facts.blank if _is_blank(each) else rule_for(each.status, rules).rule(facts)


def _status_reason(
    section: str,
    each: Catch,
    facts: SectionFacts,
    place: int | None,
    last: int | None,
    book: Rulebook,
) -> Reason:
    rules = book.section
    rule = rule_for(each.status, rules)
    if _is_blank(each) and not facts.with_fish and rules.all_blank:
        rule = rules.all_blank
    said: dict[str, Any] = (
        {"called": each.row.status.value} if each.row.status != each.status else {}
    )
    if each.row.nets and not each.weight:
        said["nets"] = each.row.nets
    return _reason(
        each.status.value,
        section=section,
        place=place,
        last=last,
        size=facts.size,
        with_fish=facts.with_fish,
        last_weigher=facts.last_weigher,
        teams=facts.teams,
        blank=facts.blank,
        blanks=facts.blanks,
        score=rule.key,
        **said,
    )


def absent_line(
    section: str, team: str, team_id: str, result: SectionResult, book: Rulebook
) -> AnglerLine:
    """The line of a member a team was short of in a section: absent, without a row on the sheet."""
    row = Row(section, "", "", team, Status.ABSENT, team_id=team_id)
    reason = _reason("short", section=section, size=result.size, score=book.section.absent.key)
    return _line(Catch(row, Status.ABSENT, 0, ()), None, False, result.absent_points, reason, book)


def _line(
    each: Catch,
    place: int | None,
    equal: bool,
    points: Points | None,
    reason: Reason,
    book: Rulebook,
) -> AnglerLine:
    total = points
    if points is not None and each.row.penalty:
        total = points + book.sign * each.row.penalty
    facts = {**reason.facts, "points": points, "direction": book.section.direction.key}
    if each.row.penalty:
        facts |= {"penalty": each.row.penalty, "total": total}
    return AnglerLine(
        row=each.row,
        weight=each.weight,
        counted=each.counted,
        place=place,
        equal=equal,
        points=total,
        reason=Reason(reason.rule, facts),
        status=each.status,
        before_penalty=points,
    )


def _reason(rule: str, **facts: Any) -> Reason:
    return Reason(rule, facts)


def _overridden(own: Points, instead: Sequence[Points | None], rules: SectionRules) -> Points:
    return rules.equal.rule([own if points is None else points for points in instead])


def _is_blank(each: Catch) -> bool:
    return each.status is Status.BLANK


def _scored_as_blank(each: Catch, rules: SectionRules) -> bool:
    if each.placed or each.row.decided is not None:
        return False
    return _is_blank(each) or rule_for(each.status, rules) == AS_BLANK


def _heaviest_first(each: Catch) -> tuple[Any, ...]:
    return (-each.weight, *_by_peg(each.row))


def _by_peg(row: Row) -> tuple[Any, ...]:
    return (natural(row.peg), row.angler, row.team)
