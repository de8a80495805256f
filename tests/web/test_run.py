"""The secretary's screen: one next thing, and every act of the day from booking in to final."""

from __future__ import annotations

import datetime as dt
import uuid

import pytest
from django.test import Client
from django.utils import timezone

from league.models import (
    Act,
    Decision,
    Entry,
    MatchPeg,
    OfficeName,
    Result,
    Section,
    SetAside,
    Stage,
    WeighIn,
)
from league.operations.lineup import book_in
from league.operations.publish import publish
from tests.builders import (
    give_office,
    make_entry,
    make_fished_match,
    make_match,
    make_season,
    make_weigh_in,
)
from tests.factories import AnglerFactory, ClubFactory, PegFactory, UserFactory


def run(match, act: str = "") -> str:
    return f"/matches/{match.pk}/run/{act}"


def said(answer) -> str:
    return " ".join(answer.content.decode().split())


def bank(match, *numbers: str) -> None:
    for order, number in enumerate(numbers, start=100):
        PegFactory(water=match.water, order=order, number=number)


def another_secretary(club) -> Client:
    user = UserFactory(username="deputy")
    give_office(club, user, OfficeName.SECRETARY)
    client = Client()
    client.force_login(user)
    return client


# ---- what comes next


def test_one_next_thing_stands_at_the_top_and_no_other_button_is_orange(secretary, club):
    match = make_match(club, drawn=False)

    shown = said(secretary.get(run(match)))

    assert "<h1>Nobody is booked in for Match</h1>" in shown
    assert shown.count('class="next"') == 1
    assert f'<a class="next" href="{run(match)}#book-in">Book an angler in</a>' in shown


def test_whoever_takes_over_reads_the_same_and_the_journal_says_who_did_what(secretary, club):
    match = make_match(club, drawn=False)
    angler = AnglerFactory(club=club, name="Ray Tolliver")
    secretary.post(run(match, "book-in/"), {"angler": angler.pk})

    deputy = said(another_secretary(club).get(run(match)))

    assert "Ray Tolliver booked in as 1." in deputy
    assert "secretary" in deputy
    assert "<h1>Match is ready to be drawn</h1>" in deputy


def test_the_screen_has_the_newest_dozen_of_the_journal_and_a_page_has_them_all(secretary, club):
    match = make_match(club, drawn=False)
    for number in range(1, 61):
        book_in(match, AnglerFactory(club=club, name=f"Angler {number:02}"), by=secretary.user)

    screen = said(secretary.get(run(match)))
    first = said(secretary.get(run(match, "journal/")))
    second = said(secretary.get(run(match, "journal/?page=2")))

    assert screen.count(" booked in as ") == 12
    assert "The whole journal" in screen
    assert first.count(" booked in as ") == 50
    assert "Page 1 of 2" in first
    assert "Angler 01 booked in as 1." in second
    assert Client().get(run(match, "journal/")).status_code == 302


# ---- the line-up


def test_an_angler_is_booked_in_for_a_team(secretary, club):
    season = make_season(club, teams=["Tannery Lane"])
    match = make_match(club, season=season, drawn=False)
    angler = AnglerFactory(club=club)
    team = season.teams.get()

    answer = secretary.post(
        run(match, "book-in/"), {"angler": angler.pk, "team": team.pk, "reserve": "on"}
    )

    assert answer.url == run(match)
    entry = Entry.objects.get()
    assert (entry.angler, entry.team, entry.reserve) == (angler, team, True)


def test_booked_in_twice_is_refused_in_words_and_the_choice_stays(secretary, club):
    match = make_match(club, drawn=False)
    angler = AnglerFactory(club=club, name="Ray Tolliver")
    make_entry(match, angler=angler)

    answer = secretary.post(run(match, "book-in/"), {"angler": angler.pk, "easy_access": "on"})

    assert answer.status_code == 200
    assert "This angler is already booked in." in said(answer)
    assert f'<option value="{angler.pk}" selected>' in said(answer)
    assert answer.context["book_in"]["easy_access"].value() is True
    assert Entry.objects.count() == 1


def test_nobody_chosen_is_told_in_words(secretary, club):
    match = make_match(club, drawn=False)

    assert "Say who is booked in." in said(secretary.post(run(match, "book-in/"), {}))


def test_an_angler_is_withdrawn_before_the_draw(secretary, club):
    match = make_match(club, drawn=False)
    entry = make_entry(match)

    secretary.post(run(match, f"withdraw/{entry.pk}/"))

    assert list(Entry.objects.of(match)) == []


def test_after_the_draw_withdrawing_is_refused_with_what_to_do(secretary, club):
    match = make_match(club)
    entry = make_entry(match, peg=1)

    answer = secretary.post(run(match, f"withdraw/{entry.pk}/"), follow=True)

    assert "Put the angler down as absent" in said(answer)
    assert list(Entry.objects.of(match)) == [entry]


def test_members_of_a_team_can_change_sections_with_one_another(secretary, club):
    season = make_season(club, teams=["Tannery Lane"])
    match = make_match(club, season=season, sections={"A": 1, "B": 1}, drawn=False)
    a, b = Section.objects.order_by("order")
    team = season.teams.get()
    one = make_entry(match, team=team, section=a, alone_in_section=True)
    two = make_entry(match, team=team, section=b, alone_in_section=True)

    secretary.post(run(match, "places/"), {f"place_{one.pk}": b.pk, f"place_{two.pk}": a.pk})

    one.refresh_from_db()
    two.refresh_from_db()
    assert (one.section, two.section) == (b, a)


def test_two_of_a_team_in_one_section_are_refused_and_nobody_moves(secretary, club):
    season = make_season(club, teams=["Tannery Lane"])
    match = make_match(club, season=season, sections={"A": 1, "B": 1}, drawn=False)
    a, b = Section.objects.order_by("order")
    team = season.teams.get()
    one = make_entry(match, team=team, section=a, alone_in_section=True)
    two = make_entry(match, team=team, section=b, alone_in_section=True)

    answer = secretary.post(
        run(match, "places/"), {f"place_{one.pk}": b.pk, f"place_{two.pk}": b.pk}
    )

    assert "already has" in said(answer)
    one.refresh_from_db()
    assert one.section == a


# ---- pegs and sections


def test_pegs_as_they_are_said_are_cut_into_sections(secretary, club):
    match = make_match(club, drawn=False)
    match.match_pegs.all().delete()
    match.sections.all().delete()
    bank(match, "41", "42", "43", "44", "46")

    answer = secretary.post(run(match, "sections/"), {"pegs": "41-44, not 43, 46", "count": "2"})

    assert answer.url == run(match)
    cut = {
        section.letter: [each.peg.number for each in section.match_pegs.order_by("peg__order")]
        for section in match.sections.all()
    }
    assert cut == {"A": ["41", "42"], "B": ["44", "46"]}


def test_without_a_word_about_pegs_every_usable_one_is_taken(secretary, club):
    match = make_match(club, sections={"A": 2}, drawn=False)
    PegFactory(water=match.water, order=9, number="9", left_out=True, left_out_why="reeds")

    secretary.post(run(match, "sections/"), {"pegs": "", "count": "1"})

    assert [each.peg.number for each in MatchPeg.objects.of(match)] == ["1", "2"]


@pytest.mark.parametrize(
    ("pegs", "count", "words"),
    [
        ("1-2, 77", "1", "has no peg 77. Its pegs run from 1 to 2."),
        ("what?", "1", "&#x27;what?&#x27; is no"),
        ("1-2", "", "Say how many sections there are."),
        ("1-2", "3", "3 sections"),
    ],
)
def test_a_slip_in_the_pegs_is_told_and_the_line_stays(secretary, club, pegs, count, words):
    match = make_match(club, sections={"A": 2}, drawn=False)

    answer = secretary.post(run(match, "sections/"), {"pegs": pegs, "count": count})

    assert answer.status_code == 200
    assert words in said(answer).split('id="pegs"')[1]
    assert words in said(answer).split("<h1>")[0]  # at the top too: the form is far down
    assert answer.context["sections"]["pegs"].value() == pegs
    assert [section.letter for section in match.sections.all()] == ["A"]


# ---- weights put right


def test_two_figures_are_settled_with_a_reason(secretary, club):
    match = make_match(club)
    entry = make_entry(match, peg=1)
    wrong, right = make_weigh_in(entry, "17-13"), make_weigh_in(entry, "17-3")

    answer = secretary.post(run(match, f"settle/{entry.pk}/"), {"keep": right.pk, "why": "Paper."})

    assert answer.url == run(match)
    assert SetAside.objects.get().weigh_in == wrong
    assert Act.objects.on(match).first().by == secretary.user


def test_settling_without_a_reason_keeps_both_and_says_so_at_that_peg(secretary, club):
    match = make_match(club)
    entry = make_entry(match, peg=1)
    make_weigh_in(entry, "17-13")
    right = make_weigh_in(entry, "17-3")

    answer = secretary.post(run(match, f"settle/{entry.pk}/"), {"keep": right.pk, "why": ""})

    assert "Say why: the other figure is kept with its reason." in said(answer)
    assert not SetAside.objects.exists()


def correction(status="weighed", nets=("9-4",), why="Read wrong.", **more) -> dict:
    return {"key": str(uuid.uuid4()), "status": status, "nets": list(nets), "why": why, **more}


def test_a_weight_is_corrected_and_the_old_one_stays_on_record(secretary, club):
    match = make_match(club)
    entry = make_entry(match, peg=1)
    old = make_weigh_in(entry, "9-14")

    answer = secretary.post(run(match, f"correct/{entry.pk}/"), correction())

    assert answer.url == run(match)
    assert SetAside.objects.get().weigh_in == old
    assert WeighIn.objects.standing().get().nets == (9 * 256 + 4 * 16,)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (correction(why=""), "Say what was wrong with the old figure"),
        (correction(nets=("9-99",)), "ounces go from 0 to 15"),
        (correction(nets=("9-14",)), "No other figure stands for this peg"),
    ],
)
def test_a_correction_with_a_slip_changes_nothing_and_keeps_what_was_typed(
    secretary, club, data, words
):
    match = make_match(club)
    entry = make_entry(match, peg=1)
    make_weigh_in(entry, "9-14")

    answer = secretary.post(run(match, f"correct/{entry.pk}/"), data)

    assert answer.status_code == 200
    assert words in said(answer)
    assert [box.typed for box in answer.context["form"].boxes if box.typed] == data["nets"]
    assert answer.context["form"]["why"].value() == data["why"]
    assert WeighIn.objects.count() == 1
    assert not SetAside.objects.exists()


def test_a_correction_over_the_net_limit_is_asked_about_once(secretary, club):
    season = make_season(club, book={"net": {"limit": "40-0"}})
    match = make_match(club, season=season)
    entry = make_entry(match, peg=1)
    make_weigh_in(entry, "9-14")

    asked = secretary.post(run(match, f"correct/{entry.pk}/"), correction(nets=("43-6",)))
    agreed = correction(nets=("43-6",), agreed=asked.context["agrees"])
    answer = secretary.post(run(match, f"correct/{entry.pk}/"), agreed)

    assert "This net is over 40 lb" in said(asked)
    assert answer.url == run(match)


# ---- decisions


def test_a_decision_counts_from_the_next_version_and_can_be_lifted(secretary, club):
    match = make_match(club)
    entry = make_entry(match, peg=1, name="Ray Tolliver")

    secretary.post(
        run(match, "decide/"),
        {"kind": "points", "entry": entry.pk, "points": "2½", "why": "Late to the scales."},
    )
    made = Decision.objects.get()
    shown = said(secretary.get(run(match)))
    secretary.post(run(match, f"lift/{made.pk}/"), {"why": "He was there in time."})

    assert str(made.points) == "5/2"
    assert "Ray Tolliver: " in shown
    assert list(Decision.objects.in_force(match)) == []


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ({"kind": "points", "points": "2", "why": ""}, "Say why: it is printed with the result."),
        ({"kind": "points", "points": "two", "why": "x"}, "is no number of points."),
        ({"kind": "weight", "weight": "1-99", "why": "x"}, "ounces go from 0 to 15"),
        ({"kind": "disqualified", "entry": "", "why": "x"}, "Say which angler"),
    ],
)
def test_a_decision_with_a_slip_is_not_made_and_comes_back_as_typed(secretary, club, data, words):
    match = make_match(club)
    entry = make_entry(match, peg=1)

    answer = secretary.post(run(match, "decide/"), {"entry": entry.pk, **data})

    assert answer.status_code == 200
    assert words in said(answer)
    for name, typed in data.items():
        assert answer.context["decide"][name].value() == typed
    assert not Decision.objects.exists()


# ---- the result


def test_the_result_is_looked_over_and_published(secretary, club):
    match = make_fished_match(club)

    shown = said(secretary.get(run(match, "publish/")))
    answer = secretary.post(run(match, "publish/"), {"correcting": ""})

    assert "Not everybody is weighed" not in shown
    assert answer.url == run(match)
    assert Result.objects.get().version == 1


def test_a_result_with_a_gap_goes_out_only_when_that_is_confirmed(secretary, club):
    match = make_match(club, sections={"A": 2})
    make_weigh_in(make_entry(match, peg=1), "12-8")
    make_entry(match, peg=2, name="Jo Ormesher")

    refused = secretary.post(run(match, "publish/"), {"correcting": ""})
    assert not Result.objects.exists()
    secretary.post(run(match, "publish/"), {"correcting": "", "gaps_confirmed": "on"})

    assert "Peg 2, Jo Ormesher: not weighed yet." in said(refused)
    assert Result.objects.get().document["gaps"] == ["Peg 2, Jo Ormesher: not weighed yet."]


def test_the_second_secretary_is_told_of_the_first_and_keeps_the_reason(secretary, club):
    match = make_fished_match(club)
    publish(match, by=None)
    entry = Entry.objects.of(match).in_booking_order()[0]
    deputy = another_secretary(club)
    secretary.get(run(match, "publish/"))
    deputy.get(run(match, "publish/"))
    make_weigh_in(entry, "13-8")
    SetAside.objects.create(weigh_in=entry.weigh_ins.first(), why="Paper.", at=timezone.now())
    secretary.post(run(match, "publish/"), {"correcting": "1", "why": "Peg 1 read wrong."})

    answer = deputy.post(run(match, "publish/"), {"correcting": "1", "why": "Peg 1, second look."})

    assert "Version 2 was published meanwhile; look again." in said(answer)
    assert 'value="Peg 1, second look."' in said(answer)
    assert '<input type="hidden" name="correcting" value="2">' in said(answer)
    assert Result.objects.count() == 2


def test_a_correction_needs_its_reason(secretary, club):
    match = make_fished_match(club)
    publish(match, by=None)

    answer = secretary.post(run(match, "publish/"), {"correcting": "1", "why": ""})

    assert "Say why the result is corrected: it is printed with it." in said(answer)


def test_before_a_correction_it_says_what_would_change(secretary, club):
    match = make_fished_match(club, weights={"A": ["9-14", "9-8"]})
    publish(match, by=None)
    entry = Entry.objects.of(match).in_booking_order()[0]
    secretary.post(run(match, f"correct/{entry.pk}/"), correction())

    shown = said(secretary.get(run(match, "publish/")))

    assert "9 lb 14 oz becomes 9 lb 4 oz." in shown
    assert "Match has changed since version 1 was published" in said(secretary.get(run(match)))


def test_final_waits_until_objections_are_closed(secretary, club):
    match = make_fished_match(club)
    publish(match, by=None)

    early = secretary.post(run(match, "final/"), follow=True)
    Result.objects.update(objections_until=timezone.now() - dt.timedelta(minutes=1))
    ready = said(secretary.get(run(match)))
    secretary.post(run(match, "final/"))

    assert "Objections are heard until" in said(early)
    assert "<h1>Match is ready to be made final</h1>" in ready
    match.refresh_from_db()
    assert match.stage == Stage.FINAL


# ---- who may


ACTS = ["", "publish/"]
POSTS = ["book-in/", "sections/", "places/", "decide/", "publish/", "final/"]


def test_a_stranger_is_asked_to_sign_in(stranger, club):
    match = make_match(club)

    answers = [stranger.get(run(match, act)) for act in ACTS]
    answers += [stranger.post(run(match, act)) for act in POSTS]

    assert {answer.status_code for answer in answers} == {302}
    assert all(answer.url.startswith("/sign-in/") for answer in answers)


def test_for_every_other_office_the_screen_does_not_exist(scalesman, treasurer, member, club):
    match = make_match(club)
    entry = make_entry(match, peg=1)
    more = [f"withdraw/{entry.pk}/", f"settle/{entry.pk}/", f"correct/{entry.pk}/"]

    for client in (scalesman, treasurer, member):
        assert {client.get(run(match, act)).status_code for act in ACTS} == {404}
        assert {client.post(run(match, act)).status_code for act in POSTS + more} == {404}


def test_the_secretary_of_another_club_finds_nothing(secretary):
    match = make_match(ClubFactory())

    assert secretary.get(run(match)).status_code == 404
    assert secretary.post(run(match, "final/")).status_code == 404


# the session, the member, the match, the entries twice (booked, and along the bank), their
# weigh-ins and who weighed, the pegs and the bank, the results, the decisions
# in force, the sections, the offices; the journal; anglers to book in, and entries to decide about
@pytest.mark.parametrize("anglers", [3, 30])
def test_the_screen_asks_the_same_questions_however_many_anglers(
    secretary, club, anglers, django_assert_num_queries
):
    match = make_match(club, sections={"A": anglers})
    for number in range(anglers):
        entry = make_entry(match, peg=number + 1)
        make_weigh_in(entry, "1-0", weighed_by=secretary.user)
        make_weigh_in(entry, "1-1", weighed_by=secretary.user)

    with django_assert_num_queries(26):
        secretary.get(run(match))
