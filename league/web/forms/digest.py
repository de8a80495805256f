"""Asking for results by e-mail."""

from __future__ import annotations

from django import forms


class AskForm(forms.Form):
    """Whether to write, and where to; nobody is written to who has not asked."""

    wants = forms.BooleanField(label="Send me results when they are published", required=False)
    email = forms.CharField(
        label="E-mail address",
        required=False,
        max_length=254,
        help_text="Seen by the match secretary, never published.",
        widget=forms.EmailInput(attrs={"autocomplete": "email"}),
    )
