"""The season sheets of the made-up club, as the settings make them."""

from __future__ import annotations

from pathlib import Path

from league.files import rulebook
from league.files.sheet import SheetMatch
from league.files.sheet_write import write_season
from league.management.demo import history, winter
from league.management.demo.fishing import Fishing
from league.management.demo.settings import DEMO, Settings
from league.rules.rulebook import Rulebook
from league.rules.weights import Unit

WINTER = "winter-team-league-2026-27.csv"


def book(name: str) -> Rulebook:
    """One of the made-up club's rule books."""
    return rulebook.read_toml((DEMO / name).read_text(encoding="utf-8"))


def fishing_of(settings: Settings) -> Fishing:
    """How the waters and the anglers of the settings fish."""
    waters = {water["name"]: water for water in settings["water"]}
    return Fishing(settings["fishing"], waters, str(settings["seed"]))


def sheets(settings: Settings) -> dict[str, str]:
    """Every season sheet by its file's name."""
    fishing = fishing_of(settings)
    made: dict[str, list[SheetMatch]] = {
        earlier["sheet"]: history.matches(settings, earlier, fishing)
        for earlier in settings["earlier"]
    }
    made[WINTER] = winter.matches(settings, fishing, book("winter-team-league.toml"))
    return {name: write_season(matches, Unit.LB_OZ) for name, matches in made.items()}


def write(folder: Path, settings: Settings) -> list[Path]:
    """Write the season sheets into *folder*."""
    paths = []
    for name, text in sheets(settings).items():
        paths.append(folder / name)
        paths[-1].write_text(text, encoding="utf-8", newline="")
    return paths
