"""Passes for the scales: made, used by phones, run out, taken back."""

from __future__ import annotations

import datetime as dt

import pytest

from league.models import Act, Phone, ScalesPass, Stage
from league.operations.errors import RefusedError
from league.operations.passes import (
    let_in,
    let_in_person,
    make_pass,
    phone_of,
    revoke_pass,
    revoke_phone,
)
from league.rules.walks import Walk
from tests.builders import make_entry, make_match
from tests.factories import UserFactory

pytestmark = pytest.mark.django_db

SUNDAY = dt.datetime(2027, 1, 24, 8, 0, tzinfo=dt.UTC)


def drawn_match():
    match = make_match(sections={"A": 2, "B": 2})
    for peg in (1, 2, 3, 4):
        make_entry(match, peg=peg)
    return match


def test_a_pass_keeps_a_digest_and_never_its_secret():
    scales_pass, secret = make_pass(drawn_match(), name="Len and Ivy", walk=Walk(("A",)), by=None)

    kept = ScalesPass.objects.values().get(pk=scales_pass.pk)
    assert secret not in str(kept)
    assert len(secret) == 43  # 32 random bytes
    assert kept["walk"] == {"sections": ["A"], "first": "", "last": "", "backwards": False}
    assert Act.objects.get().what == "Scales pass made for Len and Ivy: Section A."


def test_it_lasts_from_the_day_before_until_noon_of_the_day_after():
    """36 hours from the first minute of the match day: phones find signal at home."""
    friday = SUNDAY - dt.timedelta(days=2)

    scales_pass, _ = make_pass(drawn_match(), name="Len", walk=Walk(), by=None, at=friday)

    assert scales_pass.in_force(friday)
    assert scales_pass.expires_at == dt.datetime(2027, 1, 25, 12, 0, tzinfo=dt.UTC)


def test_a_pass_made_for_an_old_match_still_lasts_a_day_and_a_half():
    monday = SUNDAY + dt.timedelta(days=8)

    scales_pass, _ = make_pass(drawn_match(), name="Len", walk=Walk(), by=None, at=monday)

    assert scales_pass.expires_at == monday + dt.timedelta(hours=36)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"name": " "}, "Say whose walk it is, for instance Len and Ivy."),
        ({"name": "x" * 41}, "The name is 41 letters long; 40 fit. Shorten it."),
        ({"walk": Walk(("Z",))}, "There is no section Z on this bank."),
        (
            {"walk": Walk(first="2", last="99")},
            "There is no peg 99 on this bank: name the first and the last peg.",
        ),
    ],
)
def test_what_makes_no_pass_is_refused_in_words(values, words):
    with pytest.raises(RefusedError) as refused:
        make_pass(drawn_match(), **{"name": "Len", "walk": Walk(), "by": None} | values)

    assert str(refused.value) == words
    assert not ScalesPass.objects.exists()


def test_a_cancelled_match_has_no_scales():
    match = drawn_match()
    match.stage = Stage.CANCELLED
    match.save()

    with pytest.raises(RefusedError, match="nobody weighs"):
        make_pass(match, name="Len", walk=Walk(), by=None)


def test_a_phone_comes_in_by_the_secret_and_is_known_by_its_token():
    match = drawn_match()
    _, secret = make_pass(match, name="Len and Ivy", walk=Walk(("B",)), by=None)

    phone, token = let_in(match.pk, secret, name="")

    assert phone_of(match.pk, token) == phone
    assert phone.name == "Len and Ivy"
    assert phone.expires_at == phone.scales_pass.expires_at
    assert phone_of(match.pk, secret) is None
    assert phone_of(match.pk, "") is None
    assert phone_of(match.pk + 1, token) is None
    assert token not in str(Phone.objects.values().get())


def test_a_secret_of_another_match_opens_nothing():
    match = drawn_match()
    _, secret = make_pass(drawn_match(), name="Len", walk=Walk(), by=None)

    with pytest.raises(RefusedError, match="This link opens no scales"):
        let_in(match.pk, secret, name="")


def test_a_pass_that_ran_out_lets_nobody_in():
    match = drawn_match()
    scales_pass, secret = make_pass(match, name="Len", walk=Walk(), by=None, at=SUNDAY)

    with pytest.raises(RefusedError, match="This pass has run out"):
        let_in(match.pk, secret, name="", at=scales_pass.expires_at)


def test_taken_back_it_stops_every_phone_that_came_in_by_it():
    match = drawn_match()
    scales_pass, secret = make_pass(match, name="Len", walk=Walk(), by=None, at=SUNDAY)
    _, first = let_in(match.pk, secret, name="", at=SUNDAY)
    _, second = let_in(match.pk, secret, name="", at=SUNDAY)

    revoke_pass(scales_pass, by=None, at=SUNDAY)

    assert not phone_of(match.pk, first).in_force(SUNDAY)
    assert not phone_of(match.pk, second).in_force(SUNDAY)
    with pytest.raises(RefusedError, match="This pass was taken back"):
        let_in(match.pk, secret, name="", at=SUNDAY)
    with pytest.raises(RefusedError, match="taken back already"):
        revoke_pass(scales_pass, by=None)


def test_one_phone_can_be_stopped_alone_and_does_not_let_itself_in_again():
    match = drawn_match()
    _, secret = make_pass(match, name="Len", walk=Walk(), by=None)
    stopped, token = let_in(match.pk, secret, name="")
    other, _ = let_in(match.pk, secret, name="")

    revoke_phone(stopped, by=None)

    now = dt.datetime(2027, 1, 1, tzinfo=dt.UTC)
    assert not phone_of(match.pk, token).in_force(now)
    assert other.in_force(now)
    with pytest.raises(RefusedError, match="This phone was stopped"):
        let_in(match.pk, secret, name="", old_token=token)


def test_with_a_new_pass_it_stays_the_same_phone():
    """So that it can still correct what it sent under the pass that ran out."""
    match = drawn_match()
    _, first = make_pass(match, name="Len", walk=Walk(), by=None)
    phone, token = let_in(match.pk, first, name="")
    _, second = make_pass(match, name="Len", walk=Walk(), by=None)

    again, new_token = let_in(match.pk, second, name="", old_token=token)

    assert again.pk == phone.pk
    assert phone_of(match.pk, token) is None
    assert phone_of(match.pk, new_token) == phone


def test_a_pass_that_goes_round_the_clubhouse_runs_out_of_phones():
    match = drawn_match()
    _, secret = make_pass(match, name="Len", walk=Walk(), by=None)
    for _ in range(12):
        let_in(match.pk, secret, name="")

    with pytest.raises(RefusedError, match="12 phones have come in by this pass already"):
        let_in(match.pk, secret, name="")


def test_somebody_signed_in_needs_no_pass():
    match = drawn_match()
    ivy, ken = UserFactory(username="ivy"), UserFactory(username="ken")

    phone, token = let_in_person(match, ivy)
    again, new_token = let_in_person(match, ivy, old_token=token)
    others, _ = let_in_person(match, ken, old_token=new_token)

    assert (phone.user, phone.name) == (ivy, "ivy")
    assert again.pk == phone.pk
    assert others.pk != phone.pk
