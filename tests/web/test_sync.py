"""What phones may do: come in by a pass, fetch their walk, send; what they are told when not."""

from __future__ import annotations

import datetime as dt
import json
import uuid

import pytest
from django.db import OperationalError, connection
from django.test import Client

from league.models import OfficeName, Phone, WeighIn
from league.operations.facts import standing
from league.operations.passes import let_in, make_pass, revoke_pass, revoke_phone
from league.rules.walks import Walk
from tests.builders import give_office, make_entry, make_match, make_weigh_in
from tests.factories import UserFactory

NOON = dt.datetime(2027, 1, 24, 12, 0, tzinfo=dt.UTC)
WHOLE_BANK = Walk()


@pytest.fixture
def match(club):
    match = make_match(club, sections={"A": 2, "B": 2}, board_shown=False)
    for peg, name in enumerate(["Ray Tolliver", "Jo Ormesher", "Len Cudworthy", "Ana Ferradas"], 1):
        make_entry(match, peg=peg, name=name)
    return match


def at_peg(match, peg):
    return match.entries.get(match_peg__peg__number=str(peg))


def come_in(match, walk=WHOLE_BANK, name="Len"):
    scales_pass, secret = make_pass(match, name=name, walk=walk, by=None)
    phone, token = let_in(match.pk, secret, name=name)
    return scales_pass, phone, token


def weight(match, peg, *, nets=(3200,), seq=1, **values):
    return {
        "key": str(uuid.uuid4()),
        "seq": seq,
        "entry": at_peg(match, peg).pk,
        "peg": str(peg),
        "status": "weighed",
        "nets": list(nets),
        "read_at": 1_800_000_000_000,
    } | values


def post(match, token, entries, client=None, **about):
    return (client or Client(enforce_csrf_checks=True)).post(
        f"/scales/{match.pk}/send/",
        json.dumps({"entries": entries} | about),
        content_type="application/json",
        headers={"Authorization": f"Bearer {token}"},
    )


def results(answer):
    return [each["result"] for each in answer.json()["answers"]]


def test_a_weight_is_kept_and_answered_for_without_cookies_or_forms(match):
    _, phone, token = come_in(match)
    sent = weight(match, 1)

    answer = post(match, token, [sent], waiting=3, last_seq=9)

    assert answer.status_code == 200
    assert answer.json()["answers"] == [
        {"key": sent["key"], "result": "created", "found": "applied", "words": ""}
    ]
    assert answer.cookies == {}
    assert answer["Cache-Control"] == "max-age=0, no-cache, no-store, must-revalidate, private"
    phone.refresh_from_db()
    assert (phone.waiting, phone.last_seq) == (2, 9)


def test_a_bad_entry_is_answered_alone_and_the_rest_is_kept(match):
    _, _, token = come_in(match)
    bad = [
        weight(match, 1, nets=[True]),
        weight(match, 1, nets=[12.5]),
        weight(match, 1, nets=[-1]),
        weight(match, 1, status="heavy"),
        weight(match, 1, seq="first"),
        weight(match, 1, nets=[]),
        weight(match, 1, entry=10**9),
        weight(match, 1, corrects="x"),
    ]

    answer = post(match, token, [*bad, weight(match, 2)])

    found = {each["key"]: each for each in answer.json()["answers"]}
    assert {found[each["key"]]["result"] for each in bad} == {"rejected"}
    assert all(found[each["key"]]["words"].endswith(".") for each in bad)
    assert WeighIn.objects.count() == 1


@pytest.mark.parametrize(
    ("body", "status", "words"),
    [
        (b"{", 400, "This is no JSON."),
        (b"[]", 400, "A post is an object with a list of entries."),
        (b'{"entries": 3}', 400, "A post is an object with a list of entries."),
        (b'{"entries": [{"key": "x"}]}', 400, "An entry without a key cannot be kept exactly"),
        (b'{"entries": [7]}', 400, "An entry without a key cannot be kept exactly once."),
        (b'{"entries": [], "waiting": -1}', 400, "waiting is no whole number from 0 on."),
        (b'{"entries": [' + b"{}," * 200 + b"{}]}", 400, "201 weights at once; 200 is the most."),
        (b"[" * 200_000, 400, "This is no JSON."),
        (b" " * 300_000, 413, "That is too much at once."),
    ],
)
def test_a_post_nobody_can_read_is_refused_whole_in_words(match, body, status, words):
    _, _, token = come_in(match)

    answer = Client().post(
        f"/scales/{match.pk}/send/",
        body,
        content_type="application/json",
        headers={"Authorization": f"Bearer {token}"},
    )

    assert answer.status_code == status
    assert answer.json()["words"].startswith(words)


@pytest.mark.parametrize("header", ["", "Bearer ", "Bearer nonsense", "Basic bGVuOml2eQ=="])
def test_without_a_token_nothing_is_kept(match, header):
    answer = Client().post(
        f"/scales/{match.pk}/send/",
        json.dumps({"entries": [weight(match, 1)]}),
        content_type="application/json",
        headers={"Authorization": header},
    )

    assert answer.status_code == 401
    assert answer.json() == {
        "words": "This phone is not let in. Scan the code for this match again."
    }
    assert not WeighIn.objects.exists()


def test_a_sign_in_alone_sends_nothing(match, scalesman):
    answer = scalesman.post(
        f"/scales/{match.pk}/send/",
        json.dumps({"entries": [weight(match, 1)]}),
        content_type="application/json",
    )

    assert answer.status_code == 401


def test_a_token_opens_its_own_match_alone(match, club):
    _, _, token = come_in(match)
    other = make_match(club, date=dt.date(2027, 2, 7))

    assert post(other, token, []).status_code == 401


def test_half_way_through_the_pass_is_taken_back(match):
    scales_pass, _, token = come_in(match)
    first = post(match, token, [weight(match, 1)])
    revoke_pass(scales_pass, by=None)

    second = post(match, token, [weight(match, 2, seq=2)])

    assert (first.status_code, second.status_code) == (200, 403)
    assert second.json()["words"].startswith("The match secretary has stopped this phone.")
    assert WeighIn.objects.count() == 1


def test_one_phone_stopped_leaves_the_other_of_the_pair_weighing(match):
    _, phone, token = come_in(match)
    revoke_phone(phone, by=None)
    _, _, other_token = come_in(match)

    assert post(match, token, [weight(match, 1)]).status_code == 403
    assert post(match, other_token, [weight(match, 1)]).status_code == 200


def test_a_pass_that_ran_out_is_told_apart_from_one_taken_back(match):
    _, phone, token = come_in(match)
    Phone.objects.filter(pk=phone.pk).update(expires_at=NOON - dt.timedelta(days=365))

    answer = post(match, token, [weight(match, 1)])

    assert answer.status_code == 403
    assert answer.json()["words"].startswith("This pass has run out.")


def test_a_clock_that_is_years_ahead_is_kept_as_it_is_and_harms_nothing(match):
    _, phone, token = come_in(match)
    in_2106 = 4_291_747_200_000
    sent = weight(match, 1, read_at=in_2106)

    answer = post(match, token, [sent], clock=in_2106)

    kept = WeighIn.objects.get()
    phone.refresh_from_db()
    assert results(answer) == ["created"]
    assert phone.clock_skew > 2**31
    assert kept.clock_skew == phone.clock_skew
    assert kept.read_at.year == 2106
    assert kept.received_at.year < 2100


@pytest.mark.parametrize("read_at", [10**18, -(10**18), "noon", True, None, 1.5])
def test_a_time_beyond_any_calendar_is_left_out(match, read_at):
    _, _, token = come_in(match)

    assert results(post(match, token, [weight(match, 1, read_at=read_at)])) == ["created"]
    assert WeighIn.objects.get().read_at is None


def test_two_phones_on_one_peg_both_figures_are_kept(match):
    _, _, len_token = come_in(match, name="Len")
    _, _, ken_token = come_in(match, name="Ken")

    post(match, len_token, [weight(match, 1, nets=[256 * 17])])
    answer = post(match, ken_token, [weight(match, 1, nets=[256 * 18])])

    assert answer.json()["answers"][0]["found"] == "conflict"
    assert standing(at_peg(match, 1)).in_question


def test_the_walk_says_who_is_where_in_the_order_of_the_pass(match):
    _, _, token = come_in(match, Walk(("B",), backwards=True))
    make_weigh_in(at_peg(match, 1), "12-8")

    data = (
        Client()
        .get(f"/scales/{match.pk}/walk.json", headers={"Authorization": f"Bearer {token}"})
        .json()
    )

    assert data["walk"] == "Section B, from the far end"
    assert data["order"] == [at_peg(match, 4).pk, at_peg(match, 3).pk]
    assert [peg["peg"] for peg in data["pegs"]] == ["1", "2", "3", "4"]
    assert data["pegs"][0]["name"] == "Ray Tolliver"
    assert data["pegs"][0]["figures"][0]["nets"] == [3200]
    assert data["pegs"][0]["figures"][0]["mine"] is False
    assert data["unit"] == "lb-oz"


def test_a_juniors_full_name_does_not_go_to_a_phone(match):
    entry = at_peg(match, 1)
    entry.angler.junior = True
    entry.angler.save()
    _, _, token = come_in(match)

    answer = Client().get(
        f"/scales/{match.pk}/walk.json", headers={"Authorization": f"Bearer {token}"}
    )

    assert b"Tolliver" not in answer.content


def test_a_walk_already_known_is_not_sent_again(match):
    _, _, token = come_in(match)
    headers = {"Authorization": f"Bearer {token}"}
    first = Client().get(f"/scales/{match.pk}/walk.json", headers=headers)

    same = Client().get(
        f"/scales/{match.pk}/walk.json", headers=headers | {"If-None-Match": first["ETag"]}
    )
    post(match, token, [weight(match, 1)])
    changed = Client().get(
        f"/scales/{match.pk}/walk.json", headers=headers | {"If-None-Match": first["ETag"]}
    )

    assert (same.status_code, same.content) == (304, b"")
    assert changed.status_code == 200


def test_the_guard_on_the_phone_is_told_what_is_usual(match):
    _, _, token = come_in(match)

    data = (
        Client()
        .get(f"/scales/{match.pk}/past.json", headers={"Authorization": f"Bearer {token}"})
        .json()
    )

    assert data == {"usual": {"middle": 3.95, "spread": 1.2, "scatter": 0.7}, "forms": {}}


def test_a_phone_comes_in_by_the_secret_in_its_link(match):
    _, secret = make_pass(match, name="Len and Ivy", walk=Walk(), by=None)

    answer = Client(enforce_csrf_checks=True).post(
        f"/scales/{match.pk}/enter/",
        json.dumps({"secret": secret, "name": "Ivy’s phone"}),
        content_type="application/json",
    )

    assert answer.status_code == 200
    assert answer.json()["name"] == "Ivy’s phone"
    assert post(match, answer.json()["token"], [weight(match, 1)]).status_code == 200


def test_a_wrong_secret_is_told_what_to_do(match):
    answer = Client().post(
        f"/scales/{match.pk}/enter/", '{"secret": "x"}', content_type="application/json"
    )

    assert answer.status_code == 403
    assert "Scan the code again" in answer.json()["words"]


def test_the_scalesman_who_is_signed_in_needs_no_pass(match, scalesman):
    answer = scalesman.post(
        f"/scales/{match.pk}/enter/signed-in/", "{}", content_type="application/json"
    )

    post(match, answer.json()["token"], [weight(match, 1)])

    assert WeighIn.objects.get().weighed_by == scalesman.user


def test_another_sites_form_lets_no_phone_in(match, club):
    user = UserFactory(username="ivy")
    give_office(club, user, OfficeName.SCALES)
    client = Client(enforce_csrf_checks=True)
    client.force_login(user)

    answer = client.post(
        f"/scales/{match.pk}/enter/signed-in/", "{}", content_type="application/json"
    )

    assert answer.status_code == 403
    assert not Phone.objects.exists()


def test_a_member_and_a_stranger_let_no_phone_in(match, member, stranger):
    path = f"/scales/{match.pk}/enter/signed-in/"

    assert member.post(path, "{}", content_type="application/json").status_code == 404
    assert stranger.post(path, "{}", content_type="application/json").status_code == 401


def test_a_weight_costs_six_statements_and_the_news_of_the_phone_one_more(
    match, django_assert_num_queries
):
    _, _, token = come_in(match)
    sent = weight(match, 1)
    again = weight(match, 2, seq=1)

    # whose token, begin, hold the peg, its figures, insert, end; the phone: begin, write, end
    with django_assert_num_queries(9):
        post(match, token, [sent], waiting=1, last_seq=1)
    with django_assert_num_queries(6):
        post(match, token, [again], waiting=1, last_seq=1)


def test_a_site_that_cannot_write_refuses_nothing_and_the_phone_keeps_all(match):
    """A full disk, as the database says it: the first insert fails."""
    _, _, token = come_in(match)
    sent = weight(match, 1)

    def full(execute, sql, params, many, context):
        if sql.startswith("INSERT"):
            raise OperationalError("database or disk is full")
        return execute(sql, params, many, context)

    with connection.execute_wrapper(full):
        answer = post(match, token, [sent])
    again = post(match, token, [sent])

    assert answer.status_code == 503
    assert answer.json() == {
        "words": "The site cannot write just now. The weights stay on this phone."
    }
    assert results(again) == ["created"]
