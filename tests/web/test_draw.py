"""The draw on the bank: frozen, called, drawn, turned, checked; nobody twice, nobody unseen."""

from __future__ import annotations

import datetime as dt
import json

import pytest
from django.test import Client
from django.utils import timezone

from league.files.draw import read_record
from league.models import DrawEvent, DrawRecord, Entry, OfficeName, Stage
from league.operations.draw import draw_by_hand, draw_match, freeze
from league.rules.draw import Sheet
from tests.builders import give_office, make_entry, make_match, make_season
from tests.factories import AnglerFactory, ClubFactory, UserFactory

SECRET = "6f223adf4c1491f17bae5b6645854a417f21296a5b5a34ed0cdab055373dc868"


def scene(club, *, pegs: int = 2):
    """Two teams with a member in each of two sections, booked in and not drawn."""
    season = make_season(club, teams=["Tannery Lane", "Old Quarry"])
    match = make_match(club, season=season, sections={"A": pegs, "B": pegs}, drawn=False)
    names = iter(["Ray Tolliver", "Dave Scrimshire", "Jo Ormesher", "Colin Thurkettle"])
    for section in match.sections.all():
        for team in season.teams.order_by("pk"):
            make_entry(match, name=next(names), team=team, section=section, alone_in_section=True)
    return match


def draw(match, act: str = "") -> str:
    return f"/matches/{match.pk}/draw/{act}"


def said(answer) -> str:
    return " ".join(answer.content.decode().split())


def pegs_of(match) -> dict[str, str]:
    entries = Entry.objects.of(match).in_peg_order()
    return {entry.angler.name: entry.match_peg.peg.number for entry in entries}


def test_before_the_draw_everybody_reads_when_it_is(stranger, club):
    match = scene(club)

    shown = said(stranger.get(draw(match)))

    assert "Not drawn yet" in shown
    assert "4 booked in, 4 pegs in the sections." in shown
    assert "<form" not in shown.split("<main")[1].split("</main>")[0]


def test_what_stands_in_the_way_is_told_before_anything_is_frozen(secretary, club):
    match = scene(club)
    AnglerFactory(club=club)
    make_entry(match, name="Sue Hadlowe")  # without a section

    shown = said(secretary.get(draw(match)))

    assert "Not everybody has a section." in shown
    assert "To the line-up and the pegs" in shown


def test_freezing_publishes_the_sheet_and_the_locked_secret_before_any_number(
    secretary, stranger, club
):
    match = scene(club)

    answer = secretary.post(draw(match, "freeze/"), {"caller_1": "1", "caller_2": "2"})

    assert answer.url == draw(match)
    record = DrawRecord.objects.get()
    shown = said(stranger.get(draw(match)))
    assert "The draw sheet is frozen" in shown
    assert "Numbers are called by Ray Tolliver, Dave Scrimshire." in shown
    assert record.commitment in shown
    assert "callers=1.2." in shown
    assert not DrawEvent.objects.exists()


def test_a_frozen_sheet_is_frozen_once_and_the_second_secretary_is_told(secretary, club):
    match = scene(club)
    freeze(match, callers=[1, 2], by=None)

    answer = secretary.post(draw(match, "freeze/"), {"caller_1": "3"}, follow=True)

    assert "The draw sheet is frozen already; look again." in said(answer)
    assert "callers=1.2." in DrawRecord.objects.get().sheet


def test_numbers_are_kept_as_they_come_and_another_device_goes_on(secretary, club):
    match = scene(club)
    freeze(match, callers=[1, 2], by=None)

    half = secretary.post(draw(match, "calls/"), {"call_1": "4071", "call_2": ""}, follow=True)
    deputy = UserFactory()
    give_office(club, deputy, OfficeName.SECRETARY)
    other = Client()
    other.force_login(deputy)
    shown = said(other.get(draw(match)))

    assert "Taken down. Still to call: Dave Scrimshire, Old Quarry." in said(half)
    assert 'name="call_1" value="4071"' in shown
    assert pegs_of(match) == {}


def test_with_the_last_number_everybody_has_a_peg_and_the_cards_are_face_down(secretary, club):
    match = scene(club)
    freeze(match, callers=[1, 2], by=None)

    answer = secretary.post(draw(match, "calls/"), {"call_1": "4071", "call_2": "-"})

    assert answer.url == draw(match)
    assert sorted(pegs_of(match).values()) == ["1", "2", "3", "4"]
    assert DrawEvent.objects.get().calls == {"1": 4071, "2": None}
    shown = said(secretary.get(answer.url))
    assert "0 turned, 4 still face down" in shown
    assert "Turn Tannery Lane’s card" in shown


@pytest.mark.parametrize("typed", ["10000", "-3", "seven", "4.5"])
def test_what_is_no_call_is_told_in_words_and_stays_in_its_box(secretary, club, typed):
    match = scene(club)
    freeze(match, callers=[1, 2], by=None)

    answer = secretary.post(draw(match, "calls/"), {"call_1": typed, "call_2": "12"})

    assert f"&#x27;{typed}&#x27; is no call. Type a whole number from 0 to 9999" in said(answer)
    assert f'name="call_1" value="{typed}"' in said(answer)
    assert 'name="call_2" value="12"' in said(answer)
    assert not DrawEvent.objects.exists()


def test_pressed_twice_it_is_drawn_once(secretary, club):
    match = scene(club)
    freeze(match, callers=[1, 2], by=None)
    calls = {"call_1": "4071", "call_2": "12"}
    secretary.post(draw(match, "calls/"), calls)
    pegs = pegs_of(match)

    answer = secretary.post(draw(match, "calls/"), {"call_1": "1", "call_2": "1"}, follow=True)

    assert "The pegs are drawn already. These are they." in said(answer)
    assert pegs_of(match) == pegs
    assert DrawEvent.objects.count() == 1


def test_cards_are_turned_one_after_another_by_a_plain_link(stranger, club):
    match = scene(club)
    draw_match(match, calls={1: 4071, 2: 12}, by=None, secret=SECRET)
    pegs = pegs_of(match)

    shown = said(stranger.get(f"{draw(match)}?turned=1"))

    assert "1 turned, 3 still face down" in shown
    assert f'<p class="number">{pegs["Ray Tolliver"]}</p>' in shown
    assert 'href="?turned=2"' in shown
    assert "Turn Old Quarry’s card" in shown
    for other in ("Dave Scrimshire", "Jo Ormesher", "Colin Thurkettle"):
        assert other not in shown


def called(secretary, match) -> None:
    """Frozen and drawn on the bank, the cards face down."""
    freeze(match, callers=[1, 2], by=None)
    secretary.post(draw(match, "calls/"), {"call_1": "4071", "call_2": "12"})


def test_pegs_come_out_for_everybody_as_their_cards_are_turned(secretary, stranger, club):
    match = scene(club)
    called(secretary, match)
    pegs = pegs_of(match)
    pages = [f"/matches/{match.pk}/", draw(match)]
    none = [said(stranger.get(page)) for page in pages]

    secretary.post(draw(match, "turn/"), {"up_to": "1"})
    one = [said(stranger.get(page)) for page in pages]
    secretary.post(draw(match, "turn/"), {"up_to": "all"})
    every = [said(stranger.get(page)) for page in pages]

    assert all("Ray Tolliver" not in page and "Jo Ormesher" not in page for page in none)
    assert "The cards are being turned: 0 of 4 are face up." in none[0]
    assert f'<b class="n">{pegs["Ray Tolliver"]}</b>' in one[0]
    assert f'<p class="number">{pegs["Ray Tolliver"]}</p>' in one[1]
    assert all("Jo Ormesher" not in page for page in one)
    assert "1 of 4 are face up." in one[0]
    assert "1 card of 4 is turned" not in every[1]
    assert all("Jo Ormesher" in page for page in every)
    assert "4 pegs drawn." in every[0]


def test_the_check_page_names_no_peg_whose_card_is_still_face_down(secretary, stranger, club):
    match = scene(club)
    called(secretary, match)

    shown = said(stranger.get(draw(match, "check/")))

    assert "0 cards of 4 are turned." in shown
    assert "Jo Ormesher" not in shown


def test_cards_turned_twice_or_on_two_devices_are_never_turned_back(secretary, club):
    match = scene(club)
    called(secretary, match)

    for up_to in ("2", "1", "2"):
        secretary.post(draw(match, "turn/"), {"up_to": up_to})
    other = Client()
    deputy = UserFactory()
    give_office(club, deputy, OfficeName.SECRETARY)
    other.force_login(deputy)
    shown = said(other.get(draw(match)))

    assert "2 turned, 2 still face down" in shown
    assert 'name="up_to" value="3"' in shown


def test_a_late_entry_shows_every_card_before_it_changes_the_draw(secretary, stranger, club):
    match = scene(club, pegs=3)
    called(secretary, match)
    late = AnglerFactory(club=club, name="Sue Hadlowe")
    section = match.sections.get(letter="A")

    secretary.post(f"/matches/{match.pk}/run/book-in/", {"angler": late.pk, "section": section.pk})

    assert DrawEvent.objects.get(number=1).turned is None
    assert "All 4 cards turned" in said(stranger.get(draw(match)))


@pytest.mark.parametrize("up_to", ["", "many", "-1", "9" * 30, "4711"])
def test_a_number_of_cards_that_makes_no_sense_turns_them_all(secretary, club, up_to):
    match = scene(club)
    called(secretary, match)

    secretary.post(draw(match, "turn/"), {"up_to": up_to})

    assert "All 4 cards turned" in said(secretary.get(draw(match)))


def test_there_are_no_cards_before_the_draw(secretary, club):
    match = scene(club)

    answer = secretary.post(draw(match, "turn/"), {"up_to": "1"}, follow=True)

    assert "The pegs are not drawn yet, so there are no cards to turn." in said(answer)


def test_all_cards_are_turned_where_the_address_says_nothing(stranger, club):
    match = scene(club)
    draw_match(match, calls={1: 4071, 2: 12}, by=None)

    shown = said(stranger.get(draw(match)))

    assert "All 4 cards turned" in shown
    assert "Colin Thurkettle" in shown


@pytest.mark.parametrize("turned", ["-1", "many", "4711", "9" * 30])
def test_an_address_that_makes_no_sense_turns_them_all(stranger, club, turned):
    match = scene(club)
    draw_match(match, calls={1: 4071, 2: 12}, by=None)

    assert "All 4 cards turned" in said(stranger.get(draw(match), {"turned": turned}))


def test_the_check_page_carries_everything_that_was_published(stranger, club):
    match = scene(club)
    draw_match(match, calls={1: 4071, 2: None}, by=None)
    record, event = DrawRecord.objects.get(), DrawEvent.objects.get()

    shown = said(stranger.get(draw(match, "check/")))

    for published in (record.commitment, event.seed, "call=1|4071.", "did not call"):
        assert published in shown
    assert "could try numbers until one suits" in shown


def test_the_record_is_a_file_that_the_checker_accepts(stranger, club):
    match = scene(club)
    draw_match(match, calls={1: 4071, 2: 12}, by=None)

    answer = stranger.get(draw(match, "record.json"))

    assert answer["Content-Type"] == "application/json"
    record = read_record(answer.content.decode())
    [outcome] = record.outcomes()
    assert {record.names[no]: str(peg) for no, peg in outcome.pegs.items()} == pegs_of(match)


def test_a_draw_in_one_go_makes_no_claim_that_the_sheet_came_first(stranger, secretary, club):
    together, before = scene(club), scene(club)
    draw_match(together, calls={1: 4071, 2: 12}, by=None)
    earlier = timezone.now() - dt.timedelta(minutes=5)
    freeze(before, callers=[1, 2], by=None, at=earlier)
    secretary.post(draw(before, "calls/"), {"call_1": "4071", "call_2": "12"})
    caveat = "it does not show by itself that it came first"

    assert caveat in said(stranger.get(draw(together, "check/")))
    assert caveat not in said(stranger.get(draw(before, "check/")))


def test_a_draw_from_a_real_bag_claims_nothing(stranger, club):
    match = scene(club)
    draw_by_hand(match, {1: "2", 2: "1", 3: "4", 4: "3"}, by=None)

    shown = said(stranger.get(draw(match, "check/")))

    assert "Drawn by hand" in shown
    assert "this page makes no claim" in shown
    assert "Work it out here" not in shown


def test_without_numbers_called_the_page_says_so(stranger, club):
    match = scene(club)
    draw_match(match, by=None)

    assert "No numbers were called." in said(stranger.get(draw(match, "check/")))


def test_an_event_given_up_keeps_its_number_and_stays_listed(secretary, stranger, club):
    match = scene(club)
    freeze(match, callers=[1, 2], by=None)
    secretary.post(draw(match, "calls/"), {"call_1": "4071", "call_2": ""})

    missing = secretary.post(draw(match, "give-up/"), {"why": ""})
    secretary.post(draw(match, "give-up/"), {"why": "The projector failed."})
    secretary.post(draw(match, "calls/"), {"call_1": "1", "call_2": "2"})

    assert "Say why it is given up" in said(missing)
    shown = said(stranger.get(draw(match, "check/")))
    assert "Begun, and not finished" in shown
    assert "The projector failed." in shown
    assert [event.number for event in DrawEvent.objects.all()] == [1, 2]


def test_a_frozen_sheet_can_be_opened_again_with_a_reason(secretary, club):
    match = scene(club)
    freeze(match, callers=[1, 2], by=None)

    missing = secretary.post(draw(match, "open/"), {"why": ""})
    secretary.post(draw(match, "open/"), {"why": "Ray rang in ill."})

    assert "Say why the draw sheet is opened again." in said(missing)
    assert DrawRecord.objects.get().frozen_at is None


def test_a_late_entry_draws_from_what_is_left_with_new_numbers(secretary, club):
    match = scene(club, pegs=3)
    draw_match(match, calls={1: 4071, 2: 12}, by=None)
    before = pegs_of(match)
    late = AnglerFactory(club=club, name="Sue Hadlowe")
    section = match.sections.get(letter="A")

    secretary.post(f"/matches/{match.pk}/run/book-in/", {"angler": late.pk, "section": section.pk})
    asked = said(secretary.get(draw(match)))
    secretary.post(draw(match, "calls/"), {"call_1": "5", "call_2": "-"})

    assert "A late entry draws" in asked
    after = pegs_of(match)
    assert {name: peg for name, peg in after.items() if name != "Sue Hadlowe"} == before
    assert after["Sue Hadlowe"] in {"1", "2", "3"} - set(before.values())


def test_a_match_without_a_draw_has_nothing_to_check(stranger, club):
    match = scene(club)

    assert stranger.get(draw(match, "check/")).status_code == 404
    assert stranger.get(draw(match, "record.json")).status_code == 404


POSTS = ["freeze/", "open/", "calls/", "turn/", "give-up/"]


def test_only_the_secretary_of_the_club_may_draw(stranger, scalesman, member, secretary, club):
    match = scene(club)
    elsewhere = scene(ClubFactory())

    for act in POSTS:
        assert stranger.post(draw(match, act)).url.startswith("/sign-in/")
        for client in (scalesman, member):
            assert client.post(draw(match, act)).status_code == 404
        assert secretary.post(draw(elsewhere, act)).status_code == 404
    match.refresh_from_db()
    assert match.stage == Stage.PLANNED


def test_the_secret_is_on_no_page_before_it_is_revealed(secretary, club):
    match = scene(club)
    freeze(match, callers=[1, 2], by=None)
    secretary.post(draw(match, "calls/"), {"call_1": "4071", "call_2": ""})
    pages = [draw(match), draw(match, "check/"), draw(match, "record.json")]
    before = [secretary.get(page).content.decode() for page in pages]

    secretary.post(draw(match, "calls/"), {"call_1": "4071", "call_2": "12"})

    revealed = json.loads(secretary.get(draw(match, "record.json")).content)
    reveal = revealed["events"][0]["text"].split("reveal=")[1].strip()
    assert len(reveal) == 64
    assert all(reveal not in page for page in before)


# the match, the draw, the entries along the bank, their weigh-ins, its pegs and its bank
@pytest.mark.parametrize("pegs", [3, 30])
def test_the_cards_ask_the_same_questions_however_many_there_are(
    stranger, club, pegs, django_assert_num_queries
):
    match = make_match(club, sections={"A": pegs})
    for number in range(pegs):
        make_entry(match, peg=number + 1)

    with django_assert_num_queries(6):
        stranger.get(draw(match))


def test_the_recipe_is_public_and_names_every_format_and_the_checker(db):
    shown = said(Client().get("/draw-recipe/"))

    for tag in ("PEGCHAIN/1", "PEGSHEET/1", "PEGDRAW/1"):
        assert tag in shown
    assert "league/check_draw.py" in shown
    assert "late=13|TAN|A|0 redraw=B unsafe=7" in shown


def test_the_sheet_on_the_recipe_page_is_one_that_a_draw_could_have_published(db):
    page = Client().get("/draw-recipe/").content.decode()
    text = "PEGSHEET/1" + page.split('<pre class="tape">PEGSHEET/1')[1].split("</pre>")[0]

    assert Sheet.parse(text).text == text
