"""A season set up on its pages: by its secretary, from lists, with nothing typed lost."""

from __future__ import annotations

import datetime as dt
import re

import pytest

from league.files import rulebook
from league.models import Angler, Match, Season, SquadMember, Stage, Team
from league.operations.publish import publish
from league.operations.score import book_of, book_of_season
from league.operations.waters import change_water, make_water, take_out
from league.rules.bank import parse_pegs
from league.rules.books import READY_MADE
from tests.builders import make_fished_match, make_match, make_season
from tests.factories import AnglerFactory, ClubFactory, VenueFactory, WaterFactory

NEW = {
    "league": "Winter Team League",
    "name": "2026–27",
    "starts": "2026-10-04",
    "size": "8",
    "per_section": "2",
    "unit": "lb-oz",
    "book": "high-best-five-places",
}
TIMES = {"book_in": "08:00", "draw_at": "08:30", "all_in": "10:00", "all_out": "15:00"}
BOOK = rulebook.as_dict(READY_MADE["averaged-low"])


@pytest.fixture
def season(club):
    return make_season(club, book=BOOK, starts=dt.date(2026, 10, 4))


@pytest.fixture
def heron(club):
    return WaterFactory(name="Heron Lake", venue=VenueFactory(club=club, name="Marl Park"))


def said(answer):
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def at(season, rest=""):
    return f"/desk/{season.league.club.slug}/seasons/{season.pk}/{rest}"


def test_a_season_is_set_up_with_a_rule_book_that_could_be_read_first(secretary, club):
    shown = said(secretary.get("/desk/marlbrook/seasons/new/"))
    assert shown.count('type="radio"') == len(READY_MADE)
    assert "The best five rounds count." in shown

    answer = secretary.post("/desk/marlbrook/seasons/new/", NEW)

    season = Season.objects.of(club).get()
    assert answer.url == at(season)
    assert str(season) == "Winter Team League 2026–27"
    book = book_of_season(season)
    assert (book.team.size, book.team.per_section, book.season.best) == (8, 2, 5)
    assert "has no teams yet" in said(secretary.get(answer.url))


def test_the_next_season_of_a_league_is_no_second_league(secretary, club):
    secretary.post("/desk/marlbrook/seasons/new/", NEW)

    secretary.post("/desk/marlbrook/seasons/new/", NEW | {"name": "2027–28"})
    again = secretary.post("/desk/marlbrook/seasons/new/", NEW)

    assert club.leagues.count() == 1
    assert Season.objects.of(club).count() == 2
    assert "The league already has a season of this name." in said(again)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"league": ""}, "Say what the league is called."),
        ({"starts": "soon"}, "Write the day as 2026-10-04."),
        ({"book": "nonsense"}, "There is no such rule book. Choose one of these."),
        ({"size": "4", "per_section": "5"}, "per_section = 5 is more than the 4 in a team."),
    ],
)
def test_a_slip_is_said_and_nothing_typed_is_lost(secretary, club, changes, words):
    shown = said(secretary.post("/desk/marlbrook/seasons/new/", NEW | changes))

    assert words in shown
    assert 'value="2026–27"' in shown
    assert not Season.objects.exists()


def test_a_book_in_kilograms_has_no_limit_said_in_pounds(secretary, club):
    secretary.post("/desk/marlbrook/seasons/new/", NEW | {"unit": "kg"})

    book = book_of_season(Season.objects.get())
    assert (book.unit.value, book.net.limit) == ("kg", None)


def test_teams_and_squads_come_from_a_pasted_list(secretary, season):
    answer = secretary.post(
        at(season, "teams/"),
        {"teams": "Tannery Lane: Jo Ormesher (c), Ray Tolliver\nOld Quarry"},
        follow=True,
    )

    shown = said(answer)
    assert "Two teams entered, two anglers put in squads, two anglers new to the club." in shown
    assert "Jo Ormesher (captain), Ray Tolliver" in shown
    assert "two anglers short" in shown
    assert [team.code for team in Team.objects.of(season)] == ["OLD", "TAN"]


def test_a_name_nearly_known_is_asked_about_before_anything_is_written(secretary, season, club):
    joe = AnglerFactory(club=club, name="Joe Ormesher")
    typed = {"teams": "Tannery Lane: Jo Ormesher"}

    shown = said(secretary.post(at(season, "teams/"), typed))

    assert "Who is Jo Ormesher?" in shown
    assert "Tannery Lane: Jo Ormesher" in shown
    assert not Team.objects.exists()
    secretary.post(at(season, "teams/"), typed | {"who:Jo Ormesher": str(joe.pk)})
    assert SquadMember.objects.get().angler == joe
    assert Angler.objects.count() == 1


def test_a_list_that_cannot_be_read_comes_back_as_it_was_pasted(secretary, season):
    shown = said(secretary.post(at(season, "teams/"), {"teams": "Millrace\nmillrace"}))

    assert "Row 2: millrace is in row 1 already." in shown
    assert "Millrace millrace</textarea>" in shown


def test_a_team_is_kept_otherwise_and_taken_out(secretary, season):
    secretary.post(at(season, "teams/"), {"teams": "Tannery Lane: Jo Ormesher"})
    team = Team.objects.get()
    page = at(season, f"teams/{team.pk}/")
    assert "Jo Ormesher</textarea>" in said(secretary.get(page))

    secretary.post(page, {"name": "Tannery Row", "code": "trw", "squad": "Ray Tolliver (c)"})

    team.refresh_from_db()
    assert (team.name, team.code) == ("Tannery Row", "TRW")
    assert [each.angler.name for each in team.squad.all()] == ["Ray Tolliver"]
    secretary.post(f"{page}remove/")
    assert not Team.objects.exists()


def test_a_season_made_by_mistake_is_taken_out_until_something_is_drawn(secretary, season):
    other = make_season(season.league.club, teams=["Millrace"])
    make_match(season=other, sections={"A": 2})

    assert "is drawn, so the season stays" in said(secretary.get(at(other)))
    refused = said(secretary.post(at(other, "take-out/"), follow=True))
    gone = said(secretary.post(at(season, "take-out/"), follow=True))

    assert "is drawn, so the season stays" in refused
    assert f"{season} is taken out" in gone
    assert list(Season.objects.all()) == [other]


def test_rounds_are_filled_in_by_the_fortnight(secretary, season, heron):
    answer = secretary.post(
        at(season, "rounds/"),
        {"count": "3", "first": "2026-10-04", "every": "14", "water": heron.pk, "lines": ""}
        | TIMES,
        follow=True,
    )

    assert "Three rounds planned." in said(answer)
    assert [str(match.date) for match in Match.objects.rounds_of(season)] == [
        "2026-10-04",
        "2026-10-18",
        "2026-11-01",
    ]
    assert Match.objects.rounds_of(season)[0].all_out == dt.time(15)


def test_pasted_rounds_win_over_what_is_filled_in(secretary, season, heron):
    lines = "4 Oct, Heron Lake\n25 Oct, Heron Lake, 09:30-14:30"
    typed = {"count": "9", "every": "14", "water": "", "first": "2026-10-04", "lines": lines}

    secretary.post(at(season, "rounds/"), typed | TIMES)

    first, second = Match.objects.rounds_of(season)
    assert (first.all_in, second.all_in) == (dt.time(10), dt.time(9, 30))
    shown = said(
        secretary.post(at(season, "rounds/"), typed | {"lines": "1, 8 Nov, Heron Lake"} | TIMES)
    )
    assert "round 1 is planned already" in shown
    shown = said(secretary.post(at(season, "rounds/"), typed | TIMES | {"all_out": "09:00"}))
    assert "All out at 09:00 is not after 10:00." in shown


def test_last_season_is_copied_with_what_was_ticked(secretary, season, heron):
    secretary.post(at(season, "teams/"), {"teams": "Tannery Lane: Jo Ormesher"})
    secretary.post(at(season, "rounds/"), {"lines": "4 Oct, Heron Lake", "every": "14"} | TIMES)
    new = f"/desk/marlbrook/seasons/new/?from={season.pk}"
    shown = said(secretary.get(new))
    assert 'value="2027–28"' in shown
    assert 'value="2027-10-03"' in shown

    secretary.post(
        new,
        NEW
        | {"name": "2027–28", "starts": "2027-10-03", "book": "as-before", "squads": "on"}
        | {"rounds": "on", "size": "4", "per_section": "1"},
    )

    copy = Season.objects.of(season.league.club).get(name="2027–28")
    assert book_of_season(copy) == book_of_season(season)
    assert SquadMember.objects.of_season(copy).count() == 1
    assert str(Match.objects.rounds_of(copy).get().date) == "2027-10-03"


def test_a_match_outside_the_league_has_its_own_rules(secretary, club, heron):
    typed = {"name": "Boxing Day Shield", "date": "2026-12-26", "water": heron.pk}
    rules = {"unit": "kg", "book": "aggregate-weight"}

    answer = secretary.post("/desk/marlbrook/matches/new/", typed | rules | TIMES)

    match = Match.objects.get()
    assert answer.url == f"/matches/{match.pk}/run/"
    assert (match.name, match.season, match.unit) == ("Boxing Day Shield", None, "kg")
    assert book_of(match).season.score.key == "weight"


def test_a_match_is_moved_and_called_off_with_its_reason(secretary, season, heron):
    match = make_match(season=season, drawn=False, water=heron)
    page = f"/desk/marlbrook/matches/{match.pk}/"
    moved = {"date": "2027-02-07", "water": heron.pk, "why": "Ice."} | TIMES

    assert secretary.post(f"{page}when/", moved).url == at(season)
    match.refresh_from_db()
    assert str(match.date) == "2027-02-07"
    shown = said(secretary.post(f"{page}cancel/", {"why": ""}))
    assert "Say why the match is cancelled" in shown
    secretary.post(f"{page}cancel/", {"why": "Frozen over."})
    match.refresh_from_db()
    assert match.stage == Stage.CANCELLED
    assert "It can be neither moved nor cancelled any more." in said(secretary.get(f"{page}when/"))


def test_there_is_one_orange_thing_to_do(secretary, season, heron):
    orange = re.compile(r'class="next"')
    assert len(orange.findall(said(secretary.get(at(season))))) == 1
    secretary.post(at(season, "teams/"), {"teams": "Millrace\nPennyfold"})
    assert len(orange.findall(said(secretary.get(at(season))))) == 1
    secretary.post(at(season, "rounds/"), {"lines": "4 Oct, Heron Lake", "every": "7"} | TIMES)
    assert len(orange.findall(said(secretary.get(at(season))))) == 1


def test_the_list_of_leagues_leads_to_seasons_and_copies(secretary, season):
    shown = said(secretary.get("/desk/marlbrook/seasons/"))

    assert f'href="{at(season)}"' in shown
    assert f"/desk/marlbrook/seasons/new/?from={season.pk}" in shown


def test_only_the_clubs_own_secretary_sets_up(member, scalesman, treasurer, stranger, season):
    theirs = make_season(ClubFactory(slug="other"))
    pages = ["/desk/marlbrook/seasons/", "/desk/marlbrook/seasons/new/", at(season)]

    for page in pages:
        assert stranger.get(page).url == f"/sign-in/?next={page}"
        assert {each.get(page).status_code for each in (member, scalesman, treasurer)} == {404}
    assert member.post(at(season, "teams/"), {"teams": "Theirs"}).status_code == 404
    assert not Team.objects.filter(season__in=[season, theirs]).exists()


def test_another_clubs_season_is_not_reached_through_ones_own_desk(secretary, season):
    theirs = make_season(ClubFactory(slug="other"))
    match = make_fished_match(ClubFactory(slug="third"))

    assert secretary.get(f"/desk/marlbrook/seasons/{theirs.pk}/").status_code == 404
    assert secretary.get(f"/desk/marlbrook/seasons/new/?from={theirs.pk}").status_code == 404
    assert secretary.get(f"/desk/marlbrook/matches/{match.pk}/when/").status_code == 404


@pytest.mark.parametrize("count", [3, 30])
def test_a_season_asks_the_same_questions_however_long_it_is(
    secretary, season, heron, count, django_assert_num_queries
):
    lines = "\n".join(f"Team {n}: Angler A{n}, Angler B{n}" for n in range(count))
    secretary.post(at(season, "teams/"), {"teams": lines})
    for n in range(count):
        make_match(season=season, drawn=False, water=heron, sections={"A": 1}, round=n + 1)

    with django_assert_num_queries(12):
        secretary.get(at(season))


def test_a_round_with_a_result_links_to_it(secretary, season):
    publish(make_fished_match(season=season), by=None)

    shown = said(secretary.get(at(season)))
    assert "/result/" in shown
    # Fished without teams: nobody is told to enter any.
    assert "has no teams yet" not in shown


def test_a_match_can_be_cut_as_its_water_usually_is(secretary, club, season):
    water = make_water(club, venue="V", name="Heron Lake", pegs=parse_pegs("1-8"), by=None)
    change_water(water, name="Heron Lake", net_limit="", usual_sections="1-4\n5-8", by=None)
    take_out(water, ["2"], why="Flooded", ends=dt.date(2027, 2, 1), by=None)
    match = make_match(season=season, drawn=False, water=water, sections={})
    page = f"/desk/marlbrook/matches/{match.pk}/usual-sections/"

    assert "The usual sections of Heron Lake" in said(secretary.get(f"/matches/{match.pk}/run/"))
    secretary.post(page)

    assert [str(each) for each in match.match_pegs.order_by("peg__order")] == [
        *("A 1", "A 3", "A 4"),
        *("B 5", "B 6", "B 7", "B 8"),
    ]
