"""Who belongs to the made-up club."""

from __future__ import annotations

from league.management.demo.luck import Luck
from league.management.demo.settings import Settings


def squads(settings: Settings) -> dict[str, list[str]]:
    """The Winter Team League's teams, the captain first, without reserves."""
    return {squad["team"]: list(squad["anglers"]) for squad in settings["squad"]}


def anglers(settings: Settings) -> list[str]:
    """Everybody, the named ones first; as many as the settings ask for."""
    people = settings["people"]
    named = [name for squad in squads(settings).values() for name in squad]
    everybody = dict.fromkeys([*named, *people["also"], *people["juniors"]])
    luck = Luck(f"{settings['seed']}/people")
    while len(everybody) < people["anglers"]:
        everybody.setdefault(f"{luck.pick(people['first'])} {luck.pick(people['last'])}")
    return list(everybody)


def extras(settings: Settings) -> list[str]:
    """Anglers who are in no squad of this winter, in no particular order."""
    taken = {name for squad in squads(settings).values() for name in squad}
    taken |= {"Della Scarth", *settings["people"]["juniors"]}
    return [name for name in anglers(settings) if name not in taken]
