"""Who fishes: booking an angler in."""

from __future__ import annotations

from typing import Any

from django import forms

from league.models import Angler, Match, Team


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

    def __init__(self, *args: Any, match: Match, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
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
