"""Teams as a secretary pastes them: a line a team, its squad behind the name where it is known."""

from __future__ import annotations

import re
from dataclasses import dataclass

from league.rules.errors import Fault, SheetError

MOST_TEAMS, MOST_SQUAD = 200, 60
LONGEST_TEAM, LONGEST_NAME = 60, 80
CAPTAIN = re.compile(r"\s*(?:\(\s*(?:c|capt\.?|captain)\s*\)|\*)\s*$|^\*\s*", re.I)
BULLET = re.compile(r"^\s*(?:\d{1,3}[.)]\s+|[-–•]\s+)")


@dataclass(frozen=True, slots=True)
class PastedName:
    """Somebody of a squad."""

    name: str
    captain: bool = False


@dataclass(frozen=True, slots=True)
class PastedTeam:
    """A team and its squad, in the order they were written."""

    name: str
    squad: tuple[PastedName, ...] = ()
    row: int = 0


def read_teams(text: str) -> tuple[PastedTeam, ...]:
    """
    Read a line a team: `Tannery Lane: Jo Ormesher (captain), Ray Tolliver`.

    A colon or a tab ends the team's name; commas, semicolons or tabs part the squad. A captain is
    marked (c), (captain) or with a star. Raises `SheetError` with everything that is wrong.

    >>> [team.name for team in read_teams("Tannery Lane\\nOld Quarry: Dave Scrimshire*")]
    ['Tannery Lane', 'Old Quarry']
    """
    faults: list[Fault] = []
    teams: list[PastedTeam] = []
    seen: dict[str, int] = {}
    fishing: dict[str, str] = {}
    for row, line in enumerate(text.splitlines(), start=1):
        if not line.strip(" \t,;:"):
            continue
        head, *rest = re.split(r"[:\t]", BULLET.sub("", line), maxsplit=1)
        name = tidy(head)
        if not name:
            faults.append(Fault(row, "", "The team has no name. Write it before the colon."))
            continue
        if len(name) > LONGEST_TEAM:
            faults.append(Fault(row, "", f"{name[:20]}… is too long; {LONGEST_TEAM} letters fit."))
        if (key := name.casefold()) in seen:
            faults.append(Fault(row, "", f"{name} is in row {seen[key]} already."))
        seen[key] = row
        squad = _names(rest[0] if rest else "", row, faults)
        for each in squad:
            other = fishing.setdefault(each.name.casefold(), name)
            if other != name:
                faults.append(
                    Fault(row, "", f"{each.name} is in {other} already; nobody fishes for two.")
                )
        teams.append(PastedTeam(name, squad, row))
    if len(teams) > MOST_TEAMS:
        faults.append(Fault(None, "", f"{len(teams)} teams are too many: {MOST_TEAMS} fit."))
    if faults:
        raise SheetError(tuple(faults))
    return tuple(teams)


def read_squad(text: str) -> tuple[PastedName, ...]:
    """
    Read the names of one squad, a line each or parted by commas.

    >>> read_squad("Jo Ormesher (c), Ray Tolliver")[0]
    PastedName(name='Jo Ormesher', captain=True)
    """
    faults: list[Fault] = []
    names: list[PastedName] = []
    for row, line in enumerate(text.splitlines(), start=1):
        for each in _names(BULLET.sub("", line), row, faults):
            if each.name.casefold() in {name.name.casefold() for name in names}:
                faults.append(Fault(row, "", f"{each.name} is there twice."))
            names.append(each)
    if faults:
        raise SheetError(tuple(faults))
    return tuple(names)


def write_team(name: str, squad: tuple[PastedName, ...]) -> str:
    """
    A team as `read_teams` takes it.

    >>> write_team("Old Quarry", (PastedName("Dave Scrimshire", True), PastedName("Mick Oldacre")))
    'Old Quarry: Dave Scrimshire (captain), Mick Oldacre'
    """
    names = ", ".join(f"{each.name}{' (captain)' if each.captain else ''}" for each in squad)
    return f"{name}: {names}" if names else name


def tidy(name: str) -> str:
    """*name* with single spaces, as it is kept."""
    return " ".join(name.split()).strip(" ,;")


def _names(part: str, row: int, faults: list[Fault]) -> tuple[PastedName, ...]:
    names: list[PastedName] = []
    for cell in re.split(r"[,;\t]", part):
        captain = bool(CAPTAIN.search(cell.strip()))
        name = tidy(CAPTAIN.sub("", cell.strip()))
        if not name:
            continue
        if len(name) > LONGEST_NAME:
            faults.append(Fault(row, "", f"{name[:20]}… is too long; {LONGEST_NAME} letters fit."))
        if not any(letter.isalpha() for letter in name):
            faults.append(Fault(row, "", f"{name!r} is no name. Write first name and surname."))
        if name.casefold() in {each.name.casefold() for each in names}:
            faults.append(Fault(row, "", f"{name} is in the squad twice."))
            continue
        names.append(PastedName(name, captain))
    if len(names) > MOST_SQUAD:
        faults.append(Fault(row, "", f"{len(names)} are too many for a squad; {MOST_SQUAD} fit."))
    if sum(each.captain for each in names) > 1:
        faults.append(Fault(row, "", "Two captains are marked. A team has one."))
    return tuple(names)
