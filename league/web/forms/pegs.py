"""Which pegs, and into how many sections."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from league.models import Match, Peg
from league.rules.bank import parse_pegs
from league.rules.errors import PegError

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
