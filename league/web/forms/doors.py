"""Signing in, being asked in, a forgotten password: the forms at the doors."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from django import forms
from django.contrib.auth.forms import (
    AuthenticationForm,
    PasswordChangeForm,
    PasswordResetForm,
    SetPasswordForm,
)
from django.contrib.auth.models import User
from django.utils import timezone

from league.models import OfficeName
from league.operations.doors import called
from league.operations.sign_ins import log
from league.operations.throttle import knocked, letter_doors, opened, shut_until, sign_in_doors
from league.web.place import place_of

GOOD_ONES = (
    "Twelve letters or more; three or four words that nobody else puts together do well. Pasting "
    "is fine."
)


class SignInForm(AuthenticationForm):
    """Holds a guesser up, and never says whether it was the name or the password."""

    error_messages = {
        "invalid_login": "That name and password do not go together. Look at both again: capitals "
        "count.",
        "inactive": "This sign-in is closed. Ask the match secretary.",
    }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["username"].label = "Sign-in name"

    def clean(self) -> dict[str, Any]:
        """Ask the throttle before the password is looked at."""
        username = self.cleaned_data.get("username", "")
        place = place_of(self.request)
        doors = sign_in_doors(username, place)
        if until := shut_until(doors):
            log.warning("sign-in shut: from %s", place)
            raise forms.ValidationError(shut_words(until))
        try:
            found: dict[str, Any] = super().clean()
        except forms.ValidationError:
            knocked(doors)
            log.warning("sign-in failed: from %s", place)
            raise
        if user := self.get_user():
            opened(doors)
            log.info("signed in: user %s, from %s", user.pk, place)
        return found


class ForgottenForm(PasswordResetForm):
    """Where the letter goes; says the same whether anybody has that address."""

    def __init__(self, *args: Any, place: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.place = place
        self.fields["email"].label = "E-mail"
        self.fields["email"].error_messages |= {
            "required": "Write the address that the club has of you.",
            "invalid": "That is no e-mail address. Write it like name@example.org.",
        }

    def clean(self) -> dict[str, Any]:
        """A letter or two an hour, and nobody's box filled by a stranger."""
        found = super().clean() or {}
        if address := found.get("email"):
            doors = letter_doors(address, self.place)
            if until := shut_until(doors):
                raise forms.ValidationError(
                    "Enough letters were asked for. Look into the box, and among the unwanted "
                    f"ones; another can be asked for at {_hour(until)}."
                )
            knocked(doors)
        return found


class ChangeForm(PasswordChangeForm):
    """The old password, and a new one twice."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["old_password"].label = "The password as it is"
        self.fields["old_password"].widget.attrs.pop("autofocus", None)
        _in_our_words(self)


class NewForm(SetPasswordForm):  # type: ignore[type-arg]
    """A new password twice, for whoever holds a link."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        _in_our_words(self)


class OfficesField(forms.MultipleChoiceField):
    """Ticks for the offices of a club."""

    widget = forms.CheckboxSelectMultiple

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(choices=OfficeName.choices, **kwargs)


class InviteForm(forms.Form):
    """Who is asked, as what, and whether the link goes out by e-mail."""

    name = forms.CharField(
        label="Name",
        max_length=80,
        error_messages={"required": "Say who is asked, by name."},
    )
    offices = OfficesField(label="As", error_messages={"required": "Tick at least one office."})
    email = forms.EmailField(
        label="E-mail",
        required=False,
        help_text="The link is sent there. Left empty, it is shown here once, to hand over.",
        error_messages={"invalid": "That is no e-mail address. Write it like name@example.org."},
    )


class GiveForm(forms.Form):
    """One more office for somebody who is known here."""

    user = forms.ChoiceField(
        label="To",
        error_messages={"required": "Say to whom.", "invalid_choice": "Choose one of the list."},
    )
    name = forms.ChoiceField(
        label="Office",
        choices=OfficeName.choices,
        error_messages={"required": "Say which office."},
    )

    def __init__(self, *args: Any, people: Sequence[User], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.people = {str(user.pk): user for user in people}
        self.fields["user"].choices = [  # type: ignore[attr-defined]
            (key, called(user)) for key, user in self.people.items()
        ]

    @property
    def person(self) -> User:
        """Whoever was chosen."""
        return self.people[self.cleaned_data["user"]]


class TakeUpForm(forms.Form):
    """A new person at the door: what they sign in as, and with what."""

    name = forms.CharField(label="Your name", max_length=80)
    username = forms.CharField(
        label="Sign-in name", max_length=150, help_text="Short, without spaces, such as len."
    )
    email = forms.EmailField(
        label="E-mail",
        required=False,
        help_text="Where a link goes when the password is forgotten. Nobody else sees it.",
    )
    password = forms.CharField(
        label="Password",
        strip=False,
        help_text=GOOD_ONES,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )


def _in_our_words(form: forms.Form) -> None:
    first, second = form.fields["new_password1"], form.fields["new_password2"]
    first.label, first.help_text = "The new password", GOOD_ONES
    second.label, second.help_text = "The same again", ""


def shut_words(until: datetime) -> str:
    """What a guesser hears, and whoever has only forgotten."""
    return (
        f"Too many tries. The next one can be made at {_hour(until)}. If the password is "
        "forgotten, have a link sent instead."
    )


def _hour(until: datetime) -> str:
    return f"{timezone.localtime(until):%H:%M}"
