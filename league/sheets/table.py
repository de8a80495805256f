"""The league table on paper: rounds as columns, dropped scores struck, ties explained."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from league import columns
from league.rules.lines import SeasonResult, TableLine
from league.rules.policies import written as points_written
from league.rules.weights import Unit
from league.sheets import faces
from league.sheets.binding import bind, opening_of
from league.sheets.cutting import cut, deepest, headed_parts
from league.sheets.flow import small_print
from league.sheets.frame import AS_A_PAGE, Foot
from league.sheets.ledger import (
    Cell,
    Column,
    Ledger,
    Name,
    Struck,
    ledger_block,
    name_room,
    set_ledger,
)
from league.sheets.page import MM, Page, SheetHead, write_sheet
from league.sheets.result_notes import UNITS, ties
from league.sheets.result_tables import PLACE, figure_column, weight_cell, weight_column

MOST_UPRIGHT, MOST_TURNED = 40, 26  # rows of one ledger on one page
NAME_ROOM = 40 * MM  # a name keeps this much, or the paper is turned
NAME_SPREAD, ROUND_SPREAD = 62 * MM, 15 * MM  # where there is room to spare
# A letter beside whatever was scored without fishing, so that no nought stands unexplained.
CODES = {"absent": "a", "cancelled": "c", "disqualified": "d", "blank": "b", "not weighed": "n",
         "withdrew": "w", "vacant": "v"}  # fmt: skip
CODE_WORDS = {"a": "absent", "c": "cancelled", "d": "disqualified", "b": "blank",
              "n": "did not weigh", "w": "withdrew", "v": "nobody named"}  # fmt: skip


def table_sheet(
    head: SheetHead,
    season: SeasonResult,
    *,
    rounds: Mapping[int, str] | None = None,
    of_anglers: bool = False,
    total: str = "",
) -> bytes:
    """
    Print the table of *season* as a PDF; the paper is turned where the rounds need the width.

    *rounds* says of every round, fished or to come, where and when it is: 6, "Heron Lake,
    24 January". *total* is the heading of the totals, "Best five" say.
    """
    pages = table_pages(head, season, rounds=rounds, of_anglers=of_anglers, total=total)
    return write_sheet(f"{head.title}: table", head.club, head.series, pages)


def table_pages(
    head: SheetHead,
    season: SeasonResult,
    *,
    rounds: Mapping[int, str] | None = None,
    of_anglers: bool = False,
    total: str = "",
) -> list[Page]:
    """The pages of the table, to be printed alone or bound into a book."""
    faces.load_faces()
    lines = season.anglers if of_anglers else season.table
    of_teams = not of_anglers and season.table != season.anglers
    numbers = _numbers(season, rounds or {})
    setting = _Setting(season, numbers, "Team" if of_teams else "Angler", total or "Points")
    most = MOST_UPRIGHT
    if name_room(_ledger(setting, lines, head.paper.room)) < NAME_ROOM:
        head, most = replace(head, paper=head.paper.turned()), MOST_TURNED
    room = head.paper.room
    count = max(1, -(-len(lines) // most))
    size = max(1, -(-len(lines) // count))
    deep = deepest(head.paper)
    blocks = [
        ledger_block(part)
        for at in range(0, len(lines), size)
        for part in cut(_ledger(setting, lines[at : at + size], room), deep)
    ]
    told = ties((line.split for line in lines), season.unit, of_teams=of_teams)
    if told:
        heading = "How the tie was split" if len(told) == 1 else "How the ties were split"
        blocks += headed_parts(heading, told, room, deep)
    blocks += small_print(
        (
            ("Rounds", _round_words(numbers, rounds or {})),
            ("Notes", [*_notes(season, lines), *head.notes]),
            ("Decisions", head.decisions or _decisions(lines)),
            ("Rules", head.rules),
        ),
        room,
        deep,
    )
    reasons = (AS_A_PAGE,) if head.address else ()
    return bind(
        head,
        corner=head.series,
        opening=opening_of(head),
        blocks=blocks,
        foot=Foot(reasons, ("Match secretary",)),
    )


@dataclass(frozen=True, slots=True)
class _Setting:
    """What every ledger of the table has in common."""

    season: SeasonResult
    numbers: tuple[int, ...]
    who: str
    total: str


def _numbers(season: SeasonResult, rounds: Mapping[int, str]) -> tuple[int, ...]:
    """Every round of the season, fished or to come."""
    planned = range(1, (season.planned or 0) + 1)
    scored = {score.round for line in (*season.table, *season.anglers) for score in line.rounds}
    return tuple(sorted({*planned, *rounds, *scored}))


def _ledger(setting: _Setting, lines: Sequence[TableLine], room: float) -> Ledger:
    season = setting.season
    unit, by_weight = season.unit, season.by_weight
    parts = _parts(lines, unit)
    scores = {
        number: [_round_cell(line, number, unit, by_weight) for line in lines]
        for number in setting.numbers
    }
    totals = [columns.score(line.total, unit, by_weight) for line in lines]
    penalties = [points_written(line.penalty) if line.penalty else "" for line in lines]
    rounds = [figure_column(str(number), _texts(scores[number])) for number in setting.numbers]
    beside = [
        *((figure_column("Penalty", penalties),) if any(penalties) else ()),
        _apart(figure_column(setting.total, totals, bold=True)),
        *(() if by_weight else (weight_column(parts),)),
    ]
    place = Column("", PLACE + 1 * MM, "place")
    spare = room - place.wide - sum(column.wide for column in beside) - NAME_SPREAD
    head = (
        place,
        Column(setting.who, 0.0, "name", names=True),
        *_spread(rounds, spare),
        *beside,
    )
    rows: list[tuple[Cell, ...]] = [
        (
            columns.placing(line.place, line.equal),
            Name(line.name, line.team),
            *(scores[number][row] for number in setting.numbers),
            *((penalties[row],) if any(penalties) else ()),
            totals[row],
            *(() if by_weight else (weight_cell(line.weight, unit, parts),)),
        )
        for row, line in enumerate(lines)
    ]
    return set_ledger(head, rows, room, after=_lines_across(lines))


def _apart(column: Column) -> Column:
    """A column with more white before it, so that a total is not read as a round."""
    return replace(column, wide=column.wide + 3 * MM)


def _spread(rounds: Sequence[Column], room: float) -> list[Column]:
    """Rounds of one width, shared evenly over *room* where there is more than they need."""
    if not rounds:
        return []
    widest = max(column.wide for column in rounds)
    if widest * len(rounds) > room:
        return list(rounds)
    wide = max(widest, min(ROUND_SPREAD, room / len(rounds)))
    return [replace(column, wide=wide) for column in rounds]


def _lines_across(lines: Sequence[TableLine]) -> frozenset[int]:
    """Rows with a firm line beneath: the last that goes up, the last that stays."""
    up = [row for row, line in enumerate(lines) if line.mark == "up"]
    down = [row for row, line in enumerate(lines) if line.mark == "down"]
    return frozenset([*up[-1:], *(row - 1 for row in down[:1] if row)])


def _parts(lines: Sequence[TableLine], unit: Unit) -> tuple[str, ...]:
    if unit is Unit.KG:
        return ("kg",)
    return ("lb", "oz", "dr") if any(line.weight % 16 for line in lines) else ("lb", "oz")


def _round_cell(line: TableLine, number: int, unit: Unit, by_weight: bool) -> Cell:
    score = columns.round_score(line, number)
    if score is None:
        return ""
    text = columns.score(score.score, unit, by_weight)
    code = CODES.get(score.status, "")
    text = f"{text} {code}" if code else text
    return Struck(text) if score.dropped else text


def _texts(cells: Sequence[Cell]) -> list[str]:
    return [cell.text if isinstance(cell, Struck) else str(cell) for cell in cells]


def _round_words(numbers: Sequence[int], rounds: Mapping[int, str]) -> list[str]:
    return [f"{number}: {rounds[number]}." for number in numbers if rounds.get(number)]


def _decisions(lines: Sequence[TableLine]) -> list[str]:
    """The decisions behind the penalty points, each once."""
    said = (each for line in lines for each in line.reason.facts.get("decisions", ()))
    return list(dict.fromkeys(said))


def _notes(season: SeasonResult, lines: Sequence[TableLine]) -> list[str]:
    said = [UNITS[season.unit]]
    scores = [score for line in lines for score in line.rounds]
    if any(score.dropped for score in scores):
        said.append("A score with a stroke through it is dropped and does not count.")
    used = dict.fromkeys(CODES[score.status] for score in scores if score.status in CODES)
    if used:
        said.append(f"{'; '.join(f'{code}: {CODE_WORDS[code]}' for code in used)}.")
    if any(not line.qualified for line in lines):
        said.append("Whoever fished too few rounds stands below all who fished enough.")
    if any(line.mark in ("up", "down") for line in lines):
        said.append("The firm lines mark who goes up and who goes down as the table stands.")
    return said
