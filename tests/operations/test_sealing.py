"""The secret of a draw: locked away, nowhere to be read, opened once."""

from __future__ import annotations

import logging
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.core import serializers

from league.files.draw import as_json
from league.models import Club, DrawEvent, DrawRecord, Entry, Match
from league.operations.draw import (
    begin,
    call,
    finish,
    freeze,
    record_of,
    seal,
)
from league.operations.errors import RefusedError
from league.rules import draw
from tests.builders import make_match
from tests.operations.draw_scene import COMMITMENT, FIRST_REVEALED, SECRET, pegs_of


def test_a_sealed_secret_is_published_as_its_commitment_alone(match: Match, sam: User) -> None:
    record = seal(match, by=sam, secret=SECRET)

    assert record.commitment == COMMITMENT
    assert SECRET.encode() not in bytes(record.sealed_secret)
    assert seal(match, by=sam).commitment == COMMITMENT
    with pytest.raises(RefusedError) as refusal:
        seal(match, by=sam, secret="0" * 64)
    assert str(refusal.value).startswith("A secret is locked away for this draw already")


def test_two_draws_have_two_secrets(match: Match, club: Club, sam: User) -> None:
    other = make_match(club, drawn=False)

    assert seal(match, by=sam).commitment != seal(other, by=sam).commitment


def test_what_is_no_secret_is_refused(match: Match, sam: User) -> None:
    with pytest.raises(RefusedError) as refusal:
        seal(match, by=sam, secret="letmein")

    assert str(refusal.value) == "The secret of a draw is 64 hexadecimal digits (0-9 and a-f)."


def test_until_it_is_revealed_the_secret_is_nowhere(
    match: Match, sam: User, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.DEBUG)
    seal(match, by=sam, secret=SECRET)
    freeze(match, callers=[1, 4], by=sam)
    event = begin(match, by=sam)
    call(event, {1: 7, 4: 8}, by=sam)

    record = record_of(match)
    assert record is not None
    kept = serializers.serialize(
        "json",
        [
            *DrawRecord.objects.all(),
            *DrawEvent.objects.all(),
            *match.acts.all(),
            *Entry.objects.all(),
        ],
    )
    said = f"{kept}{as_json(record)}{caplog.text}{record!r}"
    links = draw.chain(SECRET)[:-1]
    assert [link for link in links if link in said] == []
    assert SECRET[:16] not in said

    finish(event, by=sam)
    kept = serializers.serialize("json", [*DrawEvent.objects.all(), *match.acts.all()])
    assert [link for link in draw.chain(SECRET)[:-1] if link in kept] == [FIRST_REVEALED]


def test_with_another_key_the_secret_stays_shut_and_nothing_is_drawn(
    match: Match, begun: DrawEvent, sam: User, settings: Any
) -> None:
    call(begun, {1: 1, 4: 2}, by=sam)
    settings.DRAW_KEY = "another key than when it was locked away"

    with pytest.raises(RefusedError) as refusal:
        finish(begun, by=sam)

    assert str(refusal.value).startswith("The secret of this draw cannot be opened: DRAWBAG_DRAW")
    assert set(pegs_of(match).values()) == {None}
    assert DrawEvent.objects.get().is_open


def test_without_a_key_nothing_is_locked_away(match: Match, sam: User, settings: Any) -> None:
    settings.DRAW_KEY = ""

    with pytest.raises(RefusedError) as refusal:
        seal(match, by=sam)

    assert "Set it, or draw by hand from a bag." in str(refusal.value)
