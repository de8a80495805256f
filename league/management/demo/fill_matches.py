"""The made-up club's matches: earlier seasons from sheets, this winter, and what is to come."""

from __future__ import annotations

import datetime as dt
import hashlib
import uuid
from dataclasses import replace
from typing import Any

from django.utils import timezone

from league.files.sheet import Sheet, read_sheet
from league.management.demo import people
from league.management.demo.fill import Ground
from league.management.demo.luck import Luck
from league.management.demo.money import club_match_money, winter_money
from league.management.demo.settings import DEMO, Settings
from league.management.demo.sheets import WINTER, book
from league.models import Entry, League, Match, Peg, Season, Team
from league.operations.draw import draw_match
from league.operations.facts import standing
from league.operations.lineup import book_in
from league.operations.load import load_season
from league.operations.load_match import take_down
from league.operations.publish import publish
from league.operations.season import add_round, add_team, add_to_squad, make_season
from league.operations.sections import make_sections, set_sections
from league.operations.store import add
from league.operations.weigh import record_weigh_in, set_aside
from league.rules.lines import Status
from league.rules.rulebook import Rulebook
from league.rules.weights import Unit, Weight

WINTER_LEAGUE = "Winter Team League"


def fill_matches(ground: Ground, settings: Settings) -> None:
    """Every match, the earliest first."""
    winter = add(League(club=ground.club, name=WINTER_LEAGUE, slug="winter-team-league"))
    low, high = book("winter-team-league-2024.toml"), book("winter-team-league.toml")
    _load(ground, winter, "winter-team-league-2024-25.csv", low)
    _load(ground, winter, "winter-team-league-2025-26.csv", high)
    _this_winter(ground, winter, settings, high)
    _championship(ground, settings["championship"], settings)
    _team_day(ground, settings)


def _sheet(ground: Ground, name: str, rules: Rulebook) -> Sheet:
    """A season sheet of the club, its days moved on where the story is over."""
    sheet = read_sheet((DEMO / name).read_bytes(), rules)
    matches = tuple(
        replace(match, date=match.date and match.date + ground.later) for match in sheet.matches
    )
    return replace(sheet, matches=matches)


def _years(first: dt.date) -> str:
    return f"{first.year}–{(first.year + 1) % 100:02d}"


def _load(
    ground: Ground,
    league: League,
    name: str,
    rules: Rulebook,
    *,
    planned: int | None = None,
    hours: dict[str, dt.time] | None = None,
) -> Season:
    sheet = _sheet(ground, name, rules)
    first = min(match.date for match in sheet.matches if match.date)
    return load_season(
        league,
        sheet=sheet,
        name=_years(first),
        book=rules,
        planned_rounds=planned,
        hours=hours,
        by=ground.secretary,
    ).season


def _this_winter(ground: Ground, league: League, settings: Settings, rules: Rulebook) -> None:
    told, sheet = settings["winter"], _sheet(ground, WINTER, rules)
    first = min(match.date for match in sheet.matches if match.date)
    season = make_season(
        league,
        name=_years(first),
        starts=first,
        book=rules,
        planned_rounds=told["rounds"],
        by=ground.secretary,
    )
    teams = {}
    for squad in settings["squad"]:
        team = add_team(season, name=squad["team"], code=squad["code"], by=ground.secretary)
        teams[team.name] = team
        for name in [*squad["anglers"], *squad.get("reserves", [])]:
            captain = name == squad["anglers"][0]
            add_to_squad(team, ground.anglers[name], captain=captain, by=ground.secretary)
    given = told["given"]["round"]
    earlier = tuple(match for match in sheet.matches if match.round != given)
    load_season(
        league,
        sheet=replace(sheet, matches=earlier),
        name=season.name,
        hours=told["hours"],
        by=ground.secretary,
    )
    _with_a_slip(ground, season, sheet, told, teams)
    _to_draw(ground, season, told, teams)
    winter_money(ground, season, settings)


def _with_a_slip(
    ground: Ground, season: Season, sheet: Sheet, told: dict[str, Any], teams: dict[str, Team]
) -> None:
    """Round 6: published with one figure misread, then corrected. Both versions stay readable."""
    slip, by = told["slip"], ground.secretary
    right = next(match for match in sheet.matches if match.round == told["given"]["round"])
    misread = Weight.parse(slip["read"], Unit.LB_OZ).amount
    rows = tuple(
        replace(row, nets=(misread,)) if row.peg == slip["peg"] else row for row in right.rows
    )
    match = take_down(
        season,
        replace(right, rows=rows),
        anglers=ground.anglers,
        teams=teams,
        hours=told["hours"],
        by=by,
    )
    match.objections_until = _at(match, slip["objections"], days=1)
    match.save(update_fields=["objections_until"])
    publish(match, by=by, at=_at(match, slip["published"]))
    entry = next(
        entry
        for entry in Entry.objects.of(match).in_peg_order()
        if entry.match_peg and entry.match_peg.peg.number == slip["peg"]
    )
    wrong = standing(entry).weigh_in
    if wrong is None:
        raise ValueError(f"Nobody was weighed at peg {slip['peg']}.")
    nets = next(row.nets for row in right.rows if row.peg == slip["peg"])
    at = _at(match, slip["put_right"])
    record_weigh_in(
        entry, key=uuid.uuid4(), status=Status.WEIGHED, nets=nets, by=by, read_at=at, at=at
    )
    set_aside(wrong, why=slip["why"], by=by)
    publish(match, by=by, correcting=1, why=slip["why"], at=at)


def _at(match: Match, hour: dt.time, days: int = 0) -> dt.datetime:
    return timezone.make_aware(dt.datetime.combine(match.date + dt.timedelta(days), hour))


def _pegs(match: Match) -> dict[str, Peg]:
    return {peg.number: peg for peg in Peg.objects.along(match.water)}


def _planned(ground: Ground, season: Season, told: dict[str, Any], hours: Any) -> Match:
    return add_round(
        season,
        number=told.get("round", 1),
        name=told.get("name", ""),
        water=ground.waters[told["water"]],
        date=told["date"] + ground.later,
        by=ground.secretary,
        **hours,
    )


def _to_draw(ground: Ground, season: Season, told: dict[str, Any], teams: dict[str, Team]) -> None:
    """Round 7: pegs looked over, everybody booked in, nothing drawn."""
    told, hours = told["next"], told["hours"]
    match = _planned(ground, season, told, hours)
    bank = _pegs(match)
    runs = {letter: [bank[str(peg)] for peg in pegs] for letter, pegs in told["pegs"].items()}
    sections = {each.letter: each for each in set_sections(match, runs, by=ground.secretary)}
    of_team = {member.angler_id: team for team in teams.values() for member in team.squad.all()}
    for letter, names in told["line_up"].items():
        for name in names:
            angler = ground.anglers[name]
            book_in(
                match,
                angler,
                team=of_team[angler.pk],
                section=sections[letter],
                reserve=name in told["in_for"].values(),
                by=ground.secretary,
            )


def _championship(ground: Ground, told: dict[str, Any], settings: Settings) -> None:
    """Fished by everybody for themselves; the next one is open for booking."""
    league = add(League(club=ground.club, name=told["league"], slug="club-championship"))
    rules = book("club-championship.toml")
    season = _load(
        ground, league, told["sheet"], rules, planned=told["rounds"], hours=told["hours"]
    )
    match = _planned(ground, season, told["next"], told["hours"])
    bank = _pegs(match)
    runs = {letter: [bank[str(peg)] for peg in pegs] for letter, pegs in told["pegs"].items()}
    set_sections(match, runs, by=ground.secretary)
    luck = Luck(f"{settings['seed']}/club match")
    for name in luck.shuffled(people.extras(settings))[: told["next"]["booked"]]:
        book_in(match, ground.anglers[name], by=ground.secretary)
    club_match_money(ground, match, settings)


def _team_day(ground: Ground, settings: Settings) -> None:
    """Twelve teams of eight, drawn and ready for the scales."""
    told, by = settings["team_day"], ground.secretary
    league = add(League(club=ground.club, name=told["league"], slug="team-day"))
    date = told["date"] + ground.later
    season = make_season(
        league,
        name=str(date.year),
        starts=date,
        book=book("team-day.toml"),
        planned_rounds=1,
        by=by,
    )
    match = _planned(ground, season, told, told["hours"])
    bank = [peg for peg in Peg.objects.along(match.water) if not peg.left_out]
    sections = make_sections(match, count=told["sections"], pegs=bank, by=by)
    callers = {}
    luck = Luck(f"{settings['seed']}/team day")
    for place, (name, members) in enumerate(_eights(settings, told, luck).items()):
        team = add_team(season, name=name, code=told["codes"][place], by=by)
        for at, (angler, section) in enumerate(zip(members, luck.shuffled(sections), strict=True)):
            add_to_squad(team, ground.anglers[angler], captain=at == 0, by=by)
            entry = book_in(match, ground.anglers[angler], team=team, section=section, by=by)
            if at == 0 and place < len(told["called"]):
                callers[entry.number] = told["called"][place]
    secret = hashlib.sha256(f"{settings['seed']}/the demo's draw".encode()).hexdigest()
    draw_match(match, calls=callers, secret=secret, by=by)


def _eights(settings: Settings, told: dict[str, Any], luck: Luck) -> dict[str, list[str]]:
    """Teams of eight: the fours of the winter with four more, and six teams besides."""
    fours = people.squads(settings)
    left = luck.shuffled(people.extras(settings))
    return {
        team: [*fours.get(team, []), *(left.pop() for _ in range(8 - len(fours.get(team, []))))]
        for team in told["teams"]
    }
