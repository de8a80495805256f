"""The draw, step by step: whole or not at all, done again and found done, its secret kept."""

from __future__ import annotations

import logging
from collections.abc import Callable
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.core import serializers

from league.files.draw import as_json
from league.models import Club, DrawEvent, DrawRecord, Entry, Match, MatchPeg, Stage
from league.operations import draw as acts
from league.operations import draw_events
from league.operations.draw import (
    abandon,
    begin,
    call,
    doubts,
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
from tests.builders import make_match, make_season
from tests.factories import AnglerFactory

# SHA256("demo secret 1"), the published test vector.
SECRET = "6f223adf4c1491f17bae5b6645854a417f21296a5b5a34ed0cdab055373dc868"
COMMITMENT = "a38766034110f37c6cfbe4678289891048338075d53a9cb3f8e47642ddf6d760"
FIRST_REVEALED = "3301c992bb0c7ae7aa22e89d6e9a0b37cd04d09eed22cf64a973aa0be8a91110"


@pytest.fixture
def match(club: Club, sam: User) -> Match:
    """Two teams, one in each of two sections of three pegs; entries 1 to 4."""
    season = make_season(club, teams=["Old Quarry", "Tannery Lane"])
    match = make_match(season=season, sections={"A": 3, "B": 3}, drawn=False)
    for section in match.sections.all():
        for team in season.teams.order_by("name"):
            book_in(match, AnglerFactory(club=club), team=team, section=section, by=sam)
    return match


@pytest.fixture
def begun(match: Match, sam: User) -> DrawEvent:
    seal(match, by=sam, secret=SECRET)
    freeze(match, callers=[1, 4], by=sam)
    return begin(match, by=sam)


def _pegs(match: Match) -> dict[int, str | None]:
    return {
        entry.number: entry.match_peg.peg.number if entry.match_peg else None
        for entry in Entry.objects.of(match).in_booking_order()
    }


def test_a_whole_draw_puts_everybody_on_a_peg_of_their_own_section(
    match: Match, begun: DrawEvent, sam: User
) -> None:
    call(begun, {1: 4071}, by=sam)
    call(begun, {4: None}, by=sam)

    event = finish(begun, by=sam)

    entries = list(Entry.objects.of(match).select_related("match_peg", "section"))
    assert all(entry.match_peg.section_id == entry.section_id for entry in entries)
    assert len({entry.match_peg_id for entry in entries}) == 4
    assert _pegs(match) == {int(no): str(peg) for no, peg in event.pegs.items()}
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
    assert _pegs(match) == {int(no): record.peg_names[str(peg)] for no, peg in event.pegs.items()}


def test_everybody_draws_from_one_bag_where_nobody_has_a_section(club: Club, sam: User) -> None:
    match = make_match(club, sections={"A": 2, "B": 2}, drawn=False)
    for _ in range(4):
        book_in(match, AnglerFactory(club=club), by=sam)

    draw_match(match, by=sam)

    assert sorted(str(peg) for peg in _pegs(match).values()) == ["1", "2", "3", "4"]
    entries = Entry.objects.of(match).select_related("match_peg")
    assert all(entry.section_id == entry.match_peg.section_id for entry in entries)


def test_who_needs_an_easy_peg_gets_one(club: Club, sam: User) -> None:
    match = make_match(club, sections={"A": 5}, drawn=False)
    match.water.pegs.filter(order=4).update(easy_access=True)
    for needs in (False, True, False):
        book_in(match, AnglerFactory(club=club, easy_access=needs), by=sam)

    draw_match(match, by=sam)

    assert _pegs(match)[2] == "4"


def test_a_peg_may_be_fixed_before_the_draw(match: Match, sam: User) -> None:
    fixed = MatchPeg.objects.get(match=match, peg__number="2")

    freeze(match, fixed={1: fixed.pk}, by=sam)
    finish(begin(match, by=sam), by=sam)

    assert _pegs(match)[1] == "2"


def test_a_closed_peg_is_not_in_the_bag(match: Match, sam: User) -> None:
    match.match_pegs.filter(peg__number="2").update(closed_why="Wasp nest.")

    draw_match(match, by=sam)

    assert "section=A|1.3.|" in DrawRecord.objects.get().sheet
    assert "2" not in _pegs(match).values()


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
    assert set(_pegs(match).values()) == {None}
    assert DrawEvent.objects.get().is_open


def test_without_a_key_nothing_is_locked_away(match: Match, sam: User, settings: Any) -> None:
    settings.DRAW_KEY = ""

    with pytest.raises(RefusedError) as refusal:
        seal(match, by=sam)

    assert "Set it, or draw by hand from a bag." in str(refusal.value)


def test_the_draw_begins_once_whoever_presses(begun: DrawEvent, match: Match, sam: User) -> None:
    assert begin(match, by=None) == begun
    assert DrawEvent.objects.count() == 1


def test_the_draw_finishes_once_whoever_presses(match: Match, begun: DrawEvent, sam: User) -> None:
    call(begun, {1: 1, 4: 2}, by=sam)
    first = finish(begun, by=sam)
    pegs = _pegs(match)

    again = finish(begun, by=None)

    assert (again.pk, again.seed, again.finished_at) == (first.pk, first.seed, first.finished_at)
    assert _pegs(match) == pegs


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

    assert set(_pegs(match).values()) == {None}
    assert DrawEvent.objects.get().text == ""
    assert Match.objects.get(pk=match.pk).stage == Stage.PLANNED


def test_numbers_called_in_one_go_name_the_callers(match: Match, sam: User) -> None:
    event = draw_match(match, calls={4: 12, 1: None}, by=sam, secret=SECRET)

    assert "callers=1.4." in DrawRecord.objects.get().sheet
    assert "call=1|-.\ncall=4|12.\n" in event.text


def test_what_came_out_of_a_real_bag_is_entered_and_says_so(match: Match, sam: User) -> None:
    event = draw_by_hand(match, {1: "3", 2: " 1 ", 3: "5", 4: "4"}, by=sam)

    assert _pegs(match) == {1: "3", 2: "1", 3: "5", 4: "4"}
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
    assert set(_pegs(match).values()) == {None}
    assert not DrawEvent.objects.exists()


def test_every_act_of_the_draw_is_found_in_one_place() -> None:
    assert all(hasattr(acts, name) for name in acts.__all__)
