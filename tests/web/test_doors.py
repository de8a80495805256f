"""The doors: signing in and out, a forgotten password, being asked in, offices given and taken."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from django.contrib.auth.models import User
from django.core import mail
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from league.models import Act, Club, Invitation, Knock, Office, OfficeName
from league.operations.doors import invite
from tests.builders import give_office
from tests.factories import ClubFactory, UserFactory

PASSWORD = "willow-float-mere-29"


@pytest.fixture
def len_(club: Club) -> User:
    """Len, who works the scales and signs in with a password."""
    user = UserFactory(username="len", first_name="Len", email="len@example.org")
    user.set_password(PASSWORD)
    user.save()
    give_office(club, user, OfficeName.SCALES)
    return user


def sign_in(client: Client, password: str = PASSWORD, name: str = "len", **headers: str) -> str:
    answer = client.post("/sign-in/", {"username": name, "password": password}, **headers)
    return "in" if answer.status_code == 302 else answer.content.decode()


def test_a_right_password_lets_in_and_changes_the_sessions_key(len_: User, stranger: Client):
    stranger.get("/sign-in/")
    session = stranger.session
    session["planted"] = "by somebody else"
    session.save()
    before = session.session_key

    assert sign_in(stranger) == "in"

    assert stranger.session.session_key != before
    assert stranger.get("/account/").status_code == 200


def test_a_wrong_name_and_a_wrong_password_hear_the_same(len_: User, stranger: Client):
    wrong_name = sign_in(stranger, name="nobody")
    wrong_password = sign_in(stranger, "not it")

    words = "That name and password do not go together."
    assert words in wrong_name
    assert words in wrong_password


def test_after_eight_wrong_tries_the_door_is_shut_to_the_right_one_too(
    len_: User, stranger: Client
):
    for _ in range(8):
        assert "do not go together" in sign_in(stranger, "not it")

    assert "Too many tries. The next one can be made at" in sign_in(stranger)
    # From another place the owner gets in: nobody can lock somebody else out.
    assert sign_in(Client(), REMOTE_ADDR="192.0.2.7") == "in"


def test_the_door_opens_again_by_itself(len_: User, stranger: Client):
    for _ in range(8):
        sign_in(stranger, "not it")
    Knock.objects.update(at=timezone.now() - timedelta(minutes=16))

    assert sign_in(stranger) == "in"


def test_getting_in_forgets_ones_slips_but_not_the_guesses_at_others(len_: User, stranger: Client):
    for _ in range(7):
        sign_in(stranger, "not it")
    assert sign_in(stranger) == "in"

    for _ in range(7):
        assert "do not go together" in sign_in(Client(), "not it")
    assert Knock.objects.filter(kind="sign-in place").count() == 14


def test_one_place_that_tries_many_names_is_shut_out(len_: User, stranger: Client):
    for count in range(60):
        sign_in(stranger, "not it", name=f"somebody{count}")

    assert "Too many tries" in sign_in(stranger, "not it", name="yet another")


def test_what_a_stranger_says_of_his_address_is_not_believed(len_: User, stranger: Client):
    for count in range(8):
        sign_in(stranger, "not it", HTTP_X_FORWARDED_FOR=f"198.51.100.{count}")

    assert "Too many tries" in sign_in(stranger, HTTP_X_FORWARDED_FOR="198.51.100.99")


def test_no_name_or_address_can_be_read_out_of_the_tries(len_: User, stranger: Client):
    sign_in(stranger, "not it")

    kept = str(list(Knock.objects.values()))
    assert "len" not in kept.replace("length", "")
    assert "127.0.0.1" not in kept


def test_a_forgotten_password_is_set_anew_by_a_link_that_opens_once(len_: User, stranger: Client):
    elsewhere = Client()
    sign_in(elsewhere)

    stranger.post("/forgotten/", {"email": "len@example.org"})
    link = re.search(r"/forgotten/\S+/\S+/", mail.outbox[0].body)[0]
    page = stranger.get(link, follow=True)
    new = "alder-spinner-lock-77"
    done = stranger.post(
        page.request["PATH_INFO"], {"new_password1": new, "new_password2": new}, follow=True
    )

    assert done.status_code == 200
    assert sign_in(Client(), new) == "in"
    assert elsewhere.get("/account/").status_code == 302  # the old session is over
    assert "opens nothing any more" in Client().get(link, follow=True).content.decode()


def test_asking_for_a_letter_says_the_same_whoever_asks(len_: User, stranger: Client):
    known = stranger.post("/forgotten/", {"email": "len@example.org"}, follow=True)
    unknown = stranger.post("/forgotten/", {"email": "nobody@example.org"}, follow=True)

    assert known.content == unknown.content
    assert [letter.to for letter in mail.outbox] == [["len@example.org"]]


def test_nobodys_box_is_filled_with_letters(len_: User, stranger: Client):
    for _ in range(5):
        last = stranger.post("/forgotten/", {"email": "len@example.org"})

    assert len(mail.outbox) == 3
    assert "Enough letters were asked for" in last.content.decode()


def test_a_link_for_a_new_password_names_no_address_a_stranger_chose(
    len_: User, settings, stranger: Client
):
    settings.ALLOWED_HOSTS = ["club.example.org"]

    answer = stranger.post("/forgotten/", {"email": "len@example.org"}, HTTP_HOST="evil.example")

    assert answer.status_code == 400
    assert mail.outbox == []


def test_a_new_password_ends_every_other_session(len_: User, stranger: Client):
    elsewhere = Client()
    sign_in(elsewhere)
    sign_in(stranger)
    new = "alder-spinner-lock-77"

    stranger.post(
        "/account/password/",
        {"old_password": PASSWORD, "new_password1": new, "new_password2": new},
    )

    assert stranger.get("/account/").status_code == 200
    assert elsewhere.get("/account/").status_code == 302


@pytest.mark.parametrize(
    ("weak", "said"),
    [
        ("short-one-4", "at least 12 characters"),
        ("password1234", "too common"),
        ("len-len-len-len", ""),
    ],
)
def test_a_weak_password_is_refused_in_words(len_: User, stranger: Client, weak: str, said: str):
    sign_in(stranger)

    answer = stranger.post(
        "/account/password/",
        {"old_password": PASSWORD, "new_password1": weak, "new_password2": weak},
    )

    if said:
        assert said in answer.content.decode()
        assert sign_in(Client()) == "in"
    else:
        assert answer.status_code == 302


def test_signing_out_everywhere_leaves_this_place_alone(len_: User, stranger: Client):
    elsewhere, other = Client(), Client()
    sign_in(elsewhere)
    sign_in(stranger)
    other.force_login(UserFactory())

    said = stranger.post("/account/sign-out-everywhere/", follow=True).content.decode()

    assert "Signed out of 1 other place." in said
    assert elsewhere.get("/account/").status_code == 302
    assert other.get("/account/").status_code == 200


def test_the_secretary_signs_somebody_of_the_club_out_and_nobody_else(
    club: Club, len_: User, secretary: Client, stranger: Client
):
    sign_in(stranger)
    outsider = Client()
    outsider.force_login(UserFactory())

    secretary.post(f"/clubs/marlbrook/offices/people/{len_.pk}/sign-out/")
    secretary.post(f"/clubs/marlbrook/offices/people/{outsider.session['_auth_user_id']}/sign-out/")

    assert stranger.get("/account/").status_code == 302
    assert outsider.get("/account/").status_code == 200


def test_sign_out_is_no_link(len_: User, stranger: Client):
    sign_in(stranger)

    assert stranger.get("/sign-out/").status_code == 405
    assert stranger.get("/account/").status_code == 200
    stranger.post("/sign-out/")
    assert stranger.get("/account/").status_code == 302


def test_somebody_asked_in_by_e_mail_takes_the_office_up_once(
    club: Club, secretary: Client, stranger: Client
):
    secretary.post(
        "/clubs/marlbrook/offices/ask-in/",
        {"name": "Ada Fenwick", "offices": ["scales", "treasurer"], "email": "ada@example.org"},
    )
    letter = mail.outbox[0]
    link = re.search(r"http://testserver(/invited/\S+)", letter.body)[1]
    told = {"name": "Ada Fenwick", "username": "ada", "email": "ada@example.org"}

    taken = stranger.post(link, told | {"password": PASSWORD}, follow=True)
    again = Client().get(link)

    assert letter.to == ["ada@example.org"]
    assert "You are in." in taken.content.decode()
    assert set(Office.objects.filter(user__username="ada").values_list("name", flat=True)) == {
        "scales",
        "treasurer",
    }
    assert stranger.get("/desk/").status_code == 200
    assert again.status_code == 404
    assert "was taken up already" in again.content.decode()
    assert sign_in(Client(), name="ada") == "in"
    said = [act.what for act in Act.objects.of(club)]
    assert said[0] == "Ada Fenwick has taken up: scales and treasurer."


def test_without_an_address_the_link_is_shown_once(club: Club, secretary: Client):
    shown = secretary.post(
        "/clubs/marlbrook/offices/ask-in/", {"name": "Ada", "offices": ["member"]}
    ).content.decode()

    secret = re.search(r"/invited/([\w-]+)/", shown)[1]
    assert mail.outbox == []
    assert secret not in secretary.get("/clubs/marlbrook/offices/").content.decode()
    assert secret not in Invitation.objects.get().secret_hash


@pytest.mark.parametrize("slip", ["taken", "weak"])
def test_a_slip_at_the_door_leaves_the_invitation_open_and_the_form_filled(
    club: Club, len_: User, stranger: Client, slip: str
):
    _, secret = invite(club, name="Ada Fenwick", offices=["member"], by=None)
    told = {"name": "Ada Fenwick", "username": "ada", "password": PASSWORD}
    told |= {"username": "len"} if slip == "taken" else {"password": "short"}

    said = stranger.post(f"/invited/{secret}/", told).content.decode()

    assert ("already exists" in said) if slip == "taken" else ("at least 12 characters" in said)
    assert 'value="Ada Fenwick"' in said
    assert Invitation.objects.get().taken_up_at is None
    assert not User.objects.filter(username="ada").exists()


def test_somebody_who_signs_in_already_takes_it_up_as_themselves(len_: User, stranger: Client):
    other = ClubFactory(name="Otterby AC", slug="otterby")
    _, secret = invite(other, name="Len", offices=["secretary"], by=None)
    sign_in(stranger)

    stranger.post(f"/invited/{secret}/")

    assert stranger.get("/clubs/otterby/offices/").status_code == 200
    assert stranger.get("/clubs/marlbrook/offices/").status_code == 404


def test_an_invitation_ends_by_being_taken_back_and_by_itself(
    club: Club, secretary: Client, stranger: Client
):
    back, back_secret = invite(club, name="Ada", offices=["member"], by=None)
    old = timezone.now() - timedelta(days=8)
    _, old_secret = invite(club, name="Ben", offices=["member"], by=None, at=old)

    secretary.post(f"/clubs/marlbrook/offices/invitations/{back.pk}/take-back/")

    for secret in (back_secret, old_secret, "made-up"):
        assert stranger.get(f"/invited/{secret}/").status_code == 404
        stranger.post(f"/invited/{secret}/", {"name": "A", "username": "a", "password": PASSWORD})
    assert not User.objects.filter(username="a").exists()


def test_links_are_not_guessed_for_long(stranger: Client, club: Club):
    for count in range(30):
        stranger.get(f"/invited/guess-{count}/")
    _, secret = invite(club, name="Ada", offices=["member"], by=None)

    assert stranger.get(f"/invited/{secret}/").status_code == 429


def test_an_office_opens_and_shuts_from_the_next_page_on(
    club: Club, len_: User, secretary: Client, stranger: Client
):
    sign_in(stranger)
    money = {"user": len_.pk, "name": "secretary"}

    secretary.post("/clubs/marlbrook/offices/", money)
    given = stranger.get("/clubs/marlbrook/offices/").status_code
    twice = secretary.post("/clubs/marlbrook/offices/", money).content.decode()
    office = Office.objects.get(user=len_, name="secretary")
    secretary.post(f"/clubs/marlbrook/offices/{office.pk}/take/")

    assert given == 200
    assert "already holds that office" in twice
    assert stranger.get("/clubs/marlbrook/offices/").status_code == 404
    assert [act.what for act in Act.objects.of(club)][:2] == [
        "Len no longer holds an office: match secretary.",
        "Len is given an office: match secretary.",
    ]


def test_the_last_match_secretary_stays(club: Club, secretary: Client):
    office = Office.objects.get()

    said = secretary.post(f"/clubs/marlbrook/offices/{office.pk}/take/", follow=True)

    assert "is the only match secretary" in said.content.decode()
    assert Office.objects.count() == 1


def test_an_office_of_another_club_cannot_be_taken(secretary: Client):
    office = give_office(ClubFactory(), UserFactory(), OfficeName.SCALES)

    answer = secretary.post(f"/clubs/marlbrook/offices/{office.pk}/take/")

    assert answer.status_code == 404
    assert Office.objects.filter(pk=office.pk).exists()


def test_the_set_up_screens_have_the_same_door(stranger: Client, club: Club):
    answer = stranger.get("/admin/", follow=True)

    assert answer.redirect_chain[-1][0] == "/sign-in/?next=%2Fadmin%2F"


def test_offices_and_journal_ask_the_same_for_three_people_and_thirty(
    club: Club, secretary: Client
):
    def ask(address: str) -> int:
        with CaptureQueriesContext(connection) as asked:
            assert secretary.get(address).status_code == 200
        return len(asked)

    def grow(count: int) -> None:
        for number in range(count):
            give_office(club, UserFactory(), OfficeName.MEMBER)
            invite(club, name=f"Asked {number}", offices=["member"], by=secretary.user)

    pages = ("/clubs/marlbrook/offices/", "/clubs/marlbrook/journal/")
    grow(3)
    few = [ask(page) for page in pages]
    grow(27)
    assert [ask(page) for page in pages] == few
