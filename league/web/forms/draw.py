"""The draw: who calls, and what was called."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from league.models import Entry, LineUpBy, Season
from league.web.forms.weigh import WhyField

HIGHEST_CALL = 9999
WITHOUT_TEAMS = 4  # callers offered where nobody fishes for a team
NOBODY = ("", "Nobody")
WHO_FISHES = "Who fishes which section"
AS_PLACED = "As each is booked in; without a section, the peg says it"


class CallersForm(forms.Form):
    """Who will call a number, and in a season what the draw shares out besides the pegs."""

    def __init__(
        self,
        *args: Any,
        entries: Sequence[Entry],
        captains: frozenset[int],
        season: Season | None = None,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        teams: dict[str, list[Entry]] = {}
        for entry in entries:
            teams.setdefault(entry.team.name if entry.team else "", []).append(entry)
        for name, members in teams.items():
            if name:
                self._add(name, members, _captain(members, captains))
            else:
                for place in range(min(WITHOUT_TEAMS, len(members))):
                    self._add(f"Caller {place + 1}", members, members[place] if place < 2 else None)
        self.calling = list(self.fields)
        if season:
            in_teams = any(teams)
            self.fields["line_up"] = forms.ChoiceField(
                label="Who of a team fishes which section" if in_teams else WHO_FISHES,
                required=False,
                choices=[
                    (way, label if in_teams or way != LineUpBy.NAMED else AS_PLACED)
                    for way, label in LineUpBy.choices
                ],
                initial=season.line_up,
                error_messages={
                    "invalid_choice": "Choose how it is said who fishes which section."
                },
                help_text="Drawn, it comes out of the same numbers and can be checked like the "
                "pegs. Shared, whoever fished a section least this season goes there.",
            )
        if season:
            self.fields["end_pegs_shared"] = forms.BooleanField(
                label="Share the end pegs over the season",
                required=False,
                initial=season.end_pegs_shared,
                help_text="The first and last peg of each section are given first, by tickets: "
                "one end peg fewer so far doubles the tickets.",
            )

    def _add(self, label: str, members: Sequence[Entry], chosen: Entry | None) -> None:
        self.fields[f"caller_{len(self.fields) + 1}"] = forms.TypedChoiceField(
            label=label,
            required=False,
            coerce=int,
            empty_value=None,
            choices=[NOBODY, *((entry.number, entry.angler.shown_name) for entry in members)],
            initial=chosen.number if chosen else "",
        )

    def clean(self) -> dict[str, Any]:
        """One person calls one number."""
        data: dict[str, Any] = super().clean() or {}
        named = [data[name] for name in self.calling if data.get(name) is not None]
        for number in sorted({number for number in named if named.count(number) > 1}):
            self.add_error(
                None, f"Entry {number} is named as caller twice. Choose somebody else, or Nobody."
            )
        return data

    @property
    def callers(self) -> list[int]:
        """Their entry numbers, each once."""
        named = (self.cleaned_data[name] for name in self.calling)
        return sorted({number for number in named if number is not None})

    @property
    def shared(self) -> dict[str, Any]:
        """What the draw shares out, in the words of `freeze`; left out where nothing was asked."""
        asked = {name: self.cleaned_data[name] for name in ("line_up", "end_pegs_shared")
                 if name in self.fields}  # fmt: skip
        return {name: value for name, value in asked.items() if value != ""}


def _captain(members: Sequence[Entry], captains: frozenset[int]) -> Entry:
    return next((entry for entry in members if entry.angler_id in captains), members[0])


class CallField(forms.CharField):
    """Hands over the number called, or None for a caller who does not call."""

    widget = forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"})

    def clean(self, value: Any) -> Any:
        """An empty box stays empty: that caller is still to call."""
        typed = super().clean(value).strip()
        if typed in {"", "-"}:
            return None if typed else ""
        if not re.fullmatch(r"[0-9]{1,4}", typed):
            raise ValidationError(
                f"{typed!r} is no call. Type a whole number from 0 to {HIGHEST_CALL}, "
                "or - for a caller who does not call."
            )
        return int(typed)


class CallsForm(forms.Form):
    """The numbers as they are called; what is not called yet may stay empty."""

    def __init__(
        self,
        *args: Any,
        callers: Mapping[int, str],
        called: Mapping[str, int | None],
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.callers = callers
        for number, name in callers.items():
            known = called.get(str(number), "")
            self.fields[f"call_{number}"] = CallField(
                label=name, required=False, initial="-" if known is None else known
            )

    @property
    def calls(self) -> dict[int, int | None]:
        """What has been called so far, by entry number."""
        return {
            number: self.cleaned_data[f"call_{number}"]
            for number in self.callers
            if self.cleaned_data[f"call_{number}"] != ""
        }

    @property
    def missing(self) -> list[str]:
        """Who is still to call."""
        return [name for number, name in self.callers.items() if number not in self.calls]


class ThawForm(forms.Form):
    """Why a frozen sheet is opened again."""

    why = WhyField("Say why the draw sheet is opened again.", label="Why it is opened again")


class GiveUpForm(forms.Form):
    """Why an event that was begun is not finished."""

    why = WhyField("Say why it is given up: it stays listed.", label="Why it is given up")
