"""A match result as JSON and back, figures exact, reasons included: what a version is stored as."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from league.files import rulebook
from league.files.plain import (
    amount,
    fraction,
    points,
    points_or_none,
    reason_back,
    reason_json,
    split_back,
    split_json,
)
from league.rules import words
from league.rules.lines import (
    AnglerLine,
    MatchResult,
    OverallLine,
    Row,
    SectionResult,
    Status,
    TeamLine,
)
from league.rules.rulebook import Rulebook
from league.rules.weights import Unit, written


def as_json(
    result: MatchResult,
    book: Rulebook,
    *,
    match: Mapping[str, Any] | None = None,
    version: int | None = None,
    state: str | None = None,
) -> dict[str, Any]:
    """
    The result as a dictionary that `json.dumps` takes.

    *match* may give name, date (ISO 8601), venue, water and any other plain value to be kept.
    """
    unit = result.unit
    about = {"name": None, "date": None, **(match or {}), "unit": unit.value}
    return {
        "match": about,
        "version": version,
        "state": state,
        "rules": rulebook.as_dict(book),
        "sections": [_section(section, unit) for section in result.sections],
        "teams": [_team(line, unit) for line in result.teams],
        "anglers": [_overall(line, unit) for line in result.anglers],
        "checks": {
            "section_points": fraction(result.section_points),
            "expected": fraction(result.expected),
        },
    }


def from_json(data: Mapping[str, Any]) -> MatchResult:
    """The result that `as_json` wrote, the same to the last reason."""
    unit = Unit(data["match"]["unit"])
    expected = data["checks"]["expected"]
    return MatchResult(
        unit=unit,
        sections=tuple(_section_back(section, unit) for section in data["sections"]),
        teams=tuple(_team_back(line, unit) for line in data["teams"]),
        anglers=tuple(_overall_back(line, unit) for line in data["anglers"]),
        section_points=points(data["checks"]["section_points"]),
        expected=None if expected is None else points(expected),
    )


def line_of(data: Mapping[str, Any], angler_id: str) -> AnglerLine | None:
    """One angler's line of a stored result, without reading the rest of it; None if not there."""
    return next(
        (
            _line_back(line, section["section"], Unit(data["match"]["unit"]))
            for section in data["sections"]
            for line in section["anglers"]
            if line["angler_id"] == angler_id
        ),
        None,
    )


def best_of(data: Mapping[str, Any]) -> list[OverallLine]:
    """Who had the heaviest weight of a stored result: more than one where they are level."""
    unit = Unit(data["match"]["unit"])
    first = [_overall_back(line, unit) for line in data["anglers"] if line["place"] == 1]
    return [line for line in first if line.weight]


def book_of(data: Mapping[str, Any]) -> Rulebook:
    """The rule book a stored result was worked out by."""
    return rulebook.from_dict(data["rules"])


def _section(section: SectionResult, unit: Unit) -> dict[str, Any]:
    return {
        "section": section.section,
        "size": section.size,
        "with_fish": section.with_fish,
        "absent_points": fraction(section.absent_points),
        "anglers": [_line(line, unit) for line in section.lines],
    }


def _section_back(data: Mapping[str, Any], unit: Unit) -> SectionResult:
    return SectionResult(
        section=data["section"],
        size=data["size"],
        with_fish=data["with_fish"],
        lines=tuple(_line_back(line, data["section"], unit) for line in data["anglers"]),
        absent_points=points_or_none(data["absent_points"]),
    )


def _line(line: AnglerLine, unit: Unit) -> dict[str, Any]:
    row = line.row
    return {
        "peg": row.peg,
        "angler": row.angler,
        "team": row.team,
        "status": line.status.value,
        "nets": [written(net, unit) for net in row.nets],
        "weight": written(line.weight, unit),
        "place": line.place,
        "equal": line.equal,
        "points": fraction(line.points),
        "why": words.say(line.reason, unit),
        "angler_id": row.angler_id,
        "team_id": row.team_id,
        "called": row.status.value,
        "counted": [written(net, unit) for net in line.counted],
        "before_penalty": fraction(line.before_penalty),
        "penalty": fraction(row.penalty),
        "weight_penalty": row.weight_penalty,
        "decided": fraction(row.decided),
        "decision": row.decision,
        "note": row.note,
        "reason": reason_json(line.reason),
    }


def _line_back(data: Mapping[str, Any], section: str, unit: Unit) -> AnglerLine:
    row = Row(
        section=section,
        peg=data["peg"],
        angler=data["angler"],
        team=data["team"],
        status=Status(data["called"]),
        nets=tuple(amount(net, unit) for net in data["nets"]),
        penalty=points(data["penalty"]),
        note=data["note"],
        angler_id=data["angler_id"],
        team_id=data["team_id"],
        weight_penalty=data["weight_penalty"],
        decided=points_or_none(data["decided"]),
        decision=data["decision"],
    )
    return AnglerLine(
        row=row,
        weight=amount(data["weight"], unit),
        counted=tuple(amount(net, unit) for net in data["counted"]),
        place=data["place"],
        equal=data["equal"],
        points=points_or_none(data["points"]),
        reason=reason_back(data["reason"]),
        status=Status(data["status"]),
        before_penalty=points_or_none(data["before_penalty"]),
    )


def _team(line: TeamLine, unit: Unit) -> dict[str, Any]:
    return {
        "place": line.place,
        "team": line.team,
        "points": fraction(line.points),
        "weight": written(line.weight, unit),
        "section_points": {
            section: [fraction(each) for each in scored]
            for section, scored in line.section_points.items()
        },
        "why": words.say_split(line.split, unit) if line.split else words.say(line.reason, unit),
        "equal": line.equal,
        "team_id": line.team_id,
        "left_out": list(line.left_out),
        "short": [{"section": each.row.section, **_line(each, unit)} for each in line.short],
        "penalty": fraction(line.penalty),
        "section_wins": line.section_wins,
        "best_weight": written(line.best_weight, unit),
        "fished": line.fished,
        "disqualified": line.disqualified,
        "split": split_json(line.split),
        "reason": reason_json(line.reason),
    }


def _team_back(data: Mapping[str, Any], unit: Unit) -> TeamLine:
    return TeamLine(
        place=data["place"],
        equal=data["equal"],
        team=data["team"],
        team_id=data["team_id"],
        points=points(data["points"]),
        weight=amount(data["weight"], unit),
        section_points={
            section: tuple(points(each) for each in scored)
            for section, scored in data["section_points"].items()
        },
        left_out=tuple(data["left_out"]),
        split=split_back(data["split"]),
        reason=reason_back(data["reason"]),
        short=tuple(_line_back(each, each["section"], unit) for each in data["short"]),
        penalty=points(data["penalty"]),
        section_wins=data["section_wins"],
        best_weight=amount(data["best_weight"], unit),
        fished=data["fished"],
        disqualified=data["disqualified"],
    )


def _overall(line: OverallLine, unit: Unit) -> dict[str, Any]:
    return {
        "place": line.place,
        "angler": line.angler,
        "weight": written(line.weight, unit),
        "section": line.section,
        "peg": line.peg,
        "team": line.team,
        "status": line.status.value,
        "equal": line.equal,
        "angler_id": line.angler_id,
    }


def _overall_back(data: Mapping[str, Any], unit: Unit) -> OverallLine:
    return OverallLine(
        place=data["place"],
        equal=data["equal"],
        angler=data["angler"],
        angler_id=data["angler_id"],
        team=data["team"],
        section=data["section"],
        peg=data["peg"],
        status=Status(data["status"]),
        weight=amount(data["weight"], unit),
    )
