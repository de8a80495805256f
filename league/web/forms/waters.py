"""Waters: the bank as it is said, pegs out of use, what the venue wants."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from league.rules.bank import parse_pegs
from league.rules.errors import PegError
from league.web.forms.days import a_day

MOST_LETTERS = 4000
SAY = "1-24, 26-60, not 13 (flooded), easy 1-4 and 60, gap after 24"


def pegs_box(label: str = "Pegs, the way you say them") -> forms.CharField:
    """The box a bank is said in."""
    return forms.CharField(
        label=label,
        max_length=MOST_LETTERS,
        widget=forms.Textarea(
            attrs={"rows": 3, "spellcheck": "false", "autocomplete": "off", "data-pegs": ""}
        ),
        error_messages={
            "required": "Say which pegs there are, for example 1-24, not 13.",
            "max_length": "That is far too long for one water.",
        },
        help_text=f"In bank order: {SAY}. What to look out for: overhead line 12-14, "
        "deep 3, steep 7, beware 9 (sluice).",
    )


def read_bank(typed: str) -> Any:
    """The pegs that were said; what is wrong is told, a slip each."""
    try:
        return parse_pegs(typed)
    except PegError as error:
        raise ValidationError(str(error).splitlines()) from error


class WaterForm(forms.Form):
    """A new water with its bank."""

    name = forms.CharField(
        label="Water",
        max_length=80,
        error_messages={"required": "Say what the water is called, such as Heron Lake."},
    )
    venue = forms.CharField(
        label="Venue",
        max_length=80,
        required=False,
        help_text="The fishery it belongs to. Left empty, it is called as the water is.",
    )
    pegs = pegs_box()

    def clean_pegs(self) -> Any:
        """Hand over the pegs as read."""
        return read_bank(self.cleaned_data["pegs"])


class BankForm(forms.Form):
    """The bank of a water that is there."""

    pegs = pegs_box()

    def clean_pegs(self) -> Any:
        """Hand over the pegs as read."""
        return read_bank(self.cleaned_data["pegs"])


class OutForm(forms.Form):
    """Pegs taken out of use, for how long and why."""

    numbers = forms.CharField(
        label="Pegs",
        max_length=400,
        error_messages={"required": "Say which pegs, for example 13 or 40-44."},
    )
    why = forms.CharField(
        label="Why",
        max_length=120,
        error_messages={"required": "Say why: it stands on the peg plan."},
    )
    starts = a_day("From", required=False, help_text="Left empty: already now.")
    ends = a_day("Until", required=False, help_text="The last day out. Left empty: until put back.")

    def clean_numbers(self) -> Any:
        """Hand over the numbers."""
        return [peg.name for peg in read_bank(self.cleaned_data["numbers"])]


class AboutForm(forms.Form):
    """What else there is to know about a water."""

    name = forms.CharField(
        label="Water", max_length=80, error_messages={"required": "A water has a name."}
    )
    net_limit = forms.CharField(
        label="Limit on a net",
        max_length=80,
        required=False,
        help_text="As the venue says it: 50 lb, carp 80 lb. Printed on the peg plan.",
    )
    usual_sections = forms.CharField(
        label="Usual sections",
        required=False,
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text="A line a section, its pegs as you say them: 1-11. A match can start from them.",
    )


class VenueForm(forms.Form):
    """The venue's own wishes."""

    name = forms.CharField(
        label="Venue", max_length=80, error_messages={"required": "A venue has a name."}
    )
    rules = forms.CharField(
        label="The venue’s own rules",
        required=False,
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 5}),
        help_text="A line a rule. Printed on draw sheets and peg plans; they come first.",
    )
    note_for_bailiff = forms.CharField(
        label="Note for the bailiff",
        required=False,
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="Printed on the bailiff’s peg plan.",
    )
