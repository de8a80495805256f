"""The league table, its rules, its files, and the list of seasons."""

import csv
import datetime as dt
import gzip
import io
import json

import pytest
from pypdf import PdfReader

from league.files import rulebook
from league.models import Match, Season
from league.operations.publish import make_final, publish
from league.operations.weigh import set_aside
from tests.builders import make_match, make_weigh_in
from tests.factories import ClubFactory
from tests.web.reading import read
from tests.web.scene import BOOK, START, fish, make_league, publish_rounds

# Four teams with one angler each in one section: their weights are their places.
FOUR = ["Old Quarry", "Tannery Lane", "Pennyfold", "Millrace"]
SHORT = BOOK | {"team": {"size": 1}, "season": BOOK["season"] | {"best": 2}}


def book(**season):
    return rulebook.as_dict(rulebook.from_dict(SHORT | {"season": SHORT["season"] | season}))


@pytest.fixture
def season(club):
    return make_league(club, teams=FOUR, planned_rounds=4, book=book())


def fish_in_order(season: Season, number: int, *teams: str, heaviest: int = 20) -> Match:
    """A round won by the first of *teams*, a pound between each and the next."""
    caught = {
        "A": [(f"Angler of {team}", team, f"{heaviest - at}-0") for at, team in enumerate(teams)]
    }
    match = fish(season, caught, number=number)
    publish(match, by=None, at=START + dt.timedelta(days=21 * (number - 1)))
    return match


@pytest.fixture
def three_rounds(season):
    """First, second, third and fourth score 4, 3, 2 and 1; the best two of three rounds count."""
    fish_in_order(season, 1, "Old Quarry", "Tannery Lane", "Pennyfold", "Millrace")
    fish_in_order(season, 2, "Tannery Lane", "Pennyfold", "Old Quarry", "Millrace")
    fish_in_order(season, 3, "Old Quarry", "Millrace", "Pennyfold", "Tannery Lane", heaviest=30)
    return season


def address(season):
    return f"/tables/{season.pk}/"


# ---- the page ----------------------------------------------------------------------------------


def test_rounds_are_columns_and_the_worst_is_dropped(stranger, three_rounds):
    page = read(stranger.get(address(three_rounds)))

    # By hand: Old Quarry 4 + 4 = 8 (2 dropped), 20 + 18 + 30 = 68 lb. Tannery Lane 3 + 4 = 7
    # (1 dropped), 19 + 20 + 27 = 66. Pennyfold 3 + 2 = 5 (the earlier 2 dropped), 18 + 19 + 28 =
    # 65. Millrace 3 + 1 = 4 (the earlier 1 dropped), 17 + 17 + 29 = 63.
    rows = [[cell for cell in row if cell] for row in page.table()[1:]]
    assert rows == [
        ["1 up 1", "Old Quarry", "1 4", "2 2", "3 4", "4", "8", "68 0"],
        ["2 down 1", "Tannery Lane", "1 3", "2 4", "3 1", "4", "7", "66 0"],
        ["3", "Pennyfold", "1 2", "2 3", "3 2", "4", "5", "65 0"],
        ["4", "Millrace", "1 1", "2 1", "3 3", "4", "4", "63 0"],
    ]


def test_the_headline_says_who_leads_and_what_is_left(stranger, three_rounds):
    page = read(stranger.get(address(three_rounds)))

    assert page.h1 == "Old Quarry lead by one with one round to fish"
    assert "After round 3 of 4. The best two rounds count." in page.words


def test_a_dropped_round_is_struck_and_said_to_be(stranger, three_rounds):
    content = stranger.get(address(three_rounds)).content.decode()

    assert content.count('<span class="dropped"><s>') == 4
    assert content.count("to come") == 4


def test_every_figure_has_its_reason_at_its_own_address(stranger, three_rounds):
    page = read(stranger.get(address(three_rounds)))
    team = three_rounds.teams.get(name="Old Quarry")

    assert page.reason(f"why-{team.pk}-2").startswith(
        "Round 2, Marl Canal, Sun 25 Oct: third of four = 2 "
        "Dropped for now: two of three rounds count so far, the best."
    )
    assert page.reason(f"why-{team.pk}-1").startswith(
        "Round 1, Fallow Mere, Sun 4 Oct: first of four = 4 Counts."
    )
    assert page.reason(f"why-{team.pk}-total").startswith("4 + 4 = 8 Dropped: round 2 (2).")


def test_level_on_points_is_explained(stranger, season):
    fish_in_order(season, 1, "Old Quarry", "Tannery Lane", "Pennyfold", "Millrace", heaviest=30)
    fish_in_order(season, 2, "Tannery Lane", "Old Quarry", "Pennyfold", "Millrace")
    team = season.teams.get(name="Old Quarry")

    page = read(stranger.get(address(season)))

    # Both 4 + 3 = 7; 30 + 19 = 49 lb against 29 + 20 = 49 lb: level on weight too.
    assert page.reason(f"why-{team.pk}-total").startswith(
        "4 + 3 = 7 Level on 7 points with Tannery Lane, and on every tie-break: "
        "the place is shared."
    )
    assert page.table()[1][0] == "1="


def test_a_provisional_round_is_named_until_it_is_final(stranger, season):
    match = fish_in_order(season, 1, *FOUR)
    before = read(stranger.get(address(season))).words
    make_final(match, by=None, at=START + dt.timedelta(days=2))

    after = read(stranger.get(address(season))).words

    assert "Round 1 is provisional. Objections until Monday 5 October, 21:12." in before
    assert "Every round here is final" in after


def test_a_correction_changes_the_table_that_was_kept(stranger, three_rounds):
    read(stranger.get(address(three_rounds)))
    match = three_rounds.matches.get(round=3)
    entry = match.entries.get(team__name="Old Quarry")
    set_aside(entry.weigh_ins.get(), why="Another angler's.", by=None)
    make_weigh_in(entry, "1-0")
    publish(match, by=None, correcting=1, why="Another angler's weight.")

    page = read(stranger.get(address(three_rounds)))

    # Round 3 is now Millrace 4, Pennyfold 3, Tannery Lane 2, Old Quarry 1.
    assert page.h1 == "Tannery Lane lead by one with one round to fish"


def test_the_anglers_have_a_table_of_their_own(stranger, three_rounds):
    page = read(stranger.get(f"{address(three_rounds)}anglers/"))

    assert page.h1 == "Angler of Old Quarry leads by one with one round to fish"
    assert page.table()[1][1] == "Angler of Old Quarry Old Quarry"


def test_promotion_and_relegation_places_are_marked_in_words(stranger, club):
    season = make_league(club, teams=FOUR, planned_rounds=2, book=book(up=1, down=1))
    fish_in_order(season, 1, *FOUR)

    rows = read(stranger.get(address(season))).table()

    assert [row[1] for row in rows[1:]] == [
        "Old Quarry promotion place",
        "Tannery Lane",
        "Pennyfold",
        "Millrace relegation place",
    ]


def test_before_round_1_the_page_says_when_it_is(stranger, season):
    make_match(season=season, round=1, sections={"A": 4}, drawn=False, date=dt.date(2026, 10, 4))

    page = read(stranger.get(address(season)))

    assert page.h1 == "The table starts after round 1"
    assert "Round 1 is on Sunday 4 October" in page.words


# ---- the rules ---------------------------------------------------------------------------------


def test_the_rules_are_read_out(stranger, season):
    page = read(stranger.get(f"{address(season)}rules/"))

    assert page.h1 == "Rules of this league"
    assert "A net over 40 lb 0 oz: what is over does not count." in page.words
    assert "The best two rounds count." in page.words


# ---- files -------------------------------------------------------------------------------------


def test_the_spreadsheet_has_the_headings_of_the_page(stranger, three_rounds):
    answer = stranger.get(f"{address(three_rounds)}table.csv")

    rows = list(csv.reader(io.StringIO(answer.content.decode("utf-8-sig"))))
    assert rows == [
        ["Place", "Team", "1", "2", "3", "4", "Best two", "Weight"],
        ["1", "Old Quarry", "4", "2 dropped", "4", "", "8", "68 lb 0 oz"],
        ["2", "Tannery Lane", "3", "4", "1 dropped", "", "7", "66 lb 0 oz"],
        ["3", "Pennyfold", "2 dropped", "3", "2", "", "5", "65 lb 0 oz"],
        ["4", "Millrace", "1 dropped", "1", "3", "", "4", "63 lb 0 oz"],
    ]


def test_the_json_is_the_seasons_result_file(stranger, three_rounds):
    told = json.loads(stranger.get(f"{address(three_rounds)}table.json").content)

    assert [each["match"]["round"] for each in told["rounds"]] == [1, 2, 3]
    assert [(each["version"], each["state"]) for each in told["rounds"]] == [(1, "provisional")] * 3
    assert told["table"][0]["team"] == "Old Quarry"
    assert told["table"][0]["total"] == "8"
    assert told["table"][0]["rounds"][1]["dropped"] is True


def test_the_sheet_prints_the_same_totals(stranger, three_rounds):
    answer = stranger.get(f"{address(three_rounds)}sheet.pdf")

    text = PdfReader(io.BytesIO(answer.content)).pages[0].extract_text()
    assert answer["Content-Type"] == "application/pdf"
    assert "Old Quarry" in text
    assert "Best two" in text


# ---- who may read it ---------------------------------------------------------------------------


def test_a_private_clubs_table_asks_a_stranger_to_sign_in(stranger, member, three_rounds, club):
    club.public = False
    club.save()

    for path in ("", "anglers/", "rules/", "table.csv", "table.json", "sheet.pdf"):
        assert stranger.get(f"{address(three_rounds)}{path}").status_code == 302
    assert member.get(address(three_rounds)).status_code == 200


def test_a_private_clubs_table_does_not_exist_for_the_member_of_another(member, club):
    season = make_league(ClubFactory(public=False))

    assert member.get(address(season)).status_code == 404


def test_a_table_that_never_was_is_not_found(stranger, club):
    assert stranger.get("/tables/999/").status_code == 404


# ---- questions ---------------------------------------------------------------------------------


@pytest.mark.parametrize("teams", [40, 400])
def test_the_table_asks_as_much_for_40_teams_as_for_400(
    stranger, club, teams, django_assert_num_queries
):
    """R1: the questions of a table do not grow with its teams."""
    season = make_league(club, teams=[f"Team {at:03}" for at in range(teams)])
    names = [team.name for team in season.teams.order_by("name")]
    fish_in_order(season, 1, *names[:40], heaviest=60)

    # seal, season, last publication; results, cancelled, teams; rounds, their versions
    with django_assert_num_queries(8):
        stranger.get(address(season))


def test_a_kept_table_is_answered_with_one_question(
    stranger, three_rounds, django_assert_num_queries
):
    first = stranger.get(address(three_rounds))

    with django_assert_num_queries(1):  # the seal
        stranger.get(address(three_rounds))
    with django_assert_num_queries(1):
        again = stranger.get(address(three_rounds), headers={"If-None-Match": first["ETag"]})
    assert again.status_code == 304


@pytest.mark.long
def test_the_biggest_table_goes_out_in_less_than_100_kilobytes(stranger, club):
    """R4: 40 teams and 12 rounds, packed as every browser takes it."""
    season = make_league(club, teams=[f"Team {at:03}" for at in range(40)], planned_rounds=12)
    publish_rounds(season, 12)

    answer = stranger.get(address(season), headers={"Accept-Encoding": "gzip, br"})

    assert answer["Content-Encoding"] == "gzip"
    assert len(answer.content) < 100_000
    plain = stranger.get(address(season))
    assert "Content-Encoding" not in plain.headers
    assert gzip.decompress(answer.content) == plain.content


@pytest.mark.parametrize("rounds", [1, 3])
def test_the_files_ask_the_same_however_many_rounds(
    stranger, club, rounds, django_assert_num_queries
):
    season = make_league(club)
    publish_rounds(season, rounds)

    with django_assert_num_queries(5):  # season; results; results, cancelled, teams
        stranger.get(f"{address(season)}table.json")


# ---- the list ----------------------------------------------------------------------------------


def test_the_list_has_every_season_with_its_rules(stranger, season):
    page = read(stranger.get("/leagues/"))

    assert "Winter Team League 2026–27, 4 rounds, from 4 October 2026" in page.words
    assert address(season) in page.links


def test_a_club_without_a_league_says_what_comes_first(stranger, club):
    assert "No league yet" in read(stranger.get("/leagues/")).words


@pytest.mark.parametrize("seasons", [3, 30])
def test_the_list_asks_the_same_however_long_it_is(
    stranger, club, seasons, django_assert_num_queries
):
    for _ in range(seasons):
        make_league(club)

    with django_assert_num_queries(2):  # club, seasons
        stranger.get("/clubs/marlbrook/leagues/")
