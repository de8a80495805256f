"""Line-ups by a link, letters looked at before they go, late and ill, places and who waits."""

from __future__ import annotations

import datetime as dt
import re
from typing import Any

import pytest
from django.core import mail as outbox
from django.test import Client
from django.utils import timezone

from league.models import CaptainPass, Club, Entry, Match, Reserve, SquadMember, Team
from league.operations.captains import make_link
from league.operations.lineup import book_in
from league.operations.score import book_of
from league.operations.waiting import wait_for_place
from tests.builders import make_entry, make_match, make_season
from tests.factories import AnglerFactory


@pytest.fixture
def match(club: Club) -> Match:
    """A round a week from now, two sections, Reds with a squad of four and a captain."""
    season = make_season(club, teams=["Reds", "Blues"])
    match = make_match(
        season=season,
        sections={"A": 4, "B": 4},
        drawn=False,
        date=timezone.localdate() + dt.timedelta(days=7),
        draw_at=dt.time(8, 30),
    )
    for name in ("Ivy Marsh", "Len Hathersage", "Maud Perrin", "Ned Sparrow"):
        angler = AnglerFactory(club=club, name=name)
        if name == "Ivy Marsh":
            angler.email = "ivy@example.test"
            angler.save()
        SquadMember.objects.create(team=_reds(match), angler=angler, captain=name == "Ivy Marsh")
    return match


@pytest.fixture
def open_match(club: Club) -> Match:
    """A day of its own a week from now with two places."""
    date = timezone.localdate() + dt.timedelta(days=7)
    return make_match(club, sections={"A": 2}, drawn=False, date=date, places=2)


def _reds(match: Match) -> Team:
    return Team.objects.get(season=match.season, name="Reds")


def _run(match: Match, page: str) -> str:
    return f"/matches/{match.pk}/run/{page}"


def _squad(match: Match) -> list[str]:
    return [str(member.angler_id) for member in SquadMember.objects.of(_reds(match))]


# ---- the link -------------------------------------------------------------------------------


def test_a_captain_names_a_line_up_from_the_link_alone(match: Match, stranger: Client) -> None:
    _, token = make_link(match, _reds(match), by=None)
    page = f"/line-up/{token}/"
    ivy, len_, maud, _ = _squad(match)

    said = stranger.get(page).content.decode()
    assert "Who fishes for Reds?" in said
    answer = stranger.post(
        page, {"place_0": len_, "place_1": ivy, "reserve_0": maud, "reserve_1": ""}, follow=True
    )

    assert "The line-up of Reds is named." in answer.content.decode()
    assert [
        (str(entry.section), entry.angler.name)
        for entry in Entry.objects.of(match).order_by("section__order")
    ] == [("A", "Len Hathersage"), ("B", "Ivy Marsh")]
    assert Reserve.objects.of_team(match, _reds(match)).count() == 1


def test_a_captain_who_is_signed_in_needs_no_link(
    match: Match, member: Client, stranger: Client
) -> None:
    page = f"/matches/{match.pk}/line-up/"
    assert "You captain no team in this match" in member.get(page).content.decode()
    assert page not in member.get(f"/matches/{match.pk}/").content.decode()
    ivy = SquadMember.objects.get(team=_reds(match), captain=True).angler
    ivy.user = member.user
    ivy.save()

    shown = member.get(f"/matches/{match.pk}/").content.decode()
    answer = member.post(page, {"place_0": str(ivy.pk), "place_1": ""}, follow=True)

    assert f'class="next" href="{page}"' in shown
    assert "The line-up of Reds is named." in answer.content.decode()
    assert [entry.angler.name for entry in Entry.objects.of(match)] == ["Ivy Marsh"]
    assert page not in stranger.get(f"/matches/{match.pk}/").content.decode()


def test_somebody_named_twice_comes_back_as_it_was_chosen(match: Match, stranger: Client) -> None:
    _, token = make_link(match, _reds(match), by=None)
    ivy = _squad(match)[0]

    answer = stranger.post(f"/line-up/{token}/", {"place_0": ivy, "place_1": ivy})

    said = answer.content.decode()
    assert "Ivy Marsh is named twice." in said
    assert said.count(f'value="{ivy}" selected') == 2
    assert not Entry.objects.exists()


def test_a_link_that_ended_or_never_was_says_so_and_nothing_of_the_club(
    match: Match, stranger: Client
) -> None:
    _, token = make_link(match, _reds(match), by=None)
    CaptainPass.objects.update(revoked_at=timezone.now())

    back = stranger.get(f"/line-up/{token}/")
    made_up = stranger.get("/line-up/abc:def/")

    assert (back.status_code, made_up.status_code) == (410, 404)
    assert "taken this link back" in back.content.decode()
    assert "Reds" not in back.content.decode() + made_up.content.decode()


def test_a_line_up_is_closed_once_the_sheet_is_frozen(match: Match, stranger: Client) -> None:
    _, token = make_link(match, _reds(match), by=None)
    Match.objects.filter(pk=match.pk).update(stage="drawn")

    said = stranger.get(f"/line-up/{token}/").content.decode()

    assert "The pegs are drawn. Ring the match secretary." in said
    assert "<select" not in said


def test_the_secretary_makes_a_link_once_and_takes_it_back(
    match: Match, secretary: Client, stranger: Client
) -> None:
    team = _reds(match)
    shown = secretary.post(_run(match, f"line-ups/{team.pk}/link/")).content.decode()
    address = re.search(r'value="http://testserver(/line-up/[^"]+)"', shown)
    assert address
    assert stranger.get(address[1]).status_code == 200
    assert address[1] not in secretary.get(_run(match, "line-ups/")).content.decode()

    link = CaptainPass.objects.get()
    secretary.post(_run(match, f"line-ups/links/{link.pk}/take-back/"))

    assert stranger.get(address[1]).status_code == 410


def test_the_secretary_names_it_when_a_captain_rings(match: Match, secretary: Client) -> None:
    ivy, len_, *_ = _squad(match)

    answer = secretary.post(
        _run(match, f"line-ups/{_reds(match).pk}/"), {"place_0": ivy, "place_1": len_}, follow=True
    )

    said = answer.content.decode()
    assert "The line-up of Reds is named." in said
    assert "1 of 2 line-ups are named" in said


def test_before_there_are_sections_nobody_named_is_no_line_up(
    match: Match, secretary: Client
) -> None:
    match.sections.all().delete()
    page = _run(match, "line-ups/")

    assert "0 of 2 line-ups are named" in secretary.get(page).content.decode()

    size = book_of(match).team.size
    for _ in range(size):
        make_entry(match, team=_reds(match))
    assert "1 of 2 line-ups are named" in secretary.get(page).content.decode()


def test_line_ups_ask_as_many_questions_for_two_teams_as_for_ten(
    match: Match, secretary: Client, django_assert_max_num_queries: Any
) -> None:
    page = _run(match, "line-ups/")
    secretary.get(page)
    with django_assert_max_num_queries(16) as asked:
        secretary.get(page)
    few = len(asked)
    for number in range(8):
        team = Team.objects.create(season=match.season, name=f"T {number}", code=f"X{number}")
        entry = make_entry(match, team=team, section=match.sections.first())
        SquadMember.objects.create(team=team, angler=entry.angler, captain=True)

    with django_assert_max_num_queries(few):
        secretary.get(page)


# ---- letters --------------------------------------------------------------------------------


def test_a_letter_is_looked_at_and_goes_only_when_send_is_pressed(
    match: Match, secretary: Client, stranger: Client
) -> None:
    page = _run(match, "letters/")
    draft = secretary.get(page, {"to": "captains"}).context["form"].initial
    assert "[link]" in draft["text"]

    look = secretary.post(page, {**draft, "press": "look"}).content.decode()
    assert "1 letter, not sent yet" in look
    assert "ivy@example.test" in look
    assert outbox.outbox == []
    assert not CaptainPass.objects.exists()

    answer = secretary.post(page, {**draft, "press": "send"}, follow=True)
    assert "Sent to 1 address." in answer.content.decode()
    (letter,) = outbox.outbox
    link = re.search(r"http://testserver(/line-up/\S+)", str(letter.body))
    assert link
    assert "Who fishes for Reds?" in stranger.get(link[1]).content.decode()


def test_a_captains_letter_without_the_link_is_refused(match: Match, secretary: Client) -> None:
    answer = secretary.post(
        _run(match, "letters/"),
        {"audience": "captains", "subject": "Round 1", "text": "Please ring.", "press": "look"},
    )

    assert "The link has to stand somewhere" in answer.content.decode()
    assert "Please ring." in answer.content.decode()


def test_who_has_no_address_is_named_before_anything_goes(match: Match, secretary: Client) -> None:
    make_entry(match, name="Silas Underhay")
    make_entry(match, angler=AnglerFactory(club=match.club, name="Tom K", email="t@example.test"))
    letter = {"audience": "booked", "subject": "Round 1", "text": "Draw at half past eight."}

    said = secretary.post(_run(match, "letters/"), {**letter, "press": "look"}).content.decode()

    assert "not reached: Silas Underhay" in said


# ---- booking in and waiting -----------------------------------------------------------------


def _as_angler(client: Client, club: Club, name: str) -> None:
    AnglerFactory(club=club, name=name, user=client.user)  # type: ignore[attr-defined]


def test_a_member_books_in_and_out(open_match: Match, member: Client, club: Club) -> None:
    _as_angler(member, club, "Tom Kerrow")
    page = f"/matches/{open_match.pk}/booking/"
    assert "You are not booked in" in member.get(page).content.decode()

    said = member.post(page, {"act": "in"}, follow=True).content.decode()
    assert "You are booked in as 1." in said
    member.post(page, {"act": "out"})

    assert not Entry.objects.of(open_match).exists()


def test_a_round_of_anglers_without_teams_is_booked_from_the_match(
    member: Client, club: Club
) -> None:
    season = make_season(club)
    date = timezone.localdate() + dt.timedelta(days=7)
    match = make_match(season=season, drawn=False, date=date)
    _as_angler(member, club, "Tom Kerrow")
    page = f"/matches/{match.pk}/booking/"

    assert page in member.get(f"/matches/{match.pk}/").content.decode()
    member.post(page, {"act": "in"})
    assert Entry.objects.of(match).count() == 1


def test_a_round_of_teams_leads_to_no_booking(match: Match, member: Client, club: Club) -> None:
    _as_angler(member, club, "Tom Kerrow")
    page = f"/matches/{match.pk}/booking/"

    assert page not in member.get(f"/matches/{match.pk}/").content.decode()
    assert "Your captain names the line-up" in member.get(page).content.decode()


def test_a_full_match_has_a_waiting_list_and_a_place_goes_to_the_first(
    open_match: Match, member: Client, secretary: Client, club: Club
) -> None:
    entries = [
        book_in(open_match, AnglerFactory(club=club, name=name), by=None)
        for name in ("Ivy Marsh", "Len Hathersage")
    ]
    _as_angler(member, club, "Tom Kerrow")
    page = f"/matches/{open_match.pk}/booking/"
    assert "Every place is taken" in member.get(page).content.decode()
    said = member.post(page, {"act": "wait"}, follow=True).content.decode()
    assert "You are next." in said

    answer = secretary.post(
        _run(open_match, f"morning/{entries[0].pk}/"), {"act": "withdraw"}, follow=True
    )

    assert "Tom Kerrow moves up from the waiting list, as 3. Tell them" in answer.content.decode()
    assert "You are booked in as 3" in member.get(page).content.decode()


def test_who_is_no_angler_of_the_club_books_nothing(open_match: Match, member: Client) -> None:
    answer = member.post(f"/matches/{open_match.pk}/booking/", {"act": "in"})

    assert "Your sign-in belongs to no angler yet" in answer.content.decode()
    assert not Entry.objects.exists()


def test_more_places_are_set_and_who_moves_up_is_told(
    open_match: Match, secretary: Client, club: Club
) -> None:
    for name in ("Ivy Marsh", "Len Hathersage"):
        book_in(open_match, AnglerFactory(club=club, name=name), by=None)
    wait_for_place(open_match, AnglerFactory(club=club, name="Maud Perrin"), by=None)

    answer = secretary.post(_run(open_match, "waiting/"), {"places": "3"}, follow=True)

    assert "Maud Perrin moves up" in answer.content.decode()


# ---- the morning ----------------------------------------------------------------------------


def test_late_is_noted_and_a_reserve_comes_in_for_somebody_ill(
    match: Match, secretary: Client
) -> None:
    entry = make_entry(match, name="Silas Underhay")
    reserve = AnglerFactory(club=match.club, name="Tom Kerrow")
    page = _run(match, f"morning/{entry.pk}/")

    late = secretary.post(page, {"words": "late, about 08:45"}, follow=True).content.decode()
    assert "1 has rung in" in late
    assert "late, about 08:45" in late
    ill = secretary.post(page, {"angler": str(reserve.pk)}, follow=True).content.decode()

    assert "Tom Kerrow fishes in the place of Silas Underhay." in ill
    entry.refresh_from_db()
    assert entry.angler == reserve


@pytest.mark.parametrize("page", ["morning/", "waiting/", "letters/"])
def test_the_pages_ask_as_many_questions_for_three_anglers_as_for_thirty(
    match: Match, secretary: Client, django_assert_max_num_queries: Any, page: str
) -> None:
    def more(count: int) -> None:
        for angler in AnglerFactory.create_batch(count, club=match.club):
            make_entry(match, angler=angler, rang_in="late")
        for angler in AnglerFactory.create_batch(count, club=match.club):
            Reserve.objects.create(match=match, angler=angler, asked_at=timezone.now())

    more(3)
    secretary.get(_run(match, page))
    with django_assert_max_num_queries(24) as asked:
        secretary.get(_run(match, page))
    few = len(asked)
    more(27)

    with django_assert_max_num_queries(few):
        secretary.get(_run(match, page))
