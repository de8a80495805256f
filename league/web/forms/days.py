"""Days and times as boxes, with the phone's own calendar and clock."""

from __future__ import annotations

from typing import Any

from django import forms


def a_day(label: str, *, required: bool = True, **kwargs: Any) -> forms.DateField:
    """A box for a day, with the phone's own calendar."""
    return forms.DateField(
        label=label,
        required=required,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={
            "required": "Say on which day.",
            "invalid": "Write the day as 2026-10-04.",
        },
        **kwargs,
    )


def an_hour(label: str) -> forms.TimeField:
    return forms.TimeField(
        label=label,
        required=False,
        widget=forms.TimeInput(attrs={"type": "time"}, format="%H:%M"),
        error_messages={"invalid": "Write the time as 08:30."},
    )
