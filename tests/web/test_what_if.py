"""A season under other rules: chosen three ways, compared, explained, and nothing kept."""

import csv
import datetime as dt
import io
import json

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from league.files import rulebook
from league.models import Act, Season
from league.operations.decide import decide
from league.operations.publish import publish
from league.operations.weigh import set_aside
from league.rules.books import READY_MADE
from tests.builders import make_weigh_in
from tests.web.reading import read
from tests.web.scene import BOOK, START, fish, make_league, publish_rounds

FOUR = ["Old Quarry", "Tannery Lane", "Pennyfold", "Millrace"]
# Places: Old Quarry 1 1 4, Tannery Lane 2 2 1, Pennyfold 3 4 2, Millrace 4 3 3. First of four
# scores 4. The best two: 8, 7, 5, 4. All three: Old Quarry 9, Tannery Lane 10, Pennyfold 6,
# Millrace 5: only the first two change place.
ROUNDS = (
    ("Old Quarry", "Tannery Lane", "Pennyfold", "Millrace"),
    ("Old Quarry", "Tannery Lane", "Millrace", "Pennyfold"),
    ("Tannery Lane", "Pennyfold", "Millrace", "Old Quarry"),
)
ALL_COUNT = "?season-counts=all"


@pytest.fixture
def season(club) -> Season:
    rules = BOOK | {"team": {"size": 1}, "season": BOOK["season"] | {"best": 2}}
    kept = rulebook.as_dict(rulebook.from_dict(rules))
    season = make_league(club, teams=FOUR, planned_rounds=4, book=kept)
    for number, teams in enumerate(ROUNDS, start=1):
        caught = {
            "A": [(f"Angler of {team}", team, f"{20 - at}-0") for at, team in enumerate(teams)]
        }
        match = fish(season, caught, number=number)
        publish(match, by=None, at=START + dt.timedelta(days=21 * (number - 1)))
    return season


def address(season, query=""):
    return f"/tables/{season.pk}/what-if/{query}"


def test_the_page_offers_every_ready_made_book_and_compares_nothing_yet(season, stranger):
    page = read(stranger.get(address(season)))

    assert page.h1 == "This season under other rules"
    assert [name for book in READY_MADE.values() if (name := book.name) not in page.words] == []
    assert list(page.all("table")) == []


def test_a_rule_in_the_address_puts_both_tables_side_by_side(season, stranger):
    page = read(stranger.get(address(season, ALL_COUNT)))

    assert page.h1 == "Tannery Lane would lead, not Old Quarry"
    assert page.table() == [
        ["Place then", "Team", "Total then", "Place now", "Total now"],
        ["1", "Tannery Lane up 1", "10", "2", "7"],
        ["2", "Old Quarry down 1", "9", "1", "8"],
        ["3", "Pennyfold", "6", "3", "5"],
        ["4", "Millrace", "5", "4", "4"],
    ]


def test_whoever_moves_is_told_past_whom_and_by_which_round(season, stranger):
    page = read(stranger.get(address(season, ALL_COUNT)))

    assert (
        "Tannery Lane From 2nd to 1st, past Old Quarry. 7 points become 10. Round 1 (3) counts. "
        "Against Old Quarry: 7 to 8 now; 10 to 9 then."
    ) in page.words
    assert (
        "Now The best two rounds count. Then Every round counts. "
        "On its own: Tannery Lane from 2nd to 1st and Old Quarry from 1st to 2nd."
    ) in page.words


def test_every_total_of_both_tables_unfolds_to_its_sum(season, stranger):
    page = read(stranger.get(address(season, ALL_COUNT)))

    team = season.teams.get(name="Tannery Lane").pk
    assert "Then: 3 + 3 + 4 = 10." in page.reason(f"why-{team}-then")
    assert "Now: 3 + 4 = 7. Dropped: round 1 (3)." in page.reason(f"why-{team}-now")


def test_a_ready_made_book_is_chosen_by_its_name(season, stranger):
    page = read(stranger.get(address(season, "?book=aggregate-weight")))

    # 20+20+17 = 57, 19+19+20 = 58, 18+17+19 = 54, 17+18+18 = 53 pounds.
    assert page.h1 == "Tannery Lane would lead, not Old Quarry"
    assert [row[:3] for row in page.table()[1:]] == [
        ["1", "Tannery Lane up 1", "58-0"],
        ["2", "Old Quarry down 1", "57-0"],
        ["3", "Pennyfold", "54-0"],
        ["4", "Millrace", "53-0"],
    ]


def test_a_pasted_book_is_laid_over_the_season_and_its_traps_are_named(season, stranger):
    written = '[section]\nblank = 9\n[season]\nscore = "places"\nties = ["weight"]\n'

    page = read(stranger.post(address(season), {"written": written}))

    # Low: places are the score. 6, 5, 9 and 10 over three rounds.
    assert page.h1 == "Tannery Lane would lead, not Old Quarry"
    assert [row[2] for row in page.table()[1:]] == ["5", "6", "9", "10"]
    assert "blank = 9: a blank scores 9 points in every section." in page.words
    assert "The season was fished in its own teams and sections, which are kept." in page.words


def test_a_book_may_come_as_a_file(season, stranger):
    written = rulebook.write_toml(READY_MADE["aggregate-weight"]).encode()
    file = SimpleUploadedFile("rules.toml", b"\xef\xbb\xbf" + written)

    page = read(stranger.post(address(season), {"file": file}))

    assert page.h1 == "Tannery Lane would lead, not Old Quarry"


def test_a_book_with_faults_comes_back_as_it_was_typed_with_every_fault(season, stranger):
    written = '[section]\nblnk = 9\n[season]\nbest = "five"\n# as we had it\n'

    page = read(stranger.post(address(season), {"written": written}))

    assert page.h1 == "This season under other rules"
    assert 'section: there is no key "blnk". Did you mean blank?' in page.words
    assert 'season: best = "five": write a whole number from 1 upwards.' in page.words
    assert "# as we had it" in page.words


def test_a_file_with_faults_is_kept_in_the_box_where_it_can_be_mended(season, stranger):
    file = SimpleUploadedFile("rules.toml", b"[season]\nbest = 2\ndrop = 1\n# ours\n")

    page = read(stranger.post(address(season), {"file": file}))

    assert "season: best and drop say one thing in two ways." in page.words
    assert "# ours" in page.words


@pytest.mark.parametrize(
    ("sent", "words"),
    [
        ({"written": ""}, "Paste a rule book, or choose its file."),
        ({"written": "name = "}, "The rule book is not written as TOML"),
        ({"written": "a\0b = 1"}, "There is an invisible character where � stands. Type it again."),
        ({"written": "# " + "x" * 100_001}, "This is far too long for a rule book."),
        ({"file": SimpleUploadedFile("a.toml", b'name = "Forel\xe9"')}, "not UTF-8 text"),
        ({"file": SimpleUploadedFile("a.toml", b"# " + b"x" * 200_000)}, "far too long"),
        ({"file": SimpleUploadedFile("a.toml", b"")}, "Paste a rule book, or choose its file."),
    ],
)
def test_what_is_no_rule_book_is_refused_in_a_sentence(season, stranger, sent, words):
    response = stranger.post(address(season), sent)

    assert response.status_code == 200
    page = read(response)
    assert words in page.words
    assert "These rules cannot be used yet" in page.words


@pytest.mark.parametrize(
    ("query", "words"),
    [
        ("?book=nobody-has-this", "There is no ready-made book of that name. Choose one."),
        ("?season-counts=drop+99", "That is no choice here. Choose one of these."),
        ("?net-limit=fifty", "net: limit"),
        ("?net-limit=5%0040", "There is an invisible character where � stands."),
        ("?net-tolerance=10-0", "a tolerance is used only by over"),
        ("?section-direction=low&section-top=teams", "top is for high points only"),
    ],
)
def test_a_choice_there_is_not_is_refused_where_it_was_made(season, stranger, query, words):
    page = read(stranger.get(address(season, query)))

    assert words in page.words
    assert page.h1 == "This season under other rules"


def test_what_was_chosen_rule_by_rule_stays_chosen(season, stranger):
    page = read(
        stranger.get(address(season, "?net-limit=19-0&net-over=net+out&section-equal=better"))
    )

    boxes = {box.get("name"): box for box in page.all("select")}
    chosen = [o.get("value") for o in boxes["section-equal"] if o.get("selected") is not None]
    limit = next(box for box in page.all("input") if box.get("name") == "net-limit")
    assert chosen == ["better"]
    assert limit.get("value") == "19-0"
    assert "A net over 19 lb 0 oz: the whole net does not count." in page.words


def test_low_points_may_be_chosen_without_clearing_away_what_belongs_to_high(season, stranger):
    page = read(stranger.get(address(season, "?section-direction=low")))

    # The best two places of each: 1 + 1, 1 + 2, 2 + 3, 3 + 3.
    assert page.h1 == "Nobody changes place"
    assert [row[2] for row in page.table()[1:]] == ["2", "3", "5", "6"]


def test_rounds_are_scored_again_from_what_was_published_and_not_from_the_scales(season, stranger):
    before = stranger.get(address(season, "?book=aggregate-weight")).content
    entry = season.matches.get(round=3).entries.get(team__name="Millrace")
    set_aside(entry.weigh_ins.get(), why="Read again.", by=None)
    make_weigh_in(entry, "99-0")

    after = stranger.get(address(season, "?book=aggregate-weight")).content

    assert read_tables(before) == read_tables(after)


def read_tables(content):
    return content.decode().split("<table")[1].split("</table>")[0]


def test_a_decision_in_a_published_result_stands_under_other_rules(season, stranger):
    match = season.matches.get(round=3)
    entry = match.entries.get(team__name="Tannery Lane")
    decide(match, kind="disqualified", entry=entry, why="Bait in the margin.", by=None)
    publish(match, by=None, correcting=1, why="After the objection.")

    page = read(stranger.get(address(season, "?book=aggregate-weight")))

    # Without round 3's 20 lb Tannery Lane have 38 lb.
    assert ["4", "Tannery Lane", "38-0"] in [
        [row[0], row[1].split(" up ")[0].split(" down ")[0], row[2]] for row in page.table()[1:]
    ]


def test_looking_writes_nothing(season, secretary):
    before = (Act.objects.count(), Season.objects.values().get(pk=season.pk))

    secretary.get(address(season, "?book=capped-low"))
    secretary.post(address(season), {"written": "[season]\nbest = 1\n"})

    assert (Act.objects.count(), Season.objects.values().get(pk=season.pk)) == before


def test_the_table_is_there_for_a_spreadsheet_and_a_program_from_the_same_columns(season, stranger):
    page = read(stranger.get(address(season, ALL_COUNT)))
    of_csv, of_json = [link for link in page.links if "what-if/table." in link]

    rows = list(csv.reader(io.StringIO(stranger.get(of_csv).content.decode("utf-8-sig"))))
    told = json.loads(stranger.get(of_json).content)

    shown = page.table()
    assert rows[0] == shown[0] == list(told["columns"].values())
    assert rows[1] == ["1", "Tannery Lane", "10", "2", "7"]
    assert [list(each.values()) for each in told["rows"]] == rows[1:]


def test_a_pasted_book_gives_the_same_files_and_a_faulty_one_its_faults(season, stranger):
    sent = stranger.post(address(season, "table.csv"), {"written": "[season]\nbest = 3"})
    wrong = stranger.post(address(season, "table.csv"), {"written": "[season]\nbest = 0"})

    # Low points where the book does not say otherwise: 2 + 2 + 1.
    assert sent.content.decode("utf-8-sig").splitlines()[1] == "1,Tannery Lane,5,2,7"
    assert "These rules cannot be used yet" in read(wrong, 400).words


def test_a_file_of_nothing_chosen_leads_to_the_choice(season, stranger):
    assert stranger.get(address(season, "table.csv"))["Location"] == address(season)


def test_before_the_first_round_the_page_says_so(club, stranger):
    season = make_league(club)

    page = read(stranger.get(address(season, "?book=capped-low")))

    assert page.h1 == "Nothing has been fished yet"
    assert list(page.all("table")) == []


def test_a_private_clubs_seasons_are_for_its_members(season, club, stranger, member):
    club.public = False
    club.save()

    assert stranger.get(address(season)).status_code == 302
    assert member.get(address(season)).status_code == 200


def test_the_table_and_the_rules_lead_here(season, stranger):
    for page in ("", "rules/"):
        assert address(season) in read(stranger.get(f"/tables/{season.pk}/{page}")).links


def test_a_form_from_elsewhere_is_refused(season):
    client = Client(enforce_csrf_checks=True)

    assert client.post(address(season), {"written": ""}).status_code == 403


def test_the_questions_do_not_grow_with_teams_or_rounds(season, club, stranger):
    large = make_league(club, planned_rounds=5)
    publish_rounds(large, 5)

    counts = []
    for one in (season, large):
        with CaptureQueriesContext(
            connection,
        ) as asked:
            stranger.get(address(one, "?book=capped-low"))
        counts.append(len(asked))

    assert counts[0] == counts[1] <= 8
