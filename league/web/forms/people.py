"""Anglers on record: one of them, a list of them, and which of them are one person."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms
from django.contrib.auth.models import User

from league.files.people import LONGEST_NAME
from league.models import Angler
from league.operations.people import About
from league.operations.people_list import NEW, Kind, Planned


class AnglerForm(forms.Form):
    """What the club keeps of one angler."""

    name = forms.CharField(
        label="Name",
        max_length=LONGEST_NAME,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
        error_messages={"required": "Write the angler's name."},
    )
    email = forms.EmailField(
        label="E-mail",
        required=False,
        help_text="For reminders. It is never printed or published.",
        error_messages={"invalid": "That is no e-mail address. Write it like name@example.org."},
    )
    junior = forms.BooleanField(
        label="Junior",
        required=False,
        help_text="Printed by first name and initial everywhere, unless consent is on record.",
    )
    consent_to_publish = forms.BooleanField(
        label="Consent to the full name is on record",
        required=False,
        help_text="For a junior: in writing, from whoever may give it. Taken back, the name is "
        "shortened in everything published before as well.",
    )
    initial_only = forms.BooleanField(
        label="Asked to be printed by first name and initial", required=False
    )
    easy_access = forms.BooleanField(label="Needs an easy-access peg", required=False)

    @property
    def about(self) -> About:
        """What was typed, as the record takes it."""
        return About(**self.cleaned_data)


class ListForm(forms.Form):
    """A list of anglers: pasted, or a file."""

    pasted = forms.CharField(
        label="Paste the rows",
        required=False,
        strip=False,
        widget=forms.Textarea(attrs={"rows": 8, "spellcheck": "false"}),
        help_text="Copy them in the spreadsheet with the headings: name, email, junior, consent, "
        "easy access. A column of nothing but names will do.",
    )
    file = forms.FileField(
        label="Or choose a file",
        required=False,
        widget=forms.FileInput(attrs={"accept": ".csv,.xlsx,.txt"}),
        help_text="CSV or XLSX.",
    )

    def clean(self) -> dict[str, Any]:
        """One of the two, not both."""
        found = super().clean() or {}
        pasted, file = found.get("pasted", "").strip(), found.get("file")
        if pasted and file:
            self.add_error("file", "Paste the rows or choose a file, not both.")
        elif not pasted and not file and not self.errors:
            self.add_error("pasted", "Paste some rows, or choose a file.")
        return found


class DecideForm(forms.Form):
    """For every row that may be somebody on record: who it is. The list itself goes with it."""

    looked_at = forms.CharField(widget=forms.HiddenInput, strip=False)

    def __init__(self, *args: Any, planned: Sequence[Planned], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.likely = {
            f"who_{each.person.row}": each for each in planned if each.kind is Kind.LIKELY
        }
        for name, each in self.likely.items():
            self.fields[name] = forms.ChoiceField(
                label=each.person.name,
                widget=forms.RadioSelect,
                choices=[
                    *(
                        (str(guess.angler.pk), f"{guess.angler.name}: {guess.likeness.words}")
                        for guess in each.guesses
                    ),
                    (NEW, "Somebody new"),
                ],
                error_messages={
                    "required": f"Say who {each.person.name} is.",
                    "invalid_choice": "The anglers have changed meanwhile; say it once more.",
                },
            )

    @property
    def said(self) -> dict[int, str]:
        """The answers by row."""
        return {each.person.row: self.cleaned_data[name] for name, each in self.likely.items()}


class SignInForm(forms.Form):
    """Whose sign-in an angler has, of those who sign in for the club."""

    user = forms.ChoiceField(
        label="Signs in as",
        required=False,
        error_messages={"invalid_choice": "That sign-in is another angler’s; choose again."},
    )

    def __init__(self, *args: Any, people: Mapping[str, User], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.people = people
        self.fields["user"].choices = [  # type: ignore[attr-defined]
            ("", "Nobody: no sign-in"),
            *((key, user.get_full_name() or user.get_username()) for key, user in people.items()),
        ]

    @property
    def chosen(self) -> User | None:
        """Who was chosen."""
        return self.people.get(self.cleaned_data["user"])


class MergeForm(forms.Form):
    """Which other record is the same person's."""

    other = forms.ModelChoiceField(
        Angler.objects.none(),
        label="The other record",
        empty_label="Choose an angler",
        error_messages={
            "required": "Say which other record is the same person’s.",
            "invalid_choice": "That is no other angler of the club.",
        },
    )

    def __init__(self, *args: Any, others: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["other"].queryset = others  # type: ignore[attr-defined]
        self.fields["other"].label_from_instance = lambda each: each.name  # type: ignore[attr-defined]
