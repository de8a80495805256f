"""What the guard knows of a water, and the last look over a bank."""

from __future__ import annotations

import datetime as dt
import math

import pytest

from league.models import Entry, Peg, Stage
from league.operations.guard import known_of, last_look, today_at
from league.rules.usual import Usual
from tests.builders import make_entry, make_fished_match, make_weigh_in
from tests.factories import MatchFactory

pytestmark = pytest.mark.django_db

EVEN = ["2-8", "3-0", "2-12", "3-4", "2-0", "3-8", "2-4", "3-12"]


def past_match(water, *, day, figures, **values):
    match = MatchFactory(
        club=water.venue.club,
        water=water,
        date=dt.date(2026, 11, day),
        stage=Stage.FINAL,
        **values,
    )
    section = match.sections.create(letter="A", order=1)
    for peg, figure in zip(Peg.objects.along(water), figures, strict=False):
        match.match_pegs.create(section=section, peg=peg)
        make_weigh_in(make_entry(match, peg=peg.number), figure)
    return match


def test_a_water_nobody_has_fished_is_unknown():
    known = known_of(make_fished_match(weights={"A": EVEN}))

    assert known.usual == Usual()
    assert known.forms == {}


def test_past_matches_say_what_is_usual_and_what_a_peg_gives():
    match = make_fished_match(weights={"A": EVEN})
    for day in (1, 8, 15):
        # 12 oz everywhere, log 16; the last peg gives 60, log 64
        past_match(match.water, day=day, figures=["0-12"] * 7 + ["3-12"])
    last = Peg.objects.along(match.water).last()

    known = known_of(match)

    assert known.usual.middle == pytest.approx(math.log(16))
    # three times log 4 above the day, held back as by three ordinary days
    assert known.forms[last.pk] == pytest.approx(3 * math.log(4) / 6)


def test_matches_in_kilograms_and_those_not_fished_yet_say_nothing_of_pounds():
    match = make_fished_match(weights={"A": EVEN})
    for day in (1, 8, 15):
        past_match(match.water, day=day, figures=["1.000"] * 8, unit="kg")

    assert known_of(match).usual == Usual()


def test_the_day_so_far_moves_what_is_expected():
    match = make_fished_match(weights={"A": EVEN})
    entry = make_entry(match)

    # eight weights between 2 lb and 3 lb 12 oz
    bank = Entry.objects.of(match).with_figures()
    assert 32 < math.exp(today_at(match, entry, bank).middle) < 60


def test_the_last_look_stops_at_the_figure_with_a_slip_in_it():
    match = make_fished_match(weights={"A": [*EVEN, "33-8"]})

    [look] = last_look(match)

    assert look.entry.match_peg.peg.number == "9"
    assert look.doubt.headline == "33 lb 8 oz is a long way over the usual"
    assert look.doubt.offered == "It was 3 lb 8 oz"
    assert str(look).startswith("Peg 9, ")


def test_it_asks_about_two_nets_that_read_the_same():
    match = make_fished_match(weights={"A": [*EVEN, "2-8 + 2-8"]})

    assert [look.doubt.headline for look in last_look(match)] == ["Net 1 and net 2 read the same"]


def test_an_ordinary_bank_is_passed_without_a_question():
    assert last_look(make_fished_match(weights={"A": [*EVEN, "blank", "10-0", "0-8"]})) == []
