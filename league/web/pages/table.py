"""What a league table page is made of."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django.core.paginator import Paginator
from django.http import Http404

from league.columns import Column
from league.models import Season
from league.rules import words
from league.rules.chances_left import chances_of, rounds_left, why_silent
from league.rules.chances_words import say_chances
from league.rules.figures import counted
from league.rules.lines import TableLine
from league.rules.rulebook import Rulebook
from league.web import cells
from league.web.ledgers import ledger
from league.web.pages.standings import Standings, movement, rules_url, standings
from league.web.pages.table_ledger import league_ledger, shared_columns
from league.web.sentences import moment

HEAD_OF_THE_TABLE = 6
ON_A_PAGE = 100  # lines, each with the reasons behind its figures: 320 of them are over 100 kB


def matter(season: Season, number: int = 1, *, of_anglers: bool = False) -> dict[str, Any]:
    """Everything below the head of the table's page, of a long table its page *number*."""
    table = standings(season, of_anglers=of_anglers)
    worked = table.worked
    pages = Paginator(table.lines, ON_A_PAGE)
    if number not in pages.page_range:
        raise Http404("The table has no such page.")
    lines = table.lines[ON_A_PAGE * (number - 1) : ON_A_PAGE * number]
    return {
        "pages": pages.get_page(number) if pages.num_pages > 1 else None,
        "season": season,
        "headline": words.table_headline(replace(worked, table=table.lines)),
        "of_anglers": of_anglers,
        "of_teams": table.of_teams,
        "has_both": worked.table is not worked.anglers,
        "so_far": so_far(table),
        "provisional": _provisional(table),
        "table": league_ledger(table, lines) if table.lines and worked.rounds else None,
        "first": next((match for match in table.matches.values()), None),
        "has_drops": any(each.dropped for line in table.lines for each in line.rounds),
        "to_come": [number for number in table.numbers if number > table.last],
        "over": bool(table.last) and not [n for n in table.numbers if n > table.last],
        "rules_url": rules_url(season),
        "ties": said_ties(table.book),
        "splits": [
            (line.name, words.say_split(line.split, table.book.unit))
            for line in lines
            if line.split and line.split.we_are_ahead and worked.rounds
        ],
        "can_happen": can_happen(table) if number == 1 else None,
    }


def can_happen(table: Standings) -> dict[str, Any] | None:
    """Who can still win, from half-way on: before, nearly everybody can. Else why nothing is."""
    worked, book, of_anglers = table.worked, table.book, not table.of_teams
    rounds = rounds_left(worked)
    if not worked.held or (worked.planned and not rounds):
        return None
    if rounds and 2 * len(rounds) > worked.planned:
        half = (worked.planned + 1) // 2
        return {"why_not": f"Said here after round {half}: before, nearly everybody can win."}
    said = say_chances(
        worked,
        book,
        chances_of(worked, book, of_anglers=of_anglers),
        rounds,
        of_anglers=of_anglers,
    )
    if not said:
        why_not = why_silent(worked, book, of_anglers=of_anglers)
        return {"why_not": why_not} if why_not else None
    return {"rounds": counted(len(rounds), "round"), "one": len(rounds) == 1, "said": said}


def head(season: Season) -> dict[str, Any]:
    """The front page's part about the league: who leads, and who went up or down."""
    table = standings(season)
    lines = table.lines[:HEAD_OF_THE_TABLE]
    unit = table.book.unit

    def moved(line: TableLine) -> str:
        return movement(line, table.before) or "no change"

    by_key = {column.key: column for column in shared_columns(table)}
    columns: list[Column[TableLine]] = [by_key["place"], by_key["name"]]
    if table.before:
        columns.append(Column("moved", f"Since round {_round_before(table)}", moved))
    columns += [by_key["weight"], by_key["total"]]
    return {
        "season": season,
        "so_far": so_far(table),
        "more": len(table.lines) - len(lines),
        "first": next(iter(table.matches.values()), None),
        "table": ledger(
            columns,
            lines,
            row_header="name",
            cells={
                "place": lambda line, text: cells.with_tip(text) if line.place == 1 else text,
                "weight": lambda line, text: cells.weight(line.weight, unit),
            },
            heads={"place": cells.hidden("Place"), "weight": cells.weight_head(unit)},
            classes={"place": "pos", "name": "name", "moved": "mv", "total": "num total"},
        )
        if table.worked.rounds
        else None,
    }


def so_far(table: Standings) -> str:
    """After round 6 of 7. The best 5 rounds count."""
    if not table.last:
        return table.book.season.drops.words
    planned = table.season.planned_rounds
    of = f" of {planned}" if planned > 1 else ""
    return f"After round {table.last}{of}. {table.book.season.drops.words}"


def said_ties(book: Rulebook) -> str:
    """What goes ahead on level points."""
    rungs = ", then ".join(rung.words for rung in book.season.ties)
    return f"Level on points: told apart by {rungs}." if rungs else ""


def _round_before(table: Standings) -> int:
    return [number for number, _ in table.worked.rounds][-2]


def _provisional(table: Standings) -> str:
    """Which rounds are not final yet, and for a single one until when objections are heard."""
    open_to_objection = {
        number: result for number, result in table.results.items() if result.final_at is None
    }
    if not open_to_objection:
        return ""
    if len(open_to_objection) > 1:
        numbers = words.and_list([str(number) for number in open_to_objection])
        return f"Rounds {numbers} are provisional."
    [(number, result)] = open_to_objection.items()
    until = result.objections_until
    return f"Round {number} is provisional." + (
        f" Objections until {moment(until)}." if until else ""
    )
