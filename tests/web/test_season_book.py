"""The season book's address: what is in it, on which paper, and that it is kept once made."""

from __future__ import annotations

import pytest
from django.core.cache import cache
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from league.models import Club, PaperSize, Season
from league.operations.publish import make_final, publish
from tests.sheets.reading import lines_of, paper_of, reader
from tests.web.scene import JUNIOR, fish_round_6, make_league, publish_rounds

A4, LETTER = (595, 842), (612, 792)


@pytest.fixture
def season(club: Club) -> Season:
    """Two of three rounds are published; the second is fished as in the pictures."""
    season = make_league(club, planned_rounds=3)
    publish_rounds(season, 2)
    return season


def address(season: Season) -> str:
    return f"/tables/{season.pk}/season-book.pdf"


def papers(pdf: bytes) -> set[tuple[int, int]]:
    """The sizes of its pages, upright ones only."""
    return {(round(wide), round(high)) for wide, high in paper_of(pdf) if wide < high}


def test_the_book_holds_both_tables_and_every_round(client: Client, season: Season) -> None:
    answer = client.get(address(season))

    assert (answer.status_code, answer["Content-Type"]) == (200, "application/pdf")
    document = reader(answer.content)
    assert [mark.title for mark in document.outline] == [  # type: ignore[union-attr]
        str(season),
        "League table",
        "Anglers’ table",
        "Round 1, Fallow Mere",
        "Round 2, Marl Canal",
    ]
    lines = lines_of(answer.content)
    assert lines[lines.index("Round 3") + 1] == "Not published yet."
    assert "Round 3: no result so far." in " ".join(lines)


def test_the_table_page_leads_to_the_book(client: Client, season: Season) -> None:
    assert address(season) in client.get(f"/tables/{season.pk}/").content.decode()


def test_before_the_first_round_the_book_says_that_nothing_is_published(
    client: Client, club: Club
) -> None:
    season = make_league(club, planned_rounds=2)

    lines = lines_of(client.get(address(season)).content)

    assert lines.count("Not published yet.") == 2


def test_the_paper_is_the_clubs_or_the_one_asked_for(client: Client, season: Season) -> None:
    assert papers(client.get(address(season)).content) == {A4}
    assert papers(client.get(f"{address(season)}?paper=letter").content) == {LETTER}
    Club.objects.filter(pk=season.league.club_id).update(paper=PaperSize.LETTER)
    assert papers(client.get(address(season)).content) == {LETTER}
    assert papers(client.get(f"{address(season)}?paper=a4").content) == {A4}


@pytest.mark.parametrize("sheet", ["season-book.pdf", "sheet.pdf"])
def test_a_paper_nobody_knows_has_no_page(client: Client, season: Season, sheet: str) -> None:
    assert client.get(f"/tables/{season.pk}/{sheet}?paper=a3").status_code == 404


def test_the_same_season_gives_the_same_bytes_even_when_nothing_is_kept(
    client: Client, season: Season
) -> None:
    first = client.get(address(season))
    cache.clear()

    again = client.get(address(season))

    assert first.content == again.content
    assert first["ETag"] == again["ETag"]


def test_whoever_has_the_book_is_told_that_it_has_not_changed(
    client: Client, season: Season
) -> None:
    seal = client.get(address(season))["ETag"]

    assert client.get(address(season), headers={"If-None-Match": seal}).status_code == 304


def test_a_round_made_final_makes_another_book(client: Client, season: Season) -> None:
    before = client.get(address(season))
    match = season.matches.get(round=1)
    make_final(match, by=None, at=match.results.get().objections_until)

    after = client.get(address(season), headers={"If-None-Match": before["ETag"]})

    assert after.status_code == 200
    assert "version 1, final" in " ".join(lines_of(after.content)).lower()


def test_a_junior_is_printed_as_the_club_has_consent(client: Client, season: Season) -> None:
    publish(fish_round_6(season, number=3), by=None)

    said = " ".join(lines_of(client.get(address(season)).content))

    assert JUNIOR not in said
    assert "Tom K." in said


def test_a_long_season_asks_the_database_no_more_than_a_short_one(
    client: Client, club: Club
) -> None:
    def asked(rounds: int, year: str) -> int:
        season = make_league(club, planned_rounds=8, name=year)
        publish_rounds(season, rounds)
        with CaptureQueriesContext(connection) as queries:
            assert client.get(address(season)).status_code == 200
        return len(queries)

    assert asked(2, "2026") == asked(6, "2027")
