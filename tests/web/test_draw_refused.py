"""What cannot be drawn, and what is worth asking: told on the page before anything is fixed."""

from __future__ import annotations

import pytest

from league.models import DrawEvent, DrawRecord, Entry, Peg, Stage
from league.operations.draw import begin, draw_match, freeze, record_of
from league.operations.errors import RefusedError
from league.operations.lineup import book_in, withdraw
from league.operations.sections import make_sections
from tests.builders import make_entry, make_match, make_season
from tests.factories import AnglerFactory


def scene(club, *, teams: int = 2, sections: int = 2, pegs: int = 2, easy: int = 0, short: int = 0):
    """So many teams with a member in each section; the last *short* of them are not booked in."""
    season = make_season(club, teams=[f"Team {n}" for n in range(1, teams + 1)])
    letters = "ABCDEFGH"[:sections]
    match = make_match(club, season=season, sections=dict.fromkeys(letters, pegs), drawn=False)
    wanted = [
        (team, section)
        for section in match.sections.order_by("order")
        for team in season.teams.order_by("pk")
    ]
    for place, (team, section) in enumerate(wanted[: len(wanted) - short]):
        angler = AnglerFactory(club=club)
        book_in(
            match, angler, team=team, section=section, easy_access=place < easy or None, by=None
        )
    return match


def at(match, act: str = "") -> str:
    return f"/matches/{match.pk}/draw/{act}"


def said(answer) -> str:
    return " ".join(answer.content.decode().split())


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"teams": 3, "pegs": 2}, "Section A has 3 anglers to draw and 2 pegs. Add pegs"),
        ({"easy": 1}, "Section A has 1 angler who needs an accessible peg (entry 1) and 0"),
    ],
)
def test_what_makes_a_draw_impossible_is_told_with_what_to_do(secretary, club, values, words):
    match = scene(club, **values)

    shown = said(secretary.get(at(match)))
    answer = secretary.post(at(match, "freeze/"), {"caller_1": "1", "caller_2": "2"})

    assert words in shown
    assert words in said(answer)
    assert not DrawRecord.objects.exclude(frozen_at=None).exists()


def test_a_team_short_in_a_section_is_asked_about_and_can_be_drawn(secretary, club):
    match = scene(club, short=1)

    shown = said(secretary.get(at(match)))
    secretary.post(at(match, "freeze/"), {"caller_1": "1", "caller_2": "2"})

    assert "Team 2 has nobody in section B, where others have 1." in shown
    assert DrawRecord.objects.get().frozen_at is not None


def test_team_mates_who_stay_neighbours_however_often_it_is_drawn_are_told(secretary, club):
    match = scene(club, teams=1, sections=2, pegs=1)

    shown = said(secretary.get(at(match)))

    assert "50 draws with made-up numbers left team-mates as neighbours" in shown
    assert "pegs 1 and 2 both went to Team 1" in shown


def test_the_same_caller_twice_is_refused_in_words(secretary, club):
    match = make_match(club, sections={"A": 4}, drawn=False)
    for _ in range(3):
        make_entry(match)

    shown = said(secretary.post(at(match, "freeze/"), {"caller_1": "1", "caller_2": "1"}))

    assert "Entry 1 is named as caller twice. Choose somebody else, or Nobody." in shown
    assert not DrawRecord.objects.exclude(frozen_at=None).exists()


def test_a_caller_who_is_not_booked_in_is_refused_in_words(secretary, club):
    match = scene(club)

    shown = said(secretary.post(at(match, "freeze/"), {"caller_1": "77", "caller_2": "2"}))

    assert "77 is not one of the available choices" in shown
    assert not DrawRecord.objects.exclude(frozen_at=None).exists()


def test_nothing_on_a_frozen_sheet_is_changed_behind_it(club):
    match = scene(club)
    freeze(match, callers=[1, 2], by=None)
    sheet = DrawRecord.objects.get().sheet

    for act in (
        lambda: book_in(match, AnglerFactory(club=club), by=None),
        lambda: withdraw(Entry.objects.filter(match=match).first(), by=None),
        lambda: make_sections(match, count=1, pegs=list(Peg.objects.all()), by=None),
    ):
        with pytest.raises(RefusedError, match="frozen"):
            act()

    assert DrawRecord.objects.get().sheet == sheet


def test_two_secretaries_pressing_at_once_draw_once(secretary, club):
    match = scene(club)
    freeze(match, callers=[1, 2], by=None)
    calls = {"call_1": "5", "call_2": "6"}

    first = secretary.post(at(match, "calls/"), calls)
    second = secretary.post(at(match, "calls/"), {"call_1": "7", "call_2": "8"}, follow=True)

    assert first.status_code == 302
    assert "The pegs are drawn already. These are they." in said(second)
    assert "call=1|5.\ncall=2|6." in DrawEvent.objects.get().text


def test_a_freeze_pressed_while_numbers_are_called_changes_nothing(secretary, club):
    match = scene(club)
    freeze(match, callers=[1, 2], by=None)
    begin(match, by=None)

    answer = secretary.post(at(match, "freeze/"), {"caller_1": "3"}, follow=True)

    assert "frozen already" in said(answer)
    assert "callers=1.2." in DrawRecord.objects.get().sheet


# ---- the ways clubs draw


def test_a_whole_water_is_drawn_from_one_bag_and_the_section_is_where_one_lands(club):
    match = make_match(club, sections={"A": 4, "B": 4}, drawn=False)
    for _ in range(6):
        make_entry(match)

    draw_match(match, calls={1: 12, 2: 900}, by=None)

    assert "section=ALL|1.2.3.4.5.6.7.8.|" in DrawRecord.objects.get().sheet
    for entry in Entry.objects.of(match).with_names():
        assert entry.section == entry.match_peg.section
    assert len({entry.match_peg_id for entry in Entry.objects.of(match)}) == 6


def test_pairs_are_teams_of_two_with_one_on_each_side(club):
    match = scene(club, teams=5, sections=2, pegs=6)

    draw_match(match, calls={1: 12, 2: 900}, by=None)

    for team in match.season.teams.all():
        sections = [e.section.letter for e in Entry.objects.of_team(team).order_by("number")]
        assert sections == ["A", "B"]
    match.refresh_from_db()
    assert match.stage == Stage.DRAWN
    assert record_of(match).outcomes()[-1].clashes == ()


def test_a_sheet_that_cannot_be_opened_any_more_is_refused_in_words_not_in_silence(secretary, club):
    match = scene(club)
    draft = secretary.post(at(match, "open/"), {"why": "Ray rang in ill."})
    freeze(match, callers=[1, 2], by=None)
    secretary.post(at(match, "calls/"), {"call_1": "4071", "call_2": ""})
    begun = secretary.post(at(match, "open/"), {"why": "Ray rang in ill."})
    secretary.post(at(match, "calls/"), {"call_1": "4071", "call_2": "12"})
    drawn = secretary.post(at(match, "open/"), {"why": "Ray rang in ill."})

    assert "The draw sheet is not frozen yet. Freeze it first." in said(draft)
    for answer in (begun, drawn):
        assert "The draw was begun, so its sheet stays as it is." in said(answer)
    assert DrawRecord.objects.get().frozen_at is not None
