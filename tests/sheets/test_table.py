"""The league table on paper: rounds as columns, drops struck, ties told, paper turned."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pdfplumber

from league.rules.books import WINTER_LEAGUE
from league.rules.lines import TableLine
from league.rules.matches import score_match
from league.rules.rulebook import BY_WEIGHT, SeasonRules
from league.rules.table import score_season
from league.sheets.page import A4
from league.sheets.published import season_rules
from league.sheets.table import table_sheet
from tests.sheets.reading import codes_of, letters_of, lines_of, pages_of, paper_of, words_of
from tests.sheets.scenes import heron_lake, round_six, rows_of, winter_table

HEAD = round_six(title="The table after round 6", rules=season_rules(WINTER_LEAGUE))


def test_a_line_has_every_round_the_total_and_the_weight() -> None:
    season = winter_table()
    lines = lines_of(table_sheet(HEAD, season, total="Best five"))
    assert "Team 1 2 3 4 5 6 7 Best five lb oz" in lines
    first = season.table[0]
    scores = " ".join(str(score.score) for score in first.rounds)
    pounds, ounces = divmod(first.weight // 16, 16)
    assert f"1 {first.name} {scores} {first.total} {pounds} {ounces}" in lines


def test_totals_are_the_sum_of_the_rounds_that_count_as_printed() -> None:
    season = winter_table()
    lines = lines_of(table_sheet(HEAD, season))
    for line in season.table:
        (printed,) = [text for text in lines if f" {line.name} " in f" {text} "
                      and text[0].isdigit()]  # fmt: skip
        figures = [int(each) for each in printed.split(f"{line.name} ")[1].split()]
        assert sum(sorted(figures[:6])[1:]) == figures[6]


def test_a_dropped_score_has_one_slanted_stroke_and_the_notes_say_so() -> None:
    pdf = table_sheet(HEAD, winter_table())
    with pdfplumber.open(BytesIO(pdf)) as opened:
        slanted = [line for line in opened.pages[0].lines if abs(line["height"]) > 4
                   and abs(line["width"]) > 4]  # fmt: skip
    assert len(slanted) == 6  # one round of six dropped by each of six teams
    assert "A score with a stroke through it is dropped and does not count." in words_of(pdf)


def test_ties_are_told_each_once() -> None:
    words = words_of(table_sheet(HEAD, score_season([(1, heron_lake())], WINTER_LEAGUE, planned=2)))
    assert "are ahead on" not in words  # six teams, six different places
    level = winter_table(rounds=4)
    tied = words_of(table_sheet(HEAD, level))
    assert tied.count("both have") == len({line.split.ahead for line in level.table if line.split})


def test_who_did_not_fish_has_a_letter_that_the_notes_explain() -> None:
    first = heron_lake()
    without = [line.row for section in first.sections for line in section.lines
               if line.row.team != "Bridge End"]  # fmt: skip
    second = score_match(without, WINTER_LEAGUE)
    pdf = table_sheet(HEAD, score_season([(1, first), (2, second)], WINTER_LEAGUE))
    assert any("Bridge End 1 0 a " in line for line in lines_of(pdf))
    assert "a: absent." in words_of(pdf)


def test_forty_teams_and_sixteen_rounds_are_all_there() -> None:
    season = winter_table(rounds=15, teams=40)
    pdf = table_sheet(HEAD, season)
    words = words_of(pdf)
    assert all(f"{line.name} " in words for line in season.table)
    assert "Team 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 Points" in words
    for letter in letters_of(pdf):
        assert letter["x1"] <= letter["page_width"] - A4.side + 0.5


def test_the_paper_is_turned_where_scores_are_weights() -> None:
    book = replace(WINTER_LEAGUE, season=SeasonRules(score=BY_WEIGHT))
    rounds = [(number, heron_lake(book)) for number in range(1, 13)]
    pdf = table_sheet(HEAD, score_season(rounds, book))
    width, height = paper_of(pdf)[0]
    assert width > height
    assert any(line.startswith("1 Tannery Lane 61-4 61-4") for line in lines_of(pdf))


def test_an_individual_table_names_the_anglers_and_their_teams() -> None:
    season = score_season([(1, heron_lake())], WINTER_LEAGUE)
    words = words_of(table_sheet(HEAD, season, of_anglers=True))
    assert "Angler 1 Points" in words
    assert "Dave Scrimshire" in words


def test_rounds_and_rules_are_named_under_the_table_and_the_code_opens_it() -> None:
    address = "https://marlbrook.example/tables/3/"
    head = replace(HEAD, address=address)
    pdf = table_sheet(head, winter_table(), rounds={1: "Heron Lake, 4 October", 7: "Fallow Mere"})
    words = words_of(pdf)
    assert "Rounds. 1: Heron Lake, 4 October. 7: Fallow Mere." in words
    assert "The best five rounds count." in words
    assert codes_of(pdf) == [address]


def test_a_season_without_a_round_prints_an_empty_table() -> None:
    season = score_season([], WINTER_LEAGUE, planned=3, teams={"t1": "Saltway"})
    assert len(pages_of(table_sheet(HEAD, season))) == 1


def test_a_penalty_has_a_column_of_its_own() -> None:
    season = score_season([(1, heron_lake())], WINTER_LEAGUE, penalties={"Saltway": 1})
    assert "Penalty" not in words_of(table_sheet(HEAD, season))
    lines: tuple[TableLine, ...] = tuple(replace(line, penalty=2) for line in season.table)
    assert "Penalty" in words_of(table_sheet(HEAD, replace(season, table=lines)))


def test_promotion_and_relegation_are_marked_and_explained() -> None:
    book = replace(WINTER_LEAGUE, season=replace(WINTER_LEAGUE.season, up=1, down=1))
    season = score_season([(1, heron_lake())], book)
    assert "who goes up and who goes down" in words_of(table_sheet(HEAD, season))


def test_rows_of_a_sheet_are_read_as_rows() -> None:
    rows = rows_of("A 1 Ana Ferradas | Saltway | 5-6\nA 2 Ian Peverill | Packhorse | 4-2")
    season = score_season([(1, score_match(rows, WINTER_LEAGUE))], WINTER_LEAGUE)
    assert [line for line in lines_of(table_sheet(HEAD, season)) if "Saltway" in line] == [
        "1 Saltway 2 2 5 6"
    ]
