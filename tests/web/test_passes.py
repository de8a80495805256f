"""The secretary's page of passes, phones and the board."""

from __future__ import annotations

import datetime as dt
import json
import re
from io import BytesIO

import pytest
import zxingcpp
from django.test import Client
from PIL import Image, ImageDraw
from pypdf import PdfReader

from league.models import Phone, ScalesPass
from league.operations.passes import let_in, make_pass
from league.operations.receive import heard_from
from league.rules.walks import Walk
from tests.builders import make_entry, make_match


@pytest.fixture
def match(club):
    match = make_match(club, sections={"A": 2, "B": 2})
    for peg in (1, 2, 3, 4):
        make_entry(match, peg=peg)
    return match


def page(match) -> str:
    return f"/scales/{match.pk}/passes/"


def said(answer) -> str:
    return " ".join(answer.content.decode().split())


def read_code(html: str) -> str:
    """Paint the drawn squares and read them with an independent library."""
    size = int(re.search(r'class="code" viewBox="0 0 (\d+)', html)[1])
    picture = Image.new("L", (size * 8, size * 8), 255)
    ink = ImageDraw.Draw(picture)
    for x, y in re.findall(r"M(\d+) (\d+)h1v1h-1z", html):
        left, top = int(x) * 8, int(y) * 8
        ink.rectangle((left, top, left + 7, top + 7), fill=0)
    [found] = zxingcpp.read_barcodes(picture)
    return found.text


def test_a_new_pass_shows_its_code_once_and_the_code_opens_the_scales(secretary, match):
    answer = secretary.post(page(match), {"name": "Len and Ivy", "sections": ["B"]})

    html = answer.content.decode()
    link = read_code(html)
    assert f'value="{link}"' in html
    address, _, secret = link.partition("#pass=")
    assert address == f"http://testserver/scales/{match.pk}/phone/"
    entered = Client().post(
        f"/scales/{match.pk}/enter/",
        json.dumps({"secret": secret}),
        content_type="application/json",
    )
    assert entered.status_code == 200
    assert "no-store" in answer["Cache-Control"]
    assert secret not in secretary.get(page(match)).content.decode()


def test_a_walk_is_sections_or_a_run_of_pegs(secretary, match):
    secretary.post(page(match), {"name": "Len", "first": "2", "last": "4", "backwards": "on"})

    assert ScalesPass.objects.get().walk == {
        "sections": [],
        "first": "2",
        "last": "4",
        "backwards": True,
    }
    assert "Pegs 2 to 4, from 4 down" in said(secretary.get(page(match)))


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ({}, "Say whose walk it is, for instance Len and Ivy."),
        ({"name": "Len", "sections": ["A"], "first": "1"}, "Tick sections or name a run of pegs"),
        ({"name": "Len", "first": "1"}, "A run of pegs has a first and a last."),
        ({"name": "Len", "first": "1", "last": "9"}, "There is no peg 9 on this bank"),
    ],
)
def test_a_slip_is_said_and_makes_no_pass(secretary, match, data, words):
    assert words in said(secretary.post(page(match), data))
    assert not ScalesPass.objects.exists()


def test_a_pass_is_taken_back_and_a_phone_stopped(secretary, match):
    scales_pass, secret = make_pass(match, name="Len", walk=Walk(), by=None)
    phone, _ = let_in(match.pk, secret, name="Ivy’s phone")

    secretary.post(f"/scales/{match.pk}/phones/{phone.pk}/stop/")
    answer = secretary.post(f"/scales/{match.pk}/passes/{scales_pass.pk}/take-back/", follow=True)
    again = secretary.post(f"/scales/{match.pk}/passes/{scales_pass.pk}/take-back/", follow=True)

    assert "Len can send no more. What they sent stays." in said(answer)
    assert "was taken back already" in said(again)
    assert Phone.objects.get().revoked_at is not None


def test_a_phone_says_what_somebody_should_know_of_it(secretary, match):
    _, secret = make_pass(match, name="Len", walk=Walk(), by=None)
    phone, _ = let_in(match.pk, secret, name="Ivy’s phone")
    heard_from(phone, waiting=2, skew=90_000, last_seq=9)

    shown = said(secretary.get(page(match)))

    assert "Said it had 2 still to send." in shown
    assert "9 of its 9 entries have not come in." in shown
    assert "Its clock is wrong" in shown


def test_a_pair_has_a_weigh_sheet_of_its_own_walk_in_its_order(secretary, match):
    scales_pass, _ = make_pass(match, name="Len", walk=Walk(("B",), backwards=True), by=None)

    answer = secretary.get(f"/matches/{match.pk}/weigh-sheet.pdf?pass={scales_pass.pk}")

    text = "".join(page.extract_text() for page in PdfReader(BytesIO(answer.content)).pages)
    third, fourth = (
        match.entries.get(match_peg__peg__number=peg).angler.name for peg in ("3", "4")
    )
    assert "Section B, from the far end." in text
    assert text.index(fourth) < text.index(third)
    assert match.entries.get(match_peg__peg__number="1").angler.name not in text
    links = [
        link.get_object()["/A"]["/URI"]
        for page in PdfReader(BytesIO(answer.content)).pages
        for link in page.get("/Annots", [])
    ]
    assert any("/phone/#peg=" in link for link in links)


def test_a_pass_of_another_match_makes_no_sheet(secretary, match, club):
    other = make_match(club, date=dt.date(2027, 3, 7))
    make_entry(other, peg=other.match_pegs.first().peg.number)
    scales_pass, _ = make_pass(other, name="Len", walk=Walk(), by=None)

    assert (
        secretary.get(f"/matches/{match.pk}/weigh-sheet.pdf?pass={scales_pass.pk}").status_code
        == 404
    )


@pytest.mark.parametrize("who", ["scalesman", "member"])
def test_only_the_secretary_makes_passes(request, match, who):
    client = request.getfixturevalue(who)

    assert client.get(page(match)).status_code == 404
    assert client.post(page(match), {"name": "Len"}).status_code == 404


def test_a_stranger_is_asked_to_sign_in(stranger, match):
    assert stranger.get(page(match)).status_code == 302


def test_one_clubs_secretary_does_not_reach_anothers_passes(secretary):
    elsewhere = make_match()

    assert secretary.get(page(elsewhere)).status_code == 404


def test_the_phones_page_holds_nobody_and_nothing(stranger, match, django_assert_num_queries):
    answer = stranger.get(f"/scales/{match.pk}/phone/")

    assert answer.status_code == 200
    assert answer["X-Drawbag-Page"] == "scales"
    for entry in match.entries.select_related("angler"):
        assert entry.angler.name not in answer.content.decode()


def test_the_worker_and_the_manifest_keep_to_one_match(stranger, match):
    worker = stranger.get("/scales/worker.js")
    manifest = stranger.get(f"/scales/{match.pk}/scales.webmanifest").json()

    assert worker["Content-Type"].startswith("text/javascript")
    assert worker["Cache-Control"] == "no-cache"
    assert b"scales_queue.js" in worker.content
    assert manifest["scope"] == f"/scales/{match.pk}/"
    assert manifest["start_url"] == f"/scales/{match.pk}/phone/"
    assert b"&" not in worker.content.split(b"importScripts")[0].replace(b"&&", b"")
