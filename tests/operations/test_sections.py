"""Sections over a bank: cut, set by hand, and cut again."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.contrib.auth.models import User

from league.models import Club, Match, Peg, Stage, Water
from league.operations.draw import draw_match, freeze
from league.operations.errors import RefusedError
from league.operations.lineup import book_in
from league.operations.sections import cut_pegs, make_sections, set_sections
from tests.builders import make_match
from tests.factories import (
    AnglerFactory,
    MatchFactory,
    PegFactory,
    VenueFactory,
    WaterFactory,
)


@pytest.fixture
def water(club: Club) -> Water:
    """Ten pegs, with a break after 4 and peg 8 left out."""
    water: Water = WaterFactory(venue=VenueFactory(club=club), name="Heron Lake")
    for order in range(1, 11):
        PegFactory(
            water=water,
            order=order,
            gap_after=order == 4,
            left_out=order == 8,
            left_out_why="overhead line" if order == 8 else "",
        )
    return water


@pytest.fixture
def match(club: Club, water: Water) -> Match:
    match: Match = MatchFactory(club=club, water=water)
    return match


def _pegs(match: Match) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for each in match.match_pegs.order_by("peg__order"):
        found.setdefault(each.section.letter, []).append(each.peg.number)
    return found


def test_a_bank_is_cut_into_runs_of_neighbours(
    match: Match, sam: User, journal: Callable[[], list[str]]
) -> None:
    pegs = Peg.objects.along(match.water).usable()

    sections = make_sections(match, count=2, pegs=pegs, by=sam)

    # Nine pegs make five and four; cut at the break after 4, no section crosses it.
    assert [section.letter for section in sections] == ["A", "B"]
    assert _pegs(match) == {"A": ["1", "2", "3", "4"], "B": ["5", "6", "7", "9", "10"]}
    assert journal() == ["Sections made: A 4, B 5."]


def test_a_cut_can_be_looked_at_without_being_made(match: Match) -> None:
    cut = cut_pegs(count=3, pegs=list(Peg.objects.along(match.water).usable()), size=2)

    assert [len(run) for run in cut.values()] == [2, 2, 2]
    assert _pegs(match) == {}


def test_more_sections_than_the_pegs_make_are_refused(match: Match, sam: User) -> None:
    with pytest.raises(RefusedError) as refusal:
        make_sections(match, count=4, pegs=Peg.objects.along(match.water).usable(), size=3, by=sam)

    assert str(refusal.value) == (
        "4 sections of 3 take 12 pegs, and 9 are usable. "
        "Make fewer or smaller sections, or bring pegs back in."
    )


def test_cut_again_anglers_keep_the_letter_they_were_given(match: Match, sam: User) -> None:
    pegs = list(Peg.objects.along(match.water).usable())
    make_sections(match, count=3, pegs=pegs, by=sam)
    entries = [
        book_in(match, AnglerFactory(club=match.club), section=section, by=sam)
        for section in match.sections.all()
    ]

    make_sections(match, count=2, pegs=pegs, by=sam)

    for entry in entries:
        entry.refresh_from_db()
    assert [entry.section and entry.section.letter for entry in entries] == ["A", "B", None]


def test_sections_set_by_hand_are_looked_over_whole(match: Match, sam: User) -> None:
    peg = {each.number: each for each in Peg.objects.along(match.water)}
    foreign = PegFactory(water=make_match(match.club).water, order=50, number="50")

    with pytest.raises(RefusedError) as refusal:
        set_sections(
            match,
            {"A": [peg["1"], peg["8"]], "B": [peg["1"], foreign], "B!": [peg["2"]], "C": []},
            by=sam,
        )

    assert str(refusal.value).splitlines() == [
        "Peg 8 is left out: overhead line.",
        "Peg 1 is in section A and in section B.",
        "Peg 50 is not a peg of Heron Lake.",
        "A section is called A to Z or AA to ZZ, not 'B!'.",
        "Section C has no peg.",
    ]
    assert _pegs(match) == {}
    with pytest.raises(RefusedError) as none:
        set_sections(match, {}, by=sam)
    assert str(none.value) == "A match has at least one section."


def test_sections_stay_once_they_are_on_a_draw_sheet(match: Match, sam: User) -> None:
    pegs = list(Peg.objects.along(match.water).usable())
    make_sections(match, count=2, pegs=pegs, by=sam)
    book_in(match, AnglerFactory(club=match.club), section=match.sections.first(), by=sam)
    freeze(match, by=sam)

    with pytest.raises(RefusedError) as frozen:
        make_sections(match, count=3, pegs=pegs, by=sam)

    assert str(frozen.value).startswith("The draw sheet is frozen with these sections.")


def test_sections_stay_once_the_pegs_are_drawn(match: Match, sam: User) -> None:
    pegs = list(Peg.objects.along(match.water).usable())
    make_sections(match, count=2, pegs=pegs, by=sam)
    book_in(match, AnglerFactory(club=match.club), section=match.sections.first(), by=sam)
    draw_match(match, by=sam)

    with pytest.raises(RefusedError) as drawn:
        make_sections(match, count=3, pegs=pegs, by=sam)

    assert str(drawn.value).startswith("The pegs are drawn, so the sections stay as they are.")


def test_a_cancelled_match_is_not_cut(match: Match, sam: User) -> None:
    match.stage = Stage.CANCELLED
    match.save()

    with pytest.raises(RefusedError) as refusal:
        make_sections(match, count=2, pegs=Peg.objects.along(match.water).usable(), by=sam)

    assert str(refusal.value) == "The match is cancelled."
