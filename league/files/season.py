"""A season's result as JSON and back: the rounds, the table, and each score's fate."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from league.files import result, rulebook
from league.files.plain import (
    amount,
    fraction,
    points,
    reason_back,
    reason_json,
    split_back,
    split_json,
)
from league.rules import words
from league.rules.lines import Points, RoundScore, SeasonResult, TableLine
from league.rules.rulebook import Rulebook
from league.rules.weights import Unit, written


def as_json(
    season: SeasonResult,
    book: Rulebook,
    *,
    about: Mapping[str, Any] | None = None,
    matches: Mapping[int, Mapping[str, Any]] | None = None,
    versions: Mapping[int, tuple[int | None, str | None]] | None = None,
) -> dict[str, Any]:
    """
    The season as a dictionary that `json.dumps` takes.

    *about* names the season; *matches* gives each round's name, date and so on, *versions* its
    version and state.
    """
    return {
        "season": {
            "name": None,
            **(about or {}),
            "unit": season.unit.value,
            "planned": season.planned,
            "held": season.held,
            "cancelled": list(season.cancelled),
            "counting": season.counting,
            "by_weight": season.by_weight,
        },
        "rules": rulebook.as_dict(book),
        "rounds": [
            result.as_json(
                match,
                book,
                match={**(matches or {}).get(number, {}), "round": number},
                version=(versions or {}).get(number, (None, None))[0],
                state=(versions or {}).get(number, (None, None))[1],
            )
            for number, match in season.rounds
        ],
        "table": table_as_json(season),
        "anglers": [_line(line, season, "angler") for line in season.anglers],
    }


def table_as_json(season: SeasonResult) -> list[dict[str, Any]]:
    """The rows of the table alone."""
    of_teams = season.table != season.anglers
    return [_line(line, season, "team" if of_teams else "angler") for line in season.table]


def from_json(data: Mapping[str, Any]) -> SeasonResult:
    """The season that `as_json` wrote, the same to the last reason."""
    about = data["season"]
    unit, by_weight = Unit(about["unit"]), about["by_weight"]
    return SeasonResult(
        rounds=tuple(
            (match["match"]["round"], result.from_json(match)) for match in data["rounds"]
        ),
        table=tuple(_line_back(line, unit, by_weight) for line in data["table"]),
        anglers=tuple(_line_back(line, unit, by_weight) for line in data["anglers"]),
        unit=unit,
        planned=about["planned"],
        held=about["held"],
        cancelled=tuple(about["cancelled"]),
        counting=about["counting"],
        by_weight=by_weight,
    )


def _line(line: TableLine, season: SeasonResult, kind: str) -> dict[str, Any]:
    unit = season.unit
    why = [words.say_split(line.split, unit)] if line.split else []
    data = {
        "place": line.place,
        kind: line.name,
        "rounds": [_round(each, season) for each in line.rounds],
        "penalty": fraction(line.penalty),
        "total": _figure(line.total, season),
        "weight": written(line.weight, unit),
        "why": " ".join([words.say(line.reason, unit), *why]),
        "equal": line.equal,
        "key": line.key,
        "qualified": line.qualified,
        "fished": line.fished,
        "mark": line.mark,
        "round_wins": line.round_wins,
        "best_round_weight": written(line.best_round_weight, unit),
        "split": split_json(line.split),
        "reason": reason_json(line.reason),
    }
    if kind == "angler":
        data["fished_for"] = line.team
    return data


def _line_back(data: Mapping[str, Any], unit: Unit, by_weight: bool) -> TableLine:
    return TableLine(
        place=data["place"],
        equal=data["equal"],
        name=data["team"] if "team" in data else data["angler"],
        key=data["key"],
        team=data.get("fished_for", ""),
        rounds=tuple(_round_back(each, unit, by_weight) for each in data["rounds"]),
        penalty=points(data["penalty"]),
        total=_figure_back(data["total"], unit, by_weight),
        weight=amount(data["weight"], unit),
        qualified=data["qualified"],
        split=split_back(data["split"]),
        reason=reason_back(data["reason"]),
        fished=data["fished"],
        mark=data["mark"],
        round_wins=data["round_wins"],
        best_round_weight=amount(data["best_round_weight"], unit),
    )


def _round(score: RoundScore, season: SeasonResult) -> dict[str, Any]:
    return {
        "round": score.round,
        "score": None if score.score is None else _figure(score.score, season),
        "dropped": score.dropped,
        "status": score.status,
        "place": score.place,
        "weight": written(score.weight, season.unit),
    }


def _round_back(data: Mapping[str, Any], unit: Unit, by_weight: bool) -> RoundScore:
    return RoundScore(
        round=data["round"],
        score=None if data["score"] is None else _figure_back(data["score"], unit, by_weight),
        dropped=data["dropped"],
        status=data["status"],
        place=data["place"],
        weight=amount(data["weight"], unit),
    )


def _figure(value: Points, season: SeasonResult) -> str | None:
    """A score or a total: points, or a weight where the league counts weight."""
    return written(int(value), season.unit) if season.by_weight else fraction(value)


def _figure_back(text: str, unit: Unit, by_weight: bool) -> Points:
    return amount(text, unit) if by_weight else points(text)
