"""The result page, its versions and its files; the list of results."""

import csv
import datetime as dt
import io
import json

import pytest
from pypdf import PdfReader

from league.models import DecisionKind, OfficeName, Result
from league.operations.decide import decide
from league.operations.publish import make_final, publish
from league.operations.weigh import set_aside
from league.rules.lines import Status
from tests.builders import give_office, make_entry, make_match, make_weigh_in
from tests.factories import ClubFactory
from tests.web.reading import read
from tests.web.scene import START, fish_round_6, make_league, publish_rounds


@pytest.fixture
def season(club):
    return make_league(club)


@pytest.fixture
def round_6(season):
    """Round 6 as fished and published."""
    match = fish_round_6(season, number=6)
    publish(match, by=None, at=START)
    return match


def address(match, version=None):
    return f"/matches/{match.pk}/result/" + (f"{version}/" if version else "")


# ---- the page ----------------------------------------------------------------------------------


def test_the_answer_is_the_headline(stranger, round_6):
    page = read(stranger.get(address(round_6)))

    assert page.h1 == "Tannery Lane win on total weight"
    assert "Winter Team League, round 6 of 7. Heron Lake, Sunday 17 January 2027" in page.words
    assert "24 anglers, 269 lb 1 oz in all, one blank, one did not weigh." in page.words
    # Published on 4 October at 18:12 in the club's time; objections are heard for 27 hours.
    assert "Objections to the match secretary until Monday 5 October, 21:12." in page.words


def test_the_team_table_has_a_column_a_section(stranger, round_6):
    page = read(stranger.get(address(round_6)))

    # Worked by hand from the weights: six for the first of each section, one fewer a place; and
    # six in the league for the first of the six teams.
    assert page.table(0) == [
        ["", "Team", "A", "B", "C", "D", "Points", "lb oz", "League points"],
        ["1", "Tannery Lane 61 lb 4 oz", "5", "6", "5", "2", "18", "61 4", "6"],
        ["2", "Old Quarry 58 lb 0 oz", "6", "4", "3", "5", "18", "58 0", "5"],
        ["3", "Pennyfold 51 lb 7 oz", "3", "5", "2", "6", "16", "51 7", "4"],
        ["4", "Millrace 51 lb 12 oz", "4", "0", "6", "3½", "13½", "51 12", "3"],
        ["5", "Lamplighters 23 lb 15 oz", "2", "3", "0", "3½", "8½", "23 15", "2"],
        ["6", "Bridge End 22 lb 11 oz", "1", "2", "4", "1", "8", "22 11", "1"],
    ]


def test_a_section_is_listed_best_first_with_the_words_that_stand_for_no_weight(stranger, round_6):
    page = read(stranger.get(address(round_6)))

    assert page.table(2)[5:] == [
        ["5", "8", "Norma Stainsworth Bridge End", "5 13", "2"],
        ["–", "9", "Pete Brackwell Millrace", "blank", "0"],
    ]
    assert page.table(4)[3:5] == [
        ["3=", "20", "Len Cudworthy Millrace", "9 4", "3½"],
        ["3=", "23", "Chris Maddern Lamplighters", "9 4", "3½"],
    ]


def test_every_figure_has_its_reason_at_its_own_address(stranger, round_6):
    page = read(stranger.get(address(round_6)))

    assert page.reason("why-peg-23-points").startswith(
        "(4 + 3) ÷ 2 = 3½ 9-4 at pegs 20 and 23. Equal weights share the places they take"
    )
    assert page.reason("why-peg-10-weight").startswith("15-11 + 11-11 = 27-6 Peg 10, Jo Ormesher.")
    team = round_6.season.teams.get(name="Tannery Lane")
    assert page.reason(f"why-team-{team.pk}-points").startswith(
        "5 + 6 + 5 + 2 = 18 A, Keith Wraggley; B, Jo Ormesher; C, Ray Tolliver; D, Balvir Sandhar. "
        "Level on 18 points with Old Quarry; ahead on total weight, 61-4 against 58-0."
    )
    reasons = {row.get("id") for row in page.all("tr") if row.get("class") == "why"}
    figures = {link.get("href") for link in page.all("a") if link.get("class") == "fig"}
    assert figures == {f"#{reason}" for reason in reasons}


def test_how_the_tie_was_split_is_told_rung_by_rung(stranger, round_6):
    words = read(stranger.get(address(round_6))).words

    assert (
        "Tannery Lane and Old Quarry both have 18 points. Tannery Lane are ahead on total weight: "
        "61 lb 4 oz against 58 lb 0 oz Points: 18, 18. Level. "
        "Total weight: 61-4, 58-0. Split here. Section wins: not needed." in words
    )


def test_the_bank_is_drawn_and_described(stranger, round_6):
    words = read(stranger.get(address(round_6))).words

    assert "Heaviest: peg 15, Winston Arberry, 31 lb 6 oz." in words


def test_a_junior_goes_by_first_name_in_every_format(stranger, round_6):
    answers = [
        stranger.get(address(round_6)),
        stranger.get(f"{address(round_6, 1)}result.csv"),
        stranger.get(f"{address(round_6, 1)}result.json"),
    ]

    for answer in answers:
        assert "Tom K. (junior)" in answer.content.decode()
        assert "Kettleby" not in answer.content.decode()
    sheet = PdfReader(io.BytesIO(stranger.get(f"{address(round_6, 1)}sheet.pdf").content))
    text = " ".join(page.extract_text() for page in sheet.pages)
    assert "Tom K. (junior)" in text
    assert "Kettleby" not in text


def test_individuals_without_teams_are_listed_by_weight_in_kilograms(stranger, club):
    match = make_match(
        club, sections={"": 3}, unit="kg", book={"unit": "kg"}, name="Canal sweepstake"
    )
    for peg, (name, figure) in enumerate(
        [("Ana Ferradas", "2.100"), ("Jo Ormesher", "5.640"), ("Pete Brackwell", "blank")], 1
    ):
        make_weigh_in(make_entry(match, peg=peg, name=name), figure)
    publish(match, by=None)

    page = read(stranger.get(address(match)))

    assert page.h1 == "Jo Ormesher wins with 5.640 kg"
    assert page.table(0) == [
        ["", "Angler", "Peg", "kg"],
        ["1", "Jo Ormesher", "2", "5.640"],
        ["2", "Ana Ferradas", "1", "2.100"],
        ["–", "Pete Brackwell", "3", "blank"],
    ]
    assert "Teams" not in page.words


def test_what_was_open_when_it_was_published_is_shown(stranger, season):
    match = fish_round_6(season, number=6)
    entry = match.entries.get(angler__name="Jo Ormesher")
    set_aside(entry.weigh_ins.get(), why="Read off the wrong net.", by=None)
    publish(match, by=None, gaps_confirmed=True)

    words = read(stranger.get(address(match))).words

    assert "Not everybody is weighed" in words
    assert "Peg 10, Jo Ormesher:" in words


def test_a_decision_is_printed_with_its_reason(stranger, season):
    match = fish_round_6(season, number=6)
    decide(
        match,
        kind=DecisionKind.DISQUALIFIED,
        entry=match.entries.get(angler__name="Jo Ormesher"),
        why="Fished with two rods.",
        by=None,
    )
    publish(match, by=None)

    words = read(stranger.get(address(match))).words

    assert "Jo Ormesher: disqualified. Fished with two rods." in words


# ---- versions ----------------------------------------------------------------------------------


@pytest.fixture
def corrected(season):
    """Round 6, first published with 9-14 for peg 23 and then corrected to 9-4."""
    match = fish_round_6(season, number=6)
    entry = match.entries.get(angler__name="Chris Maddern")
    entry.weigh_ins.all().delete()
    wrong = make_weigh_in(entry, "9-14")
    publish(match, by=None, at=START)
    set_aside(wrong, why="The 4 on the sheet was read as 14.", by=None)
    make_weigh_in(entry, "9-4")
    publish(
        match,
        by=None,
        correcting=1,
        why="The paper sheet says 4; it had been read as 14.",
        at=START + dt.timedelta(minutes=55),
    )
    return match


def test_a_new_version_tells_what_moved(stranger, corrected):
    words = read(stranger.get(address(corrected))).words

    assert "Provisional, version 2" in words
    assert "Version 2, Sunday 4 October, 19:07, provisional" in words
    assert "The paper sheet says 4; it had been read as 14." in words
    assert "Peg 23, Chris Maddern: 9 lb 14 oz becomes 9 lb 4 oz." in words
    assert "No team changes place." in words


def test_an_old_version_stays_readable_and_says_it_is_not_the_newest(stranger, corrected):
    page = read(stranger.get(address(corrected, 1)))

    assert "This is version 1. Version 2 has replaced it." in page.words
    assert page.table(0)[4] == ["4", "Millrace 51 lb 12 oz", "4", "0", "6", "3", "13", "51 12", "3"]
    assert address(corrected) in page.links


def test_a_version_read_before_the_correction_is_not_answered_from_what_was_kept(stranger, season):
    match = fish_round_6(season, number=6)
    publish(match, by=None)
    before = read(stranger.get(address(match, 1))).words
    entry = match.entries.get(angler__name="Jo Ormesher")
    set_aside(entry.weigh_ins.get(), why="Read again.", by=None)
    make_weigh_in(entry, "1-0")
    publish(match, by=None, correcting=1, why="Read again.")

    after = read(stranger.get(address(match, 1))).words

    assert "has replaced it" not in before
    assert "This is version 1. Version 2 has replaced it." in after


def test_a_final_result_carries_a_firm_stamp(stranger, round_6):
    read(stranger.get(address(round_6)))
    make_final(round_6, by=None, at=START + dt.timedelta(days=2))

    words = read(stranger.get(address(round_6))).words

    assert "Final, version 1 Made final on Tuesday 6 October, 18:12." in words


def test_a_version_that_never_was_is_not_found(stranger, round_6):
    assert stranger.get(address(round_6, 2)).status_code == 404
    assert stranger.get(f"{address(round_6, 2)}result.csv").status_code == 404
    assert stranger.get("/matches/999/result/").status_code == 404


# ---- files -------------------------------------------------------------------------------------


def test_the_spreadsheet_has_every_angler_under_the_headings_of_the_page(stranger, round_6):
    answer = stranger.get(f"{address(round_6, 1)}result.csv")

    rows = list(csv.reader(io.StringIO(answer.content.decode("utf-8-sig"))))
    assert rows[0] == ["Section", "Place", "Peg", "Angler", "Team", "Weight", "Points"]
    assert rows[1] == ["A", "1", "6", "Dave Scrimshire", "Old Quarry", "21 lb 12 oz", "6"]
    assert len(rows) == 25
    assert answer["Content-Disposition"] == (
        'attachment; filename="2027-01-17-round-6-heron-lake-version-1.csv"'
    )


def test_a_name_that_a_spreadsheet_would_run_is_made_harmless(stranger, club):
    match = make_match(club, sections={"A": 1}, book={})
    make_weigh_in(make_entry(match, peg=1, name='=HYPERLINK("x")'), "12-8")
    publish(match, by=None)

    rows = list(
        csv.reader(
            io.StringIO(stranger.get(f"{address(match, 1)}result.csv").content.decode("utf-8-sig"))
        )
    )

    assert rows[1][3] == '\'=HYPERLINK("x")'


def test_the_json_is_the_document_as_kept_with_its_state_as_it_is_now(stranger, round_6):
    make_final(round_6, by=None, at=START + dt.timedelta(days=2))

    told = json.loads(stranger.get(f"{address(round_6, 1)}result.json").content)

    kept = Result.objects.get(match=round_6)
    assert told == {**kept.document, "state": "final", "objections": []}
    assert told["teams"][0]["team"] == "Tannery Lane"
    assert told["sections"][0]["anglers"][0]["status"] == Status.WEIGHED


def test_the_sheet_of_a_version_is_the_same_bytes_every_time(stranger, round_6):
    first = stranger.get(f"{address(round_6, 1)}sheet.pdf")
    again = stranger.get(f"{address(round_6, 1)}sheet.pdf")

    assert first["Content-Type"] == "application/pdf"
    assert first.content == again.content


# ---- who may read it ---------------------------------------------------------------------------


def test_a_private_clubs_result_asks_a_stranger_to_sign_in(stranger, member, round_6, club):
    club.public = False
    club.save()

    for path in ("", "1/", "1/result.csv", "1/result.json", "1/sheet.pdf"):
        answer = stranger.get(f"{address(round_6)}{path}")
        assert answer.status_code == 302
        assert answer["Location"].startswith("/sign-in/?next=/matches/")
    assert member.get(address(round_6)).status_code == 200


def test_a_private_clubs_result_does_not_exist_for_the_member_of_another(member, club):
    other = ClubFactory(public=False)
    match = fish_round_6(make_league(other))
    publish(match, by=None)

    assert member.get(address(match)).status_code == 404


def test_nobody_is_given_another_persons_head(stranger, secretary, round_6):
    first = secretary.get(address(round_6)).content.decode()
    second = stranger.get(address(round_6)).content.decode()
    third = secretary.get(address(round_6)).content.decode()

    assert "Sign out" in first
    assert "Sign out" not in second
    assert "Sign in" in second
    assert "Sign out" in third


# ---- as kept -----------------------------------------------------------------------------------


def test_a_stranger_is_answered_with_one_question_once_the_page_is_kept(
    stranger, round_6, django_assert_num_queries
):
    stranger.get(address(round_6))

    with django_assert_num_queries(1):  # the seal: the version, and the newest there is
        stranger.get(address(round_6))


def test_a_reader_who_has_the_page_is_told_that_nothing_has_changed(
    stranger, round_6, django_assert_num_queries
):
    first = stranger.get(address(round_6))

    with django_assert_num_queries(1):
        again = stranger.get(address(round_6), headers={"If-None-Match": first["ETag"]})

    assert again.status_code == 304
    assert again.content == b""
    make_final(round_6, by=None, at=START + dt.timedelta(days=2))
    changed = stranger.get(address(round_6), headers={"If-None-Match": first["ETag"]})
    assert changed.status_code == 200


def test_somebody_signed_in_costs_four_questions_more(member, round_6, django_assert_num_queries):
    member.get(address(round_6))

    with django_assert_num_queries(5):  # session, member, seal, offices, version
        answer = member.get(address(round_6))

    assert "private" in answer["Cache-Control"]


@pytest.mark.parametrize("anglers", [3, 30])
def test_the_first_reader_costs_the_same_questions_however_many_anglers(
    stranger, club, anglers, django_assert_num_queries
):
    match = make_match(club, sections={"A": anglers}, book={})
    for peg in range(1, anglers + 1):
        make_weigh_in(make_entry(match, peg=peg), f"{peg}-0")
    publish(match, by=None)

    with django_assert_num_queries(5):  # seal, version, its document, all versions, the draw
        stranger.get(address(match))


# ---- the list ----------------------------------------------------------------------------------


def test_the_list_has_the_newest_match_first(stranger, season):
    publish_rounds(season, 2)
    publish(fish_round_6(season, number=6), by=None)

    page = read(stranger.get("/results/"))

    assert page.words.index("Tannery Lane win on total weight") < page.words.index("Round 2")
    assert page.words.index("Round 2") < page.words.index("Round 1")


def test_a_list_without_results_says_when_the_first_will_come(stranger, club):
    words = read(stranger.get("/results/")).words

    assert "No result yet" in words


def test_a_private_list_asks_a_stranger_to_sign_in(stranger, club):
    club.public = False
    club.save()

    assert stranger.get("/results/").status_code == 302
    assert stranger.get("/clubs/marlbrook/results/").status_code == 302


@pytest.mark.parametrize("results", [3, 30])
def test_the_list_costs_the_same_questions_however_long_it_is(
    stranger, club, results, django_assert_num_queries
):
    for number in range(results):
        match = make_match(club, sections={"A": 1}, book={}, date=dt.date(2026, 1, number % 28 + 1))
        make_weigh_in(make_entry(match, peg=1), "1-0")
        publish(match, by=None)

    with django_assert_num_queries(3):  # club, how many, a page of them
        stranger.get("/clubs/marlbrook/results/")


def test_an_officer_has_a_desk_in_the_head(secretary, round_6, club):
    give_office(club, secretary.user, OfficeName.TREASURER)

    assert "Desk" in read(secretary.get(address(round_6))).head_words
