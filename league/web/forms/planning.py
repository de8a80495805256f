"""Planning matches: the rounds of a season, a match of its own, another day, calling one off."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, time, timedelta
from itertools import pairwise
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from league.files.pasted_rounds import PastedRound, filled_in, read_rounds
from league.models import Club, Match, Season, Water
from league.operations.rounds import Hours
from league.web.forms.days import a_day, an_hour

USUAL = Hours(time(8), time(8, 30), time(10), time(15))
EVERY = (
    ("7", "Every week"),
    ("14", "Every fortnight"),
    ("21", "Every three weeks"),
    ("28", "Every four weeks"),
)
TIMES = ("book_in", "draw_at", "all_in", "all_out")


class HoursForm(forms.Form):
    """The times of a day: what is left empty is not announced."""

    book_in = an_hour("Book in by")
    draw_at = an_hour("Draw")
    all_in = an_hour("All in")
    all_out = an_hour("All out")

    def clean(self) -> dict[str, Any]:
        """Refuse a day that ends before it begins."""
        found: dict[str, Any] = super().clean() or {}
        said = [(name, found[name]) for name in TIMES if found.get(name)]
        for (_, earlier), (name, later) in pairwise(said):
            if later <= earlier:
                label = self.fields[name].label
                self.add_error(name, f"{label} at {later:%H:%M} is not after {earlier:%H:%M}.")
        return found

    @property
    def times(self) -> Hours:
        """What was announced."""
        return Hours(*(self.cleaned_data[name] for name in TIMES))


class WaterField(forms.ModelChoiceField):
    """One of the club's waters."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(
            Water.objects.none(),
            empty_label="Choose a water",
            error_messages={
                "required": "Say on which water.",
                "invalid_choice": "That is not a water of the club.",
            },
            **kwargs,
        )

    def label_from_instance(self, water: Water) -> str:
        """Its name, and its venue's where that says more."""
        venue = water.venue.name
        return water.name if venue in water.name else f"{water.name}, {venue}"


class RoundsForm(forms.Form):
    """Rounds filled in by the week, or pasted a line a round."""

    count = forms.IntegerField(label="How many rounds", required=False, min_value=1, max_value=60)
    first = a_day("The first on", required=False)
    every = forms.ChoiceField(label="How often", choices=EVERY, initial="14", required=False)
    water = WaterField(label="Water", required=False)
    lines = forms.CharField(
        label="Or paste them, a line a round",
        required=False,
        widget=forms.Textarea(attrs={"rows": 6, "spellcheck": "false"}),
        help_text="Date and water, and the times where they differ: "
        "Sun 4 Oct, Heron Lake, 10:00-15:00. What a line leaves out is taken from above.",
    )

    def __init__(self, *args: Any, season: Season, there: list[Match], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.season = season
        self.numbers = [match.round or 0 for match in there]
        waters = Water.objects.of(season.league.club)
        self.fields["water"].queryset = waters  # type: ignore[attr-defined]
        last = there[-1] if there else None
        self.initial |= {
            "first": last.date + timedelta(days=14) if last else season.starts,
            "water": last.water_id if last else next(iter(waters[:1]), None),
            "count": max(season.planned_rounds - len(there), 0) or None,
        }

    def clean(self) -> dict[str, Any]:
        """Hand over the rounds: those that are pasted, else those filled in."""
        found = super().clean()
        if self.errors:
            return found
        if found["lines"].strip():
            try:
                self.rounds = read_rounds(found["lines"], starts=self.season.starts)
            except ValueError as error:
                self.add_error("lines", str(error).splitlines())
            return found
        if not found["count"]:
            self.add_error("count", "Say how many rounds, or paste them below.")
        if not found["first"]:
            self.add_error("first", "Say on which day the first is.")
        if not found["water"]:
            self.add_error("water", "Say on which water.")
        if not self.errors:
            self.rounds = tuple(self._filled(found))
        return found

    def _filled(self, found: dict[str, Any]) -> Iterator[PastedRound]:
        start = max(self.numbers, default=0) + 1
        every = int(found["every"] or 14)
        yield from filled_in(found["first"], count=found["count"], every=every, from_number=start)


class WhenForm(forms.Form):
    """Another day, other times or another water for a match."""

    date = a_day("Day")
    water = WaterField(label="Water")
    why = forms.CharField(
        label="Why",
        required=False,
        max_length=200,
        help_text="Kept in the journal; anglers will ask.",
    )

    def __init__(self, *args: Any, match: Match, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["water"].queryset = Water.objects.of(match.club)  # type: ignore[attr-defined]
        self.initial |= {"date": match.date, "water": match.water_id}


class CancelForm(forms.Form):
    """Why a match is called off."""

    why = forms.CharField(
        label="Why it is cancelled",
        help_text="Shown on the match’s page.",
        max_length=200,
        error_messages={"required": "Say why the match is cancelled: anglers will ask."},
    )


class MatchForm(forms.Form):
    """A match outside any league, where everybody fishes alone."""

    name = forms.CharField(
        label="What it is called",
        max_length=80,
        error_messages={"required": "Say what the match is called, such as Boxing Day Shield."},
    )
    date = a_day("Day")
    water = WaterField(label="Water")

    def __init__(self, *args: Any, club: Club, day: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        waters = Water.objects.of(club)
        self.fields["water"].queryset = waters  # type: ignore[attr-defined]
        self.initial |= {"date": day, "water": next(iter(waters[:1]), None)}


def hours_of(match: Match | None) -> dict[str, time | None]:
    """The times that *match* has, to begin with; the usual ones where there is no match."""
    return {name: getattr(match or USUAL, name) for name in TIMES}


def refuse(form: forms.Form, error: Exception) -> None:
    """Say what was refused on the form that asked for it."""
    form.add_error(None, ValidationError(str(error).splitlines()))
