"""Results become final when their time for objections is over, and nothing stands in the way."""

from __future__ import annotations

import datetime as dt

import pytest

from league.models import Act, Result
from league.operations.finals import make_due_final
from league.operations.publish import publish
from tests.builders import make_entry, make_fished_match, make_match, make_weigh_in

AT = dt.datetime(2026, 10, 4, 17, 0, tzinfo=dt.UTC)
CLOSED = AT + dt.timedelta(hours=27)


@pytest.fixture
def published(club):
    return publish(make_fished_match(club, name="Autumn Open"), by=None, at=AT)


def test_a_result_is_final_from_the_minute_objections_close(published):
    assert make_due_final(CLOSED - dt.timedelta(minutes=1)) == []
    assert make_due_final(CLOSED) == ["Autumn Open: version 1 is final, objections are closed."]
    assert Result.objects.get().final_at == CLOSED
    assert Act.objects.on(published.match).first().what == "Version 1 made final."


def test_what_is_final_is_left_alone(published):
    make_due_final(CLOSED)

    assert make_due_final(CLOSED + dt.timedelta(days=1)) == []


def test_a_weight_changed_since_keeps_it_provisional(published):
    make_weigh_in(published.match.entries.first(), "40-0")

    assert make_due_final(CLOSED) == []
    assert Result.objects.get().final_at is None


def test_a_result_published_with_a_peg_open_stays_provisional(club):
    match = make_match(club, sections={"A": 2})
    make_weigh_in(make_entry(match, peg=1), "3-0")
    make_entry(match, peg=2)
    publish(match, by=None, gaps_confirmed=True, at=AT)

    assert make_due_final(CLOSED) == []


def test_only_the_newest_version_becomes_final(published):
    entry = published.match.entries.first()
    entry.weigh_ins.all().delete()
    make_weigh_in(entry, "40-0")
    publish(
        published.match, by=None, correcting=1, why="Read again.", at=AT + dt.timedelta(hours=9)
    )

    assert make_due_final(CLOSED) == []  # version 2 has its own time
    make_due_final(CLOSED + dt.timedelta(hours=9))
    assert list(Result.objects.filter(final_at=None).values_list("version", flat=True)) == [1]
