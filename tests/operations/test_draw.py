"""The draw, step by step: whole or not at all, and done again found done."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from django.contrib.auth.models import User

from league.files.draw import as_json
from league.models import DrawEvent, DrawRecord, Entry, Match, Stage
from league.operations import draw as acts
from league.operations import draw_events
from league.operations.draw import (
    abandon,
    begin,
    call,
    draw_by_hand,
    draw_match,
    finish,
    freeze,
    record_of,
    seal,
    thaw,
)
from league.operations.errors import RefusedError
from league.operations.lineup import book_in
from league.rules import draw
from league.rules.draw_sheet import Sheet
from tests.factories import AnglerFactory
from tests.operations.draw_scene import COMMITMENT, FIRST_REVEALED, SECRET, pegs_of


def test_a_whole_draw_puts_everybody_on_a_peg_of_their_own_section(
    match: Match, begun: DrawEvent, sam: User
) -> None:
    call(begun, {1: 4071}, by=sam)
    call(begun, {4: None}, by=sam)

    event = finish(begun, by=sam)

    entries = list(Entry.objects.of(match).select_related("match_peg", "section"))
    assert all(entry.match_peg.section_id == entry.section_id for entry in entries)
    assert len({entry.match_peg_id for entry in entries}) == 4
    assert pegs_of(match) == {int(no): str(peg) for no, peg in event.pegs.items()}
    assert Match.objects.get(pk=match.pk).stage == Stage.DRAWN


def test_what_is_published_is_worked_out_again_from_the_texts_alone(
    match: Match, begun: DrawEvent, sam: User
) -> None:
    call(begun, {1: 4071, 4: 12}, by=sam)
    event = finish(begun, by=sam)

    sheet = Sheet.parse(DrawRecord.objects.get().sheet)
    published = draw.Event.parse(event.text)
    draw.check_event(sheet, published, COMMITMENT)
    outcome = draw.run(sheet, published)

    assert published.reveal == FIRST_REVEALED
    assert {int(no): peg for no, peg in event.pegs.items()} == dict(outcome.pegs)
    assert event.seed == published.seed
    record = record_of(match)
    assert record is not None
    assert as_json(record)["events"][0]["pegs"] == {no: str(peg) for no, peg in event.pegs.items()}


def test_the_draw_begins_once_whoever_presses(begun: DrawEvent, match: Match, sam: User) -> None:
    assert begin(match, by=None) == begun
    assert DrawEvent.objects.count() == 1


def test_the_draw_finishes_once_whoever_presses(match: Match, begun: DrawEvent, sam: User) -> None:
    call(begun, {1: 1, 4: 2}, by=sam)
    first = finish(begun, by=sam)
    pegs = pegs_of(match)

    again = finish(begun, by=None)

    assert (again.pk, again.seed, again.finished_at) == (first.pk, first.seed, first.finished_at)
    assert pegs_of(match) == pegs


def test_a_number_misheard_is_taken_down_again_until_it_is_drawn(
    begun: DrawEvent, sam: User, journal: Callable[[], list[str]]
) -> None:
    call(begun, {1: 17}, by=sam)
    call(begun, {1: 70, 4: None}, by=sam)

    event = finish(begun, by=sam)

    assert "call=1|70.\ncall=4|-.\n" in event.text
    assert "Draw event 1: entry 1 called 17." in journal()
    assert "Draw event 1: entry 1 called 70, entry 4 did not call." in journal()
    with pytest.raises(RefusedError) as refusal:
        call(event, {1: 71}, by=sam)
    assert str(refusal.value) == "Event 1 is closed: no number can be added."


def test_a_caller_nobody_wrote_down_holds_the_draw(begun: DrawEvent, sam: User) -> None:
    call(begun, {1: 17}, by=sam)

    with pytest.raises(RefusedError) as refusal:
        finish(begun, by=sam)

    assert str(refusal.value) == (
        "Nothing is written down for caller 4. Enter the number, or say that they do not call."
    )


@pytest.mark.parametrize("number", [-1, 10000, True, 1.5, "7"])
def test_what_is_no_call_is_refused(begun: DrawEvent, sam: User, number: Any) -> None:
    with pytest.raises(RefusedError) as refusal:
        call(begun, {1: number}, by=sam)

    assert str(refusal.value) == (
        f"Entry 1 called {number!r}. A call is a whole number from 0 to 9999."
    )


def test_who_is_no_caller_does_not_call(begun: DrawEvent, sam: User) -> None:
    with pytest.raises(RefusedError) as refusal:
        call(begun, {2: 7}, by=sam)

    assert str(refusal.value) == "Entry 2 is not named as a caller on the draw sheet."


def test_a_draw_given_up_stays_listed_and_a_new_event_reveals_another_link(
    match: Match, begun: DrawEvent, sam: User
) -> None:
    abandon(begun, why="The tablet died.", by=sam)
    second = begin(match, by=sam)
    call(second, {1: 1, 4: 2}, by=sam)
    finish(second, by=sam)

    record = record_of(match)
    assert record is not None
    listed = as_json(record)["events"]
    assert [(each["event"], each["kind"]) for each in listed] == [(1, "abandoned"), (2, "draw")]
    assert listed[0]["why"] == "The tablet died."
    assert FIRST_REVEALED not in listed[1]["text"]


def test_giving_up_says_why_and_comes_before_the_reveal(
    match: Match, begun: DrawEvent, sam: User
) -> None:
    for why, words in [
        (" ", "Say why the draw is given up: it stays on the record."),
        ("x" * 201, "The reason has 201 letters; 200 fit. Shorten it."),
    ]:
        with pytest.raises(RefusedError) as refusal:
            abandon(begun, why=why, by=sam)
        assert str(refusal.value) == words
    call(begun, {1: 1, 4: 2}, by=sam)
    finish(begun, by=sam)

    with pytest.raises(RefusedError) as late:
        abandon(begun, why="Not happy.", by=sam)

    assert str(late.value) == (
        "Event 1 is finished and its secret is out, so it cannot be given up."
    )


def test_what_was_given_up_is_not_finished(begun: DrawEvent, sam: User) -> None:
    abandon(begun, why="Lightning.", by=sam)
    assert abandon(begun, why="Again.", by=sam).why == "Lightning."

    with pytest.raises(RefusedError) as refusal:
        finish(begun, by=sam)

    assert str(refusal.value) == "Event 1 was abandoned: Lightning."


def test_a_sheet_is_opened_again_only_before_the_draw_is_begun(match: Match, sam: User) -> None:
    freeze(match, callers=[1], by=sam)
    with pytest.raises(RefusedError) as silent:
        thaw(match, why=" ", by=sam)
    assert str(silent.value) == "Say why the draw sheet is opened again."
    commitment = DrawRecord.objects.get().commitment

    thaw(match, why="Dave is ill.", by=sam)
    book_in(match, AnglerFactory(club=match.club), section=match.sections.first(), by=sam)
    record = freeze(match, callers=[1, 4], by=sam)
    assert (record.commitment, record.sheet.count("entry=")) == (commitment, 5)

    begin(match, by=sam)
    with pytest.raises(RefusedError) as refusal:
        thaw(match, why="Another one.", by=sam)
    assert str(refusal.value).startswith("The draw was begun, so its sheet stays as it is.")


def test_steps_out_of_turn_are_refused(match: Match, sam: User) -> None:
    with pytest.raises(RefusedError) as early:
        begin(match, by=sam)
    freeze(match, by=sam)
    with pytest.raises(RefusedError) as twice:
        freeze(match, by=sam)
    finish(begin(match, by=sam), by=sam)
    said = []
    for act in (
        lambda: seal(match, by=sam),
        lambda: freeze(match, by=sam),
        lambda: begin(match, by=sam),
        lambda: draw_match(match, by=sam),
        lambda: draw_by_hand(match, {}, by=sam),
    ):
        with pytest.raises(RefusedError) as drawn:
            act()
        said.append(str(drawn.value))

    assert str(early.value) == "The draw sheet is not frozen yet. Freeze it first."
    assert str(twice.value) == "The draw sheet is frozen already; look again."
    assert {words.split(".")[0] for words in said} == {"The pegs are drawn"}


def test_a_cancelled_match_is_not_drawn(match: Match, sam: User) -> None:
    match.stage = Stage.CANCELLED
    match.save()

    with pytest.raises(RefusedError) as refusal:
        draw_match(match, by=sam)

    assert str(refusal.value) == "The match is cancelled, so nothing is drawn."


def test_a_draw_that_breaks_half_way_leaves_nothing_behind(
    match: Match, begun: DrawEvent, sam: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    call(begun, {1: 1, 4: 2}, by=sam)

    def dies(*args: object) -> None:
        raise OSError("the disk is full")

    monkeypatch.setattr(draw_events, "_keep", dies)
    with pytest.raises(OSError, match="disk is full"):
        finish(begun, by=sam)

    assert set(pegs_of(match).values()) == {None}
    assert DrawEvent.objects.get().text == ""
    assert Match.objects.get(pk=match.pk).stage == Stage.PLANNED


def test_numbers_called_in_one_go_name_the_callers(match: Match, sam: User) -> None:
    event = draw_match(match, calls={4: 12, 1: None}, by=sam, secret=SECRET)

    assert "callers=1.4." in DrawRecord.objects.get().sheet
    assert "call=1|-.\ncall=4|12.\n" in event.text


def test_what_came_out_of_a_real_bag_is_entered_and_says_so(match: Match, sam: User) -> None:
    event = draw_by_hand(match, {1: "3", 2: " 1 ", 3: "5", 4: "4"}, by=sam)

    assert pegs_of(match) == {1: "3", 2: "1", 3: "5", 4: "4"}
    assert (event.kind, event.text, event.seed) == ("hand", "", "")
    assert Match.objects.get(pk=match.pk).stage == Stage.DRAWN
    record = record_of(match)
    assert record is not None
    (listed,) = as_json(record)["events"]
    assert (listed["kind"], listed["by"], listed["text"]) == ("hand", "sam", None)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({1: "1", 2: "1", 3: "4", 4: "5"}, "Peg 1 came out twice."),
        ({1: "4", 2: "1", 3: "5", 4: "6"}, "Entry 1 is in section A, peg 4 in section B."),
        ({1: "1", 2: "2", 3: "4"}, "No peg yet for entry 4."),
        ({1: "1", 2: "2", 3: "4", 4: "99"}, "Entry 4: peg 99 is not in this match."),
    ],
)
def test_what_no_bag_could_have_given_is_refused_whole(
    match: Match, sam: User, typed: dict[int, str], words: str
) -> None:
    with pytest.raises(RefusedError) as refusal:
        draw_by_hand(match, typed, by=sam)

    assert str(refusal.value) == words
    assert set(pegs_of(match).values()) == {None}
    assert not DrawEvent.objects.exists()


def test_every_act_of_the_draw_is_found_in_one_place() -> None:
    assert all(hasattr(acts, name) for name in acts.__all__)
