"""Who fishes: booking an angler in, and which section each member of a team fishes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms

from league.models import Angler, Entry, Match, Section, Team


class BookInForm(forms.Form):
    """An angler for a match, for a team where there are teams."""

    angler = forms.ModelChoiceField(
        Angler.objects.none(),
        label="Angler",
        empty_label="Choose an angler",
        error_messages={
            "required": "Say who is booked in.",
            "invalid_choice": "That angler is not an angler of the club.",
        },
    )
    team = forms.ModelChoiceField(
        Team.objects.none(),
        label="Team",
        required=False,
        empty_label="No team",
        error_messages={"invalid_choice": "That team does not fish this league this season."},
    )
    reserve = forms.BooleanField(label="Comes in as a reserve", required=False)
    easy_access = forms.BooleanField(
        label="Needs an easy-access peg",
        required=False,
        help_text="Left alone, what is on record for the angler holds.",
    )

    section = forms.ModelChoiceField(
        Section.objects.none(),
        label="Section",
        required=False,
        empty_label="No section yet",
        error_messages={"invalid_choice": "The sections were made again; choose once more."},
    )

    def __init__(self, *args: Any, match: Match, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if match.is_drawn:  # a late entry draws in one section's bag
            self.fields["section"].queryset = match.sections.all()  # type: ignore[attr-defined]
        else:
            del self.fields["section"]
        self.fields["angler"].queryset = Angler.objects.of(match.club)  # type: ignore[attr-defined]
        if match.season is None:
            del self.fields["team"]
        else:
            self.fields["team"].queryset = Team.objects.of(match.season)  # type: ignore[attr-defined]

    def entry(self) -> dict[str, Any]:
        """What booking in needs; a need that is not ticked is left as it is on record."""
        data = dict(self.cleaned_data)
        data["easy_access"] = data["easy_access"] or None
        return data


class PlacesForm(forms.Form):
    """Which section every member of a team fishes, before the draw."""

    def __init__(
        self,
        *args: Any,
        entries: Sequence[Entry],
        sections: Sequence[Section],
        per_section: int,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.entries = {f"place_{entry.pk}": entry for entry in entries}
        self.sections = {str(section.pk): section for section in sections}
        suggested = _suggest(entries, sections, per_section)
        for name, entry in self.entries.items():
            team = f", {entry.team.name}" if entry.team else ""
            self.fields[name] = forms.ChoiceField(
                label=f"{entry.angler}{team}",
                required=False,
                choices=[("", "–"), *((key, each.letter) for key, each in self.sections.items())],
                initial=str(suggested.get(entry.pk, "")),
            )

    @property
    def places(self) -> dict[Entry, Section | None]:
        """The section chosen for every entry."""
        return {
            entry: self.sections.get(self.cleaned_data[name])
            for name, entry in self.entries.items()
        }


def _suggest(
    entries: Sequence[Entry], sections: Sequence[Section], per_section: int
) -> dict[int, int]:
    """What is chosen now; for the rest of a team, in order of booking, where it has room."""
    chosen = {entry.pk: entry.section_id for entry in entries if entry.section_id}
    room: dict[tuple[int | None, int], int] = {}
    for entry in entries:
        if entry.section_id:
            room[entry.team_id, entry.section_id] = (
                room.get((entry.team_id, entry.section_id), 0) + 1
            )
    for entry in entries:
        if entry.pk in chosen or entry.team_id is None:
            continue
        for section in sections:
            if room.get((entry.team_id, section.pk), 0) < per_section:
                room[entry.team_id, section.pk] = room.get((entry.team_id, section.pk), 0) + 1
                chosen[entry.pk] = section.pk
                break
    return chosen
