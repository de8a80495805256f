"""The first run: an empty installation asks four questions, once, of whoever has its key."""

from __future__ import annotations

import html

import pytest
from django.core.management import CommandError, call_command

from league.models import Club, Office, Peg, Season
from league.operations.first_run import first_run_key, is_first_run, opens
from league.operations.score import book_of_season
from tests.factories import ClubFactory, UserFactory

THREE = {
    "club": "Marlbrook & District AC",
    "water": "Heron Lake",
    "pegs": "1-24, 26-60, not 13, easy 1-4 and 60, gap after 24",
    "league": "Winter League",
    "season": "2026–27",
    "starts": "2026-10-04",
    "size": "4",
    "book": "averaged-low",
}
WHO = {
    "name": "Len Cudworthy",
    "username": "len",
    "email": "",
    "password": "bream-under-the-bridge",
}


def said(answer, status=200):
    assert answer.status_code == status
    return html.unescape(" ".join(answer.content.decode().split()))


@pytest.fixture
def key(db):
    return {"key": first_run_key()}


def test_an_empty_installation_leads_to_its_first_run(stranger, db):
    assert stranger.get("/").url == "/start/"


def test_without_the_key_nothing_is_asked(stranger, db):
    shown = said(stranger.get("/start/"))
    assert "Type the key" not in shown
    assert "python manage.py first_run" in shown
    assert "That is not the key." in said(stranger.get("/start/?key=AAAA-BBBB"), 403)
    wrong = THREE | WHO | {"step": "who", "key": "AAAA"}
    assert "That is not the key." in said(stranger.post("/start/", wrong), 403)
    assert stranger.post("/start/look/", {"pegs": "1-3"}).status_code == 404
    assert not Club.objects.exists()


def test_the_key_is_read_however_it_is_typed(settings, db):
    key = first_run_key()
    assert opens(key.lower().replace("-", " "))
    assert not opens("")
    assert not opens("ÄÖÜ")
    settings.SECRET_KEY = "another installation"
    assert not opens(key)


def test_four_answers_make_a_club_ready_for_a_match(stranger, key):
    assert 'value="Winter League"' in said(stranger.get("/start/", key))

    looked = said(stranger.post("/start/", THREE | key | {"step": "look"}))
    assert "Heron Lake has 58 pegs" in looked
    assert "Left out: 13 (no reason given)." in looked
    assert "<svg" in looked
    assert not Club.objects.exists()
    answer = stranger.post("/start/", THREE | WHO | key | {"step": "who"})

    club, season = Club.objects.get(), Season.objects.get()
    assert answer.url == f"/desk/marlbrook-district-ac/seasons/{season.pk}/"
    assert Peg.objects.count() == 59
    assert book_of_season(season).team.size == 4
    assert [str(office) for office in Office.objects.all()] == [
        "len, Match secretary, Marlbrook & District AC"
    ]
    # Signed in already, and where the next thing is to be done.
    assert f"{season} has no teams yet" in said(stranger.get(answer.url))
    assert not is_first_run()
    assert club.acts.count() > 0


def test_what_was_typed_can_be_changed_before_it_is_kept(stranger, key):
    again = said(stranger.post("/start/", THREE | key | {"step": "again"}))

    assert 'value="Marlbrook & District AC"' in again
    assert f"{THREE['pegs']}</textarea>" in again


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"club": ""}, "Say what the club is called."),
        ({"pegs": "4-1"}, "'4-1' runs backwards. Write 1-4."),
        ({"size": "0"}, "greater than or equal to 1"),
        ({"book": "nonsense"}, "There is no such rule book."),
    ],
)
def test_a_slip_on_the_first_page_is_said_there(stranger, key, changes, words):
    shown = said(stranger.post("/start/", THREE | key | changes | {"step": "look"}))

    assert words in shown
    assert 'value="2026–27"' in shown
    assert "Who are you?" not in shown


def test_a_weak_password_makes_no_club_and_loses_no_answer(stranger, key):
    weak = THREE | WHO | key | {"step": "who", "password": "len"}

    shown = said(stranger.post("/start/", weak))

    assert "Who are you?" in shown
    assert 'name="club" value="Marlbrook & District AC"' in shown
    assert 'value="Len Cudworthy"' in shown
    assert "bream" not in shown
    assert not Club.objects.exists()
    assert is_first_run()


def test_once_somebody_is_there_the_first_run_is_over(stranger, key):
    UserFactory()

    assert stranger.get("/start/", key).status_code == 404
    assert stranger.post("/start/", THREE | WHO | key | {"step": "who"}).status_code == 404
    assert stranger.post("/start/look/", key | {"pegs": "1"}).status_code == 404
    assert not Club.objects.exists()


def test_once_a_club_is_there_the_first_run_is_over(stranger, key):
    ClubFactory()

    assert stranger.get("/start/", key).status_code == 404


def test_the_bank_is_drawn_while_it_is_said(stranger, key):
    assert "3 pegs" in said(stranger.post("/start/look/", key | {"pegs": "1-3"}))


def test_the_address_can_be_written_again_until_it_is_used(key, capsys):
    call_command("first_run", "--address", "https://draw.example.org/")
    said_there = capsys.readouterr().out.strip()

    assert said_there == f"https://draw.example.org/start/?key={key['key']}"
    ClubFactory()
    with pytest.raises(CommandError, match="has its club already"):
        call_command("first_run")
