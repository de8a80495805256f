"""Rounds of a season as they are pasted or filled in; a season copied from the one before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, time, timedelta

from django.contrib.auth.models import User

from league.files import rulebook as rulebook_file
from league.files.pasted_rounds import PastedRound, numbered
from league.models import (
    Match,
    Season,
    SquadMember,
    Stage,
    Team,
    Water,
)
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.season import add_round, make_season, slug_of
from league.operations.store import change, writing
from league.rules.figures import and_list
from league.rules.rulebook import Rulebook

WEEK = timedelta(weeks=1)


@dataclass(frozen=True, slots=True)
class Hours:
    """The times of a day's match; None where one is not announced."""

    book_in: time | None = None
    draw_at: time | None = None
    all_in: time | None = None
    all_out: time | None = None

    def with_times(self, written: Sequence[time]) -> Hours:
        """The same with the times that a line has itself: all in (and all out), or all four."""
        if len(written) == 4:
            return Hours(*written)
        if len(written) == 2:
            return Hours(self.book_in, self.draw_at, *written)
        return Hours(self.book_in, self.draw_at, written[0], self.all_out) if written else self


def plan_rounds(
    season: Season,
    pasted: Sequence[PastedRound],
    *,
    water: Water | None = None,
    hours: Hours | None = None,
    by: User | None,
) -> list[Match]:
    """
    Plan the rounds *pasted*, all of them or none.

    A line without a water is fished at *water*, a line without times at *hours*; one without a
    number gets the next that is free. The season has at least so many rounds from then on.
    """
    if not pasted:
        raise RefusedError("No round is written down yet. Write a line a round.")
    usual = hours or Hours()
    with writing():
        season = Season.objects.locked(season.pk)
        taken = {match.round: match for match in Match.objects.rounds_of(season)}
        rounds = numbered(pasted, taken=[number for number in taken if number])
        waters = _waters(season, rounds, water)
        per_section = rulebook_file.from_dict(season.book).team.per_section
        faults = [
            f"Row {each.row}: round {each.number} is planned already, for "
            f"{taken[each.number].date:%a} {taken[each.number].date.day} "
            f"{taken[each.number].date:%b %Y}. Move it on its own page."
            for each in rounds
            if each.number in taken
        ]
        if faults:
            raise RefusedError("\n".join(faults))
        made = []
        for each, where in zip(rounds, waters, strict=True):
            at = usual.with_times(each.times)
            made.append(
                add_round(
                    season,
                    number=each.number or 0,
                    water=where,
                    date=each.date,
                    per_section=per_section,
                    book_in=at.book_in,
                    draw_at=at.draw_at,
                    all_in=at.all_in,
                    all_out=at.all_out,
                    by=by,
                )
            )
        highest = max([season.planned_rounds, *(each.number or 0 for each in rounds)])
        if highest != season.planned_rounds:
            season.planned_rounds = highest
            season.save(update_fields=["planned_rounds"])
    return made


def copy_season(
    season: Season,
    *,
    name: str,
    starts: date,
    book: Rulebook | None = None,
    squads: bool = True,
    rounds: bool = True,
    by: User | None,
) -> Season:
    """
    Set up the season after *season*: its rules, teams and codes, and as asked squads and rounds.

    Rounds keep their water, their times and their day of the week; whole weeks later, counted
    from one start to the other.
    """
    with writing():
        season = Season.objects.locked(season.pk)
        weeks = round((starts - season.starts) / WEEK)
        new = make_season(
            season.league,
            name=name,
            starts=starts,
            book=book or rulebook_file.from_dict(season.book),
            planned_rounds=season.planned_rounds,
            by=by,
        )
        entered = _copy_teams(season, new, squads=squads)
        planned = _copy_rounds(season, new, weeks, by) if rounds else 0
        parts = [
            f"{entered} team{'' if entered == 1 else 's'}{' with squads' if squads else ''}",
            f"{planned} round{'' if planned == 1 else 's'}",
        ]
        write_down(
            f"{new} copied from {season}: {' and '.join(parts)}.", by=by, club=new.league.club
        )
    return new


def change_season(
    season: Season, *, name: str, starts: date, planned_rounds: int, by: User | None
) -> Season:
    """Write the name, the start or the number of rounds of *season* otherwise."""
    with writing():
        season = Season.objects.locked(season.pk)
        numbers = [match.round or 0 for match in Match.objects.rounds_of(season)]
        if planned_rounds < max(numbers, default=0):
            raise RefusedError(
                f"Round {max(numbers)} is planned, so the season has at least {max(numbers)} "
                "rounds. Cancel a round that will not be fished; the rules say what it counts as."
            )
        season.name, season.slug = name.strip(), slug_of(name)
        season.starts, season.planned_rounds = starts, planned_rounds
        change(season, "name", "slug", "starts", "planned_rounds")
        Season.objects.table_changed(season.pk)
        write_down(
            f"{season} starts {starts:%a} {starts.day} {starts:%b %Y} and has {planned_rounds} "
            "rounds.",
            by=by,
            club=season.league.club,
        )
    return season


def _waters(season: Season, rounds: Sequence[PastedRound], usual: Water | None) -> list[Water]:
    known = list(Water.objects.of(season.league.club))
    by_name = {water.name.casefold(): water for water in known}
    by_name |= {f"{water.venue.name} {water.name}".casefold(): water for water in known}
    found, faults = [], []
    for each in rounds:
        water = by_name.get(each.water.casefold()) if each.water else usual
        if water is not None:
            found.append(water)
        elif each.water:
            names = and_list([water.name for water in known]) or "none yet"
            faults.append(
                f"Row {each.row}: {each.water} is not a water of the club. Its waters are {names}."
            )
        else:
            faults.append(f"Row {each.row}: no water is named. Write it behind the date.")
    if faults:
        raise RefusedError("\n".join(faults))
    return found


def _copy_teams(season: Season, new: Season, *, squads: bool) -> int:
    teams = list(Team.objects.of(season))
    made = Team.objects.bulk_create(
        Team(season=new, name=team.name, code=team.code) for team in teams
    )
    if squads:
        to = {old.pk: team for old, team in zip(teams, made, strict=True)}
        SquadMember.objects.bulk_create(
            SquadMember(team=to[each.team_id], angler_id=each.angler_id, captain=each.captain)
            for each in SquadMember.objects.of_season(season)
        )
    return len(made)


def _copy_rounds(season: Season, new: Season, weeks: int, by: User | None) -> int:
    matches = [match for match in Match.objects.rounds_of(season) if match.stage != Stage.CANCELLED]
    per_section = rulebook_file.from_dict(new.book).team.per_section
    for number, match in enumerate(matches, start=1):
        add_round(
            new,
            number=number,
            water=match.water,
            date=match.date + weeks * WEEK,
            name=match.name,
            book_in=match.book_in,
            draw_at=match.draw_at,
            all_in=match.all_in,
            all_out=match.all_out,
            per_section=per_section,
            by=by,
        )
    return len(matches)
