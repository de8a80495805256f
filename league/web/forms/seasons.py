"""A new season: its name, its start, and its rule book chosen from those there are."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from league.files import rulebook
from league.models import Season
from league.rules.announced import Part, read_out
from league.rules.books import READY_MADE
from league.rules.errors import RulebookError
from league.rules.rulebook import BY_WEIGHT, Rulebook
from league.rules.weights import Unit
from league.web.forms.days import a_day

AS_BEFORE = "as-before"
UNITS = ((Unit.LB_OZ.value, "Pounds and ounces"), (Unit.KG.value, "Kilograms and grams"))
YEAR = timedelta(weeks=52)


@dataclass(frozen=True, slots=True)
class BookChoice:
    """A rule book to choose: its box, what it is in a line, and all of it in sentences."""

    box: Any
    gist: str
    parts: tuple[Part, ...]


class BookForm(forms.Form):
    """A rule book chosen from those there are, for teams of a size, weighed in a unit."""

    size = forms.IntegerField(
        label="Anglers in a team",
        min_value=1,
        max_value=50,
        initial=4,
        help_text="Four, eight, whatever you fish; 1 where everybody fishes alone.",
    )
    per_section = forms.IntegerField(
        label="Of a team in each section",
        min_value=1,
        max_value=50,
        initial=1,
        help_text="Teams of eight over four sections have 2.",
    )
    unit = forms.ChoiceField(label="Weighed in", choices=UNITS, initial=Unit.LB_OZ.value)
    book = forms.ChoiceField(
        label="Rule book",
        widget=forms.RadioSelect,
        initial="averaged-low",
        error_messages={
            "required": "Choose a rule book. Any rule in it can be changed afterwards.",
            "invalid_choice": "There is no such rule book. Choose one of these.",
        },
    )

    def __init__(
        self,
        *args: Any,
        before: Rulebook | None = None,
        like: Rulebook | None = None,
        alone: bool = False,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        if alone:  # outside a league there are no teams
            del self.fields["size"], self.fields["per_section"]
        self.books: dict[str, Rulebook] = {}
        if before is not None:
            self.books[AS_BEFORE] = before
            self.initial["book"] = AS_BEFORE
        if shape := before or like:
            self.initial |= {
                "size": shape.team.size,
                "per_section": shape.team.per_section,
                "unit": shape.unit.value,
            }
        self.books |= READY_MADE
        self.fields["book"].choices = [  # type: ignore[attr-defined]
            (key, f"As last season: {book.name}" if key == AS_BEFORE else book.name)
            for key, book in self.books.items()
        ]
        self.rules: Rulebook | None = None

    def to_choose(self) -> Iterator[BookChoice]:
        """The books with their sentences, so that what is chosen can be read first."""
        for box, book in zip(self["book"], self.books.values(), strict=True):
            yield BookChoice(box, _gist(book), read_out(book))

    def clean(self) -> dict[str, Any]:
        """Put size and unit into the book that was chosen."""
        found: dict[str, Any] = super().clean() or {}
        if self.errors:
            return found
        chosen = self.books[found["book"]]
        changes: dict[str, Any] = {"unit": found["unit"]}
        if "size" in found:
            changes["team"] = {"size": found["size"], "per_section": found["per_section"]}
        if found["unit"] != chosen.unit.value:
            # A limit said in pounds is none in kilograms; it is set again with the other rules.
            changes["net"] = {"limit": "none", "tolerance": "none"}
        try:
            self.rules = rulebook.changed(chosen, changes)
        except RulebookError as error:
            raise ValidationError(str(error).splitlines()) from error
        return found

    def chosen(self) -> Rulebook:
        """The book as it will be announced."""
        assert self.rules is not None  # noqa: S101 -- a form without slips has made one
        return self.rules


class SeasonForm(forms.Form):
    """A new season of a league that is there, or of a new one."""

    league = forms.CharField(
        label="League", max_length=80, error_messages={"required": "Say what the league is called."}
    )
    name = forms.CharField(
        label="Season",
        max_length=40,
        error_messages={"required": "Say which season it is, such as 2026–27."},
    )
    starts = a_day("Starts on")
    squads = forms.BooleanField(label="Copy the squads too", required=False, initial=True)
    rounds = forms.BooleanField(
        label="Copy the rounds too",
        required=False,
        initial=True,
        help_text="Same waters, times and day of the week.",
    )

    def __init__(self, *args: Any, copied: Season | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if copied is None:
            del self.fields["squads"], self.fields["rounds"]
        else:
            del self.fields["league"]
            self.initial |= {"name": next_name(copied.name), "starts": copied.starts + YEAR}


def _gist(book: Rulebook) -> str:
    """What tells a book from the others, in three sentences."""
    if book.season.score == BY_WEIGHT:  # what a section scores is of no account then
        return f"{book.season.score.words} {book.season.drops.words}"
    return f"{book.section.direction.words} {book.section.equal.words} {book.season.drops.words}"


def next_name(name: str) -> str:
    """
    The season after *name*.

    >>> next_name("2026–27"), next_name("Summer 2027"), next_name("Evenings")
    ('2027–28', 'Summer 2028', 'Evenings, again')
    """
    if found := re.search(r"(\d{4})([–/-])(\d{2})(?!\d)", name):
        first, second = int(found[1]) + 1, (int(found[3]) + 1) % 100
        return f"{name[: found.start()]}{first}{found[2]}{second:02}{name[found.end() :]}"
    if found := re.search(r"\d{4}", name):
        return f"{name[: found.start()]}{int(found[0]) + 1}{name[found.end() :]}"
    return f"{name}, again"


def season_of(day: date) -> str:
    """
    What a season that starts on *day* is usually called.

    >>> season_of(date(2026, 10, 4)), season_of(date(2027, 4, 1))
    ('2026–27', '2027')
    """
    return f"{day.year}–{(day.year + 1) % 100:02}" if day.month >= 8 else str(day.year)
