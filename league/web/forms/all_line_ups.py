"""The line-ups of all teams on one page, suggested from their squads."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django import forms

from league.models import Angler, Entry, Section, Team
from league.operations.captains import Place


@dataclass(frozen=True, slots=True)
class Line:
    """One team and the boxes of its places."""

    team: Team
    boxes: tuple[tuple[str, forms.BoundField], ...]  # each with its section, or its number
    short: bool  # the squad cannot fill them


class LineUpsForm(forms.Form):
    """A box a place: the squad to choose from, set to who is named, else to the first of it."""

    def __init__(
        self,
        *args: Any,
        teams: Sequence[Team],
        squads: Mapping[int, Sequence[Angler]],
        named: Mapping[int, Sequence[Entry]],
        places: Sequence[Section | None],
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.teams = {team.pk: team for team in teams}
        self.places = list(places)
        self.anglers: dict[str, Angler] = {}
        self.sizes: dict[int, int] = {}
        for team in teams:
            entries = named.get(team.pk, ())
            squad = list(squads.get(team.pk, ()))
            squad += [e.angler for e in entries if e.angler not in squad]
            self.sizes[team.pk] = len(squad)
            chosen = _suggested(squad, entries, self.places)
            choices = [("", "nobody"), *((str(angler.pk), str(angler)) for angler in squad)]
            self.anglers |= {str(angler.pk): angler for angler in squad}
            for at, section in enumerate(self.places):
                self.fields[f"place_{team.pk}_{at}"] = forms.ChoiceField(
                    label=f"{team}, section {section}" if section else f"{team}, place {at + 1}",
                    required=False,
                    choices=choices,
                    initial=str(chosen[at].pk) if at < len(chosen) and chosen[at] else "",
                    error_messages={"invalid_choice": "Choose somebody of the squad."},
                )

    def lines(self) -> list[Line]:
        """The teams with their boxes, in the order of their names."""
        found = []
        for team in self.teams.values():
            boxes = tuple(
                (
                    f"Section {section}" if section else f"Place {at + 1}",
                    self[f"place_{team.pk}_{at}"],
                )
                for at, section in enumerate(self.places)
            )
            found.append(Line(team, boxes, self.sizes[team.pk] < len(self.places)))
        return found

    def named(self) -> dict[Team, list[Place]]:
        """Who was chosen, team by team; a team of which nobody was chosen is left alone."""
        chosen: dict[Team, list[Place]] = {}
        for pk, team in self.teams.items():
            line = [
                Place(section, self.anglers.get(self.cleaned_data[f"place_{pk}_{at}"]))
                for at, section in enumerate(self.places)
            ]
            if any(place.angler for place in line):
                chosen[team] = line
        return chosen


def _suggested(
    squad: Sequence[Angler], entries: Sequence[Entry], places: Sequence[Section | None]
) -> list[Angler | None]:
    """Those booked in where they fish; where nobody of the team is yet, the first of the squad."""
    if not entries:
        return list(squad[: len(places)])
    waiting = list(entries)
    found: list[Angler | None] = []
    for section in places:
        mine = next((e for e in waiting if section and e.section_id == section.pk), None)
        found.append(mine.angler if mine else None)
        if mine:
            waiting.remove(mine)
    for at, angler in enumerate(found):
        if angler is None and waiting:
            found[at] = waiting.pop(0).angler
    return found
