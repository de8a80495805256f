"""The secretary's anglers: the list, one record, two made one, a list brought in."""

from __future__ import annotations

import json
from io import BytesIO
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from openpyxl import Workbook

from league.models import Angler, Club, OfficeName
from tests.builders import give_office, make_entry, make_fished_match
from tests.factories import AnglerFactory, UserFactory

PEOPLE = "/clubs/marlbrook/people/"


@pytest.fixture
def tom(club: Club) -> Angler:
    return AnglerFactory(club=club, name="Tom Kerrow", junior=True, email="tom@example.test")


def test_the_list_has_full_names_and_how_each_is_printed(secretary: Client, tom: Angler) -> None:
    said = secretary.get(PEOPLE).content.decode()

    assert "1 angler on record" in said
    assert "Tom Kerrow" in said
    assert "Tom K. (junior)" in said


def test_a_search_takes_a_name_without_its_accents(secretary: Client, club: Club) -> None:
    AnglerFactory(club=club, name="Zoë Löfgren")
    AnglerFactory(club=club, name="Ivy Marsh")

    said = secretary.get(PEOPLE, {"name": "lofg"}).content.decode()

    assert "Zoë Löfgren" in said
    assert "Ivy Marsh" not in said


def test_the_list_asks_the_same_number_of_questions_for_three_and_for_thirty(
    secretary: Client, club: Club, django_assert_num_queries: Any
) -> None:
    AnglerFactory.create_batch(3, club=club)
    secretary.get(PEOPLE)
    with django_assert_num_queries(5):
        secretary.get(PEOPLE)
    AnglerFactory.create_batch(27, club=club)

    with django_assert_num_queries(5):
        secretary.get(PEOPLE)


def test_an_angler_is_added_and_put_right(secretary: Client, club: Club) -> None:
    secretary.post(f"{PEOPLE}add/", {"name": "Ivy Marsh", "email": "ivy@example.test"})
    ivy = Angler.objects.get(name="Ivy Marsh")

    answer = secretary.post(
        f"{PEOPLE}{ivy.pk}/", {"name": "Ivy Marsh", "initial_only": "on"}, follow=True
    )

    ivy.refresh_from_db()
    assert (ivy.shown_name, ivy.email) == ("Ivy M.", "")
    assert "Saved. Ivy Marsh is up to date." in answer.content.decode()


def test_a_slip_comes_back_as_it_was_typed(secretary: Client, tom: Angler) -> None:
    answer = secretary.post(f"{PEOPLE}add/", {"name": "Tom Kerrow", "email": "tom at home"})

    said = answer.content.decode()
    assert "That is no e-mail address." in said
    assert 'value="tom at home"' in said


def test_two_records_are_looked_at_before_they_are_made_one(
    secretary: Client, tom: Angler, club: Club
) -> None:
    other = AnglerFactory(club=club, name="T. Kerrow")
    assert "an initial that fits" in secretary.get(f"{PEOPLE}doubles/").content.decode()

    look = secretary.get(f"{PEOPLE}{tom.pk}/same/", {"other": other.pk}).content.decode()
    assert "Are Tom Kerrow and T. Kerrow one person?" in look
    assert Angler.objects.of(club).count() == 2
    secretary.post(f"{PEOPLE}{tom.pk}/same/", {"other": other.pk})

    assert [angler.name for angler in Angler.objects.of(club)] == ["Tom Kerrow"]


def test_two_who_fished_together_are_refused_with_the_reason(
    secretary: Client, tom: Angler, club: Club
) -> None:
    match = make_fished_match(club)
    make_entry(match, angler=tom)
    other = match.entries.first().angler

    answer = secretary.post(f"{PEOPLE}{tom.pk}/same/", {"other": other.pk}, follow=True)

    assert "so they are two people" in answer.content.decode()
    assert Angler.objects.filter(pk=other.pk).exists()


def test_a_name_is_taken_out_only_when_it_is_typed(secretary: Client, tom: Angler) -> None:
    slip = secretary.post(f"{PEOPLE}{tom.pk}/erase/", {"name": "Tom"}).content.decode()
    assert "Type the name as it is on record: Tom Kerrow." in slip
    assert 'value="Tom"' in slip

    secretary.post(f"{PEOPLE}{tom.pk}/erase/", {"name": "Tom Kerrow"})

    tom.refresh_from_db()
    assert tom.name == "Name removed 1"
    assert secretary.get(f"{PEOPLE}{tom.pk}/").status_code == 404


def test_a_members_sign_in_is_joined_to_the_name_on_the_list(
    secretary: Client, member: Client, tom: Angler
) -> None:
    user = member.user  # type: ignore[attr-defined]

    secretary.post(f"{PEOPLE}{tom.pk}/sign-in/", {"user": str(user.pk)})

    tom.refresh_from_db()
    assert tom.user == user
    slip = secretary.post(f"{PEOPLE}{tom.pk}/sign-in/", {"user": "999"}).content.decode()
    assert "choose again" in slip


# ---- a list ---------------------------------------------------------------------------------


def test_a_pasted_list_is_looked_over_and_written_only_when_decided(
    secretary: Client, tom: Angler, club: Club
) -> None:
    look = secretary.post(
        f"{PEOPLE}bring-in/", {"pasted": "name\tjunior\tPaid\nThomas Kerrow\t\tx\nIvy Marsh\t\t"}
    )

    said = look.content.decode()
    assert "1 new, 0 changed, 1 to be decided" in said
    assert "left out: Paid." in said
    assert "Tom Kerrow: a short name for the same first name" in said
    assert Angler.objects.of(club).count() == 1
    kept = look.context["form"]["looked_at"].value()

    undecided = secretary.post(f"{PEOPLE}decided/", {"looked_at": kept})
    assert "Say who Thomas Kerrow is." in undecided.content.decode()
    assert Angler.objects.of(club).count() == 1

    secretary.post(f"{PEOPLE}decided/", {"looked_at": kept, "who_2": str(tom.pk)})
    assert [angler.name for angler in Angler.objects.of(club)] == ["Ivy Marsh", "Tom Kerrow"]


def test_a_spreadsheet_with_faults_says_each_and_writes_nothing(
    secretary: Client, club: Club
) -> None:
    book = Workbook()
    for row in (("Name", "Junior"), ("Ivy Marsh", "no"), ("Ned Sparrow", "maybe")):
        book.active.append(row)
    kept = BytesIO()
    book.save(kept)

    answer = secretary.post(
        f"{PEOPLE}bring-in/", {"file": SimpleUploadedFile("anglers.xlsx", kept.getvalue())}
    )

    assert "Row 3, junior: Write yes or no, or nothing, not &#x27;maybe&#x27;." in (
        answer.content.decode()
    )
    assert not Angler.objects.of(club).exists()


def test_what_was_pasted_is_not_lost_by_a_fault(secretary: Client) -> None:
    answer = secretary.post(f"{PEOPLE}bring-in/", {"pasted": "name,junior\nIvy Marsh,maybe"})

    assert "Ivy Marsh,maybe" in answer.content.decode()


def test_nothing_at_all_is_asked_for(secretary: Client) -> None:
    said = secretary.post(f"{PEOPLE}bring-in/", {}).content.decode()

    assert "Paste some rows, or choose a file." in said


# ---- one's own data -------------------------------------------------------------------------


def test_a_member_has_their_own_data_as_a_file_and_nobody_elses(
    member: Client, tom: Angler, club: Club
) -> None:
    tom.user = member.user  # type: ignore[attr-defined]
    tom.save()
    AnglerFactory(club=club, name="Ivy Marsh")

    answer = member.get("/account/data.json")

    data = json.loads(answer.content)
    assert data["clubs"][0]["angler"]["name"] == "Tom Kerrow"
    assert "Ivy Marsh" not in answer.content.decode()
    assert "attachment" in answer["Content-Disposition"]


def test_the_secretary_of_another_club_sees_none_of_it(tom: Angler) -> None:
    user = give_office(Club.objects.create(name="B", slug="b"), UserFactory(), OfficeName.SECRETARY)
    client = Client()
    client.force_login(user.user)

    for page in ("", f"{tom.pk}/", f"{tom.pk}/data.json", f"{tom.pk}/erase/", "list.xlsx"):
        assert client.get(f"{PEOPLE}{page}").status_code == 404


def test_the_set_up_screens_leave_a_name_to_the_page_that_carries_it_through(
    admin_client: Client, club: Club
) -> None:
    angler = AnglerFactory(club=club, name="Tom Kerrow", junior=True)
    page = f"/admin/league/angler/{angler.pk}/change/"

    shown = admin_client.get(page).content.decode()
    admin_client.post(page, {"club": club.pk, "name": "Thomas Kerrow", "easy_access": "on"})

    assert f'href="/clubs/{club.slug}/people/{angler.pk}/"' in shown
    angler.refresh_from_db()
    assert (angler.name, angler.junior, angler.easy_access) == ("Tom Kerrow", True, True)
