"""A match's own page: the order of the day, who is where, what to take care of."""

from __future__ import annotations

import datetime as dt
from io import BytesIO

import pdfplumber
import pytest
from django.test import Client

from league.models import MatchPeg, Peg, SquadMember
from league.operations.draw import draw_match
from league.operations.season import cancel_match
from tests.builders import make_entry, make_match, make_season, make_weigh_in
from tests.factories import AnglerFactory, PegFactory, SectionFactory, TeamFactory


def page(client: Client, match) -> str:
    answer = client.get(f"/matches/{match.pk}/")
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def test_anybody_reads_who_is_on_which_peg(stranger, club):
    season = make_season(club, teams=["Tannery Lane"], planned_rounds=7)
    match = make_match(club, season=season, sections={"A": 2}, round=6)
    captain = make_entry(match, peg=1, name="Ray Tolliver", team=season.teams.get())
    SquadMember.objects.create(team=captain.team, angler=captain.angler, captain=True)
    make_entry(match, peg=2, name="Della Scarth", reserve=True)

    shown = page(stranger, match)

    assert f"{season.league.name}, round 6 of 7" in shown
    assert f"{match.water.name}, Sunday 24 January 2027" in shown
    assert "Ray Tolliver<small>Tannery Lane, captain</small>" in shown
    assert "Della Scarth<small>reserve</small>" in shown
    assert "Peg 1, section A: Ray Tolliver, Tannery Lane." in shown  # the drawing, in words


def test_before_the_draw_it_says_so_and_lists_who_is_booked_in(stranger, club):
    match = make_match(club, drawn=False, draw_at=dt.time(8, 30))
    make_entry(match, name="Ray Tolliver", easy_access=True)

    shown = page(stranger, match)

    assert "Not drawn yet. The draw is on Sunday 24 January at 08:30." in shown
    assert "Ray Tolliver" in shown
    assert "needs an easy-access peg" in shown


def test_nobody_booked_in_is_said_in_words(stranger, club):
    match = make_match(club, drawn=False)

    assert "Nobody is booked in yet." in page(stranger, match)


def test_whoever_is_signed_in_reads_their_own_peg_first(member, club):
    match = make_match(club, sections={"C": 3})
    make_entry(match, peg=1, name="Pete Brackwell")
    mine = AnglerFactory(club=club, name="Jo Ormesher", user=member.user)
    make_entry(match, peg=2, angler=mine)
    make_entry(match, peg=3, name="Colin Thurkettle")

    shown = page(member, match)

    assert "Jo Ormesher, you drew peg 2" in shown
    assert "Pete Brackwell is on 1 and Colin Thurkettle is on 3." in shown


def test_a_juniors_full_name_is_nowhere_on_the_page(stranger, club):
    match = make_match(club, sections={"A": 1})
    junior = AnglerFactory(club=club, name="Tom Kirkstall", junior=True)
    make_entry(match, peg=1, angler=junior)

    shown = page(stranger, match)

    assert "Tom K. (junior)" in shown
    assert "Kirkstall" not in shown


def test_pegs_left_out_and_hazards_are_told_peg_by_peg(stranger, club):
    match = make_match(club, sections={"A": 1})
    water = match.water
    PegFactory(
        water=water,
        order=2,
        number="2",
        left_out=True,
        left_out_why="reed bed",
        hazards="Overhead power line",
    )
    far = PegFactory(water=water, order=3, number="3", hazards="Steep bank")
    MatchPeg.objects.create(match=match, section=match.sections.get(), peg=far)
    make_entry(match, peg=1)

    shown = page(stranger, match)

    assert "Left out: 2 (reed bed)." in shown
    assert "Peg 2: Overhead power line." in shown
    assert "Peg 3: Steep bank." in shown


def test_a_peg_closed_on_the_morning_is_told_as_left_out(stranger, club):
    match = make_match(club, sections={"A": 3})
    make_entry(match, peg=1)
    closed = MatchPeg.objects.of(match)[1]
    closed.closed_why = "bank gave way"
    closed.save()

    assert "Left out: 2 (bank gave way)." in page(stranger, match)


def test_venue_rules_and_the_law_come_before_every_other_caution(stranger, club):
    match = make_match(club)
    match.water.venue.rules = "Barbless hooks only."
    match.water.venue.save()

    shown = page(stranger, match)

    places = [
        shown.index(words)
        for words in (
            "venue’s rules, local codes and the law come first",
            "Barbless hooks only.",
            "overhead lines",
            "thunder",
            "disease",
        )
    ]
    assert places == sorted(places)


def test_the_net_limit_of_the_league_stands_with_the_cautions(stranger, club):
    season = make_season(club, book={"net": {"limit": "40-0"}})
    match = make_match(club, season=season)

    assert 'Net limit <span class="wt">40 lb</span> a net.' in page(stranger, match)


def test_the_scales_progress_is_in_the_order_of_the_day(stranger, club):
    match = make_match(club, sections={"A": 3})
    first, second, _ = [make_entry(match, peg=peg) for peg in (1, 2, 3)]
    make_weigh_in(first, "12-8")
    make_weigh_in(second, "4-0")
    make_weigh_in(second, "4-1")

    assert "2 of 3 pegs weighed. In question: peg 2." in page(stranger, match)


def test_a_cancelled_match_says_so_and_why_and_promises_nothing(stranger, club):
    match = make_match(club, drawn=False)
    cancel_match(match, why="The bank is flooded.", by=None)

    shown = page(stranger, match)

    assert "This match is cancelled." in shown
    assert "The bank is flooded." in shown
    assert "Order of the day" not in shown
    assert "booked in" not in shown


def test_a_private_clubs_match_asks_a_stranger_to_sign_in(stranger, member, club):
    club.public = False
    club.save()
    match = make_match(club)

    assert stranger.get(f"/matches/{match.pk}/").status_code == 302
    assert member.get(f"/matches/{match.pk}/").status_code == 200


def test_a_match_that_is_not_there_is_a_404(stranger, club):
    assert stranger.get("/matches/4711/").status_code == 404


@pytest.mark.parametrize("sheet", ["draw-sheet", "weigh-sheet"])
def test_the_sheets_of_the_bank_carry_every_peg_and_the_cautions(stranger, club, sheet):
    match = make_match(club, sections={"A": 2})
    make_entry(match, peg=1, name="Ray Tolliver")
    make_entry(match, peg=2, name="Della Scarth")

    answer = stranger.get(f"/matches/{match.pk}/{sheet}.pdf")

    assert answer["Content-Type"] == "application/pdf"
    with pdfplumber.open(BytesIO(answer.content)) as pdf:
        printed = " ".join(page.extract_text() for page in pdf.pages)
    for words in ("Ray Tolliver", "Della Scarth", "24 January 2027", "Venue"):
        assert words.lower() in printed.lower()


def test_the_weigh_sheet_says_which_pegs_the_walk_goes_past(stranger, club):
    match = make_match(club, sections={"A": 3})
    make_entry(match, peg=1)
    make_entry(match, peg=3)
    MatchPeg.objects.of(match).filter(peg__number="2").update(closed_why="overhead power line")

    answer = stranger.get(f"/matches/{match.pk}/weigh-sheet.pdf")

    with pdfplumber.open(BytesIO(answer.content)) as pdf:
        assert "Peg 2 left out: overhead power line." in pdf.pages[0].extract_text()


@pytest.mark.parametrize("sheet", ["draw-sheet", "weigh-sheet"])
def test_there_is_no_sheet_before_the_draw(stranger, club, sheet):
    match = make_match(club, drawn=False)

    assert stranger.get(f"/matches/{match.pk}/{sheet}.pdf").status_code == 404


# the match, its pegs and its bank (for the page and again for the strip), the entries twice
# (booked, and along the bank), their weigh-ins, the result, the draw
@pytest.mark.parametrize("anglers", [3, 30])
def test_the_page_asks_the_same_questions_however_many_anglers(
    stranger, club, anglers, django_assert_num_queries
):
    match = make_match(club, sections={"A": anglers})
    season = make_season(club)
    for peg in Peg.objects.along(match.water):
        team = TeamFactory(season=season)
        entry = make_entry(match, peg=peg.number, team=team)
        make_weigh_in(entry, "1-0")
    SectionFactory(match=match, letter="B", order=2)

    with django_assert_num_queries(10):
        page(stranger, match)


def test_a_season_of_one_round_is_not_round_1_of_1(stranger, club):
    season = make_season(club, planned_rounds=1)
    match = make_match(club, season=season, name="Team day")

    shown = page(stranger, match)

    assert f"{season.league.name}, Team day" in shown
    assert "of 1" not in shown


def test_a_draw_made_on_another_day_says_which(stranger, club):
    for day, words in ((24, "Done 08:41."), (23, "Done Saturday 23 January, 08:41.")):
        match = make_match(club, drawn=False)  # Sunday 24 January 2027
        make_entry(match, name="Ray Tolliver", section=match.sections.get())
        draw_match(match, by=None, at=dt.datetime(2027, 1, day, 8, 41, tzinfo=dt.UTC))

        assert words in page(stranger, match)


def test_many_pegs_fold_into_rows_so_that_no_name_lies_on_another(stranger, club):
    match = make_match(club, sections=dict.fromkeys("ABCD", 12))
    for peg in range(1, 49):
        make_entry(match, peg=peg)

    shown = page(stranger, match)

    assert "sections A and B, pegs 1 to 24" in shown
    assert "sections C and D, pegs 25 to 48" in shown


@pytest.mark.parametrize("sheet", ["peg-tickets", "captains-cards", "peg-plan"])
def test_paper_for_the_draw_is_the_secretarys_and_needs_pegs(secretary, stranger, club, sheet):
    season = make_season(club, teams=["Tannery Lane"])
    match = make_match(club, season=season, sections={"A": 2}, drawn=False)
    bare = make_match(club, season=season, drawn=False)
    MatchPeg.objects.filter(match=bare).delete()

    answer = secretary.get(f"/matches/{match.pk}/{sheet}.pdf")

    assert answer.headers["Content-Type"] == "application/pdf"
    with pdfplumber.open(BytesIO(answer.content)) as pdf:
        assert match.water.name in " ".join(p.extract_text() for p in pdf.pages)
    assert stranger.get(f"/matches/{match.pk}/{sheet}.pdf").status_code == 302
    assert secretary.get(f"/matches/{bare.pk}/{sheet}.pdf").status_code == 404


def test_team_cards_have_the_drawn_pegs_and_no_juniors_full_name(stranger, club):
    season = make_season(club, teams=["Tannery Lane"])
    match = make_match(club, season=season, sections={"A": 2})
    junior = AnglerFactory(club=club, name="Tom Kettleby", junior=True)
    make_entry(match, peg=2, team=season.teams.get(), angler=junior)

    answer = stranger.get(f"/matches/{match.pk}/team-cards.pdf")

    with pdfplumber.open(BytesIO(answer.content)) as pdf:
        words = " ".join(p.extract_text() for p in pdf.pages)
    assert "Tannery Lane" in words
    assert "Tom K." in words
    assert "Kettleby" not in words
