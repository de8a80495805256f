"""Earlier seasons and the club's other matches: luck alone, nothing dealt."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from league.files.sheet import SheetMatch
from league.management.demo.fishing import Fishing, nets
from league.management.demo.luck import Luck
from league.management.demo.people import extras, squads
from league.management.demo.settings import Settings
from league.rules.lines import Row, Status
from league.rules.pegs import section_letters

# How often an angler is ill, stays at home or tips back without weighing.
ABSENT, NOT_WEIGHED = 0.012, 0.03


def matches(settings: Settings, earlier: dict[str, Any], fishing: Fishing) -> list[SheetMatch]:
    """Every match of one sheet of the settings."""
    luck = Luck(f"{settings['seed']}/{earlier['sheet']}")
    if "teams" in earlier:
        teams = _teams(settings, earlier, luck)
        sides = [[(name, team) for name in members] for team, members in teams.items()]
    else:
        everybody = [name for members in squads(settings).values() for name in members]
        field = luck.shuffled([*everybody, *extras(settings)])[: earlier["anglers"]]
        sides = [[(name, "")] for name in field]
    return [
        SheetMatch(
            tuple(_rows(one, sides, earlier.get("sections", 4), fishing, luck)),
            round=number,
            date=one["date"],
            water=one["water"],
        )
        for number, one in enumerate(earlier["rounds"], start=1)
    ]


def _teams(settings: Settings, earlier: dict[str, Any], luck: Luck) -> dict[str, list[str]]:
    """That year's teams: mostly those of today, some with somebody who has left the team since."""
    today, others = squads(settings), luck.shuffled(extras(settings))
    teams = {team: list(today.get(team, [])) or _taken(others, 4) for team in earlier["teams"]}
    for _ in range(earlier["new_faces"]):
        members = luck.pick(list(teams.values()))
        members[1 + int(luck.chance() * (len(members) - 1))] = others.pop()
    juniors = {*settings["people"]["juniors"]}
    for members in teams.values():
        # A junior of this winter was too young then.
        members[:] = [others.pop() if name in juniors else name for name in members]
    return teams


def _taken(others: list[str], count: int) -> list[str]:
    return [others.pop() for _ in range(count)]


def _rows(
    one: dict[str, Any],
    sides: Sequence[Sequence[tuple[str, str]]],
    sections: int,
    fishing: Fishing,
    luck: Luck,
) -> Iterator[Row]:
    """A match: one of each side in a section, or everybody dealt round them."""
    letters = section_letters(sections)
    drawn: dict[str, list[tuple[str, str]]] = {letter: [] for letter in letters}
    if len(sides[0]) > 1:
        for side in sides:
            for letter, angler in zip(luck.shuffled(letters), side, strict=True):
                drawn[letter].append(angler)
    else:
        for at, side in enumerate(luck.shuffled(sides)):
            drawn[letters[at % sections]].append(side[0])
    pegs, day = iter(fishing.usable(one["water"])), fishing.day(one["date"], luck)
    for letter in letters:
        for name, team in luck.shuffled(drawn[letter]):
            peg = next(pegs)
            yield _row(letter, peg, name, team, one["water"], day, fishing, luck)


def _row(
    letter: str,
    peg: int,
    name: str,
    team: str,
    water: str,
    day: float,
    fishing: Fishing,
    luck: Luck,
) -> Row:
    caught, mood = fishing.catch(name, water, peg, day, luck), luck.chance()
    status = Status.WEIGHED if caught else Status.BLANK
    if mood < ABSENT:
        status = Status.ABSENT
    elif mood < NOT_WEIGHED and caught < 48:
        status = Status.NOT_WEIGHED
    return Row(
        section=letter,
        peg=str(peg),
        angler=name,
        team=team,
        status=status,
        nets=nets(caught) if status is Status.WEIGHED else (),
    )
