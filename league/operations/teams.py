"""Teams of a season as they are pasted: entered with their squads, anglers found or made."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from django.contrib.auth.models import User

from league.files.pasted_teams import PastedName, PastedTeam, tidy
from league.models import Angler, Club, Entry, Season, SquadMember, Team
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.season import add_team, add_to_squad
from league.operations.store import add, change, writing

ALIKE = 0.84  # of two names: Jo Ormesher and Joe Ormesher are .96, Tom and Tim Kerrow .90
MOST_ALIKE = 3


@dataclass(frozen=True, slots=True)
class Question:
    """A name that nobody of the club has, and who of the club may be meant."""

    name: str
    candidates: tuple[Angler, ...]


@dataclass(frozen=True, slots=True)
class Entered:
    """What a pasted list brought."""

    teams: tuple[Team, ...]
    anglers: tuple[Angler, ...]  # new to the club
    placed: int  # put in a squad


def asks_about(club: Club, names: Iterable[PastedName]) -> list[Question]:
    """
    Who of the names may be an angler of the club whose name is written otherwise.

    Somebody entered twice under two spellings has two seasons, each of them half.
    """
    anglers = list(Angler.objects.of(club))
    known = _by_name(anglers)
    by_key: dict[str, list[Angler]] = {}
    for angler in anglers:
        by_key.setdefault(angler.name.casefold(), []).append(angler)
    found = []
    for name in dict.fromkeys(each.name for each in names):
        key = name.casefold()
        if key in known and len(by_key.get(key, ())) < 2:
            continue
        alike = [key] if key in by_key else get_close_matches(key, by_key, MOST_ALIKE, ALIKE)
        if candidates := tuple(angler for each in alike for angler in by_key[each]):
            found.append(Question(name, candidates))
    return found


def enter_teams(
    season: Season,
    pasted: Sequence[PastedTeam],
    *,
    answers: Mapping[str, int | None] | None = None,
    by: User | None,
) -> Entered:
    """
    Enter the teams *pasted* with their squads; a team of the season already gets the names only.

    *answers* says for a name of `asks_about` whose key it is, None for somebody new. A name that
    nobody of the club has, and nobody was asked about, is a new angler. All of it or nothing.
    """
    if not pasted:
        raise RefusedError("No team is written down yet. Write a line a team.")
    with writing():
        season = Season.objects.locked(season.pk)
        there = {team.name.casefold(): team for team in Team.objects.of(season)}
        anglers = _Anglers(season.league.club, answers or {})
        made, placed = [], 0
        for each in pasted:
            team = there.get(each.name.casefold())
            if team is None:
                team = add_team(season, name=each.name, by=by)
                made.append(team)
            placed += _put(team, each.squad, anglers, by)
        anglers.write(season, by)
    return Entered(tuple(made), tuple(anglers.new), placed)


def set_squad(
    team: Team,
    squad: Sequence[PastedName],
    *,
    answers: Mapping[str, int | None] | None = None,
    by: User | None,
) -> Entered:
    """Make the squad of *team* just these; whoever is not named any more is out of it."""
    with writing():
        season = Season.objects.locked(team.season_id)
        anglers = _Anglers(season.league.club, answers or {})
        wanted = [anglers.called(each.name) for each in squad]
        for member in SquadMember.objects.of(team):
            if member.angler not in wanted:
                member.delete()
                write_down(
                    f"{member.angler} taken out of the squad of {team}.",
                    by=by,
                    club=season.league.club,
                )
        placed = _put(team, squad, anglers, by)
        captains = [a for each, a in zip(squad, wanted, strict=True) if each.captain]
        _captain(team, captains[0] if captains else None)
        anglers.write(season, by)
    return Entered((), tuple(anglers.new), placed)


def rename_team(team: Team, *, name: str, code: str, by: User | None) -> Team:
    """Write *team* otherwise; results that are published keep the name they were read out with."""
    with writing():
        season = Season.objects.locked(team.season_id)
        team = Team.objects.of(season).get(pk=team.pk)
        was, team.name, team.code = f"{team.name} ({team.code})", tidy(name), code.strip().upper()
        change(team, "name", "code")
        Season.objects.table_changed(season.pk)
        now = f"{team.name} ({team.code})"
        if now != was:
            write_down(f"{was} of {season} is now {now}.", by=by, club=season.league.club)
    return team


def remove_team(team: Team, *, by: User | None) -> None:
    """Take *team* out of its season, as long as nobody has been booked in for it."""
    with writing():
        season = Season.objects.locked(team.season_id)
        if Entry.objects.of_team(team).exists():
            raise RefusedError(
                f"Anglers have been booked in for {team}, so it stays in the table. "
                "Leave it out of the line-ups from now on."
            )
        said = f"{team} taken out of {season}."
        team.delete()
        Season.objects.table_changed(season.pk)
        write_down(said, by=by, club=season.league.club)


def _put(team: Team, squad: Sequence[PastedName], anglers: _Anglers, by: User | None) -> int:
    there = {member.angler_id for member in SquadMember.objects.of(team)}
    placed = 0
    for each in squad:
        angler = anglers.called(each.name)
        if angler.pk in there:
            continue
        add_to_squad(team, angler, captain=each.captain, by=by)
        there.add(angler.pk)
        placed += 1
    return placed


def _captain(team: Team, captain: Angler | None) -> None:
    for member in SquadMember.objects.of(team):
        is_captain = captain is not None and member.angler_id == captain.pk
        if member.captain != is_captain:
            member.captain = is_captain
            member.save(update_fields=["captain"])


def _by_name(anglers: Iterable[Angler]) -> dict[str, Angler]:
    found: dict[str, Angler] = {}
    for angler in anglers:
        found.setdefault(angler.shown_name.casefold(), angler)
    for angler in anglers:
        found[angler.name.casefold()] = angler
    return found


class _Anglers:
    """The club's anglers by name; who is not among them is made when first asked for."""

    def __init__(self, club: Club, answers: Mapping[str, int | None]) -> None:
        self.club = club
        self.new: list[Angler] = []
        everybody = list(Angler.objects.of(club))
        self._found = _by_name(everybody)
        by_key = {angler.pk: angler for angler in everybody}
        for name, pk in answers.items():
            if pk is None:
                self._found.pop(name.casefold(), None)
            elif pk in by_key:
                self._found[name.casefold()] = by_key[pk]

    def called(self, name: str) -> Angler:
        key = name.casefold()
        if key not in self._found:
            self._found[key] = add(Angler(club=self.club, name=name))
            self.new.append(self._found[key])
        return self._found[key]

    def write(self, season: Season, by: User | None) -> None:
        if self.new:
            count = len(self.new)
            write_down(
                f"{count} angler{'' if count == 1 else 's'} new to the club, from the squads of "
                f"{season}.",
                by=by,
                club=self.club,
            )
