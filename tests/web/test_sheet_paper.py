"""Every sheet of a match on the club's paper, or on the other where it is asked for."""

from __future__ import annotations

import pytest
from django.test import Client

from league.models import Club, Match, PaperSize
from league.operations.publish import publish
from tests.sheets.reading import paper_of
from tests.web.scene import fish_round_6, make_league

A4, LETTER = (595, 842), (612, 792)
OF_A_MATCH = (
    "draw-sheet.pdf",
    "weigh-sheet.pdf",
    "peg-tickets.pdf",
    "captains-cards.pdf",
    "team-cards.pdf",
    "peg-plan.pdf",
    "result/1/sheet.pdf",
)


@pytest.fixture
def match(club: Club) -> Match:
    """Round 6 at Heron Lake, fished and published."""
    match = fish_round_6(make_league(club), number=1)
    publish(match, by=None)
    return match


def paper(client: Client, address: str) -> tuple[int, int]:
    """Width and height of the first page, the longer side last."""
    answer = client.get(address)
    assert answer.status_code == 200, address
    wide, high = paper_of(answer.content)[0]
    return round(min(wide, high)), round(max(wide, high))


@pytest.mark.parametrize("sheet", OF_A_MATCH)
def test_a_sheet_is_set_for_the_clubs_paper_or_the_one_asked_for(
    secretary: Client, match: Match, sheet: str
) -> None:
    address = f"/matches/{match.pk}/{sheet}"

    assert paper(secretary, address) == A4
    assert paper(secretary, f"{address}?paper=letter") == LETTER
    Club.objects.filter(pk=match.club_id).update(paper=PaperSize.LETTER)
    assert paper(secretary, address) == LETTER
    assert paper(secretary, f"{address}?paper=a4") == A4
    assert secretary.get(f"{address}?paper=a3").status_code == 404


def test_the_table_is_set_for_the_paper_asked_for(client: Client, match: Match) -> None:
    address = f"/tables/{match.season_id}/sheet.pdf"

    assert paper(client, address) == A4
    assert paper(client, f"{address}?paper=letter") == LETTER
