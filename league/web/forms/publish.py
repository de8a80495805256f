"""Publishing a result, and decisions that go into one."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from league.models import DecisionKind, Entry, Match, Team
from league.models.fields import PointsField
from league.rules.weights import Unit
from league.web.forms.weigh import WeightField, WhyField


class PublishForm(forms.Form):
    """Goes out as seen: the version it follows, why it corrects it, and what is still open."""

    # The version that was on the screen; empty for the first.
    correcting = forms.IntegerField(required=False, widget=forms.HiddenInput)
    gaps_confirmed = forms.BooleanField(
        label="Publish all the same, with these shown as open", required=False
    )
    tell = forms.BooleanField(label="Send it by e-mail to those who asked", required=False)
    why = forms.CharField(
        label="Why it is corrected",
        required=False,
        max_length=300,
        help_text="Printed with the result.",
    )


class PointsBox(forms.CharField):
    """Hands over exact points: 3, 3.5 or 3½."""

    def clean(self, value: Any) -> Any:
        """Read what was typed; an empty box is none."""
        typed = super().clean(value)
        return PointsField().to_python(typed)


class DecideForm(forms.Form):
    """An official decision about an angler or a team."""

    kind = forms.ChoiceField(label="Decision", choices=DecisionKind)
    entry = forms.ModelChoiceField(
        Entry.objects.none(), label="Angler", required=False, empty_label="Nobody: a whole team"
    )
    team = forms.ModelChoiceField(
        Team.objects.none(), label="Team", required=False, empty_label="No team: one angler"
    )
    points = PointsBox(label="Points", required=False, help_text="For a penalty or a void peg.")
    why = WhyField("Say why: it is printed with the result.", label="Why")

    def __init__(self, *args: Any, match: Match, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        entries = Entry.objects.of(match).in_booking_order()
        self.fields["entry"].queryset = entries  # type: ignore[attr-defined]
        if match.season is None:
            del self.fields["team"]
        else:
            self.fields["team"].queryset = Team.objects.of(match.season)  # type: ignore[attr-defined]
        self.fields["weight"] = WeightField(
            unit=Unit(match.unit),
            label="Weight",
            required=False,
            help_text="For a penalty in weight, or a late weight.",
        )
        self.order_fields(["kind", "entry", "team", "points", "weight", "why"])

    def decision(self) -> dict[str, Any]:
        """What deciding needs."""
        data = dict(self.cleaned_data)
        weight = data.pop("weight", None)
        return data | {"weight": weight.amount if weight else None}


class LiftForm(forms.Form):
    """Why a decision is taken back."""

    why = WhyField("Say why the decision is lifted.", label="Why it is lifted")


def slips(error: Exception) -> list[ValidationError]:
    """A refusal as a form shows it: a line each."""
    return [ValidationError(line) for line in str(error).splitlines()]
