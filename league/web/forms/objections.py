"""An objection as it is told to the match secretary, and its answer."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms

from league.models import Decision, Entry, Match, Outcome, Team
from league.operations.objections import LONGEST, LONGEST_HEARD


class ObjectForm(forms.Form):
    """Who objects, and to what."""

    entry = forms.ModelChoiceField(
        Entry.objects.none(),
        label="Angler who objects",
        required=False,
        empty_label="Nobody: a whole team",
        error_messages={"invalid_choice": "That angler does not fish this match."},
    )
    team = forms.ModelChoiceField(
        Team.objects.none(),
        label="Team that objects",
        required=False,
        empty_label="No team: one angler",
        error_messages={"invalid_choice": "That team does not fish this match."},
    )
    what = forms.CharField(
        label="What the objection is to",
        max_length=LONGEST,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="It stands beside the result for everybody to read: the facts, and no more.",
        error_messages={"required": "Say what the objection is to: it stands beside the result."},
    )
    late_heard = forms.BooleanField(label="Came late, and is heard all the same", required=False)

    def __init__(self, *args: Any, match: Match, late: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        entries = Entry.objects.of(match).in_booking_order()
        self.fields["entry"].queryset = entries  # type: ignore[attr-defined]
        self.fields["entry"].label_from_instance = lambda each: str(each.angler)  # type: ignore[attr-defined]
        if match.season is None:
            del self.fields["team"]
        else:
            self.fields["team"].queryset = Team.objects.of(match.season)  # type: ignore[attr-defined]
        if not late:
            del self.fields["late_heard"]


class HoursForm(forms.Form):
    """How long the club hears objections."""

    hours = forms.IntegerField(
        label="Hours after a result is published",
        min_value=1,
        max_value=LONGEST_HEARD,
        help_text="As the club’s rules say. Results already out keep their time.",
        error_messages={"required": "Say how many hours, for instance 24."},
    )


class AnswerForm(forms.Form):
    """What comes of it, and why."""

    outcome = forms.ChoiceField(
        label="What comes of it",
        choices=Outcome,
        widget=forms.RadioSelect,
        error_messages={"required": "Say what comes of the objection."},
    )
    answer = forms.CharField(
        label="Why",
        max_length=LONGEST,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="It stands beside the result.",
        error_messages={"required": "Say why: the answer stands beside the result."},
    )
    decision = forms.TypedChoiceField(
        label="The decision it led to",
        required=False,
        empty_value=None,
        error_messages={"invalid_choice": "That decision is lifted meanwhile; choose again."},
    )

    def __init__(self, *args: Any, decisions: Sequence[Decision], **kwargs: Any) -> None:
        """The decisions are asked for once, however many objections wait for an answer."""
        super().__init__(*args, **kwargs)
        by_key = {str(each.pk): each for each in decisions}
        field: Any = self.fields["decision"]
        field.choices = [("", "None"), *((key, str(each)) for key, each in by_key.items())]
        field.coerce = by_key.get
