"""A club's records as a page and as files: heaviest weights and team totals, most section wins."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.urls import reverse
from django.utils.html import format_html

from league.columns import Column, plain_weight, weight_heading
from league.columns import placing as placing_written
from league.models import Club, Result
from league.operations import score
from league.rules.records import (
    Catch,
    Wins,
    best_of_each_water,
    count_wins,
    heaviest,
    most_wins,
)
from league.rules.weights import Unit, written
from league.web import cells
from league.web.ledgers import ledger
from league.web.pages.result_sections import angler_page, named
from league.web.published import remembered
from league.web.sentences import short_day

LISTED = 10


@dataclass(frozen=True, slots=True)
class Records:
    """A club's records, and how many matches they are taken from."""

    matches: int
    left_out: int  # weighed in another unit than the newest
    unit: Unit
    anglers: tuple[Catch, ...]
    by_water: tuple[Catch, ...]
    teams: tuple[Catch, ...]
    wins: tuple[Wins, ...]


def records(club: Club) -> Records:
    """The records of *club*, worked out once a publication."""
    found: Records = remembered(
        f"records of {club.pk} {Result.objects.last_change_of(club)}", lambda: _work_out(club)
    )
    return found


def _work_out(club: Club) -> Records:
    unit: Unit | None = None
    matches = left_out = 0
    anglers: list[Catch] = []
    teams: list[Catch] = []
    wins: dict[str, Wins] = {}
    for result in Result.objects.of_club(club):  # the newest first
        worked = score.read(result)
        unit = unit or worked.unit
        matches += 1
        lines = [line for section in worked.sections for line in section.lines]
        count_wins(lines, wins)
        if worked.unit is not unit:
            left_out += 1
            continue
        match = result.match
        day = f"{short_day(match.date)} {match.date.year}"
        anglers += [
            Catch(each.angler, each.angler_id, each.weight, match.pk, match.water.name, day,
                  peg=each.peg)
            for each in worked.anglers
            if each.weight
        ]  # fmt: skip
        teams += [
            Catch(each.team, each.team_id, each.weight, match.pk, match.water.name, day)
            for each in worked.teams
            if each.weight
        ]
    return Records(
        matches,
        left_out,
        unit or Unit.LB_OZ,
        heaviest(anglers, LISTED),
        best_of_each_water(anglers),
        heaviest(teams, LISTED),
        most_wins(wins.values(), LISTED),
    )


def catch_columns(unit: Unit, who: str) -> tuple[Column[Catch], ...]:
    """Heaviest weights, for page and file alike; *who* heads the names."""
    return (
        Column(
            "place", "Place", lambda each: placing_written(each.place, each.equal), is_number=True
        ),
        Column("who", who, lambda each: each.who),
        Column("water", "Water", lambda each: each.water),
        Column("day", "Day", lambda each: each.day),
        Column("peg", "Peg", lambda each: each.peg, is_number=True),
        Column(
            "weight",
            weight_heading(unit),
            lambda each: written(each.amount, unit),
            is_number=True,
            plain=lambda each: plain_weight(each.amount, unit),
        ),
    )


WIN_COLUMNS: tuple[Column[Wins], ...] = (
    Column("place", "Place", lambda each: placing_written(each.place, each.equal), is_number=True),
    Column("who", "Angler", lambda each: each.who),
    Column("matches", "Matches", lambda each: str(each.matches), is_number=True),
    Column("wins", "Section wins", lambda each: str(each.wins), is_number=True),
)


def matter(club: Club) -> dict[str, Any]:
    """The page of the records of *club*."""
    found = records(club)
    return {
        "matches": found.matches,
        "left_out": found.left_out,
        "unit": "kilograms" if found.unit is Unit.KG else "pounds and ounces",
        "anglers": _catches(found.anglers, found.unit, "Angler"),
        "by_water": _catches(found.by_water, found.unit, "Angler", by_water=True),
        "teams": _catches(found.teams, found.unit, "Team"),
        "wins": _wins(found.wins),
    }


def _catches(catches: Sequence[Catch], unit: Unit, who: str, *, by_water: bool = False) -> Any:
    if not catches:
        return None
    wanted = {"who", "water", "weight"} | (set() if by_water else {"place"})

    def name(each: Catch, text: str) -> str:
        page = angler_page(each.key) if who == "Angler" else _team_page(each.key)
        return named(page, text, f"peg {each.peg}" if each.peg else "")

    def where(each: Catch, text: str) -> str:
        address = reverse("result", args=[each.match])
        return format_html('<a href="{}">{}</a><small>{}</small>', address, text, each.day)

    shown = [column for column in catch_columns(unit, who) if column.key in wanted]
    if by_water:
        shown.sort(key=lambda column: ("water", "who", "weight").index(column.key))
    return ledger(
        shown,
        catches,
        row_header="water" if by_water else "who",
        cells={
            "place": lambda each, text: cells.with_tip(text) if each.place == 1 else text,
            "who": name,
            "water": where,
            "weight": lambda each, text: cells.weight(each.amount, unit),
        },
        heads={"place": cells.hidden("Place"), "weight": cells.weight_head(unit)},
        classes={"place": "pos", "who": "name", "water": "name", "weight": "num"},
    )


def _wins(wins: Sequence[Wins]) -> Any:
    if not wins:
        return None
    return ledger(
        WIN_COLUMNS,
        wins,
        row_header="who",
        cells={
            "place": lambda each, text: cells.with_tip(text) if each.place == 1 else text,
            "who": lambda each, text: named(angler_page(each.key), text, ""),
        },
        heads={"place": cells.hidden("Place")},
        classes={"place": "pos", "who": "name", "matches": "num", "wins": "num"},
    )


def _team_page(key: str) -> str:
    return reverse("team", args=[int(key)]) if key.isdecimal() else ""
