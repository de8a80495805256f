"""After the draw: late entries, unsafe pegs, a section again, a peg given by hand."""

from __future__ import annotations

import pytest
from django.contrib.auth.models import User

from league.files.draw import as_json, read_record, write_record
from league.models import Club, DrawEvent, DrawRecord, Entry, Match, MatchPeg, Section, Stage
from league.operations.draw import (
    abandon,
    call,
    draw_by_hand,
    draw_late,
    draw_match,
    finish,
    give_peg,
    late_entry,
    record_of,
    redraw,
    unsafe_peg,
)
from league.operations.errors import RefusedError
from league.operations.lineup import book_in, withdraw
from league.rules import draw
from tests.builders import make_match, make_season, make_weigh_in
from tests.factories import AnglerFactory


@pytest.fixture
def match(club: Club, sam: User) -> Match:
    """Two teams drawn in two sections of four pegs; entries 1 to 4, callers 1 and 4."""
    season = make_season(club, teams=["Old Quarry", "Tannery Lane", "Bridge End"])
    match = make_match(season=season, sections={"A": 4, "B": 4}, drawn=False)
    for section in match.sections.all():
        for team in season.teams.order_by("code")[:2]:
            book_in(match, AnglerFactory(club=club), team=team, section=section, by=sam)
    draw_match(match, calls={1: 10, 4: 20}, by=sam)
    return match


def _section(match: Match, letter: str = "A") -> Section:
    return Section.objects.get(match=match, letter=letter)


def _pegs(match: Match) -> dict[int, str]:
    return {
        entry.number: entry.match_peg.peg.number
        for entry in Entry.objects.of(match).in_booking_order()
        if entry.match_peg
    }


def _finish(event: DrawEvent, by: User) -> DrawEvent:
    call(event, {1: 1, 4: 2}, by=by)
    return finish(event, by=by)


def _record_checks(match: Match) -> bool:
    """Whether what is published gives the pegs on the bank, from the texts alone."""
    record = record_of(match)
    assert record is not None
    last = record.outcomes()[-1]
    return {no: str(peg) for no, peg in last.pegs.items()} == _pegs(match)


def test_a_late_entry_draws_from_the_bag_and_nobody_moves(match: Match, sam: User) -> None:
    before = _pegs(match)
    bag = DrawEvent.objects.get().bag["A"]
    angler = AnglerFactory(club=match.club, name="Hugh Amblerton")

    event = late_entry(match, angler, section=_section(match), by=sam)
    assert event.extra == "late=5||A|0"
    _finish(event, sam)

    after = _pegs(match)
    assert {no: peg for no, peg in after.items() if no != 5} == before
    assert int(after[5]) in bag
    assert DrawRecord.objects.get().names["5"] == "Hugh Amblerton"
    assert _record_checks(match)


def test_a_late_entry_pressed_by_two_is_one(match: Match, sam: User) -> None:
    angler = AnglerFactory(club=match.club)
    late_entry(match, angler, section=_section(match), by=sam)

    with pytest.raises(RefusedError) as refusal:
        late_entry(match, angler, section=_section(match), by=sam)

    assert str(refusal.value) == "This angler is already booked in."
    assert DrawEvent.objects.count() == 2


def test_one_event_at_a_time(match: Match, sam: User) -> None:
    late_entry(match, AnglerFactory(club=match.club), section=_section(match), by=sam)

    with pytest.raises(RefusedError) as refusal:
        redraw(_section(match), why="Mixed up.", by=sam)

    assert str(refusal.value) == (
        "Event 2 of this draw was begun and is not finished. Finish it, or abandon it and say why."
    )


def test_a_late_entry_given_up_can_draw_again_or_go_home(match: Match, sam: User) -> None:
    event = late_entry(match, AnglerFactory(club=match.club), section=_section(match), by=sam)
    abandon(event, why="No signal.", by=sam)
    entry = Entry.objects.get(match=match, number=5)

    _finish(draw_late(entry, by=sam), sam)

    entry.refresh_from_db()
    assert entry.match_peg is not None
    assert _record_checks(match)
    with pytest.raises(RefusedError) as refusal:
        draw_late(entry, by=sam)
    assert "has drawn peg" in str(refusal.value)

    other = late_entry(match, AnglerFactory(club=match.club), section=_section(match), by=sam)
    abandon(other, why="Gone home.", by=sam)
    assert withdraw(Entry.objects.get(match=match, number=6), by=sam).withdrawn_at


def test_a_late_entry_needs_a_section_of_the_sheet(match: Match, sam: User) -> None:
    with pytest.raises(RefusedError) as refusal:
        late_entry(match, AnglerFactory(club=match.club, name="Hugh Amblerton"), by=sam)

    assert str(refusal.value) == ("Hugh Amblerton has no section to draw in. Choose A or B.")
    assert not Entry.objects.filter(match=match, number=5).exists()


def test_late_entries_beyond_the_pegs_are_refused(match: Match, sam: User) -> None:
    for _ in range(2):
        late = late_entry(match, AnglerFactory(club=match.club), section=_section(match), by=sam)
        _finish(late, sam)
    third = AnglerFactory(club=match.club, name="Hugh Amblerton")

    with pytest.raises(RefusedError) as refusal:
        late_entry(match, third, section=_section(match), by=sam)

    assert "No peg is left in the bag of section A for Hugh Amblerton." in str(refusal.value)
    assert DrawEvent.objects.count() == 3
    assert not Entry.objects.of(match).fishing(third).exists()


def test_an_unsafe_peg_is_closed_at_once_and_its_angler_draws_again(
    match: Match, sam: User
) -> None:
    entry = Entry.objects.get(match=match, number=1)
    peg = entry.match_peg
    assert peg is not None
    others = {no: number for no, number in _pegs(match).items() if no != 1}

    event = unsafe_peg(peg, why="Wasp nest.", by=sam)
    assert MatchPeg.objects.get(pk=peg.pk).closed_why == "Wasp nest."
    _finish(event, sam)

    after = _pegs(match)
    assert after[1] != peg.peg.number
    assert {no: number for no, number in after.items() if no != 1} == others
    assert _record_checks(match)


def test_an_unsafe_peg_nobody_has_leaves_the_bag(match: Match, sam: User) -> None:
    taken = set(_pegs(match).values())
    spare = next(each for each in MatchPeg.objects.of(match) if each.peg.number not in taken)
    before = _pegs(match)

    event = _finish(unsafe_peg(spare, why="Deep margin.", by=sam), sam)

    assert _pegs(match) == before
    assert int(spare.peg.number) not in event.bag[spare.section.letter]
    assert not event.is_abandoned


def test_a_section_is_drawn_again_alone(match: Match, sam: User) -> None:
    before = _pegs(match)

    event = _finish(redraw(_section(match, "B"), why="Two cards in one hand.", by=sam), sam)

    after = _pegs(match)
    assert (after[1], after[2]) == (before[1], before[2])
    assert set(event.pegs) == {"1", "2", "3", "4"}
    assert _record_checks(match)


def test_who_is_weighed_is_not_moved(match: Match, sam: User) -> None:
    entry = Entry.objects.get(match=match, number=1)
    late = redraw(_section(match), why="Mixed up.", by=sam)
    call(late, {1: 5, 4: 6}, by=sam)
    make_weigh_in(entry, "1-0")

    said = []
    for act in (
        lambda: redraw(_section(match), why="Mixed up.", by=sam),
        lambda: unsafe_peg(entry.match_peg, why="Wasps.", by=sam),
    ):
        with pytest.raises(RefusedError) as refusal:
            act()
        said.append(str(refusal.value))

    assert said[0] == f"{entry.angler} is weighed, so section A cannot be drawn again."
    assert said[1].endswith("so the peg stays. Decide on the peg as void instead.")


def test_reasons_are_asked_for(match: Match, sam: User) -> None:
    peg = MatchPeg.objects.of(match)[0]
    for why, words in [
        (" ", "Say why: it is printed on the draw's record."),
        ("x" * 201, "The reason has 201 letters; 200 fit. Shorten it."),
    ]:
        for act in (
            lambda why=why: redraw(_section(match), why=why, by=sam),
            lambda why=why: unsafe_peg(peg, why=why, by=sam),
        ):
            with pytest.raises(RefusedError) as refusal:
                act()
            assert str(refusal.value) == words


def test_nothing_is_drawn_before_the_draw_or_after_the_result(match: Match, sam: User) -> None:
    planned = make_match(match.club, drawn=False)
    with pytest.raises(RefusedError) as early:
        late_entry(planned, AnglerFactory(club=match.club), by=sam)
    match.stage = Stage.PUBLISHED
    match.save()
    with pytest.raises(RefusedError) as late:
        late_entry(match, AnglerFactory(club=match.club), section=_section(match), by=sam)

    assert str(early.value) == (
        "The pegs are not drawn yet. Change the line-up or the sections instead."
    )
    assert str(late.value) == "The result is published, so nothing is drawn any more."


def test_a_whole_water_has_no_section_to_draw_again(club: Club, sam: User) -> None:
    match = make_match(club, sections={"A": 3}, drawn=False)
    for _ in range(2):
        book_in(match, AnglerFactory(club=club), by=sam)
    draw_match(match, by=sam)

    with pytest.raises(RefusedError) as refusal:
        redraw(_section(match), why="Mixed up.", by=sam)
    late = late_entry(match, AnglerFactory(club=club), by=sam)
    finish(late, by=sam)

    assert str(refusal.value).startswith("The whole water was drawn from one bag")
    assert sorted(_pegs(match).values()) == ["1", "2", "3"]


def test_five_events_and_the_bag_comes_out(match: Match, sam: User) -> None:
    section, later = _section(match), _section(match, "B")
    for _ in range(draw.EVENTS - 1):
        _finish(redraw(section, why="Mixed up.", by=sam), sam)
    with pytest.raises(RefusedError) as refusal:
        late_entry(match, AnglerFactory(club=match.club), section=later, by=sam)
    assert "made for 5 events, and all are used" in str(refusal.value)
    assert not Entry.objects.filter(match=match, number=5).exists()


def test_after_a_real_bag_a_late_angler_is_given_a_peg_by_hand(club: Club, sam: User) -> None:
    match = make_match(club, sections={"A": 4}, drawn=False)
    first = book_in(match, AnglerFactory(club=club, name="Dave Scrimshire"),
                    section=_section(match), by=sam)  # fmt: skip
    draw_by_hand(match, {1: "2"}, by=sam)
    pegs = {each.peg.number: each for each in MatchPeg.objects.of(match)}
    MatchPeg.objects.filter(pk=pegs["4"].pk).update(closed_why="Wasps.")
    late = Entry.objects.create(
        match=match,
        number=2,
        angler=AnglerFactory(club=club, name="Hugh Amblerton"),
        easy_access=True,
    )
    other = MatchPeg.objects.of(make_match(club))[0]

    said = []
    for peg in (pegs["2"], MatchPeg.objects.get(pk=pegs["4"].pk), pegs["1"], other):
        with pytest.raises(RefusedError) as refusal:
            give_peg(late, peg, why="Late.", by=sam)
        said.append(str(refusal.value))
    pegs["3"].peg.easy_access = True
    pegs["3"].peg.save()
    give_peg(late, pegs["3"], why="From the bag.", by=sam)

    assert said[:3] == [
        "Dave Scrimshire is on peg A 2.",
        "Peg A 4 cannot be fished in this match.",
        "Hugh Amblerton needs an easy-access peg, and A 1 is none.",
    ]
    assert said[3].endswith("cannot be fished in this match.")
    assert _pegs(match) == {1: "2", 2: "3"}
    with pytest.raises(RefusedError) as again:
        give_peg(first, pegs["1"], why="x", by=sam)
    assert str(again.value) == "Dave Scrimshire has drawn peg A 2 already."


def _give(match: Match, peg: int, name: str, by: User) -> Entry:
    """Somebody booked in late and given a peg by hand."""
    entry = Entry.objects.create(
        match=match,
        number=Entry.objects.next_number(match),
        angler=AnglerFactory(club=match.club, name=name),
    )
    pegs = {each.peg.number: each for each in MatchPeg.objects.of(match)}
    return give_peg(entry, pegs[str(peg)], why="Came when the others had gone.", by=by)


def test_a_peg_given_by_hand_leaves_the_bag_and_stands_in_the_record(
    match: Match, sam: User
) -> None:
    one, other = sorted(DrawEvent.objects.get().bag["A"])
    _give(match, one, "Hugh Amblerton", sam)

    event = late_entry(match, AnglerFactory(club=match.club), section=_section(match), by=sam)
    _finish(event, sam)

    assert _pegs(match)[5] == str(one)
    assert _pegs(match)[6] == str(other)
    record = record_of(match)
    assert record is not None
    written = as_json(record)
    [given] = written["given"]
    assert given["after"] == 1
    assert given["entry"] == "5||A|0"
    assert (given["peg"], given["by"]) == (str(one), "sam")
    assert given["why"] == "Came when the others had gone."
    assert written["names"]["5"] == "Hugh Amblerton"
    assert written["events"][1]["pegs"]["5"] == str(one)
    assert read_record(write_record(record)) == record
    assert _record_checks(match)


def test_with_an_empty_bag_a_late_draw_is_refused_before_any_number_is_called(
    match: Match, sam: User
) -> None:
    for peg in sorted(DrawEvent.objects.get().bag["A"]):
        _give(match, peg, f"Angler {peg}", sam)
    late = AnglerFactory(club=match.club, name="Hugh Amblerton")

    with pytest.raises(RefusedError) as refusal:
        late_entry(match, late, section=_section(match), by=sam)

    assert str(refusal.value) == (
        "No peg is left in the bag of section A for Hugh Amblerton. Choose another section."
    )
    assert DrawEvent.objects.count() == 1
    assert not Entry.objects.of(match).fishing(late).exists()


def test_while_an_event_is_open_nobody_is_given_a_peg_that_could_come_out(
    match: Match, sam: User
) -> None:
    peg = min(DrawEvent.objects.get().bag["A"])
    late_entry(match, AnglerFactory(club=match.club), section=_section(match), by=sam)

    with pytest.raises(RefusedError) as refusal:
        _give(match, peg, "Hugh Amblerton", sam)

    assert "Event 2 of this draw was begun and is not finished." in str(refusal.value)
    assert DrawRecord.objects.get().given == []


def test_a_peg_the_record_does_not_know_of_is_not_named_before_the_event_is_finished(
    match: Match, sam: User
) -> None:
    """Somebody put on a peg past the draw's acts: which came out may not be told."""
    pegs = {each.peg.number: each for each in MatchPeg.objects.of(match)}
    bag = DrawEvent.objects.get().bag["A"]
    event = late_entry(match, AnglerFactory(club=match.club), section=_section(match), by=sam)
    for peg in bag:
        Entry.objects.create(
            match=match, number=20 + peg, angler=AnglerFactory(club=match.club),
            match_peg=pegs[str(peg)], section=_section(match),
        )  # fmt: skip
    call(event, {1: 1, 4: 2}, by=sam)

    with pytest.raises(RefusedError) as refusal:
        finish(event, by=sam)

    assert "is on a peg that the draw's record does not know of" in str(refusal.value)
    assert not any(f"Peg A {peg}" in str(refusal.value) for peg in bag)
    event.refresh_from_db()
    assert event.seed == ""


def test_what_is_published_lists_every_event_that_was_begun(match: Match, sam: User) -> None:
    event = late_entry(match, AnglerFactory(club=match.club), section=_section(match), by=sam)
    record = record_of(match)
    assert record is not None
    assert as_json(record)["events"][1] == {
        "event": 2,
        "kind": "abandoned",
        "text": None,
        "why": "Begun, and not finished yet.",
    }

    _finish(event, sam)

    record = record_of(match)
    assert record is not None
    assert [each["kind"] for each in as_json(record)["events"]] == ["draw", "late"]
