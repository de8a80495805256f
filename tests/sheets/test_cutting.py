"""The largest and the longest there is: everything stands on a page, nothing is lost or cut."""

from __future__ import annotations

import re
from collections.abc import Iterable

import pytest

from league.rules.books import WINTER_LEAGUE
from league.rules.lines import MatchResult, Row
from league.rules.matches import score_match
from league.rules.table import score_season
from league.sheets.page import A4, LETTER, MM, Paper
from league.sheets.result import result_sheet
from league.sheets.table import table_sheet
from tests.sheets.reading import letters_of, lines_of, pages_of, words_of
from tests.sheets.scenes import bank_of, round_six

CLUB = "Marlbrook, Thornaby Magna & Upper Fallowmere District Amalgamated Anglers’ Assoc"
TEAM = "Upper Marlbrook Working Men’s Club and Institute Angling Section, Veterans’ XI "
ANGLER = "Bartholomew Featherstonehaugh-Szczepański"
on_both_papers = pytest.mark.parametrize(
    "paper",
    [
        pytest.param(A4, id="A4"),
        pytest.param(LETTER, id="US Letter", marks=pytest.mark.long),
    ],
)


def longest(sections: int = 4, size: int = 40) -> MatchResult:
    """Sections of forty in which every name takes several lines."""
    rows = [
        Row(
            letter,
            str(number * size + seat + 1),
            f"{ANGLER} {letter}{seat + 1}",
            f"{TEAM}{seat + 1}",
            nets=(16 * (20 * (seat + 1) + number),),
        )
        for number, letter in enumerate("ABCDEFGH"[:sections])
        for seat in range(size)
    ]
    return score_match(rows, WINTER_LEAGUE)


def off_the_page(pdf: bytes, allowed: float = 8 * MM) -> list[str]:
    """Letters nearer to the edge of the paper than the margin."""
    return [
        letter["text"]
        for letter in letters_of(pdf)
        if letter["text"].strip()
        and not (
            allowed <= letter["x0"]
            and letter["x1"] <= letter["page_width"] - allowed
            and allowed <= letter["top"]
            and letter["bottom"] <= letter["page_height"] - allowed
        )
    ]


def squeezed(text: str | Iterable[str]) -> str:
    """Words without their spaces: a long name is broken into lines, also at a hyphen."""
    return re.sub(r"[\s-]+", "", text if isinstance(text, str) else "".join(text))


@on_both_papers
def test_four_sections_of_forty_long_names_lose_nobody(paper: Paper) -> None:
    result = longest()

    pdf = result_sheet(round_six(club=CLUB, paper=paper), result, bank=bank_of(result))

    assert len(CLUB) == 80
    assert off_the_page(pdf) == []
    said = squeezed(words_of(pdf))
    for section in result.sections:
        for line in section.lines:
            assert squeezed(line.row.angler) in said
    assert squeezed(CLUB) in said


@on_both_papers
def test_a_section_longer_than_a_page_goes_on_under_its_own_name(paper: Paper) -> None:
    result = longest(sections=1)

    lines = lines_of(result_sheet(round_six(paper=paper), result))

    assert any(line.startswith("A Peg Section A lb oz Points") for line in lines)
    assert any("Section A, continued" in line for line in lines)


@on_both_papers
@pytest.mark.parametrize("of_anglers", [False, True], ids=["teams", "anglers"])
def test_a_table_of_long_names_and_many_ties_stays_on_its_pages(
    paper: Paper, of_anglers: bool
) -> None:
    season = score_season([(n, longest()) for n in range(1, 17)], WINTER_LEAGUE, planned=16)

    pdf = table_sheet(round_six(club=CLUB, paper=paper), season, of_anglers=of_anglers)

    assert off_the_page(pdf) == []
    said = squeezed(words_of(pdf))
    for line in season.anglers if of_anglers else season.table:
        assert squeezed(line.name) in said


def test_ties_that_fill_more_than_a_page_are_all_told_each_once() -> None:
    season = score_season([(1, longest())], WINTER_LEAGUE)
    level = {
        (line.split.ahead, line.split.behind) for line in season.anglers if line.split is not None
    }

    pages = pages_of(table_sheet(round_six(), season, of_anglers=True))

    said = " ".join(pages)
    assert len(level) > 100
    assert said.count(" both have ") == len(level)
    assert "How the ties were split, continued" in said
    assert "continued, continued" not in said
