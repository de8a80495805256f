"""What an angler's page is made of: a season along a line, every match, the best weights."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.utils.html import format_html

from league.columns import (
    NOTHING,
    Column,
    figure,
    plain_figure,
    plain_points,
    points_or_dash,
    section_place,
)
from league.files.result import best_of
from league.models import Angler, Club, Match, Result, Season
from league.operations.score import score_table
from league.rules.figures import counted, ordinal_word, points_said
from league.rules.lines import Points, Status
from league.rules.records import Catch, heaviest
from league.rules.weights import Unit, spoken
from league.web import cells
from league.web.ledgers import ledger
from league.web.pages.form import form
from league.web.pages.outings import Outing, outings_of
from league.web.pages.standings import table_stamp
from league.web.published import remembered
from league.web.sentences import short_day

RECORDS = 5
BEST = 3  # of an angler's own


@dataclass(frozen=True, slots=True)
class Standing:
    """Where an angler stands in the anglers' table of a season."""

    place: int
    equal: bool
    of: int
    total: Points
    dropped: frozenset[int]


def matter(angler: Angler, to_come: Sequence[Match]) -> dict[str, Any]:
    """The page of *angler*; *to_come* are the matches booked in for."""
    outings = outings_of(angler)
    season = next((each.match.season for each in outings if each.match.season), None)
    standing = in_the_anglers_table(season).get(str(angler.pk)) if season else None
    dropped = standing.dropped if standing else frozenset()
    outings = [
        replace(each, dropped=True)
        if each.match.season_id == (season and season.pk) and each.match.round in dropped
        else each
        for each in outings
    ]
    own = [each for each in outings if season and each.match.season_id == season.pk]
    facts_from = own or outings
    return {
        "angler": angler,
        "season": season,
        "team": next((each.line.row.team for each in facts_from if each.line.row.team), ""),
        "lead": _lead(facts_from, standing),
        "facts": _facts(facts_from) if outings else [],
        "facts_of": str(season) if own and season else "",
        "form": form(list(reversed(own or outings[:12])), season),
        "placings": _placings(outings),
        "best": _best(outings),
        "table": _table(outings) if outings else None,
        "matches": len(outings),
        "to_come": [] if angler.junior else list(to_come),
    }


def in_the_anglers_table(season: Season) -> dict[str, Standing]:
    """The anglers' table by angler, worked out once for a version of the table."""

    def make() -> dict[str, Standing]:
        lines = score_table(season).anglers
        return {
            line.key: Standing(
                line.place,
                line.equal,
                len(lines),
                line.total,
                frozenset(each.round for each in line.rounds if each.dropped),
            )
            for line in lines
        }

    found: dict[str, Standing] = remembered(f"anglers {table_stamp(season)}", make)
    return found


def _lead(outings: Sequence[Outing], standing: Standing | None) -> str:
    said = []
    if standing and standing.of > 1:
        shared = "Level " if standing.equal else ""
        place = f"{shared}{ordinal_word(standing.place)}"
        said.append(
            f"{place[0].upper()}{place[1:]} of {standing.of} in the anglers’ table "
            f"on {points_said(standing.total)}."
        )
    if outings:
        last = outings[0]
        what = (
            f"{spoken(last.line.weight, last.unit)}"
            if last.weighed
            else figure(last.line.status, last.line.weight, last.unit)
        )
        peg = f" off peg {last.line.row.peg}" if last.line.row.peg and last.weighed else ""
        won = f"Won section {last.line.row.section}" if last.won and last.line.row.section else ""
        with_what = f"{won} last time out with {what}" if won else f"Last time out: {what}"
        said.append(f"{with_what}{peg} at {last.match.water}.")
    return " ".join(said)


def _facts(outings: Sequence[Outing]) -> list[dict[str, Any]]:
    """Counts and weights of one season, in the unit of its newest match."""
    unit = outings[0].unit
    weights = [each.line.weight for each in outings if each.unit is unit]
    return [
        {"label": "Matches", "count": len(outings)},
        {"label": "Section wins", "count": sum(each.won for each in outings)},
        {"label": "Best weight", "parts": cells.parts(max(weights), unit)},
        {"label": "All together", "parts": cells.parts(sum(weights), unit)},
        {"label": "Blanks", "count": sum(each.line.status is Status.BLANK for each in outings)},
    ]


def _placings(outings: Sequence[Outing]) -> str:
    """Where the sections ended, out of how many: In 21 sections: three firsts, two seconds ..."""
    places = [each.line.place for each in outings if each.weighed and each.line.place]
    if not places:
        return ""
    counts = [(ordinal_word(place), places.count(place)) for place in range(1, 4)]
    said = [counted(count, word) for word, count in counts if count]
    rest = sum(place > 3 for place in places)
    if rest:
        said.append(f"{counted(rest, 'time')} further down" if said else "never in the first three")
    return f"In {counted(len(places), 'section')} with a weight: {', '.join(said)}."


def _best(outings: Sequence[Outing]) -> list[dict[str, Any]]:
    """The heaviest weights, in the unit of the newest match; none before a second one."""
    if len(outings) < 2:
        return []
    unit = outings[0].unit
    by_match = {each.match.pk: each for each in outings if each.unit is unit}
    catches = [
        Catch("", "", each.line.weight, key, "", "")
        for key, each in by_match.items()
        if each.line.weight
    ]
    return [
        {
            "weight": spoken(catch.amount, unit),
            "outing": by_match[catch.match],
            "when": _when(by_match[catch.match].match),
        }
        for catch in heaviest(catches, BEST)
    ]


# ---- every match -------------------------------------------------------------------------------


# One angler may have fished in pounds and in kilograms: the weight says which.
FILE_COLUMNS: tuple[Column[Outing], ...] = (
    Column("date", "Date", lambda each: each.match.date.isoformat()),
    Column("match", "Match", lambda each: each.match.title),
    Column("season", "Season", lambda each: str(each.match.season) if each.match.season else ""),
    Column("water", "Water", lambda each: each.match.water.name),
    Column("section", "Section", lambda each: each.line.row.section),
    Column("peg", "Peg", lambda each: each.line.row.peg, is_number=True),
    Column("team", "Team", lambda each: each.line.row.team),
    Column(
        "weight",
        "Weight",
        lambda each: figure(each.line.status, each.line.weight, each.unit),
        plain=lambda each: plain_figure(each.line.status, each.line.weight, each.unit),
    ),
    Column("place", "Place in section", lambda each: section_place(each.line), is_number=True),
    Column(
        "points",
        "Points",
        lambda each: points_or_dash(each.line.points),
        is_number=True,
        plain=lambda each: plain_points(each.line.points),
    ),
)


def _table(outings: Sequence[Outing]) -> Any:
    columns: tuple[Column[Outing], ...] = (
        Column("round", "Round", lambda each: str(each.match.round or "")),
        Column("water", "Water", lambda each: each.match.water.name),
        Column("peg", "Peg", lambda each: each.line.row.peg),
        Column("weight", "Weight", lambda each: ""),
        Column("place", "In section", lambda each: each.in_section),
        Column("points", "Points", lambda each: points_or_dash(each.line.points)),
    )
    units = {each.unit for each in outings}
    heads = {"round": cells.hidden("Round")}
    if len(units) == 1:
        heads["weight"] = cells.weight_head(units.pop())

    def points(each: Outing, text: str) -> str:
        inner = cells.struck(text) if each.dropped else cells.boxed(text)
        return format_html('<a class="fig" href="{}">{}</a>', each.address, inner)

    def water(each: Outing, text: str) -> str:
        said = format_html("{}<small>{}</small>", text, _when(each.match))
        if each.in_section == NOTHING:
            return said
        return format_html('{}<small class="ph">{} in section</small>', said, each.in_section)

    return ledger(
        columns,
        outings,
        row_header="water",
        cells={
            "water": water,
            "peg": lambda each, text: cells.peg(each.line.row.section, text),
            "weight": lambda each, text: cells.figure(
                each.line.status, each.line.weight, each.unit
            ),
            "points": points,
        },
        heads=heads,
        classes={
            "round": "n rdc",
            "water": "name",
            "peg": "pegcell",
            "weight": "num",
            "place": "num lap",
            "points": "num total",
        },
    )


def _when(match: Match) -> str:
    day = f"{short_day(match.date)} {match.date.year}"
    return f"{day}, {match.season.league.name}" if match.season else day


# ---- the club's records ------------------------------------------------------------------------


def records(club: Club) -> list[dict[str, Any]]:
    """The heaviest weights published, heaviest first; worked out once a publication."""
    version = Result.objects.last_change_of(club)

    def make() -> list[dict[str, Any]]:
        found = [
            {
                "angler": line.angler,
                "angler_id": line.angler_id,
                "weight": spoken(line.weight, Unit(result.match.unit)),
                "amount": line.weight,
                "unit": result.match.unit,
                "match": result.match.pk,
                "where": f"{result.match.water}, {_when(result.match)}",
                "peg": line.peg,
            }
            for result in Result.objects.of_club(club)
            for line in best_of(result.document)
        ]
        newest = found[0]["unit"] if found else None
        same = [each for each in found if each["unit"] == newest]
        return sorted(same, key=lambda each: -each["amount"])[:RECORDS]

    found: list[dict[str, Any]] = remembered(f"records {club.pk} {version}", make)
    return found
