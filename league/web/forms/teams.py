"""Teams and squads as they are pasted; who may be somebody the club knows is asked about."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from league.files.pasted_teams import PastedName, read_squad, read_teams
from league.models import Angler, Club, SquadMember
from league.operations.teams import Question, asks_about
from league.rules.errors import SheetError

WHO, NEW = "who:", "new"


class TeamsForm(forms.Form):
    """Teams as they are pasted, with or without their squads."""

    teams = forms.CharField(
        label="Teams",
        widget=forms.Textarea(attrs={"rows": 8, "spellcheck": "false"}),
        error_messages={"required": "No team is written down yet. Write a line a team."},
        help_text="A line a team. Squads may follow a colon: "
        "Tannery Lane: Jo Ormesher (captain), Ray Tolliver.",
    )

    def __init__(self, *args: Any, club: Club, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        ask_who(self, club, _names_of_teams(self.data.get("teams", "")))

    def clean_teams(self) -> Any:
        """Hand over the teams as read."""
        return _read(read_teams, self.cleaned_data["teams"])


class SquadForm(forms.Form):
    """A team's name, code and squad."""

    name = forms.CharField(
        label="Team", max_length=60, error_messages={"required": "A team has a name."}
    )
    code = forms.CharField(
        label="Code",
        max_length=8,
        error_messages={"required": "A team has a code: it stands for the team in the draw."},
        help_text="One to eight capitals or digits; stands for the team in the draw.",
    )
    squad = forms.CharField(
        label="Squad",
        required=False,
        widget=forms.Textarea(attrs={"rows": 10, "spellcheck": "false"}),
        help_text="A name a line. Mark the captain: Jo Ormesher (captain).",
    )

    def __init__(self, *args: Any, club: Club, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        ask_who(self, club, _names_of_squad(self.data.get("squad", "")))

    def clean_squad(self) -> Any:
        """Hand over the names as read."""
        return _read(read_squad, self.cleaned_data["squad"])


def ask_who(form: forms.Form, club: Club, names: Sequence[PastedName]) -> None:
    """Add a question to *form* for every name that may be somebody of the club already."""
    for question in asks_about(club, names) if names else ():
        form.fields[f"{WHO}{question.name}"] = _who(question)


def answers_of(form: forms.Form) -> dict[str, int | None]:
    """For each name that was asked about, whose it is; None for somebody new."""
    return {
        name.removeprefix(WHO): None if value == NEW else int(value)
        for name, value in form.cleaned_data.items()
        if name.startswith(WHO)
    }


def _names_of_teams(text: str) -> Sequence[PastedName]:
    try:
        return [each for team in read_teams(text) for each in team.squad]
    except SheetError:  # said when the list itself is read
        return ()


def _names_of_squad(text: str) -> Sequence[PastedName]:
    try:
        return read_squad(text)
    except SheetError:
        return ()


def squad_written(members: Iterable[SquadMember]) -> str:
    """A squad as its form shows it, a name a line."""
    return "\n".join(
        f"{each.angler.name}{' (captain)' if each.captain else ''}" for each in members
    )


def _read(reader: Any, text: str) -> Any:
    try:
        return reader(text)
    except SheetError as error:
        raise ValidationError([str(fault) for fault in error.faults]) from error


def _who(question: Question) -> forms.ChoiceField:
    return forms.ChoiceField(
        label=f"Who is {question.name}?",
        widget=forms.RadioSelect,
        choices=[
            *((str(angler.pk), _known(angler)) for angler in question.candidates),
            (NEW, "Somebody new to the club"),
        ],
        error_messages={
            "required": "The club has an angler of nearly this name. Say whether it is the same.",
            "invalid_choice": "Choose one of these.",
        },
    )


def _known(angler: Angler) -> str:
    return f"{angler.name}, who is an angler of the club already"
