"""After the draw on the secretary's screen: each change an event, begun here and listed."""

from __future__ import annotations

import json

import pytest

from league.files.draw import read_record
from league.models import DrawEvent, Entry, MatchPeg, Stage
from league.operations.draw import abandon, begin, draw_match, freeze, late_entry
from league.operations.lineup import book_in
from tests.builders import make_match, make_season, make_weigh_in
from tests.factories import AnglerFactory

NAMES = ["Ray Tolliver", "Dave Scrimshire", "Jo Ormesher", "Colin Thurkettle"]


@pytest.fixture
def match(club):
    """Two teams of two drawn in two sections of three pegs; entries 1 and 2 call."""
    match = _booked(club)
    draw_match(match, calls={1: 10, 2: 20}, by=None)
    match.refresh_from_db()
    return match


def _booked(club, *, easy: bool = False):
    season = make_season(club, teams=["Tannery Lane", "Old Quarry"])
    match = make_match(club, season=season, sections={"A": 3, "B": 3}, drawn=False)
    names = iter(NAMES)
    for section in match.sections.all():
        for team in season.teams.order_by("pk"):
            angler = AnglerFactory(club=club, name=next(names))
            book_in(match, angler, team=team, section=section, easy_access=easy, by=None)
    return match


def at(match, act: str = "changes/") -> str:
    return f"/matches/{match.pk}/draw/{act}"


def said(answer) -> str:
    return " ".join(answer.content.decode().split())


def pegs_of(match) -> dict[str, str]:
    return {
        entry.angler.name: entry.match_peg.peg.number
        for entry in Entry.objects.of(match).in_peg_order()
    }


def call(secretary, match):
    return secretary.post(at(match, "calls/"), {"call_1": "1", "call_2": "2"}, follow=True)


def test_an_unsafe_peg_moves_only_whoever_drew_it(secretary, stranger, club, match):
    before = pegs_of(match)
    ray = MatchPeg.objects.get(match=match, peg__number=before["Ray Tolliver"])

    answer = secretary.post(
        at(match, "changes/unsafe/"),
        {"unsafe-match_peg": ray.pk, "unsafe-why": "bank undercut"},
        follow=True,
    )

    assert "A peg was found unsafe" in said(answer)
    assert "bank undercut" in said(answer)
    shown = said(call(secretary, match))
    after = pegs_of(match)
    assert {n for n in NAMES if before[n] != after[n]} == {"Ray Tolliver"}
    assert f"Drawn: Ray Tolliver on peg {after['Ray Tolliver']}." in shown
    record = read_record(stranger.get(at(match, "record.json")).content.decode())
    assert [event.kind for event in record.finished] == ["draw", "unsafe"]


def test_one_section_is_drawn_again_and_the_other_stays(secretary, match):
    before = pegs_of(match)
    section = match.sections.get(letter="B")

    secretary.post(
        at(match, "changes/again/"), {"redraw-section": section.pk, "redraw-why": "wrong pegs"}
    )
    call(secretary, match)

    after = pegs_of(match)
    assert [before[name] for name in NAMES[:2]] == [after[name] for name in NAMES[:2]]
    assert {after[name] for name in NAMES[2:]} <= {"4", "5", "6"}
    assert [event.kind for event in DrawEvent.objects.all()] == ["draw", "redraw"]


@pytest.mark.parametrize(
    ("act", "data", "words"),
    [
        ("unsafe", {"unsafe-match_peg": "", "unsafe-why": "ice"}, "Say which peg is unsafe."),
        ("unsafe", {"unsafe-match_peg": "9999", "unsafe-why": "ice"}, "not a peg of this match"),
        ("again", {"redraw-section": "", "redraw-why": "x"}, "Say which section is drawn again."),
        ("again", {"redraw-section": "junk", "redraw-why": "x"}, "That is no section"),
    ],
)
def test_a_slip_begins_nothing_and_what_was_typed_stays(secretary, match, act, data, words):
    answer = secretary.post(at(match, f"changes/{act}/"), data)

    assert words in said(answer)
    assert f'value="{[*data.values()][1]}"' in said(answer)
    assert DrawEvent.objects.count() == 1


def test_a_change_needs_its_reason(secretary, match):
    peg = MatchPeg.objects.filter(match=match).first()

    answer = secretary.post(at(match, "changes/unsafe/"), {"unsafe-match_peg": peg.pk})

    assert "Say why: it is printed on the draw" in said(answer)
    assert not MatchPeg.objects.exclude(closed_why="").exists()


def test_two_changes_at_once_are_one_after_the_other(secretary, match):
    first, second = MatchPeg.objects.filter(match=match)[:2]
    url = at(match, "changes/unsafe/")
    secretary.post(url, {"unsafe-match_peg": first.pk, "unsafe-why": "ice"})

    answer = secretary.post(url, {"unsafe-match_peg": second.pk, "unsafe-why": "ice"})

    assert "Event 2 of this draw was begun and is not finished." in said(answer)
    second.refresh_from_db()
    assert second.closed_why == ""


def test_a_late_entry_given_up_is_begun_again_or_given_a_peg_by_hand(secretary, club, match):
    late = AnglerFactory(club=club, name="Della Scarth")
    event = late_entry(match, late, section=match.sections.get(letter="A"), by=None)
    abandon(event, why="The signal went.", by=None)
    entry = Entry.objects.get(angler=late)

    shown = said(secretary.get(at(match)))
    again = secretary.post(at(match, f"changes/late/{entry.pk}/"), follow=True)

    assert "Draw for Della Scarth" in shown
    assert "The secret has 3 events left." in shown
    assert "A late entry draws" in said(again)
    abandon(DrawEvent.objects.get(number=3), why="And again.", by=None)
    free = next(p for p in ("1", "2", "3") if p not in pegs_of(match).values())
    peg = MatchPeg.objects.get(match=match, peg__number=free)
    secretary.post(
        at(match, f"changes/give/{entry.pk}/"), {"give-match_peg": peg.pk, "give-why": "from a bag"}
    )
    assert pegs_of(match)["Della Scarth"] == free


def test_a_captain_names_the_members_after_the_draw_and_the_record_stands(
    secretary, stranger, match
):
    before = pegs_of(match)
    text = json.loads(stranger.get(at(match, "record.json")).content)["events"][0]["text"]
    lane = match.season.teams.get(name="Tannery Lane")
    ray, jo = Entry.objects.filter(match=match, team=lane).order_by("number")
    key = f"team-{lane.pk}-on_"

    answer = secretary.post(
        at(match, f"changes/members/{lane.pk}/"),
        {f"{key}{ray.pk}": jo.angler_id, f"{key}{jo.pk}": ray.angler_id},
        follow=True,
    )

    assert "The line-up of Tannery Lane is taken down." in said(answer)
    after = pegs_of(match)
    assert after["Ray Tolliver"] == before["Jo Ormesher"]
    assert after["Jo Ormesher"] == before["Ray Tolliver"]
    record = json.loads(stranger.get(at(match, "record.json")).content)
    assert record["events"][0]["text"] == text
    assert record["names"]["1"] == "Jo Ormesher"


def test_one_member_on_two_pegs_is_refused_and_nobody_moves(secretary, match):
    before = pegs_of(match)
    lane = match.season.teams.get(name="Tannery Lane")
    ray, jo = Entry.objects.filter(match=match, team=lane).order_by("number")
    key = f"team-{lane.pk}-on_"

    answer = secretary.post(
        at(match, f"changes/members/{lane.pk}/"),
        {f"{key}{ray.pk}": ray.angler_id, f"{key}{jo.pk}": ray.angler_id},
    )

    assert "Ray Tolliver cannot fish two pegs." in said(answer)
    assert pegs_of(match) == before


def test_a_line_up_is_not_changed_once_a_member_is_weighed(secretary, match):
    lane = match.season.teams.get(name="Tannery Lane")
    ray, jo = Entry.objects.filter(match=match, team=lane).order_by("number")
    make_weigh_in(ray)
    key = f"team-{lane.pk}-on_"

    answer = secretary.post(
        at(match, f"changes/members/{lane.pk}/"),
        {f"{key}{ray.pk}": jo.angler_id, f"{key}{jo.pk}": ray.angler_id},
    )

    assert "A member of Tannery Lane is weighed" in said(answer)


# ---- a real bag


def typed(*pegs: str) -> dict[str, str]:
    return {f"peg_{number}": peg for number, peg in enumerate(pegs, start=1)}


def test_what_came_out_of_a_bag_is_typed_in_and_the_record_says_so(secretary, stranger, club):
    match = _booked(club)

    answer = secretary.post(at(match, "by-hand/"), typed("2", "1", "6", "4"), follow=True)

    assert "Drawn by hand" in said(answer)
    assert "makes no claim" in said(answer)
    assert pegs_of(match) == dict(zip(NAMES, ("2", "1", "6", "4"), strict=True))
    (event,) = json.loads(stranger.get(at(match, "record.json")).content)["events"]
    assert (event["kind"], event["text"], event["by"]) == ("hand", None, secretary.user.username)


def test_everything_wrong_with_a_bag_is_told_at_once_and_nothing_typed_is_lost(secretary, club):
    match = _booked(club, easy=True)

    answer = secretary.post(at(match, "by-hand/"), typed("2", "2", "3", "4"))

    shown = said(answer)
    assert "Section A has 2 anglers who need an accessible peg" in shown
    assert 'name="peg_3" value="3"' in shown
    assert Entry.objects.filter(match=match, match_peg__isnull=False).count() == 0


@pytest.mark.parametrize(
    ("pegs", "words"),
    [
        (("2", "2", "6", "4"), "Peg 2 came out twice."),
        (("2", "1", "3", "4"), "Entry 3 is in section B, peg 3 in section A."),
        (("2", "1", "66", "4"), "Entry 3: peg 66 is not in this match."),
        (("2", "1", "", "4"), "No peg yet for entry 3."),
    ],
)
def test_a_peg_that_no_draw_could_have_given_is_told(secretary, club, pegs, words):
    match = _booked(club)

    answer = secretary.post(at(match, "by-hand/"), typed(*pegs))

    assert words in said(answer)
    match.refresh_from_db()
    assert match.stage == Stage.PLANNED


def test_a_draw_that_was_begun_is_not_overtaken_by_a_bag(secretary, club):
    match = _booked(club)
    freeze(match, callers=[1, 2], by=None)
    begin(match, by=None)

    answer = secretary.post(at(match, "by-hand/"), typed("2", "1", "6", "4"))

    assert "Event 1 of this draw was begun and is not finished." in said(answer)


@pytest.mark.parametrize("act", ["changes/", "by-hand/"])
def test_only_the_secretary_changes_a_draw(stranger, scalesman, match, act):
    assert stranger.get(at(match, act)).status_code == 302
    assert scalesman.get(at(match, act)).status_code == 404
