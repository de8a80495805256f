"""What a club says of itself, written on one page by its match secretary."""

from __future__ import annotations

import pytest

from league.models import Act
from league.operations.club import days_of_backups
from tests.factories import ClubFactory

PAGE = "/desk/marlbrook/club/"
AS_IT_IS = {
    "name": "Marlbrook & District AC",
    "public": "yes",
    "objection_hours": "27",
    "paper": "a4",
    "keep_backups": "",
}


def said(answer):
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def test_name_readers_hours_paper_and_backups_are_changed_and_stand_in_the_journal(secretary, club):
    assert PAGE in said(secretary.get("/desk/"))
    assert 'value="27"' in said(secretary.get(PAGE))

    changed = {"name": "Marlbrook AC", "public": "no", "paper": "letter", "keep_backups": "365"}
    answer = secretary.post(PAGE, AS_IT_IS | changed | {"objection_hours": "1"})

    assert answer.url == "/desk/marlbrook/"
    club.refresh_from_db()
    assert (club.name, club.public, club.objection_hours) == ("Marlbrook AC", False, 1)
    assert (club.paper, club.keep_backups) == ("letter", 365)
    assert Act.objects.get().what == (
        "The club: called Marlbrook AC, was Marlbrook & District AC, results and tables for "
        "members only, objections heard for 1 hours from now on, sheets set for US Letter and "
        "daily backups asked for 365 days."
    )


@pytest.mark.parametrize(
    ("slip", "words"),
    [
        ({"name": ""}, "Say what the club is called."),
        ({"objection_hours": "0"}, "Ensure this value is greater than or equal to 1."),
        ({"keep_backups": "0"}, "Ensure this value is greater than or equal to 1."),
        ({}, "Nothing is different, so nothing was saved."),
    ],
)
def test_a_slip_is_said_and_nothing_is_changed(secretary, club, slip, words):
    assert words in said(secretary.post(PAGE, AS_IT_IS | slip))
    assert not Act.objects.exists()


def test_one_backup_holds_every_club_so_the_longest_asked_for_holds(secretary, club, settings):
    settings.KEEP_BACKUPS = 30
    assert days_of_backups() == 30
    ClubFactory(slug="otterby", keep_backups=14)
    assert days_of_backups() == 14
    secretary.post(PAGE, AS_IT_IS | {"keep_backups": "365"})

    assert days_of_backups() == 365
    assert "Here it is 365." in said(secretary.get("/clubs/marlbrook/what-is-kept/"))
