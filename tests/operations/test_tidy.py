"""What is kept of a person goes when the table says so, and no sooner."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from django.contrib.sessions.models import Session
from django.test import Client
from django.utils import timezone

from league.models import Club, Invitation, Knock, Phone, ScalesPass, WeighIn
from league.operations.doors import invite
from league.operations.passes import let_in, make_pass
from league.operations.tidy import KEPT, tidy
from league.rules.walks import Walk
from tests.builders import make_entry, make_match, make_weigh_in
from tests.factories import UserFactory

DAY = timedelta(days=1)


@pytest.fixture
def now() -> datetime:
    return timezone.now()


def test_every_line_says_what_why_and_how_long_once() -> None:
    assert len({kept.key for kept in KEPT}) == len(KEPT)
    for kept in KEPT:
        assert kept.what
        assert kept.why
        assert kept.how_long


def test_a_session_goes_a_fortnight_after_signing_in(now: datetime, db: None) -> None:
    Client().force_login(UserFactory())

    assert tidy(at=now + 13 * DAY)["sessions"] == 0
    assert tidy(at=now + 15 * DAY)["sessions"] == 1
    assert not Session.objects.exists()


def test_a_failed_try_goes_after_an_hour(now: datetime, db: None) -> None:
    Knock.objects.create(kind="sign-in", key="k", at=now)

    assert tidy(at=now + timedelta(minutes=59))["tries"] == 0
    assert tidy(at=now + timedelta(minutes=60))["tries"] == 1


def test_an_invitation_goes_thirty_days_after_its_end(club: Club, now: datetime) -> None:
    invite(club, name="Ada", offices=["member"], by=None, at=now)

    assert tidy(at=now + 36 * DAY)["invitations"] == 0
    assert tidy(at=now + 37 * DAY)["invitations"] == 1
    assert not Invitation.objects.exists()


def test_phones_and_passes_lose_their_names_and_the_weights_stay(club: Club) -> None:
    match = make_match(club, sections={"A": 2})
    first = make_entry(match, peg=1)
    made, secret = make_pass(match, name="Len and Ivy", walk=Walk(), by=None)
    sent, token = let_in(match.pk, secret, name="Len’s phone")
    let_in(match.pk, secret, name="Ivy’s phone")
    make_weigh_in(first, phone=sent)
    end = made.expires_at

    early = tidy(at=end + 89 * DAY)
    late = tidy(at=end + 90 * DAY)
    again = tidy(at=end + 91 * DAY)

    assert (early["phones"], early["passes"]) == (0, 0)
    assert (late["phones"], late["passes"]) == (2, 1)
    assert (again["phones"], again["passes"]) == (0, 0)
    assert [phone.name for phone in Phone.objects.all()] == ["a phone"]
    assert [each.name for each in ScalesPass.objects.all()] == ["a phone"]
    assert WeighIn.objects.get().phone == sent
    assert Phone.objects.by_token(match.pk, token) is None
