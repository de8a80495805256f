"""Waters entered and kept: the bank as it is said, pegs out of use, the venue's wishes."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable

import pytest
from django.contrib.auth.models import User

from league.models import Club, Match, MatchPeg, Peg, Venue, Water
from league.operations.errors import RefusedError
from league.operations.sections import make_sections
from league.operations.waters import (
    bank_of,
    change_venue,
    change_water,
    make_water,
    put_back,
    set_bank,
    take_out,
    usual_runs,
)
from league.rules.bank import parse_pegs, say_bank
from tests.factories import ClubFactory, MatchFactory

SAID = "1-8, not 3 (flooded), easy 1 and 8, gap after 4, overhead line 6 (25 m behind)"


@pytest.fixture
def water(club: Club, sam: User) -> Water:
    return make_water(club, venue="Marl Park", name="Heron Lake", pegs=parse_pegs(SAID), by=sam)


def numbers(water: Water, on: dt.date | None = None) -> list[str]:
    return [peg.number for peg in Peg.objects.along(water).usable(on)]


def test_a_water_is_kept_as_it_was_said(
    water: Water, club: Club, sam: User, journal: Callable[[], list[str]]
) -> None:
    assert say_bank(bank_of(water)) == SAID
    assert numbers(water) == ["1", "2", "4", "5", "6", "7", "8"]
    assert journal() == ["Heron Lake entered, 8 pegs, 1 of them left out."]
    second = make_water(club, venue="marl park", name="Mere", pegs=parse_pegs("1-3"), by=sam)
    assert second.venue == water.venue


def test_a_second_water_of_the_name_is_refused_and_a_water_has_pegs(
    water: Water, club: Club, sam: User
) -> None:
    for name, pegs in (("Heron Lake", parse_pegs("1-3")), ("New Lake", ())):
        with pytest.raises(RefusedError):
            make_water(club, venue="Marl Park", name=name, pegs=pegs, by=sam)
    assert Water.objects.of(club).count() == 1


def test_the_bank_is_written_otherwise_in_any_order(water: Water, sam: User) -> None:
    ours = {peg.number: peg.pk for peg in Peg.objects.along(water)}

    set_bank(water, parse_pegs("8, 7, 1-3, 9, steep bank 9"), by=sam)

    assert say_bank(bank_of(water)) == "8, 7, 1-3, 9, steep bank 9"
    kept = {peg.number: peg.pk for peg in Peg.objects.along(water)}
    assert {number: ours[number] for number in ("1", "2", "3", "7", "8")} == {
        number: pk for number, pk in kept.items() if number != "9"
    }


def test_a_peg_that_a_match_has_used_stays(water: Water, club: Club, sam: User) -> None:
    match = MatchFactory(club=club, water=water)
    make_sections(match, count=1, pegs=list(Peg.objects.along(water)), by=sam)

    with pytest.raises(RefusedError) as refusal:
        set_bank(water, parse_pegs("1-5"), by=sam)
    set_bank(water, parse_pegs("1-8, not 6-8 (sold)"), by=sam)

    assert str(refusal.value) == (
        "Pegs 6-8: matches have been planned or fished there, so the water keeps the number. "
        "Write: not 6-8 (and why)."
    )
    assert MatchPeg.objects.of(match).count() == 7
    assert numbers(water) == ["1", "2", "3", "4", "5"]


def test_pegs_are_out_of_use_for_a_time_and_come_back_by_themselves(
    water: Water, club: Club, sam: User, journal: Callable[[], list[str]]
) -> None:
    first, last = dt.date(2027, 1, 1), dt.date(2027, 2, 1)

    take_out(water, ["7", "8"], why="Nesting swans.", starts=first, ends=last, by=sam)

    assert "7" in numbers(water, dt.date(2026, 12, 31))
    assert "7" not in numbers(water, first)
    assert "7" not in numbers(water, last)
    assert "7" in numbers(water, dt.date(2027, 2, 2))
    assert journal()[-1] == (
        "Heron Lake, out of use from 1 January 2027 until 1 February 2027: 7-8 (Nesting swans.)."
    )
    for day, used in ((last, 5), (dt.date(2027, 2, 2), 7)):
        match = MatchFactory(club=club, water=water, date=day)
        make_sections(match, count=1, pegs=list(Peg.objects.along(water)), by=sam)
        assert MatchPeg.objects.of(match).count() == used


def test_pegs_are_put_back_and_wrong_ones_are_named(water: Water, sam: User) -> None:
    put_back(water, ["3"], by=sam)

    assert "3" in numbers(water)
    with pytest.raises(RefusedError, match="Heron Lake has no peg 99"):
        take_out(water, ["3", "99"], why="Gone.", by=sam)
    with pytest.raises(RefusedError, match="Say why"):
        take_out(water, ["3"], why=" ", by=sam)
    with pytest.raises(RefusedError, match="The last day out comes before the first"):
        take_out(
            water,
            ["4"],
            why="Works",
            starts=dt.date(2027, 2, 1),
            ends=dt.date(2027, 1, 1),
            by=sam,
        )
    assert "3" in numbers(water)


def test_the_usual_sections_are_said_line_by_line(water: Water, sam: User) -> None:
    change_water(water, name="Heron Lake", net_limit=" 50 lb ", usual_sections="1-4\n5-8", by=sam)

    runs = usual_runs(water)

    assert {letter: [peg.number for peg in run] for letter, run in runs.items()} == {
        "A": ["1", "2", "3", "4"],
        "B": ["5", "6", "7", "8"],
    }
    assert water.net_limit == "50 lb"
    with pytest.raises(RefusedError) as refusal:
        change_water(water, name="Heron Lake", net_limit="", usual_sections="1-4\n4-9\n?", by=sam)
    assert str(refusal.value).splitlines() == [
        "Section B: Heron Lake has no peg 9.",
        "Section C: '?' is no peg. Write 7, or 1-24, or 1-4 and 60.",
        "In two sections: 4.",
    ]


def test_a_venue_has_rules_and_a_note_for_its_bailiff(water: Water, sam: User) -> None:
    venue = change_venue(
        water.venue, name="Marl Park", rules="No floating bait.", note_for_bailiff="Gate", by=sam
    )

    assert (venue.rules, venue.note_for_bailiff) == ("No floating bait.", "Gate")
    assert Venue.objects.called(ClubFactory(), "Marl Park") is None
    assert not Match.objects.exists()
