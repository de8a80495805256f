"""The cards of a draw: laid out so that they fit a screen, and turned one after another."""

from __future__ import annotations

import pytest

from league.web.cards import cards_of
from league.web.walk import walk_of
from tests.builders import make_entry, make_match, make_season


def shapes(cards) -> list[tuple[str, list[str]]]:
    return [(row.name, [card.stop.peg if card else "" for card in row.cards]) for row in cards.rows]


def test_a_row_is_a_team_and_a_column_a_section(club):
    season = make_season(club, teams=["Tannery Lane", "Old Quarry"])
    match = make_match(club, season=season, sections={"A": 2, "B": 2})
    lane, quarry = season.teams.order_by("pk")
    for peg, team in ((2, lane), (1, quarry), (3, lane), (4, quarry)):
        make_entry(match, peg=peg, team=team)

    cards = cards_of(walk_of(match))

    assert shapes(cards) == [("Tannery Lane", ["2", "3"]), ("Old Quarry", ["1", "4"])]
    assert cards.room == "columns-2 rows-6"


def test_two_of_a_team_in_a_section_have_a_column_each(club):
    season = make_season(club, teams=["Tannery Lane", "Old Quarry"])
    match = make_match(club, season=season, sections={"A": 4}, per_section=2)
    lane, quarry = season.teams.order_by("pk")
    for peg, team in ((1, lane), (3, lane), (4, quarry)):
        make_entry(match, peg=peg, team=team)

    cards = cards_of(walk_of(match), turned="2")

    assert [(head.letter, head.columns) for head in cards.heads] == [("A", 2)]
    assert shapes(cards) == [("Tannery Lane", ["1", "3"]), ("Old Quarry", ["4", ""])]
    assert (cards.latest.stop.peg, cards.next.stop.peg, cards.left) == ("3", "4", 1)


def test_anglers_without_a_team_fill_columns_of_twelve_at_most(club):
    match = make_match(club, sections={"A": 14})
    for peg in range(1, 15):
        make_entry(match, peg=peg)

    cards = cards_of(walk_of(match))

    assert shapes(cards)[0] == ("", ["1", "8"])
    assert shapes(cards)[-1] == ("", ["7", "14"])
    assert cards.room == "columns-2 rows-9 alone"


@pytest.mark.parametrize(
    ("teams", "sections", "room"),
    [(6, 4, "columns-4 rows-6"), (12, 8, "columns-8 rows-12"), (24, 6, "columns-6 rows-24")],
)
def test_the_screen_is_told_how_many_cards_have_to_fit(club, teams, sections, room):
    season = make_season(club, teams=[f"Team {n}" for n in range(teams)])
    match = make_match(club, season=season, sections=dict.fromkeys("ABCDEFGH"[:sections], teams))
    for place, each in enumerate(match.match_pegs.order_by("peg__order")):
        team = season.teams.order_by("pk")[place % teams]
        make_entry(match, peg=each.peg.number, team=team)

    assert cards_of(walk_of(match)).room == room


def test_a_turned_easy_access_card_is_told_apart_in_words(stranger, club):
    match = make_match(club, sections={"A": 2})
    make_entry(match, peg=1, name="Len Cudworthy", easy_access=True)
    make_entry(match, peg=2, name="Jo Ormesher")

    down = stranger.get(f"/matches/{match.pk}/draw/?turned=0").content.decode()
    turned = stranger.get(f"/matches/{match.pk}/draw/?turned=1").content.decode()

    assert "Double frame" not in down
    assert "Double frame: an easy-access peg." in turned
    assert "<b>1</b>" not in down


def test_a_team_that_ends_in_s_has_no_second_one(club):
    season = make_season(club, teams=["Lamplighters", "Pennyfold"])
    match = make_match(club, season=season, sections={"A": 2})
    for peg, team in enumerate(season.teams.order_by("pk"), start=1):
        make_entry(match, peg=peg, team=team)

    turned = [cards_of(walk_of(match), turned=turn).next for turn in ("0", "1")]

    assert [card.button for card in turned] == ["Turn Lamplighters’ card", "Turn Pennyfold’s card"]
