"""Set a season up: its rule book, its teams, squads and rounds; take one out that is a mistake."""

from __future__ import annotations

import re
import unicodedata
from datetime import date as day
from datetime import time

from django.contrib.auth.models import User
from django.utils import timezone
from django.utils.text import slugify

from league.files import rulebook as rulebook_file
from league.models import (
    Angler,
    Club,
    League,
    Match,
    Season,
    SquadMember,
    Stage,
    Team,
    Water,
)
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.store import add, writing
from league.rules.rulebook import Rulebook
from league.rules.weights import Unit


def make_league(club: Club, *, name: str, by: User | None) -> League:
    """Begin a league of *club*, whose seasons come back under one name."""
    name = " ".join(name.split())
    with writing():
        league = add(League(club=club, name=name, slug=slug_of(name) or "league"))
        write_down(f"League {league} begun.", by=by, club=club)
    return league


def make_season(
    league: League,
    *,
    name: str,
    starts: day,
    book: Rulebook,
    planned_rounds: int = 0,
    by: User | None,
) -> Season:
    """Open a season of *league* under *book*, the rules as announced."""
    with writing():
        season = add(
            Season(
                league=league,
                name=name.strip(),
                slug=slug_of(name),
                starts=starts,
                planned_rounds=planned_rounds,
                book=rulebook_file.as_dict(book),
            )
        )
        write_down(f"Season {season} set up.", by=by, club=league.club)
    return season


def why_it_stays(season: Season) -> str:
    """Why *season* cannot be taken out any more, in words; empty while it still can."""
    rounds = Match.objects.rounds_of(season)
    if begun := list(rounds.with_a_draw()):
        done = "is drawn" if begun[0].is_drawn else "has its draw sealed"
        return f"{begun[0]} {done}, so the season stays: what was drawn is never taken back."
    if paid := list(rounds.with_money()):
        return (
            f"Money is written down for {paid[0]}, so the season stays: the tin has to add up. "
            "Cancel the rounds that will not be fished."
        )
    return ""


def remove_season(season: Season, *, by: User | None) -> str:
    """
    Take out a season that was set up by mistake, with its teams, rounds and line-ups.

    Only before anything was drawn, published or paid in it; its lines in the journal stay. A
    league that is left without a season goes with it. Says what went.
    """
    with writing():
        season = Season.objects.locked(season.pk)
        Match.objects.rounds_of(season).held()
        if why := why_it_stays(season):
            raise RefusedError(why)
        league, club, name = season.league, season.league.club, str(season)
        teams = Team.objects.of(season).count()
        rounds = Match.objects.rounds_of(season).count()
        Match.objects.rounds_of(season).delete()
        season.delete()
        said = (
            f"{name} is taken out, with {teams} team{'' if teams == 1 else 's'} and "
            f"{rounds} round{'' if rounds == 1 else 's'}; nothing was drawn in it."
        )
        if not league.seasons.exists():
            said += f" {league} has no season left and is taken out too."
            league.delete()
        write_down(said, by=by, club=club)
    return said


def slug_of(name: str) -> str:
    """
    A name as its address has it.

    >>> slug_of("2026–27")
    '2026-27'
    """
    return slugify(name.replace("–", "-"))[:50]


def add_team(season: Season, *, name: str, code: str | None = None, by: User | None = None) -> Team:
    """Enter a team; without a *code* it gets one from its name, such as TAN for Tannery Lane."""
    with writing():
        season = Season.objects.locked(season.pk)
        taken = {team.code for team in Team.objects.of(season)}
        name = name.strip()
        team = add(Team(season=season, name=name, code=code or _code(name, taken)))
        write_down(f"{team.name} entered for {season}.", by=by, club=season.league.club)
    return team


def add_to_squad(
    team: Team, angler: Angler, *, captain: bool = False, by: User | None
) -> SquadMember:
    """Put *angler* in the squad of *team*; in one season nobody fishes for two teams."""
    with writing():
        season = Season.objects.locked(team.season_id)
        if angler.club_id != season.league.club_id:
            raise RefusedError(f"{angler} is not an angler of the club.")
        if other := SquadMember.objects.elsewhere(team, angler):
            raise RefusedError(
                f"{angler} is in the squad of {other.team} this season; take them out of it first."
            )
        member = add(SquadMember(team=team, angler=angler, captain=captain))
        write_down(f"{angler} put in the squad of {team}.", by=by, club=season.league.club)
    return member


def add_round(
    season: Season,
    *,
    number: int,
    water: Water,
    date: day,
    by: User | None,
    name: str = "",
    book_in: time | None = None,
    draw_at: time | None = None,
    all_in: time | None = None,
    all_out: time | None = None,
    per_section: int = 1,
) -> Match:
    """Plan a round of *season*; it is weighed in the unit of the season's rules."""
    if number < 1:
        raise RefusedError("Rounds are numbered 1, 2, 3 ...")
    book = rulebook_file.from_dict(season.book)
    return _plan(
        Match(
            club=season.league.club,
            season=season,
            round=number,
            name=name.strip(),
            water=water,
            date=date,
            unit=book.unit,
            book_in=book_in,
            draw_at=draw_at,
            all_in=all_in,
            all_out=all_out,
            per_section=per_section,
        ),
        by,
    )


def add_match(
    club: Club,
    *,
    water: Water,
    date: day,
    name: str,
    unit: Unit,
    book: Rulebook | None = None,
    by: User | None,
    book_in: time | None = None,
    draw_at: time | None = None,
    all_in: time | None = None,
    all_out: time | None = None,
    per_section: int = 1,
) -> Match:
    """Plan a match outside any league; without a *book* the default rules hold."""
    if book is not None and book.unit is not unit:
        raise RefusedError(
            f"The rules are written for {book.unit} and the match is weighed in {unit}: "
            "choose one unit for both."
        )
    return _plan(
        Match(
            club=club,
            name=name.strip(),
            water=water,
            date=date,
            unit=unit,
            book=None if book is None else rulebook_file.as_dict(book),
            book_in=book_in,
            draw_at=draw_at,
            all_in=all_in,
            all_out=all_out,
            per_section=per_section,
        ),
        by,
    )


def cancel_match(match: Match, *, why: str, by: User | None) -> Match:
    """Call *match* off; what it does to the table is for the season's rules to say."""
    if not why.strip():
        raise RefusedError("Say why the match is cancelled: anglers will ask.")
    with writing():
        match = Match.objects.locked(match.pk)
        if match.stage == Stage.CANCELLED:
            raise RefusedError("The match is cancelled already.")
        if match.has_result:
            raise RefusedError("The result is published, so the match cannot be cancelled.")
        match.stage = Stage.CANCELLED
        match.save(update_fields=["stage"])
        Match.objects.moved(match.pk, timezone.now())
        if match.season_id:
            Season.objects.table_changed(match.season_id)
        write_down(f"{match} cancelled: {why.strip()}", by=by, club=match.club, match=match)
    return match


def _plan(match: Match, by: User | None) -> Match:
    if match.water.venue.club_id != match.club_id:
        raise RefusedError(f"{match.water} is not a water of the club.")
    if match.all_in and match.all_out and match.all_in >= match.all_out:
        raise RefusedError(
            f"All out at {match.all_out:%H:%M} is not after all in at {match.all_in:%H:%M}."
        )
    with writing():
        add(match)
        if match.season_id:
            Season.objects.table_changed(match.season_id)
        write_down(f"{match} planned at {match.water}.", by=by, club=match.club, match=match)
    return match


def _code(name: str, taken: set[str]) -> str:
    """Three letters of the name, then figures where another team has them."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().upper()
    letters = re.sub(r"[^A-Z0-9]", "", plain)[:3] or "TEAM"
    codes = (letters, *(f"{letters}{count}" for count in range(2, len(taken) + 3)))
    return next(code for code in codes if code not in taken)
