"""A league without teams, from the bank to the table: by points, by places, by weight."""

from __future__ import annotations

import csv
import datetime as dt
import io
import json
from collections.abc import Mapping, Sequence
from typing import Any

import pytest
from pypdf import PdfReader

from league.files import rulebook
from league.files.season import from_json
from league.files.sheet import read_sheet
from league.models import Angler, Club, Season
from league.operations.load import load_season
from league.operations.publish import publish
from league.operations.score import book_of_season, score_table
from league.operations.unload import unload
from tests.builders import make_entry, make_match, make_season, make_weigh_in
from tests.factories import AnglerFactory, LeagueFactory
from tests.web.reading import read

# Section points, low: Ana 1 2, Bob 2 1, Cas 1 1, Dot 2 2. Places in the whole match: Ana 2 3,
# Bob 3 1, Cas 1 2, Dot 4 4. Weights: Ana 7-0, Bob 10-0, Cas 12-0, Dot 1-0.
ROUNDS: Sequence[Mapping[str, Mapping[str, str]]] = (
    {"A": {"Ana": "5-0", "Bob": "4-0"}, "B": {"Cas": "9-0", "Dot": "blank"}},
    {"A": {"Cas": "3-0", "Ana": "2-0"}, "B": {"Bob": "6-0", "Dot": "1-0"}},
)


def fish(
    season: Season, caught: Mapping[str, Mapping[str, str]], teams: Mapping[str, str] | None = None
) -> None:
    """The next round, published; *teams* names those who fish for one."""
    match = make_match(
        season=season,
        sections={section: len(rows) for section, rows in caught.items()},
        date=dt.date(2027, 1, 3) + dt.timedelta(days=7 * season.matches.count()),
    )
    by_name = {team.name: team for team in season.teams.all()}
    club, peg = season.league.club, 0
    for rows in caught.values():
        for name, figure in rows.items():
            peg += 1
            known = Angler.objects.filter(club=club, name=name).first()
            entry = make_entry(
                match,
                peg=peg,
                angler=known or AnglerFactory(club=club, name=name),
                team=by_name.get((teams or {}).get(name, "")),
            )
            make_weigh_in(entry, figure)
    publish(match, by=None)


def championship(club: Club, **rules: Any) -> Season:
    """Both rounds of a season for individuals, by a book with *rules* for the season."""
    book = rulebook.as_dict(rulebook.from_dict({"season": rules}))
    season = make_season(club, book=book, planned_rounds=3)
    for caught in ROUNDS:
        fish(season, caught)
    return season


BY_POINTS = [("Cas", "2"), ("Bob", "3"), ("Ana", "3"), ("Dot", "4")]


@pytest.mark.parametrize(
    ("rules", "order"),
    [
        # Bob and Ana are level on 3: Bob has 10 lb, Ana 7.
        ({}, BY_POINTS),
        ({"score": "places"}, [("Cas", "3"), ("Bob", "4"), ("Ana", "5"), ("Dot", "8")]),
        (
            {"score": "weight", "ties": ["best round weight"]},
            [("Cas", "12-0"), ("Bob", "10-0"), ("Ana", "7-0"), ("Dot", "1-0")],
        ),
        # The best one of two: three are level on 1, told apart by weight over both.
        ({"best": 1}, [("Cas", "1"), ("Bob", "1"), ("Ana", "1"), ("Dot", "2")]),
        # By the last round: Cas and Bob scored 1 in it, and in the one before Cas 1 and Bob 2.
        (
            {"best": 1, "ties": ["last round"]},
            [("Cas", "1"), ("Bob", "1"), ("Ana", "1"), ("Dot", "2")],
        ),
    ],
)
def test_the_table_is_the_anglers_whatever_is_added_up(club, stranger, rules, order):
    season = championship(club, **rules)

    page = read(stranger.get(f"/tables/{season.pk}/"))

    assert "Angler" in page.table()[0]
    told = json.loads(stranger.get(f"/tables/{season.pk}/table.json").content)
    assert [(row["angler"], row["total"]) for row in told["table"]] == order
    assert told["table"] == told["anglers"]
    assert [row[1].split()[0] for row in page.table()[1:]] == [name for name, _ in order]


def test_there_is_one_table_and_no_way_to_another(club, stranger):
    season = championship(club)

    page = read(stranger.get(f"/tables/{season.pk}/"))

    assert page.h1 == "Cas leads by one with one round to fish"
    assert f"/tables/{season.pk}/anglers/" not in page.links
    assert [link for link in page.links if link.startswith("/anglers/")] != []


def test_a_weight_league_prints_weights_round_by_round(club, stranger):
    season = championship(club, score="weight", ties=["best round weight"])

    rows = list(
        csv.reader(
            io.StringIO(stranger.get(f"/tables/{season.pk}/table.csv").content.decode("utf-8-sig"))
        )
    )

    assert rows[1] == ["1", "Cas", "9 lb 0 oz", "3 lb 0 oz", "", "12 lb 0 oz", "12 lb 0 oz"]
    assert rows[4][:4] == ["4", "Dot", "0 lb 0 oz", "1 lb 0 oz"]


def test_the_json_reads_back_and_the_sheet_prints(club, stranger):
    season = championship(club)

    told = json.loads(stranger.get(f"/tables/{season.pk}/table.json").content)
    sheet = stranger.get(f"/tables/{season.pk}/sheet.pdf").content

    assert from_json(told).table == score_table(season).table
    printed = PdfReader(io.BytesIO(sheet)).pages[0].extract_text()
    assert "Angler" in printed
    assert "Cas" in printed


def test_other_rules_move_anglers_as_they_would_teams(club, stranger):
    season = championship(club)

    page = read(stranger.get(f"/tables/{season.pk}/what-if/?season-ties=round+wins"))

    # Bob and Ana level on 3 with a section win each: now by weight, then the place is shared.
    assert page.h1 == "Cas still leads; two change place"
    assert "Bob From 2nd to equal 2nd, level with Ana. Still 3 points." in page.words


def test_a_league_without_teams_leaves_and_comes_back_the_same(club):
    season = championship(club)
    sheet = next(text for path, text in unload(club) if path.endswith("season.csv"))
    book = book_of_season(season)

    loaded = load_season(
        LeagueFactory(club=club), sheet=read_sheet(sheet, book), name="Again", book=book, by=None
    )

    assert [(line.place, line.name, line.total) for line in score_table(loaded.season).table] == [
        (line.place, line.name, line.total) for line in score_table(season).table
    ]
    assert not loaded.season.teams.exists()


# ---- among teams -------------------------------------------------------------------------------


@pytest.fixture
def guests(club) -> Season:
    """Ana fishes for Reds and then for Blues; Dot for nobody; Bob and Cas for one team each."""
    book = rulebook.as_dict(rulebook.from_dict({"team": {"size": 1}}))
    season = make_season(club, book=book, teams=["Reds", "Blues"], planned_rounds=2)
    fish(
        season,
        {"A": {"Ana": "5-0", "Bob": "4-0", "Dot": "6-0"}},
        {"Ana": "Reds", "Bob": "Blues"},
    )
    fish(
        season,
        {"A": {"Cas": "3-0", "Ana": "2-0", "Dot": "1-0"}},
        {"Cas": "Reds", "Ana": "Blues"},
    )
    return season


def test_an_angler_for_two_teams_has_one_line_and_both_teams_beneath_the_name(guests, stranger):
    page = read(stranger.get(f"/tables/{guests.pk}/anglers/"))

    # Places 2 and 2 for Ana; Dot 1 and 3; Bob 3 and absent, 4; Cas absent, 4, and 1.
    rows = {row[1]: row for row in page.table()[1:]}
    assert rows["Ana Reds, Blues"][-2] == "4"
    assert rows["Dot"][-2] == "4"
    assert rows["Cas Reds"][-2] == "5"
    assert rows["Bob Blues"][-2] == "7"


def test_her_points_count_for_the_team_she_fished_for_that_day(guests, stranger):
    page = read(stranger.get(f"/tables/{guests.pk}/"))

    # Reds 2 and 1, Blues 3 and 2: who fishes for nobody takes a place and gives it to no team.
    assert [(row[1], row[-2]) for row in page.table()[1:]] == [("Reds", "3"), ("Blues", "5")]


def test_the_season_file_says_whom_each_angler_fished_for(guests, stranger):
    told = json.loads(stranger.get(f"/tables/{guests.pk}/table.json").content)

    assert {row["angler"]: row["fished_for"] for row in told["anglers"]} == {
        "Ana": "Reds, Blues",
        "Bob": "Blues",
        "Cas": "Reds",
        "Dot": "",
    }
    assert [row["team"] for row in told["table"]] == ["Reds", "Blues"]
