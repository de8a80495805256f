"""A scales pass: whose walk, which part of the bank, and from which end."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms

from league.operations.passes import LONGEST_NAME
from league.rules.walks import Walk


class PassForm(forms.Form):
    """Hands over a name and a `Walk`; nothing chosen is the whole bank."""

    name = forms.CharField(
        label="Whose walk",
        max_length=LONGEST_NAME,
        help_text="The pair with the scales, such as Len and Ivy.",
        error_messages={"required": "Say whose walk it is, for instance Len and Ivy."},
    )
    sections = forms.MultipleChoiceField(
        label="Sections",
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text="None ticked and no pegs named: the whole bank.",
    )
    first = forms.CharField(label="Or from peg", required=False, max_length=12)
    last = forms.CharField(label="To peg", required=False, max_length=12)
    backwards = forms.BooleanField(label="From the far end", required=False)

    def __init__(self, *args: Any, letters: Sequence[str], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["sections"].choices = [(each, f"Section {each}") for each in letters]  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """A walk is sections or a run of pegs, not both, and a run has two ends."""
        found = super().clean() or {}
        first, last = found.get("first", "").strip(), found.get("last", "").strip()
        if found.get("sections") and (first or last):
            self.add_error("first", "Tick sections or name a run of pegs, not both.")
        elif bool(first) != bool(last):
            self.add_error("last" if first else "first", "A run of pegs has a first and a last.")
        return found

    @property
    def walk(self) -> Walk:
        """The walk of a form without slips."""
        data = self.cleaned_data
        return Walk(
            sections=tuple(data["sections"]),
            first=data["first"].strip(),
            last=data["last"].strip(),
            backwards=data["backwards"],
        )
