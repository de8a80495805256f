"""What the honours page of a season is made of: a list an honour, every claim with its counts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from league.columns import placing
from league.models import Match, Season
from league.rules import honours as rules
from league.rules import words
from league.rules.figures import counted, number_word
from league.rules.lines import TableLine
from league.rules.weights import Unit, spoken
from league.web.pages.result_sections import angler_page
from league.web.pages.standings import Standings, rules_url, standings
from league.web.sentences import short_day


@dataclass(frozen=True, slots=True)
class Row:
    """One line: what is counted, who, and what it rests on."""

    figure: str
    name: str
    beneath: str
    address: str = ""
    first: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """One honour."""

    key: str
    heading: str
    rows: list[Row]
    note: str = ""


def matter(season: Season) -> dict[str, Any]:
    """Everything below the head of the page."""
    table = standings(season)
    worked = table.worked
    places = {number: match.water.name for number, match in table.matches.items()}
    found = rules.honours(worked, places)
    unit = table.book.unit
    parts = [
        Part("places", "Champions", _places(found.places, table)),
        _lines_crossed(found, table),
        Part("anglers", "Anglers", _anglers(found.anglers, table), "By the anglers’ own table."),
        Part("weights", "Best weights", _weights(found.weights, table)),
        Part("team-weight", "Best team weight", _weights(found.team_weights, table)),
        Part("round-wins", "Most rounds won", [_round_wins(line) for line in found.round_wins]),
        Part(
            "section-wins",
            "Most sections won",
            [_section_wins(each) for each in found.section_wins],
        ),
        Part("pegs", "The peg that won most", [_peg(each) for each in found.pegs]),
    ]
    off = set(Match.objects.cancelled_rounds(season))
    to_come = [number for number in table.numbers if number > table.last and number not in off]
    return {
        "season": season,
        "over": found.over,
        "headline": words.table_headline(replace(worked, table=table.lines))
        if found.over
        else "The season is not over yet",
        "lead": _lead(table, unit, to_come, over=found.over),
        "provisional": any(result.final_at is None for result in table.results.values()),
        "parts": [part for part in parts if part.rows] if found.over else [],
        "rules_url": rules_url(season),
    }


def _lead(table: Standings, unit: Unit, to_come: Sequence[int], *, over: bool) -> str:
    fished = counted(len(table.worked.rounds), "round")
    if not over:
        left = counted(len(to_come), "round")
        return f"{fished.capitalize()} fished, {left} to fish. Honours are read out after the last."
    lines = [
        line
        for _, result in table.worked.rounds
        for section in result.sections
        for line in section.lines
    ]
    caught = spoken(sum(line.weight for line in lines), unit)
    return f"{fished.capitalize()} fished, {caught} in all. {table.book.season.drops.words}"


def _places(lines: Sequence[TableLine], table: Standings) -> list[Row]:
    return [_place(line, table) for line in lines]


def _place(line: TableLine, table: Standings, won: str = "won") -> Row:
    unit = table.book.unit
    total = (
        spoken(int(line.total), unit) if table.worked.by_weight else words.points_said(line.total)
    )
    said = [total]
    if not table.worked.by_weight:
        said.append(spoken(line.weight, unit))
    said.append(f"{counted(line.fished, 'round')} fished")
    if line.round_wins:
        said.append(f"{number_word(line.round_wins)} {won}")
    return Row(
        placing(line.place, line.equal),
        line.name,
        ", ".join(said) + ".",
        "" if table.of_teams else angler_page(line.key),
        line.place == 1,
    )


def _anglers(lines: Sequence[TableLine], table: Standings) -> list[Row]:
    # In a league of teams an angler's round is won in the section.
    rows = []
    for line in lines:
        row = _place(line, table, "won in the section")
        beneath = ", ".join(part for part in (line.team, row.beneath) if part)
        rows.append(replace(row, beneath=beneath, address=angler_page(line.key)))
    return rows


def _lines_crossed(found: rules.Honours, table: Standings) -> Part:
    rows = [
        Row(placing(line.place, line.equal), line.name, said)
        for lines, said in (
            (found.up, "Promoted."),
            (found.across, "Level across the line: the club decides."),
            (found.down, "Relegated."),
        )
        for line in lines
    ]
    return Part("lines", "Up and down", rows)


def _weights(catches: Sequence[rules.Catch], table: Standings) -> list[Row]:
    return [
        Row(
            spoken(catch.weight, table.book.unit),
            catch.name,
            _where(catch, table),
            angler_page(catch.key) if catch.peg else "",
            at == 0,
        )
        for at, catch in enumerate(catches)
    ]


def _where(catch: rules.Catch, table: Standings) -> str:
    match = table.matches.get(catch.round)
    said = [catch.team, f"peg {catch.peg}" if catch.peg else "", f"round {catch.round}"]
    if match:
        said += [match.water.name, short_day(match.date)]
    first, *rest = [part for part in said if part]
    return f"{first[:1].upper()}{first[1:]}, {', '.join(rest)}." if rest else f"{first}."


def _round_wins(line: TableLine) -> Row:
    return Row(str(line.round_wins), line.name, f"Of {counted(line.fished, 'round')} fished.")


def _section_wins(each: rules.Wins) -> Row:
    beneath = f"Of {counted(each.fished, 'round')} fished."
    return Row(
        str(each.wins),
        each.name,
        f"{each.team}. {beneath}" if each.team else beneath,
        angler_page(each.key),
    )


def _peg(each: rules.PegWins) -> Row:
    where = f", {each.place}" if each.place else ""
    return Row(
        str(each.wins),
        f"Peg {each.peg}{where}",
        f"Of {counted(each.fished, 'time')} it was fished.",
    )
