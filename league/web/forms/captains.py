"""A line-up as a captain names it, and a letter as it is looked at before it goes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms

from league.models import Angler
from league.operations.captains import MOST_RESERVES, Place
from league.operations.mail import LONGEST_SUBJECT

SPARE = 2  # boxes for reserves


class LineUpForm(forms.Form):
    """Who fishes each place, and who is reserve; nobody is chosen twice."""

    def __init__(
        self,
        *args: Any,
        places: Sequence[Place],
        reserves: Sequence[Angler],
        squad: Sequence[Angler],
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        here = [place.angler for place in places if place.angler] + list(reserves)
        self.anglers = {str(angler.pk): angler for angler in (*squad, *here)}
        choices = [("", "Nobody"), *((key, str(each)) for key, each in self.anglers.items())]
        self.places = {f"place_{at}": place for at, place in enumerate(places)}
        for at, (name, place) in enumerate(self.places.items(), start=1):
            self.fields[name] = _chooser(
                f"Section {place.section}" if place.section else f"Place {at}",
                choices,
                place.angler,
            )
        spare = min(max(SPARE, len(reserves)), MOST_RESERVES)
        self.spares = [f"reserve_{at}" for at in range(spare)]
        for at, name in enumerate(self.spares):
            chosen = reserves[at] if at < len(reserves) else None
            label = "Reserve" if spare == 1 else f"Reserve {at + 1}"
            self.fields[name] = _chooser(label, choices, chosen)

    @property
    def named(self) -> list[Place]:
        """The places as they were filled in."""
        return [
            Place(place.section, self.anglers.get(self.cleaned_data[name]))
            for name, place in self.places.items()
        ]

    @property
    def reserves(self) -> list[Angler]:
        """The reserves in their order."""
        chosen = (self.cleaned_data[name] for name in self.spares)
        return [self.anglers[key] for key in chosen if key]


def _chooser(
    label: str, choices: Sequence[tuple[str, str]], chosen: Angler | None
) -> forms.ChoiceField:
    return forms.ChoiceField(
        label=label,
        required=False,
        choices=list(choices),
        initial=str(chosen.pk) if chosen else "",
        error_messages={"invalid_choice": "Choose somebody of the squad."},
    )


class LetterForm(forms.Form):
    """What a letter says and to whom."""

    audience = forms.ChoiceField(label="To whom", widget=forms.RadioSelect)
    subject = forms.CharField(
        label="Subject",
        max_length=LONGEST_SUBJECT,
        error_messages={"required": "Say what the letter is about."},
    )
    text = forms.CharField(
        label="The letter",
        widget=forms.Textarea(attrs={"rows": 12}),
        error_messages={"required": "The letter is empty. Write what it has to say."},
    )

    def __init__(self, *args: Any, audiences: Sequence[tuple[str, str]], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["audience"].choices = list(audiences)  # type: ignore[attr-defined]


class PlacesForm(forms.Form):
    """How many can be booked in."""

    places = forms.IntegerField(
        label="Places",
        required=False,
        min_value=1,
        max_value=999,
        help_text="Left empty: as many as pegs. Whoever then has a place moves up at once.",
        error_messages={"invalid": "Write a whole number, or nothing."},
    )


class RangForm(forms.Form):
    """What somebody said on the morning."""

    words = forms.CharField(
        label="What they said",
        required=False,
        max_length=80,
        help_text="Late, about 08:45. Left empty: all as planned.",
    )


class InsteadForm(forms.Form):
    """Who fishes in the place of somebody who does not come."""

    angler = forms.ModelChoiceField(
        Angler.objects.none(),
        label="Who comes in",
        empty_label="Choose an angler",
        error_messages={
            "required": "Say who comes in.",
            "invalid_choice": "That angler cannot come in; choose again.",
        },
    )

    def __init__(self, *args: Any, anglers: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["angler"].queryset = anglers  # type: ignore[attr-defined]
