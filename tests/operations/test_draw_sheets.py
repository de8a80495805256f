"""The sheet of a draw: who, from which pegs, and what cannot be drawn."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from django.contrib.auth.models import User

from league.models import Club, DrawEvent, DrawRecord, Entry, Match, MatchPeg, Stage
from league.operations.draw import (
    begin,
    call,
    doubts,
    draw_by_hand,
    draw_match,
    finish,
    freeze,
    unsafe_peg,
)
from league.operations.errors import RefusedError
from league.operations.lineup import book_in
from tests.builders import make_match
from tests.factories import AnglerFactory
from tests.operations.draw_scene import pegs_of


def test_the_sheet_names_border_neighbours_callers_and_nobody(
    match: Match, begun: DrawEvent
) -> None:
    assert DrawRecord.objects.get().sheet.splitlines() == [
        "PEGSHEET/1",
        f"match=marlbrook-{match.pk}",
        "section=A|1.2.3.|",
        "section=B|4.5.6.|",
        "entry=1|T1|A|0",
        "entry=2|T2|A|0",
        "entry=3|T1|B|0",
        "entry=4|T2|B|0",
        "adjacent=3.4.",
        "callers=1.4.",
    ]


def test_pegs_that_are_no_whole_numbers_are_counted_along_the_bank(match: Match, sam: User) -> None:
    match.water.pegs.filter(order=2).update(number="2a", easy_access=True)
    match.water.pegs.filter(order=5).update(gap_after=True)

    event = draw_match(match, by=sam)

    record = DrawRecord.objects.get()
    assert record.peg_names == {"1": "1", "2": "2a", "3": "3", "4": "4", "5": "5", "6": "6"}
    assert "section=A|1.2.3.|2." in record.sheet
    assert pegs_of(match) == {int(no): record.peg_names[str(peg)] for no, peg in event.pegs.items()}


def test_everybody_draws_from_one_bag_where_nobody_has_a_section(club: Club, sam: User) -> None:
    match = make_match(club, sections={"A": 2, "B": 2}, drawn=False)
    for _ in range(4):
        book_in(match, AnglerFactory(club=club), by=sam)

    draw_match(match, by=sam)

    assert sorted(str(peg) for peg in pegs_of(match).values()) == ["1", "2", "3", "4"]
    entries = Entry.objects.of(match).select_related("match_peg")
    assert all(entry.section_id == entry.match_peg.section_id for entry in entries)


def test_who_needs_an_easy_peg_gets_one(club: Club, sam: User) -> None:
    match = make_match(club, sections={"A": 5}, drawn=False)
    match.water.pegs.filter(order=4).update(easy_access=True)
    for needs in (False, True, False):
        book_in(match, AnglerFactory(club=club, easy_access=needs), by=sam)

    draw_match(match, by=sam)

    assert pegs_of(match)[2] == "4"


def test_a_peg_may_be_fixed_before_the_draw(match: Match, sam: User) -> None:
    fixed = MatchPeg.objects.get(match=match, peg__number="2")

    freeze(match, fixed={1: fixed.pk}, by=sam)
    finish(begin(match, by=sam), by=sam)

    assert pegs_of(match)[1] == "2"


def test_a_closed_peg_is_not_in_the_bag(match: Match, sam: User) -> None:
    match.match_pegs.filter(peg__number="2").update(closed_why="Wasp nest.")

    draw_match(match, by=sam)

    assert "section=A|1.3.|" in DrawRecord.objects.get().sheet
    assert "2" not in pegs_of(match).values()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (
            lambda match: match.sections.all().delete(),
            "No pegs are chosen for this match. Make the sections first.",
        ),
        (lambda match: match.entries.all().delete(), "Nobody is entered."),
        (
            lambda match: match.match_pegs.filter(peg__order__lt=3).delete(),
            "Section A has 2 anglers to draw and 1 pegs. Add pegs, or move an angler.",
        ),
    ],
)
def test_what_cannot_be_drawn_is_refused_before_anything_is_frozen(
    match: Match, sam: User, change: Callable[[Match], object], words: str
) -> None:
    change(match)

    with pytest.raises(RefusedError) as refusal:
        draw_match(match, by=sam)

    assert str(refusal.value) == words
    assert not DrawRecord.objects.exists()
    assert Match.objects.get(pk=match.pk).stage == Stage.PLANNED


def test_somebody_without_a_section_is_named(match: Match, sam: User) -> None:
    lost = book_in(match, AnglerFactory(club=match.club, name="Hugh Amblerton"), by=sam)

    with pytest.raises(RefusedError) as refusal:
        freeze(match, by=sam)

    assert str(refusal.value) == (
        f"Not everybody has a section. Choose one for {lost.number} Hugh Amblerton."
    )


def test_teams_do_not_draw_from_one_bag(match: Match, sam: User) -> None:
    match.entries.update(section=None)

    with pytest.raises(RefusedError) as refusal:
        freeze(match, by=sam)

    assert str(refusal.value).startswith("Teams have one member in each section.")


def test_what_is_worth_asking_about_is_no_refusal(match: Match) -> None:
    assert doubts(match, callers=[1, 3]) == ["Name at least two callers, from different teams."]
    assert doubts(match, callers=[1, 4]) == []


def test_asked_about_beforehand_a_sheet_that_cannot_be_drawn_is_refused(match: Match) -> None:
    match.entries.all().delete()

    with pytest.raises(RefusedError) as refusal:
        doubts(match)

    assert str(refusal.value) == "Nobody is entered."


def test_pegs_counted_afresh_go_by_their_own_numbers_on_the_bank(match: Match, sam: User) -> None:
    match.water.pegs.filter(order=2).update(number="2a")
    draw_by_hand(match, {1: "2a", 2: "1", 3: "5", 4: "4"}, by=sam)
    spare = match.match_pegs.get(peg__number="3")

    event = finish(call_nobody(unsafe_peg(spare, why="Wasps.", by=sam), sam), by=sam)

    assert event.extra == "unsafe=3"
    assert pegs_of(match) == {1: "2a", 2: "1", 3: "5", 4: "4"}


def call_nobody(event: DrawEvent, by: User) -> DrawEvent:
    """A draw by hand names no callers, so there is nothing to write down."""
    return call(event, {}, by=by)


def test_without_a_key_a_bag_is_drawn_and_what_follows_is_given_by_hand(
    match: Match, sam: User, settings: Any
) -> None:
    settings.DRAW_KEY = ""
    draw_by_hand(match, {1: "2", 2: "1", 3: "5", 4: "4"}, by=sam)

    with pytest.raises(RefusedError) as refusal:
        unsafe_peg(match.match_pegs.get(peg__number="3"), why="Wasps.", by=sam)

    assert str(refusal.value) == (
        "No secret was locked away for this draw, so it cannot go on. Give the peg by hand."
    )
    assert match.match_pegs.get(peg__number="3").closed_why == ""
