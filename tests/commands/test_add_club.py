"""A second club on one installation: entered by the machine's owner, and nobody's of the first."""

from __future__ import annotations

import io
import re

import pytest
from django.core.management import CommandError, call_command
from django.test import Client

from league.models import Club
from tests.factories import UserFactory


def add(*args: str) -> str:
    said = io.StringIO()
    call_command("add_club", *args, stdout=said)
    return said.getvalue()


def test_a_second_club_has_a_match_secretary_of_its_own(
    club: Club, secretary: Client, stranger: Client
) -> None:
    said = add("Otterby AC", "Ada Fenwick", "--members-only")
    link = re.search(r"http://127\.0\.0\.1:8000(/invited/\S+/)", said)[1]
    stranger.force_login(UserFactory(username="ada"))

    stranger.post(link)

    assert stranger.get("/clubs/otterby-ac/offices/").status_code == 200
    assert stranger.get("/clubs/marlbrook/offices/").status_code == 404
    assert secretary.get("/clubs/otterby-ac/offices/").status_code == 404
    assert secretary.get("/clubs/otterby-ac/").status_code == 404
    assert Client().post(link).status_code == 404


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("Marlbrook & District AC", "There is a club Marlbrook & District AC already"),
        ("Marlbrook & Distrct AC", "Did you mean Marlbrook & District AC"),
        (" ", "Write the name of the club"),
    ],
)
def test_a_club_that_is_there_is_not_entered_again(club: Club, name: str, said: str) -> None:
    with pytest.raises(CommandError, match=said):
        add(name, "Ada Fenwick")

    assert Club.objects.count() == 1


def test_without_a_secretary_no_club_is_left_behind(db: None) -> None:
    with pytest.raises(CommandError, match="Say who is asked"):
        add("Otterby AC", " ")

    assert not Club.objects.exists()
