"""Which pegs, and into how many sections."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from league.models import Match, Peg
from league.rules.bank import parse_pegs, say_pegs
from league.rules.errors import PegError
from league.rules.pegs import section_letters

MOST_SECTIONS = 50


class SectionsForm(forms.Form):
    """The pegs of the match as they are said, cut into so many sections."""

    pegs = forms.CharField(
        label="Pegs",
        required=False,
        help_text="Such as 1-22, 25-40, not 31. Left empty, every usable peg. "
        "Pegs that are left out on the water stay out.",
    )
    count = forms.IntegerField(
        label="Sections",
        min_value=1,
        max_value=MOST_SECTIONS,
        error_messages={"required": "Say how many sections there are."},
    )
    size = forms.IntegerField(
        label="Pegs in each",
        required=False,
        min_value=1,
        help_text="Left empty, as equal as the pegs allow.",
    )

    def __init__(self, *args: Any, match: Match, bank: Sequence[Peg], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.match = match
        self.bank = bank

    def clean_pegs(self) -> list[Peg]:
        """Hand over the pegs themselves, in the order of the bank."""
        typed = self.cleaned_data["pegs"]
        if not typed.strip():
            return list(self.bank)
        try:
            said = parse_pegs(typed)
        except PegError as error:
            raise ValidationError(str(error).splitlines()) from error
        there = {peg.number: peg for peg in self.bank}
        missing = [peg.name for peg in said if peg.name not in there]
        if missing:
            raise ValidationError(
                f"{self.match.water} has no peg {', '.join(missing)}. "
                f"Its pegs run from {self.bank[0]} to {self.bank[-1]}."
                if self.bank
                else f"{self.match.water} has no pegs yet."
            )
        wanted = {peg.name for peg in said if not peg.left_out}
        return [peg for peg in self.bank if peg.number in wanted]


class ByHandForm(forms.Form):
    """A line of pegs for every section, and one more for a section to be added."""

    def __init__(
        self,
        *args: Any,
        match: Match,
        bank: Sequence[Peg],
        now: Mapping[str, Sequence[Peg]],
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.match = match
        self.there = {peg.number: peg for peg in bank}
        self.order = {peg.pk: peg.order for peg in bank}
        typed = [name for name in self.data if str(name).startswith("section_")]
        count = min(MOST_SECTIONS, max(len(now) + 1, len(typed)))
        for letter in section_letters(count):
            numbers = [peg.number for peg in now.get(letter, ())]
            self.fields[f"section_{letter}"] = forms.CharField(
                label=f"Section {letter}",
                required=False,
                initial=say_pegs(numbers),
                help_text="" if numbers else "Left empty, there is no such section.",
            )

    def clean(self) -> dict[str, Any]:
        """Hand over the pegs of every section that has some, in the order of the bank."""
        data: dict[str, Any] = super().clean() or {}
        self.runs: dict[str, list[Peg]] = {}
        for name, typed in list(data.items()):
            letter = name.removeprefix("section_")
            if not typed.strip():
                continue
            try:
                said = [peg.name for peg in parse_pegs(typed) if not peg.left_out]
            except PegError as error:
                self.add_error(name, str(error).splitlines())
                continue
            if missing := [number for number in said if number not in self.there]:
                self.add_error(name, f"{self.match.water} has no peg {', '.join(missing)}.")
                continue
            run = [self.there[number] for number in said]
            self.runs[letter] = sorted(run, key=lambda peg: self.order[peg.pk])
        if not self.runs and not self.errors:
            self.add_error(None, "A match has at least one section. Type its pegs, such as 1-12.")
        return data
