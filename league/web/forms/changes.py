"""After the draw: what is begun with new numbers, and what came out of a real bag."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms

from league.models import Angler, Entry, MatchPeg, Section
from league.web.forms.weigh import WhyField


class UnsafeForm(forms.Form):
    """A peg found unsafe on the morning."""

    match_peg = forms.ModelChoiceField(
        MatchPeg.objects.none(),
        label="Peg",
        empty_label="Choose a peg",
        error_messages={
            "required": "Say which peg is unsafe.",
            "invalid_choice": "That peg is closed already, or not a peg of this match.",
        },
    )
    why = WhyField("Say why: it is printed on the draw's record.", label="Why it is unsafe")

    def __init__(self, *args: Any, pegs: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["match_peg"].queryset = pegs  # type: ignore[attr-defined]


class RedrawForm(forms.Form):
    """One section to be drawn again."""

    section = forms.ModelChoiceField(
        Section.objects.none(),
        label="Section",
        empty_label="Choose a section",
        error_messages={
            "required": "Say which section is drawn again.",
            "invalid_choice": "That is no section of this match.",
        },
    )
    why = WhyField("Say why: it is printed on the draw's record.", label="Why it is drawn again")

    def __init__(self, *args: Any, sections: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["section"].queryset = sections  # type: ignore[attr-defined]


class GivePegForm(forms.Form):
    """A peg given by hand to an angler who has none."""

    match_peg = forms.ModelChoiceField(
        MatchPeg.objects.none(),
        label="Peg",
        empty_label="Choose a peg",
        error_messages={
            "required": "Say which peg is given.",
            "invalid_choice": "That peg is taken meanwhile; choose again.",
        },
    )
    why = WhyField("Say why: it is printed on the draw's record.", label="Why it is given by hand")

    def __init__(self, *args: Any, pegs: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["match_peg"].queryset = pegs  # type: ignore[attr-defined]


class MembersForm(forms.Form):
    """Who of a team fishes which of the pegs it drew."""

    def __init__(self, *args: Any, entries: Sequence[Entry], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.entries = {f"on_{entry.pk}": entry for entry in entries}
        self.anglers: dict[str, Angler] = {str(entry.angler_id): entry.angler for entry in entries}
        for name, entry in self.entries.items():
            where = entry.match_peg or (
                f"Section {entry.section}" if entry.section else "No section"
            )
            self.fields[name] = forms.ChoiceField(
                label=f"Peg {where}" if entry.match_peg else str(where),
                choices=[(key, angler.shown_name) for key, angler in self.anglers.items()],
                initial=str(entry.angler_id),
                error_messages={"invalid_choice": "Choose a member who is booked in."},
            )

    @property
    def named(self) -> dict[int, Angler]:
        """The angler named for every entry."""
        return {
            entry.pk: self.anglers[self.cleaned_data[name]] for name, entry in self.entries.items()
        }


class ByHandForm(forms.Form):
    """What came out of a real bag: a box an angler, for the number painted on the peg."""

    def __init__(self, *args: Any, entries: Sequence[Entry], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.numbers = {f"peg_{entry.number}": entry.number for entry in entries}
        for (name, number), entry in zip(self.numbers.items(), entries, strict=True):
            team = f", {entry.team.name}" if entry.team else ""
            section = f", section {entry.section.letter}" if entry.section else ""
            easy = ", easy-access peg" if entry.easy_access else ""
            self.fields[name] = forms.CharField(
                label=f"{number} {entry.angler}{team}{section}{easy}",
                required=False,
                max_length=8,
                widget=forms.TextInput(attrs={"autocomplete": "off", "size": 4}),
            )

    def clean(self) -> dict[str, Any]:
        """Every box has a peg before anything is kept."""
        data: dict[str, Any] = super().clean() or {}
        empty = [str(self.numbers[name]) for name in self.fields if not data.get(name, "-")]
        if empty:
            self.add_error(
                None,
                f"No peg yet for {'entry' if len(empty) == 1 else 'entries'} {', '.join(empty)}. "
                "Type the peg that came out, or withdraw the angler first.",
            )
        return data

    @property
    def pegs(self) -> dict[int, str]:
        """The pegs as typed, by entry number."""
        return {number: self.cleaned_data[name] for name, number in self.numbers.items()}
