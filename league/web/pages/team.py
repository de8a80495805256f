"""What a team's page is made of: its season round by round, its sections, its squad."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.urls import reverse
from django.utils.html import format_html, format_html_join

from league.columns import (
    STATUS_WORDS,
    Column,
    plain_points,
    plain_weight,
    points_or_dash,
    section_place,
    weight_heading,
)
from league.columns import placing as placing_written
from league.models import Match, Result, Season, SquadMember, Team
from league.operations import score
from league.rules.figures import and_list, capital, counted, number_word, ordinal_word, points_said
from league.rules.lines import AnglerLine, TableLine, TeamLine
from league.rules.statuses import FISHED
from league.rules.weights import Unit, spoken, written
from league.web import cells
from league.web.ledgers import ledger
from league.web.pages.result_sections import angler_page
from league.web.pages.standings import standings, table_stamp
from league.web.published import remembered
from league.web.sentences import short_day


@dataclass(frozen=True, slots=True)
class Round:
    """A round as the team fished it, by the version in force."""

    number: int
    match: Match
    line: TeamLine
    members: tuple[AnglerLine, ...]
    of: int  # teams in the match
    unit: Unit

    @property
    def sections(self) -> str:
        """Where each member came in their section: A 1, B 3=, C –."""
        return ", ".join(f"{each.row.section} {section_place(each)}" for each in self.members)


def columns(unit: Unit) -> tuple[Column[Round], ...]:
    """The rounds of a team, for page and file alike."""
    return (
        Column("round", "Round", lambda each: str(each.number), is_number=True),
        Column("date", "Date", lambda each: each.match.date.isoformat()),
        Column("water", "Water", lambda each: each.match.water.name),
        Column(
            "place",
            "Place",
            lambda each: placing_written(each.line.place, each.line.equal),
            is_number=True,
        ),
        Column("teams", "Of", lambda each: str(each.of), is_number=True),
        Column("sections", "In sections", lambda each: each.sections),
        Column(
            "weight",
            weight_heading(unit),
            lambda each: written(each.line.weight, each.unit),
            is_number=True,
            plain=lambda each: plain_weight(each.line.weight, each.unit),
        ),
        Column(
            "points",
            "Points",
            lambda each: points_or_dash(each.line.points),
            is_number=True,
            plain=lambda each: plain_points(each.line.points),
        ),
    )


def rounds_of(team: Team) -> list[Round]:
    """Every published round of *team*, newest first; worked out once for a table's version."""
    found: list[Round] = remembered(
        f"team rounds {team.pk} {table_stamp(team.season)}", lambda: _rounds(team)
    )
    return found


def _rounds(team: Team) -> list[Round]:
    key = str(team.pk)
    found = []
    for result in Result.objects.rounds_of(team.season):
        worked = score.read(result)
        line = next((line for line in worked.teams if line.team_id == key), None)
        if line is None or result.match.round is None:
            continue
        members = [
            each
            for section in worked.sections
            for each in section.lines
            if each.row.team_key == key
        ]
        found.append(
            Round(
                result.match.round,
                result.match,
                line,
                (*members, *line.short),
                len(worked.teams),
                worked.unit,
            )
        )
    return found[::-1]


def matter(team: Team, squad: Sequence[SquadMember]) -> dict[str, Any]:
    """The page of *team*."""
    rounds = rounds_of(team)
    standing = in_the_table(team.season).get(str(team.pk))
    to_come = Match.objects.rounds_of(team.season).still_to_come()
    return {
        "team": team,
        "season": team.season,
        "lead": _lead(rounds, standing),
        "facts": _facts(rounds),
        "rounds": len(rounds),
        "table": _table(rounds) if rounds else None,
        "squad": _squad(squad, rounds),
        "to_come": list(to_come),
        "others": [each for each in Team.objects.of(team.season) if each.pk != team.pk],
    }


def in_the_table(season: Season) -> dict[str, TableLine]:
    """The table's lines by team, worked out once for its version."""

    def make() -> dict[str, TableLine]:
        table = standings(season)
        return {line.key: line for line in table.lines} if table.of_teams else {}

    found: dict[str, TableLine] = remembered(f"lines {table_stamp(season)}", make)
    return found


def _lead(rounds: Sequence[Round], standing: TableLine | None) -> str:
    said = []
    if standing and rounds:
        level = "level " if standing.equal else ""
        place = capital(f"{level}{ordinal_word(standing.place)}")
        said.append(f"{place} in the table after {counted(len(rounds), 'round')}.")
    if rounds:
        last = rounds[0]
        said.append(
            f"{capital(ordinal_word(last.line.place))} of {number_word(last.of)} last time out, "
            f"with {points_said(last.line.points)} and {spoken(last.line.weight, last.unit)} "
            f"at {last.match.water}."
        )
    return " ".join(said)


def _facts(rounds: Sequence[Round]) -> list[dict[str, Any]]:
    if not rounds:
        return []
    unit = rounds[0].unit
    same = [each for each in rounds if each.unit is unit]
    return [
        {"label": "Rounds", "count": len(rounds)},
        {"label": "Won", "count": sum(each.line.place == 1 for each in rounds)},
        {"label": "Section wins", "count": sum(each.line.section_wins for each in rounds)},
        {"label": "Best round", "parts": cells.parts(max(e.line.weight for e in same), unit)},
    ]


def _table(rounds: Sequence[Round]) -> Any:
    unit = rounds[0].unit
    shown = [column for column in columns(unit) if column.key not in {"date", "teams"}]

    def water(each: Round, text: str) -> str:
        address = reverse("result", args=[each.match.pk])
        when = f"{short_day(each.match.date)} {each.match.date.year}"
        return format_html('<a href="{}">{}</a><small>{}</small>', address, text, when)

    def sections(each: Round, text: str) -> str:
        return format_html_join(
            " ",
            '<span class="insec">{}{}</span>',
            ((cells.plate(line.row.section), _in_section(line)) for line in each.members),
        )

    return ledger(
        shown,
        rounds,
        row_header="water",
        cells={
            "place": lambda each, text: cells.with_tip(text) if each.line.place == 1 else text,
            "water": water,
            "sections": sections,
            "weight": lambda each, text: cells.weight(each.line.weight, each.unit),
        },
        heads={"round": cells.hidden("Round"), "weight": cells.weight_head(unit)},
        classes={
            "round": "n rdc",
            "water": "name",
            "place": "num",
            "sections": "insecs lap",
            "weight": "num lap",
            "points": "num total",
        },
    )


def _in_section(line: AnglerLine) -> str:
    said = f"{line.row.angler or 'nobody'}, {STATUS_WORDS[line.status]}"
    return format_html('{}<span class="vh"> ({})</span>', section_place(line), said)


def _squad(squad: Sequence[SquadMember], rounds: Sequence[Round]) -> list[dict[str, Any]]:
    """Everybody of the squad by the name that may be published, with rounds and section wins."""
    fished: dict[str, int] = {}
    wins: dict[str, int] = {}
    for each in rounds:
        for line in each.members:
            key = line.row.angler_id
            if key and line.status in FISHED:
                fished[key] = fished.get(key, 0) + 1
                wins[key] = wins.get(key, 0) + (line.place == 1 and line.weight > 0)
    listed = []
    for member in squad:
        key = str(member.angler_id)
        said = [counted(fished.get(key, 0), "round")]
        if wins.get(key):
            said.append(counted(wins[key], "section win"))
        listed.append(
            {
                "name": member.angler.shown_name,
                "page": angler_page(key),
                "captain": member.captain,
                "said": capital(and_list(said)),
            }
        )
    return listed
