"""Line-ups drawn with the pegs and end pegs shared: chosen on the draw page, told on the check."""

from __future__ import annotations

import json
import re

from league.models import DrawRecord, Entry, MatchPeg, Season
from league.operations.draw import begin, draw_match, finish, freeze, give_peg
from league.operations.lineup import book_in
from tests.builders import make_match, make_season
from tests.factories import AnglerFactory
from tests.files.test_draw import check


def scene(club, *, season: Season | None = None, number: int = 1, sections: str = "AB"):
    """Two teams with a member for each section; nobody has said who fishes which."""
    season = season or make_season(club, teams=["Tannery Lane", "Old Quarry"])
    match = make_match(
        club, season=season, sections=dict.fromkeys(sections, 3), drawn=False, round=number
    )
    for team in season.teams.order_by("pk"):
        for letter in sections:
            name = f"{team.name} {letter}"
            angler = team.squad.filter(angler__name=name).first()
            angler = angler.angler if angler else AnglerFactory(club=club, name=name)
            team.squad.get_or_create(angler=angler)
            book_in(match, angler, team=team, by=None)
    return match


def at(match, act: str = "") -> str:
    return f"/matches/{match.pk}/draw/{act}"


def said(answer) -> str:
    return " ".join(answer.content.decode().split())


CHOSEN = {"caller_1": "1", "caller_2": "3", "line_up": "shared", "end_pegs_shared": "on"}


def test_a_line_up_is_drawn_from_the_page_with_the_pegs(secretary, stranger, club):
    match = scene(club)

    secretary.post(at(match, "freeze/"), CHOSEN)
    secretary.post(at(match, "calls/"), {"call_1": "4071", "call_3": "12"})
    secretary.post(at(match, "turn/"), {"up_to": "all"})

    record = DrawRecord.objects.get()
    assert record.sheet.startswith("PEGSHEET/2\n")
    assert "entry=1|T1|-|0" in record.sheet
    assert "ends=1.3.4.6." in record.sheet
    entries = list(Entry.objects.of(match).in_booking_order())
    assert {entry.section.letter for entry in entries if entry.team.code == "T1"} == {"A", "B"}
    assert all(entry.section_id == entry.match_peg.section_id for entry in entries)
    out, differs = check(json.loads(stranger.get(at(match, "record.json")).content))
    assert differs == []
    assert out["events"][0]["sections"] == {
        str(entry.number): entry.section.letter for entry in entries
    }
    shown = said(stranger.get(at(match, "check/")))
    assert "Which member fishes which section was drawn from the same numbers." in shown
    assert "Tannery Lane: 2 ways were open, and way" in shown
    assert "End pegs went first, by tickets: peg 1 to" in shown


def test_the_next_round_counts_the_last_one_and_is_drawn_like_it(secretary, club):
    first = scene(club)
    freeze(first, callers=[1, 3], line_up="shared", end_pegs_shared=True, by=None)
    draw = {"call_1": "4071", "call_3": "12"}
    secretary.post(at(first, "calls/"), draw)
    before = {entry.angler_id: entry.section.letter for entry in Entry.objects.of(first)}
    second = scene(club, season=first.season, number=2)
    page = said(secretary.get(at(second)))

    secretary.post(at(second, "freeze/"), CHOSEN)
    secretary.post(at(second, "calls/"), draw)

    assert '<option value="shared" selected>' in page
    after = {entry.angler_id: entry.section.letter for entry in Entry.objects.of(second)}
    assert all(after[angler] != letter for angler, letter in before.items())
    sheet = DrawRecord.objects.get(match=second).sheet
    assert sheet.count("visits=") == 4
    ends = MatchPeg.objects.ends([first])
    for team in first.season.teams.all():
        of_team = Entry.objects.of(first).of_team(team)
        had = sum(entry.match_peg_id in ends for entry in of_team)
        number = min(e.number for e in Entry.objects.of(second).of_team(team))
        assert (f"had={number}|{had}." in sheet) == bool(had)


def test_a_member_never_fishes_a_section_twice_before_all_are_fished(club):
    """Four rounds of four sections: a Latin square each team."""
    match = scene(club, sections="ABCD")
    fished: dict[int, list[str]] = {}
    for number in range(1, 5):
        if number > 1:
            match = scene(club, season=match.season, number=number, sections="ABCD")
        draw_shared(match)
        for entry in Entry.objects.of(match):
            fished.setdefault(entry.angler_id, []).append(entry.section.letter)

    assert all(sorted(letters) == ["A", "B", "C", "D"] for letters in fished.values())


def draw_shared(match) -> None:
    """Draw *match*, and with it who of a team fishes which section, shared over the season."""
    freeze(match, line_up="shared", by=None)
    finish(begin(match, by=None), by=None)


def test_no_sheet_gives_a_peg_away_before_every_card_is_turned(secretary, stranger, club):
    match = scene(club)
    freeze(match, callers=[1, 3], line_up="drawn", by=None)
    secretary.post(at(match, "calls/"), {"call_1": "4071", "call_3": "12"})
    sheets = [
        f"/matches/{match.pk}/{name}.pdf" for name in ("draw-sheet", "weigh-sheet", "team-cards")
    ]
    page = f"/matches/{match.pk}/"

    assert [stranger.get(sheet).status_code for sheet in sheets] == [404] * 3
    assert sheets[0] not in said(stranger.get(page))
    assert [secretary.get(sheet).status_code for sheet in sheets] == [200] * 3
    assert sheets[0] in said(secretary.get(page))

    secretary.post(at(match, "turn/"), {"up_to": "all"})

    assert [stranger.get(sheet).status_code for sheet in sheets] == [200] * 3
    assert sheets[0] in said(stranger.get(page))


def test_anglers_without_teams_are_shared_among_the_sections_and_the_check_says_how(
    secretary, stranger, club
):
    season = make_season(club, teams=[])
    people = [AnglerFactory(club=club) for _ in range(4)]
    fished: dict[int, set[str]] = {}
    for number in (1, 2):
        match = make_match(
            club, season=season, sections={"A": 3, "B": 3}, drawn=False, round=number
        )
        for angler in people:
            book_in(match, angler, by=None)
        page = said(secretary.get(at(match)))
        secretary.post(at(match, "freeze/"), {"caller_1": "1", "line_up": "shared"})
        secretary.post(at(match, "calls/"), {"call_1": "4071"})
        secretary.post(at(match, "turn/"), {"up_to": "all"})
        for entry in Entry.objects.of(match):
            fished.setdefault(entry.angler_id, set()).add(entry.section.letter)

    assert "Who fishes which section" in page
    assert '<option value="shared" selected>' in page
    assert list(fished.values()) == [{"A", "B"}] * 4
    assert DrawRecord.objects.get(match=match).sheet.count("visits=") == 4
    record = json.loads(stranger.get(at(match, "record.json")).content)
    assert check(record)[1] == []
    shown = said(stranger.get(at(match, "check/")))
    assert "Of 4 anglers 4 are in a section each has fished least" in shown


def test_nobody_in_a_section_yet_the_page_offers_to_draw_it(secretary, club):
    match = scene(club)

    shown = said(secretary.get(at(match)))

    assert "Nobody is in a section yet. Let it be drawn who of a team fishes which" in shown
    assert '<option value="drawn" selected>' in shown
    assert "Freeze the draw sheet" in shown


def test_with_a_drawn_line_up_a_captain_names_nobody_else(secretary, club):
    match = scene(club)
    draw_shared(match)
    team = match.season.teams.get(code="T1")
    one, other = Entry.objects.of(match).of_team(team)

    answer = secretary.post(
        at(match, f"changes/members/{team.pk}/"),
        {
            f"team-{team.pk}-on_{one.pk}": other.angler_id,
            f"team-{team.pk}-on_{other.pk}": one.angler_id,
        },
    )

    assert "The draw says who of Tannery Lane fishes which section" in said(answer)
    assert Entry.objects.get(pk=one.pk).angler_id == one.angler_id


def test_a_line_up_that_cannot_be_drawn_is_refused_and_what_was_chosen_stays(secretary, club):
    match = scene(club)
    Entry.objects.filter(match=match, number__lte=2).update(easy_access=True)

    answer = secretary.post(at(match, "freeze/"), CHOSEN)

    assert "who need accessible pegs cannot all be in a section that has one" in said(answer)
    assert '<option value="shared" selected>' in said(answer)
    assert re.search(r'name="end_pegs_shared"[^>]* checked', said(answer))
    assert not DrawRecord.objects.exclude(frozen_at=None).exists()


def test_what_is_no_choice_of_a_line_up_is_told(secretary, club):
    match = scene(club)

    answer = secretary.post(at(match, "freeze/"), CHOSEN | {"line_up": "by lot"})

    assert "Choose how it is said who fishes which section." in said(answer)
    assert not DrawRecord.objects.exclude(frozen_at=None).exists()


def test_a_peg_given_by_hand_stands_on_the_check_page_with_who_when_and_why(
    secretary, stranger, club
):
    match = make_match(club, sections={"A": 4}, drawn=False)
    book_in(match, AnglerFactory(club=club), section=match.sections.get(), by=None)
    draw_match(match, calls={1: 4071}, by=None)
    late = Entry.objects.create(
        match=match, number=2, angler=AnglerFactory(club=club, name="Hugh Amblerton")
    )
    free = MatchPeg.objects.of(match).without_angler()[0]

    give_peg(late, free, why="Came when the callers had gone.", by=secretary.user)

    shown = said(stranger.get(at(match, "check/")))
    assert f"Peg {free.peg.number} given by hand: Hugh Amblerton" in shown
    assert f"Given by {secretary.user.get_username()}" in shown
    assert "Came when the callers had gone." in shown
    record = json.loads(stranger.get(at(match, "record.json")).content)
    assert check(record)[1] == []
    assert record["given"][0]["peg"] == free.peg.number
