"""What other programs take from a page: previews, facts, plain text, a picture."""

from __future__ import annotations

import datetime as dt
import json
from io import BytesIO

import pytest
from django.test import Client
from PIL import Image

from league.models import Club, Match
from league.operations.publish import make_final, publish
from league.operations.season import cancel_match
from league.operations.weigh import set_aside
from tests.builders import make_fished_match, make_match, make_season, make_weigh_in
from tests.factories import AnglerFactory, VenueFactory, WaterFactory
from tests.web.reading import Read, read
from tests.web.scene import START, fish_round_6, make_league


@pytest.fixture
def published(club: Club) -> Match:
    match = fish_round_6(make_league(club), number=6)
    publish(match, by=None, at=START)
    return match


def correct(match: Match) -> None:
    entry = match.entries.first()
    set_aside(entry.weigh_ins.get(), why="Misread.", by=None)
    make_weigh_in(entry, "7-0")
    publish(match, by=None, correcting=1, why="Peg 1.", at=START + dt.timedelta(hours=1))


def properties(page: Read) -> dict[str, str]:
    return {
        each.get("property", ""): each.get("content", "")
        for each in page.all("meta")
        if each.get("property")
    }


def facts(page: Read) -> dict[str, object]:
    [data] = [each for each in page.all("script") if each.get("type") == "application/ld+json"]
    found: dict[str, object] = json.loads(data.text or "")
    return found


def test_a_link_to_a_result_shows_the_answer_and_the_bank(
    stranger: Client, published: Match
) -> None:
    shown = properties(read(stranger.get(f"/matches/{published.pk}/result/")))

    address = f"http://testserver/matches/{published.pk}/result/1/"
    assert shown["og:title"] == "Tannery Lane win on total weight"
    assert shown["og:site_name"] == "Marlbrook & District AC"
    assert shown["og:url"] == address
    assert shown["og:image"] == f"{address}bank.png"
    day = published.date
    assert shown["og:description"] == (
        f"Winter Team League, Round 6. Heron Lake, {day:%A} {day.day} {day:%B %Y}"
    )


def test_the_picture_is_one_that_chats_show_whole(stranger: Client, published: Match) -> None:
    response = stranger.get(f"/matches/{published.pk}/result/1/bank.png")
    picture = Image.open(BytesIO(response.content))

    assert response["Content-Type"] == "image/png"
    assert (picture.format, picture.size) == ("PNG", (1200, 630))
    assert len(response.content) < 100_000
    inks = {colour for _, colour in picture.convert("RGB").getcolors(maxcolors=10_000) or ()}
    # The paper, the ink, the best of the day, a section's winner and every other bar.
    assert inks >= {(241, 243, 234), (13, 35, 40), (236, 87, 23), (19, 70, 80), (93, 136, 141)}


def test_the_same_version_gives_the_same_picture(stranger: Client, published: Match) -> None:
    address = f"/matches/{published.pk}/result/1/bank.png"
    first = stranger.get(address)

    again = stranger.get(address, headers={"If-None-Match": first["ETag"]})

    assert again.status_code == 304


def test_a_result_without_a_bank_has_a_picture_too(stranger: Client, club: Club) -> None:
    match = make_fished_match(club)
    result = publish(match, by=None, at=START)
    result.document = {**result.document, "bank": []}
    result.save(update_fields=["document"])

    response = stranger.get(f"/matches/{match.pk}/result/1/bank.png")

    assert Image.open(BytesIO(response.content)).size == (1200, 630)


@pytest.mark.parametrize("pegs", [1, 12, 96])
def test_banks_of_every_length_are_drawn(stranger: Client, club: Club, pegs: int) -> None:
    per_section = max(1, pegs // 4)
    sections = {
        letter: [f"{at % 30 + 1}-{at % 16}" for at in range(per_section)]
        for letter in "ABCD"[: pegs // per_section]
    }
    match = make_fished_match(club, weights=sections)
    publish(match, by=None, at=START)

    response = stranger.get(f"/matches/{match.pk}/result/1/bank.png")

    assert Image.open(BytesIO(response.content)).size == (1200, 630)


def test_a_result_says_its_match_as_data(stranger: Client, published: Match) -> None:
    said = facts(read(stranger.get(f"/matches/{published.pk}/result/")))

    assert said["@type"] == "SportsEvent"
    assert said["name"] == "Winter Team League, Round 6"
    assert said["eventStatus"] == "https://schema.org/EventScheduled"
    assert dt.datetime.fromisoformat(str(said["startDate"])).tzinfo is not None
    assert said["location"]["name"].startswith("Heron Lake")  # type: ignore[index]
    assert said["subjectOf"]["version"] == 1  # type: ignore[index]


def test_a_match_called_off_says_so_as_data(stranger: Client, club: Club) -> None:
    match = make_match(season=make_season(club), drawn=False)
    cancel_match(match, why="Flood.", by=None)

    said = facts(read(stranger.get(f"/matches/{match.pk}/")))

    assert said["eventStatus"] == "https://schema.org/EventCancelled"


def test_no_name_can_end_the_data(stranger: Client, club: Club) -> None:
    water = WaterFactory(venue=VenueFactory(club=club), name="</script><script>alert(1)")
    match = make_match(club, water=water, drawn=False)

    response = stranger.get(f"/matches/{match.pk}/")

    assert b"<script>alert" not in response.content
    assert facts(read(response))["location"]["name"].startswith("</script>")  # type: ignore[index]


def test_a_result_fits_into_a_chat(stranger: Client, published: Match) -> None:
    response = stranger.get(f"/matches/{published.pk}/result/1/summary.txt")

    assert response["Content-Type"] == "text/plain; charset=utf-8"
    lines = response.content.decode().splitlines()
    assert lines[2] == "Tannery Lane win round 6 on total weight."
    assert lines[4] == "1 Tannery Lane, 18 points, 61 lb 4 oz"
    assert lines[5] == "2 Old Quarry, 18 points, 58 lb 0 oz"
    assert "C: Winston Arberry (peg 15), 31 lb 6 oz" in lines
    assert lines[-1] == f"http://testserver/matches/{published.pk}/result/1/"
    assert lines[-2].startswith("Version 1, provisional until ")


def test_the_text_of_an_older_version_says_that_it_was_corrected(
    stranger: Client, published: Match
) -> None:
    stranger.get(f"/matches/{published.pk}/result/1/summary.txt")

    correct(published)

    older = stranger.get(f"/matches/{published.pk}/result/1/summary.txt").content.decode()
    newer = stranger.get(f"/matches/{published.pk}/result/2/summary.txt").content.decode()
    assert "Version 1, corrected since: version 2 is in force." in older
    assert "Version 2, provisional" in newer
    make_final(published, by=None, at=START + dt.timedelta(days=3))
    final = stranger.get(f"/matches/{published.pk}/result/2/summary.txt").content.decode()
    assert "Version 2, final." in final


def test_a_match_of_individuals_names_the_first_six(stranger: Client, club: Club) -> None:
    match = make_fished_match(club)
    publish(match, by=None, at=START)

    said = stranger.get(f"/matches/{match.pk}/result/1/summary.txt").content.decode()

    first = match.entries.order_by("number").first()
    assert f"1 {first.angler.shown_name}, 12 lb 8 oz, peg 1" in said.splitlines()


def test_the_text_to_copy_stands_in_a_box(stranger: Client, published: Match) -> None:
    page = read(stranger.get(f"/matches/{published.pk}/result/1/share/"))

    [box] = list(page.all("textarea"))
    text = stranger.get(f"/matches/{published.pk}/result/1/summary.txt").content.decode()
    assert (box.text or "").strip() == text.strip()
    assert box.get("readonly") is not None


@pytest.mark.parametrize("part", ["summary.txt", "bank.png", "share/"])
def test_a_version_that_never_was_has_none_of_these(
    stranger: Client, published: Match, part: str
) -> None:
    assert stranger.get(f"/matches/{published.pk}/result/9/{part}").status_code == 404


def test_an_angler_of_many_letters_fits_the_picture(stranger: Client, club: Club) -> None:
    match = make_fished_match(club, weights={"A": ["12-8", "9-4"]})
    entry = match.entries.order_by("number").first()
    entry.angler = AnglerFactory(club=club, name="Þórgnýr Čapek-Łukasiewicz " * 3)
    entry.save()
    publish(match, by=None, at=START)

    response = stranger.get(f"/matches/{match.pk}/result/1/bank.png")

    assert response.status_code == 200


def test_a_link_to_a_table_says_whose_it_is(stranger: Client, published: Match) -> None:
    shown = properties(read(stranger.get(f"/tables/{published.season_id}/")))

    assert shown["og:title"] == "Winter Team League 2026–27: table"
    assert shown["og:url"] == f"http://testserver/tables/{published.season_id}/"
