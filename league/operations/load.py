"""A season out of a sheet into the club's records: everything at once, or nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import time

from django.contrib.auth.models import User

from league.files.anglers import Listed
from league.files.sheet import Sheet, SheetMatch
from league.models import Angler, League, Match, Season, SquadMember, Team
from league.operations.errors import RefusedError
from league.operations.facts import facts_of, rows_of
from league.operations.journal import write_down
from league.operations.load_match import load_match
from league.operations.score import book_of_season
from league.operations.season import add_team, make_season
from league.operations.store import writing
from league.rules.lines import Row, Status
from league.rules.rulebook import Rulebook

LONGEST = {"section": 3, "peg": 8, "angler": 80, "team": 60}
LONGEST_PLACE = 80


@dataclass(frozen=True, slots=True)
class Loaded:
    """What a sheet brought: rounds added, and rounds that were on record just so."""

    season: Season
    added: tuple[int, ...]
    known: tuple[int, ...]
    new_anglers: tuple[Angler, ...] = ()


def load_season(
    league: League,
    *,
    sheet: Sheet,
    name: str,
    book: Rulebook | None = None,
    planned_rounds: int | None = None,
    listed: Mapping[str, Listed] | None = None,
    hours: Mapping[str, time] | None = None,
    by: User | None,
) -> Loaded:
    """
    Load the rounds of *sheet* into the season called *name*, published and final.

    A round on record with the same rows is left as it is, so that loading twice is harmless; one
    that differs refuses the sheet. Without a *book* the season's own holds. *listed* says who of
    those new to the club is a junior, *hours* are the day's times by field: no sheet has them.
    The queue is held for the whole sheet, a second or two: a fault in the last round must leave
    no trace of the first.
    """
    season = Season.objects.called(league, name)
    rules = book or (book_of_season(season) if season else Rulebook())
    known = {match.round: match for match in Match.objects.rounds_of(season)} if season else {}
    faults = [
        *_season_faults(season, rules),
        *(fault for match in sheet.matches for fault in _match_faults(match, known)),
    ]
    if faults:
        raise RefusedError("\n".join(faults))
    fresh = [match for match in sheet.matches if match.round not in known]
    with writing():
        if season is None:
            season = make_season(
                league,
                name=name,
                starts=min(match.date for match in fresh if match.date),
                book=rules,
                planned_rounds=planned_rounds or len(sheet.matches),
                by=by,
            )
        anglers, new = _anglers(league, fresh, listed or {})
        teams = _teams(season, fresh, by)
        _squads(season, fresh, anglers, teams)
        for match in fresh:
            load_match(season, match, anglers=anglers, teams=teams, hours=hours, by=by)
        if fresh:
            numbers = ", ".join(str(match.round) for match in fresh)
            write_down(f"Rounds of {season} loaded: {numbers}.", by=by, club=league.club)
    return Loaded(
        season,
        tuple(match.round or 0 for match in fresh),
        tuple(match.round or 0 for match in sheet.matches if match.round in known),
        tuple(new),
    )


def _season_faults(season: Season | None, book: Rulebook) -> Iterator[str]:
    if season and book_of_season(season) != book:
        yield (
            f"{season} has other rules on record. Leave the rules out to load under those, or "
            "load the sheet as another season."
        )


def _match_faults(match: SheetMatch, known: dict[int | None, Match]) -> Iterator[str]:
    """What the records cannot hold of one match, in words."""
    if match.round is None:
        yield "The sheet has no round column. Write round and date in front of each row."
        return
    here = f"Round {match.round}"
    if match.date is None:
        yield f"{here} has no date. Write it as 2027-01-24 in the date column."
    for place in (match.venue, match.water):
        if len(place) > LONGEST_PLACE:
            yield f"{here}: {place[:20]}… is too long a name; {LONGEST_PLACE} letters fit."
    for row in match.rows:
        for column, longest in LONGEST.items():
            cell = getattr(row, column)
            if len(cell) > longest:
                yield (
                    f"{here}, {column} of {row.angler[:40] or row.team}: {cell[:20]}… is too long; "
                    f"{longest} letters fit."
                )
    if (there := known.get(match.round)) and not _same(match, there):
        yield (
            f"{here} is on record with other figures. Correct it on its page, where everybody can "
            "see what changed, or take the round out of the sheet."
        )


def _same(match: SheetMatch, there: Match) -> bool:
    facts = facts_of(there)
    names = {str(entry.angler_id): entry.angler for entry in facts.entries}
    on_record = {(*_figures(row), names[row.angler_id].name.casefold()) for row in rows_of(facts)}
    shown = {(*_figures(row), names[row.angler_id].shown_name.casefold()) for row in rows_of(facts)}
    return all(
        (*_figures(row), row.angler.casefold()) in on_record | shown for row in _fished(match)
    ) and len(list(_fished(match))) == len(on_record)


def _figures(row: Row) -> tuple[object, ...]:
    # An absent angler without a peg is given one that stands for none.
    peg = "" if row.status is Status.ABSENT else row.peg
    penalties = (row.penalty, row.weight_penalty, row.decided)
    return (row.section, peg, row.team, row.status, row.nets, *penalties)


def _fished(match: SheetMatch) -> Iterator[Row]:
    """The rows with an angler: a place nobody was named for is no entry."""
    return (row for row in match.rows if row.angler)


def _anglers(
    league: League, matches: list[SheetMatch], listed: Mapping[str, Listed]
) -> tuple[dict[str, Angler], list[Angler]]:
    """Everybody of the sheet by the name it has, and those who had to be added to the club."""
    club = league.club
    found: dict[str, Angler] = {}
    for angler in Angler.objects.of(club):
        found.setdefault(angler.shown_name.casefold(), angler)
        found[angler.name.casefold()] = angler
    named = dict.fromkeys(row.angler for match in matches for row in _fished(match))
    new: dict[str, Angler] = {}
    for name in named:
        if (key := name.casefold()) not in found:
            known = listed.get(key, Listed(name))
            new.setdefault(
                key,
                Angler(
                    club=club,
                    name=name,
                    junior=known.junior,
                    consent_to_publish=known.consent_to_publish,
                    easy_access=known.easy_access,
                ),
            )
    added = Angler.objects.bulk_create(new.values())
    found |= {angler.name.casefold(): angler for angler in added}
    return {name: found[name.casefold()] for name in named}, added


def _teams(season: Season, matches: list[SheetMatch], by: User | None) -> dict[str, Team]:
    teams = {team.name: team for team in Team.objects.of(season)}
    for name in dict.fromkeys(row.team for match in matches for row in match.rows if row.team):
        if name not in teams:
            teams[name] = add_team(season, name=name, by=by)
    return teams


def _squads(
    season: Season,
    matches: list[SheetMatch],
    anglers: dict[str, Angler],
    teams: dict[str, Team],
) -> None:
    """Put everybody in the squad of the team they first fished for."""
    taken = SquadMember.objects.anglers_of(season)
    first: dict[int, SquadMember] = {}
    for match in matches:
        for row in _fished(match):
            angler = anglers[row.angler]
            if row.team and angler.pk not in taken:
                first.setdefault(angler.pk, SquadMember(team=teams[row.team], angler=angler))
    SquadMember.objects.bulk_create(first.values())
