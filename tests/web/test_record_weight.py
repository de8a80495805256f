"""A record weight: said in the headline and on the page, with the matches it rests on."""

import datetime as dt
import io

import pytest
from pypdf import PdfReader

from league.models import Result
from league.operations.publish import publish
from tests.builders import make_entry, make_match, make_weigh_in
from tests.factories import VenueFactory, WaterFactory
from tests.web.reading import read

START = dt.date(2026, 3, 1)


@pytest.fixture
def water(club):
    return WaterFactory(name="Heron Lake", venue=VenueFactory(club=club))


def fished(club, water, week, *figures, **values):
    """A published match of one section, so many weeks on."""
    match = make_match(club, water=water, sections={"A": 1}, date=START + dt.timedelta(weeks=week),
                       **values)  # fmt: skip
    first = match.match_pegs.get().peg.number
    for figure in figures:
        make_weigh_in(make_entry(match, peg=first, name=f"Ana {week}"), figure)
    return publish(match, by=None)


@pytest.fixture
def five_matches(club, water):
    return [
        fished(club, water, week, figure)
        for week, figure in enumerate(["12-8", "29-4", "blank", "8-0", "3-2"])
    ]


def test_the_heaviest_of_six_matches_on_a_water_is_a_record(stranger, club, water, five_matches):
    result = fished(club, water, 6, "31-6")

    assert result.headline == "Ana 6 wins with a record 31 lb 6 oz"
    page = read(stranger.get(f"/matches/{result.match_id}/result/"))
    assert page.h1 == "Ana 6 wins with a record 31 lb 6 oz"
    assert (
        "31 lb 6 oz is the heaviest weight of six matches on Heron Lake; the best before was "
        "29 lb 4 oz." in page.words
    )


def test_the_sheet_and_the_lines_for_a_chat_claim_the_record_as_the_page_does(
    stranger, club, water, five_matches
):
    result = fished(club, water, 6, "31-6")
    address = f"/matches/{result.match_id}/result/{result.version}/"

    sheet = PdfReader(io.BytesIO(stranger.get(f"{address}sheet.pdf").content))

    assert "Ana 6 wins with a record 31 lb 6 oz" in " ".join(sheet.pages[0].extract_text().split())
    told = stranger.get(f"{address}summary.txt").content.decode()
    assert "Ana 6 wins with a record 31 lb 6 oz." in told


def test_of_five_matches_nothing_is_claimed(club, water, five_matches):
    five_matches[0].match.results.all().delete()

    assert fished(club, water, 6, "31-6").headline == "Ana 6 wins with 31 lb 6 oz"


def test_a_record_in_kilograms_is_told_from_its_grams(club, water):
    for week in range(5):
        fished(club, water, week, f"{week + 1}.840", unit="kg", book={"unit": "kg"})

    result = fished(club, water, 6, "5.850", unit="kg", book={"unit": "kg"})

    assert result.headline == "Ana 6 wins with a record 5.850 kg"


def test_pounds_are_no_record_over_kilograms(club, water, five_matches):
    result = fished(club, water, 6, "31.000", unit="kg", book={"unit": "kg"})

    assert result.headline == "Ana 6 wins with 31.000 kg"


def test_another_water_another_record(club, water, five_matches):
    elsewhere = WaterFactory(name="Marl Canal", venue=water.venue)

    assert fished(club, elsewhere, 6, "31-6").headline == "Ana 6 wins with 31 lb 6 oz"


def test_a_later_match_takes_nothing_from_an_earlier_record(club, water, five_matches):
    record = fished(club, water, 6, "31-6")
    fished(club, water, 7, "35-0")

    assert Result.objects.get(pk=record.pk).headline == "Ana 6 wins with a record 31 lb 6 oz"


def test_a_record_is_part_of_the_version_and_the_next_one_says_it_again(club, water, five_matches):
    record = fished(club, water, 6, "31-6")

    assert record.document["record"] == {"weight": "31-6", "before": "29-4", "matches": 6}
