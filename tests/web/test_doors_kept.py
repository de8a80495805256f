"""What the doors keep to: no way to another site, no password in a log, no session without end."""

from __future__ import annotations

import logging
from datetime import timedelta

import pytest
from django.contrib.auth.models import User
from django.contrib.sessions.models import Session
from django.test import Client
from django.utils import timezone

from league.models import Club, OfficeName
from tests.builders import give_office
from tests.factories import UserFactory

PASSWORD = "Willow float, mere 29"


@pytest.fixture
def len_(club: Club) -> User:
    user = UserFactory(username="len", email="len@example.org")
    user.set_password(PASSWORD)
    user.save()
    give_office(club, user, OfficeName.SCALES)
    return user


@pytest.fixture
def logged() -> list[str]:
    """The lines that the doors write down."""
    lines: list[str] = []

    class Keep(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            lines.append(record.getMessage())

    log, keep = logging.getLogger("drawbag.doors"), Keep()
    log.addHandler(keep)
    yield lines
    log.removeHandler(keep)


@pytest.mark.parametrize(
    "wanted",
    ["https://evil.example/", "//evil.example/", "javascript:alert(1)", "\\\\evil.example"],
)
def test_signing_in_leads_to_no_other_site(len_: User, stranger: Client, wanted: str) -> None:
    answer = stranger.post("/sign-in/", {"username": "len", "password": PASSWORD, "next": wanted})

    assert (answer.status_code, answer["Location"]) == (302, "/")


def test_the_log_says_who_and_from_where_and_no_password(
    len_: User, stranger: Client, logged: list[str]
) -> None:
    stranger.post("/sign-in/", {"username": "len\nforged line", "password": "Guessed-secret-1"})
    stranger.post("/sign-in/", {"username": "len", "password": PASSWORD})

    assert logged == [
        "sign-in failed: from 127.0.0.1",
        f"signed in: user {len_.pk}, from 127.0.0.1",
    ]


@pytest.mark.parametrize("typed", [PASSWORD.lower(), PASSWORD[:20], f"{PASSWORD} "])
def test_a_password_is_taken_exactly_as_it_was_set(
    len_: User, stranger: Client, typed: str
) -> None:
    answer = stranger.post("/sign-in/", {"username": "len", "password": typed})

    assert answer.status_code == 200


@pytest.mark.parametrize(
    "new", ["only small letters here", "734 902 118 447", "ü" * 7 + "ßéøñ鯉", "long one " * 13]
)
def test_a_password_may_be_of_any_letters_and_long(len_: User, stranger: Client, new: str) -> None:
    stranger.force_login(len_)

    answer = stranger.post(
        "/account/password/",
        {"old_password": PASSWORD, "new_password1": new, "new_password2": new},
    )
    again = Client().post("/sign-in/", {"username": "len", "password": new})

    assert (answer.status_code, again.status_code) == (302, 302)


def test_a_new_password_needs_the_old_one(len_: User, stranger: Client) -> None:
    stranger.force_login(len_)
    new = "alder-spinner-lock-77"

    answer = stranger.post(
        "/account/password/",
        {"old_password": "not it", "new_password1": new, "new_password2": new},
    )

    assert answer.status_code == 200
    assert User.objects.get(username="len").check_password(PASSWORD)


def test_a_sign_in_that_is_closed_ends_where_it_is_open(len_: User, stranger: Client) -> None:
    stranger.force_login(len_)
    User.objects.filter(pk=len_.pk).update(is_active=False)

    assert stranger.get("/account/").status_code == 302
    assert Client().post("/sign-in/", {"username": "len", "password": PASSWORD}).status_code == 200


def test_a_session_ends_a_fortnight_after_signing_in_however_much_it_is_used(
    len_: User, stranger: Client
) -> None:
    stranger.force_login(len_)
    signed_in = Session.objects.get().expire_date
    for _ in range(3):
        stranger.get("/account/")

    assert Session.objects.get().expire_date == signed_in
    assert signed_in - timezone.now() <= timedelta(days=14)
    Session.objects.update(expire_date=timezone.now() - timedelta(seconds=1))
    assert stranger.get("/account/").status_code == 302


def test_signing_out_clears_what_the_browser_kept(len_: User, stranger: Client) -> None:
    stranger.force_login(len_)
    key = stranger.session.session_key
    page = stranger.get("/desk/")

    answer = stranger.post("/sign-out/")

    assert page["Cache-Control"] == "private, no-store"
    assert answer["Clear-Site-Data"] == '"cache"'
    assert not Session.objects.filter(session_key=key).exists()


def test_what_somebody_types_is_shown_and_never_run(club: Club, secretary: Client) -> None:
    typed = "<script>alert(1)</script> & 'Len'"
    secretary.post("/clubs/marlbrook/offices/ask-in/", {"name": typed, "offices": ["member"]})

    for address in ("/clubs/marlbrook/offices/", "/clubs/marlbrook/journal/"):
        page = secretary.get(address).content.decode()
        assert "&lt;script&gt;alert(1)" in page
        assert "<script>alert" not in page
