"""What a club says of itself, on one page."""

from __future__ import annotations

from typing import Any

from django import forms
from django.conf import settings

from league.models import Club, PaperSize
from league.operations.club import LONGEST_KEPT, AboutClub, about_club
from league.operations.objections import LONGEST_HEARD


class ClubForm(forms.Form):
    """The club's name, its readers, its hours, its paper, its backups."""

    name = forms.CharField(
        label="What the club is called",
        max_length=80,
        help_text="Addresses that were handed out go on working.",
        error_messages={"required": "Say what the club is called."},
    )
    public = forms.TypedChoiceField(
        label="Who may read results and tables",
        choices=[("yes", "Everybody"), ("no", "Members who are signed in")],
        coerce=lambda said: said == "yes",
        widget=forms.RadioSelect,
    )
    objection_hours = forms.IntegerField(
        label="Hours after a result is published in which objections are heard",
        min_value=1,
        max_value=LONGEST_HEARD,
        help_text="27 hours: a Sunday’s result at five is final on Monday at eight. 1 hour: the "
        "result is final before everybody has gone home. Results already out keep their time.",
        error_messages={"required": "Say how many hours, for instance 24."},
    )
    paper = forms.ChoiceField(
        label="Paper in the club’s printer", choices=PaperSize, widget=forms.RadioSelect
    )
    keep_backups = forms.IntegerField(
        label="Days a daily backup is kept",
        min_value=1,
        max_value=LONGEST_KEPT,
        required=False,
    )

    def __init__(self, *args: Any, club: Club, **kwargs: Any) -> None:
        told = about_club(club)
        initial = {field: getattr(told, field) for field in AboutClub.__slots__}
        initial["public"] = "yes" if told.public else "no"
        super().__init__(*args, initial=initial, **kwargs)
        self.fields["keep_backups"].help_text = (
            f"Left empty: {settings.KEEP_BACKUPS}, as the installation says. One backup holds "
            "every club on this machine, so the longest that any of them asks for holds."
        )

    def told(self) -> AboutClub:
        """What was filled in."""
        return AboutClub(**self.cleaned_data)
