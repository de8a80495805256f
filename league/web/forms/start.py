"""The first run: what the club is called, its first water, its first league."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from league.files import rulebook
from league.rules.books import READY_MADE
from league.rules.errors import RulebookError
from league.rules.rulebook import Rulebook
from league.web.forms.days import a_day
from league.web.forms.waters import pegs_box, read_bank


class KeyForm(forms.Form):
    """The key from the server's own screen."""

    key = forms.CharField(
        label="Key",
        max_length=60,
        error_messages={"required": "Type the key that stands on the server’s screen."},
        help_text="Sixteen letters and digits in four groups.",
        widget=forms.TextInput(attrs={"autocomplete": "off", "spellcheck": "false"}),
    )


class FirstForm(forms.Form):
    """The first three questions; each group of boxes answers one."""

    club = forms.CharField(
        label="The club’s name",
        max_length=80,
        error_messages={"required": "Say what the club is called."},
    )
    water = forms.CharField(
        label="A water you fish",
        max_length=80,
        error_messages={"required": "Say what the water is called, such as Heron Lake."},
    )
    pegs = pegs_box()
    league = forms.CharField(
        label="League",
        max_length=80,
        initial="Winter League",
        error_messages={"required": "Say what the league is called."},
    )
    season = forms.CharField(
        label="Season",
        max_length=40,
        error_messages={"required": "Say which season it is, such as 2026–27."},
    )
    starts = a_day("Starts on")
    size = forms.IntegerField(
        label="Anglers in a team",
        min_value=1,
        max_value=50,
        initial=4,
        help_text="1 where everybody fishes alone.",
    )
    book = forms.ChoiceField(
        label="Scored by",
        choices=[(key, book.name) for key, book in READY_MADE.items()],
        initial="averaged-low",
        help_text="Any of these can be read out, changed or exchanged afterwards.",
        error_messages={"invalid_choice": "There is no such rule book. Choose one of these."},
    )

    def clean_pegs(self) -> Any:
        """Hand over the pegs as read."""
        return read_bank(self.cleaned_data["pegs"])

    def clean(self) -> dict[str, Any]:
        """Make the rule book for teams of that size."""
        found: dict[str, Any] = super().clean() or {}
        if not self.errors:
            try:
                self.rules = rulebook.changed(
                    READY_MADE[found["book"]], {"team": {"size": found["size"]}}
                )
            except RulebookError as error:
                raise ValidationError(str(error).splitlines()) from error
        return found

    def answers(self) -> list[tuple[str, str]]:
        """Every box and what was typed in it, to be carried to the next step."""
        return [(name, self.data.get(name, "")) for name in self.fields]

    @property
    def book_made(self) -> Rulebook:
        """The rule book as it will be announced."""
        return self.rules
