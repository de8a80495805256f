"""Records and files: what is listed, how it is shared, and what a spreadsheet makes of it."""

from __future__ import annotations

from io import StringIO

import pandas as pd
import pytest
from django.test import Client

from league.models import Club, Match
from league.operations.publish import publish
from league.rules.records import Catch, best_of_each_water, heaviest, most_wins
from league.rules.records import Wins as WonSections
from tests.builders import make_fished_match
from tests.factories import AnglerFactory
from tests.web.reading import read
from tests.web.scene import JUNIOR, START, fish_round_6, make_league

FORMULA = '=HYPERLINK("http://example.org","Ask")'


@pytest.fixture
def match(club: Club) -> Match:
    match = fish_round_6(make_league(club), number=6)
    publish(match, by=None, at=START)
    return match


def table(client: Client, address: str) -> pd.DataFrame:
    response = client.get(address)
    assert response.status_code == 200
    assert response.content.startswith(b"\xef\xbb\xbf")  # by which a spreadsheet knows UTF-8
    return pd.read_csv(StringIO(response.content.decode("utf-8-sig")), dtype=str)


def catch(who: str, amount: int, water: str = "Heron Lake") -> Catch:
    return Catch(who, who, amount, 1, water, "Sun 24 Jan 2027")


def test_level_weights_share_a_place_and_none_is_left_off_at_the_end() -> None:
    found = heaviest([catch("A", 10), catch("B", 30), catch("C", 10), catch("D", 20)], 3)

    assert [(each.who, each.place, each.equal) for each in found] == [
        ("B", 1, False),
        ("D", 2, False),
        ("A", 3, True),
        ("C", 3, True),
    ]


def test_each_water_has_its_best_and_its_equal_bests() -> None:
    found = best_of_each_water(
        [catch("A", 10, "Mere"), catch("B", 30), catch("C", 12, "Mere"), catch("D", 12, "Mere")]
    )

    assert [(each.water, each.who) for each in found] == [
        ("Heron Lake", "B"),
        ("Mere", "C"),
        ("Mere", "D"),
    ]


def test_nobody_without_a_win_is_among_the_winners() -> None:
    found = most_wins([WonSections("A", "1", 2, 9), WonSections("B", "2", 0, 30)], 10)

    assert [(each.who, each.wins, each.matches) for each in found] == [("A", 2, 9)]


def test_the_records_page_counts_its_matches(stranger: Client, match: Match) -> None:
    page = read(stranger.get("/records/"))

    assert "Of 1 match published here." in page.words
    assert page.table(0)[1] == ["1", "Winston Arberry peg 15", "Heron Lake Sun 17 Jan 2027", "31 6"]
    assert page.table(2)[1] == ["1", "Tannery Lane", "Heron Lake Sun 17 Jan 2027", "61 4"]
    assert ["1=", "Jo Ormesher", "1", "1"] in page.table(3)


def test_a_club_without_a_result_has_no_record_yet(stranger: Client, club: Club) -> None:
    assert "The first one will be here" in read(stranger.get("/records/")).words


def test_records_open_in_a_spreadsheet(stranger: Client, match: Match) -> None:
    weights = table(stranger, "/clubs/marlbrook/records/weights.csv")
    teams = table(stranger, "/clubs/marlbrook/records/teams.csv")
    wins = table(stranger, "/clubs/marlbrook/records/wins.csv")

    assert weights.loc[0, ["Angler", "Peg", "Weight"]].tolist() == [
        "Winston Arberry",
        "15",
        "31 lb 6 oz",
    ]
    assert teams["Team"].tolist()[:2] == ["Tannery Lane", "Old Quarry"]
    assert wins["Section wins"].tolist() == ["1"] * 4


@pytest.mark.parametrize(
    "address",
    [
        "/clubs/marlbrook/records/weights",
        "/clubs/marlbrook/records/teams",
        "/clubs/marlbrook/records/wins",
        "/clubs/marlbrook/anglers",
    ],
)
def test_csv_and_json_are_the_same_table(stranger: Client, match: Match, address: str) -> None:
    rows = table(stranger, f"{address}.csv").fillna("")
    data = stranger.get(f"{address}.json").json()

    assert list(data["columns"].values()) == list(rows.columns)
    assert [list(row.values()) for row in data["rows"]] == rows.values.tolist()


def test_an_anglers_matches_open_in_a_spreadsheet(stranger: Client, match: Match) -> None:
    entry = match.entries.get(angler__name="Jo Ormesher")

    rows = table(stranger, f"/anglers/{entry.angler_id}/matches.csv")

    assert rows.to_dict("records") == [
        {
            "Date": match.date.isoformat(),
            "Match": "Round 6",
            "Season": "Winter Team League 2026–27",
            "Water": "Heron Lake",
            "Section": "B",
            "Peg": "10",
            "Team": "Tannery Lane",
            "Weight": "27 lb 6 oz",
            "Place in section": "1",
            "Points": "6",
        }
    ]


def test_no_cell_is_run_as_a_formula(stranger: Client, club: Club) -> None:
    match = make_fished_match(club)
    entry = match.entries.order_by("number").first()
    entry.angler = AnglerFactory(club=club, name=FORMULA)
    entry.save()
    publish(match, by=None, at=START)

    for address in ("anglers", "records/weights", "records/wins"):
        text = stranger.get(f"/clubs/marlbrook/{address}.csv").content.decode()
        assert "HYPERLINK" in text
        assert "'=HYPERLINK" in text
        assert ",=" not in text
        assert '"=' not in text


def test_a_juniors_full_name_is_in_no_file(stranger: Client, match: Match, club: Club) -> None:
    angler = club.anglers.get(name=JUNIOR)
    addresses = [
        "/records/",
        "/clubs/marlbrook/records/weights.csv",
        "/clubs/marlbrook/records/weights.json",
        "/clubs/marlbrook/anglers.csv",
        "/clubs/marlbrook/anglers.json",
        f"/anglers/{angler.pk}/matches.csv",
        f"/anglers/{angler.pk}/matches.json",
        "/clubs/marlbrook/results.atom",
        f"/matches/{match.pk}/result/1/summary.txt",
        f"/matches/{match.pk}/result/1/share/",
    ]

    for address in addresses:
        response = stranger.get(address)
        assert response.status_code == 200, address
        assert b"Kettleby" not in response.content, address
        assert "kettleby" not in response.get("Content-Disposition", "")


def test_the_records_ask_as_often_for_thirty_matches_as_for_three(
    stranger: Client, club: Club, django_assert_num_queries: object
) -> None:
    def more(matches: int) -> None:
        for _ in range(matches):
            publish(make_fished_match(club), by=None, at=START)

    more(3)
    with django_assert_num_queries(3):  # type: ignore[operator]
        stranger.get("/records/")
    more(27)
    with django_assert_num_queries(3):  # type: ignore[operator]
        assert "Of 30 matches" in stranger.get("/records/").content.decode()


def test_a_results_other_tables_open_in_a_spreadsheet(stranger: Client, match: Match) -> None:
    address = f"/matches/{match.pk}/result/1"
    teams = table(stranger, f"{address}/teams.csv")
    everybody = table(stranger, f"{address}/by-weight.csv")

    assert teams.loc[0, ["Place", "Team", "A", "B", "C", "D", "Points", "Weight"]].tolist() == [
        "1",
        "Tannery Lane",
        "5",
        "6",
        "5",
        "2",
        "18",
        "61 lb 4 oz",
    ]
    assert (
        pd.to_numeric(teams[["A", "B", "C", "D"]].stack()).sum()
        == pd.to_numeric(teams["Points"]).sum()
    )
    assert everybody["Angler"].tolist()[:2] == ["Winston Arberry", "Jo Ormesher"]
    assert len(everybody) == 24
    for name in ("teams", "by-weight"):
        data = stranger.get(f"{address}/{name}.json").json()
        assert len(data["rows"]) == len({"teams": teams, "by-weight": everybody}[name])


def test_the_anglers_table_opens_in_a_spreadsheet(stranger: Client, match: Match) -> None:
    rows = table(stranger, f"/tables/{match.season_id}/anglers/table.csv")

    assert list(rows.columns)[:3] == ["Place", "Angler", "1"]
    assert len(rows) == 24
    assert "Tom K. (junior)" in rows["Angler"].tolist()
