"""Every official decision where its figure stands: who decided, when and why, in every format."""

import csv
import datetime as dt
import io
import json

import pytest
from pypdf import PdfReader

from league.models import Decision, DecisionKind
from league.operations.decide import decide, lift
from league.operations.publish import publish
from league.operations.unload import unload
from tests.web.reading import read
from tests.web.scene import fish_round_6, make_league

WHEN = dt.datetime(2027, 1, 24, 17, 40, tzinfo=dt.UTC)
BY = "Decided by the match secretary on 24 January 2027 at 17:40."

# Who, what, and what every format says of it up to who decided and when.
EVERY_KIND = {
    "Jo Ormesher": (
        {"kind": DecisionKind.DISQUALIFIED, "why": "Two rods."},
        "Jo Ormesher: disqualified. Two rods.",
    ),
    "Dave Scrimshire": (
        {"kind": DecisionKind.POINTS, "points": 1, "why": "Late to the scales."},
        "Dave Scrimshire: 1 point penalty. Late to the scales.",
    ),
    "Mick Oldacre": (
        {"kind": DecisionKind.WEIGHT, "weight": 256, "why": "A pike in the net."},
        "Mick Oldacre: 1 lb 0 oz taken off. A pike in the net.",
    ),
    "Ron Tibbald": (
        {"kind": DecisionKind.LATE_WEIGHT, "weight": 512, "why": "The scales had gone past."},
        "Ron Tibbald: late weight of 2 lb 0 oz allowed. The scales had gone past.",
    ),
    "Steve Dunnaway": (
        {"kind": DecisionKind.VOID_PEG, "points": 3, "why": "A tree came down."},
        "Steve Dunnaway: peg void, 3 points given. A tree came down.",
    ),
}
SAID = [said for _, said in EVERY_KIND.values()]


@pytest.fixture
def match(club, secretary):
    """Round 6 with a decision of every kind, and one about a whole team, published."""
    season = make_league(club)
    match = fish_round_6(season, number=6)
    for name, (decision, _) in EVERY_KIND.items():
        entry = match.entries.get(angler__name=name)
        decide(match, entry=entry, by=secretary.user, **decision)
    team = season.teams.get(name="Pennyfold")
    decide(match, kind=DecisionKind.POINTS, team=team, points=2, why="No card.", by=secretary.user)
    Decision.objects.update(at=WHEN)
    publish(match, by=secretary.user)
    return match


def address(match, file=""):
    return f"/matches/{match.pk}/result/{file}"


@pytest.mark.parametrize("name", EVERY_KIND)
def test_the_reason_behind_an_anglers_figure_says_what_was_decided_by_whom_and_when(
    match, stranger, name
):
    page = read(stranger.get(address(match)))

    peg = match.entries.get(angler__name=name).match_peg.peg.number
    assert f"{EVERY_KIND[name][1]} {BY}" in page.reason(f"why-peg-{peg}-weight")


def test_the_page_lists_every_decision_the_teams_too(match, stranger):
    words = read(stranger.get(address(match))).words.split("Decisions")[-1]

    for said in (*SAID, "Pennyfold: 2 points penalty. No card."):
        assert f"{said} {BY}" in words


def test_the_person_is_named_to_nobody_but_the_journal(match, stranger, secretary):
    secretary.user.first_name, secretary.user.last_name = "Hazel", "Wendover"
    secretary.user.save()

    for file in ("", "1/result.json", "1/result.csv"):
        answer = stranger.get(address(match, file)).content.decode("utf-8-sig")
        assert "Wendover" not in answer
        assert "match secretary" in answer


def test_the_sheet_for_the_wall_prints_every_decision(match, stranger):
    sheet = stranger.get(address(match, "1/sheet.pdf")).content

    printed = " ".join(
        " ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(sheet)).pages
    ).replace("\xa0", " ")
    for said in SAID:
        assert said in printed
    assert BY in printed


def test_the_json_has_each_decision_with_who_when_why_and_its_figure(match, stranger):
    document = json.loads(stranger.get(address(match, "1/result.json")).content)

    decisions = {decision["says"].split(":")[0]: decision for decision in document["decisions"]}
    assert set(decisions) == {*EVERY_KIND, "Pennyfold"}
    assert decisions["Mick Oldacre"] | {"angler_id": None} == {
        "kind": "weight",
        "angler_id": None,
        "team_id": None,
        "says": f"Mick Oldacre: 1 lb 0 oz taken off. A pike in the net. {BY}",
        "why": "A pike in the net.",
        "by": "match secretary",
        "at": "2027-01-24T17:40:00+00:00",
        "points": None,
        "weight": "1-0",
    }
    assert decisions["Steve Dunnaway"]["points"] == "3"
    rows = {row["angler"]: row for section in document["sections"] for row in section["anglers"]}
    assert rows["Jo Ormesher"]["decision"] == f"Jo Ormesher: disqualified. Two rods. {BY}"


def test_the_spreadsheet_has_a_column_of_decisions_where_there_are_any(match, stranger):
    text = stranger.get(address(match, "1/result.csv")).content.decode("utf-8-sig")

    rows = list(csv.DictReader(io.StringIO(text)))
    found = {row["Angler"]: row["Decision"] for row in rows}
    assert found["Ron Tibbald"] == f"{EVERY_KIND['Ron Tibbald'][1]} {BY}"
    assert found["Ana Ferradas"] == ""


def test_the_figures_are_what_was_decided(match, stranger):
    document = json.loads(stranger.get(address(match, "1/result.json")).content)

    rows = {row["angler"]: row for section in document["sections"] for row in section["anglers"]}
    # High points of six. Dave Scrimshire won A: 6 less 1. Mick Oldacre 16-7 less 1-0, still second
    # of six in D: 5. Ron Tibbald's 2-0 beats nobody who weighed in C. Steve Dunnaway is given 3.
    assert (rows["Dave Scrimshire"]["points"], rows["Dave Scrimshire"]["penalty"]) == ("5", "1")
    assert (rows["Mick Oldacre"]["weight"], rows["Mick Oldacre"]["points"]) == ("15-7", "5")
    assert (rows["Ron Tibbald"]["status"], rows["Ron Tibbald"]["weight"]) == ("weighed", "2-0")
    assert (rows["Steve Dunnaway"]["place"], rows["Steve Dunnaway"]["points"]) == (None, "3")
    assert (rows["Jo Ormesher"]["status"], rows["Jo Ormesher"]["points"]) == ("disqualified", "0")


def test_the_table_says_why_a_team_has_penalty_points(match, stranger):
    season = match.season
    book = {**season.book, "season": {**season.book["season"], "score": "points"}}
    season.book = book
    season.save()

    page = read(stranger.get(f"/tables/{season.pk}/"))

    for team, said in (
        ("Pennyfold", "Pennyfold: 2 points penalty. No card."),
        ("Old Quarry", "Dave Scrimshire: 1 point penalty. Late to the scales."),
    ):
        reason = page.reason(f"why-{season.teams.get(name=team).pk}-total")
        assert "penalty = " in reason
        assert f"{said} {BY}" in reason


def test_the_printed_table_says_so_too(match, stranger):
    season = match.season
    season.book = {**season.book, "season": {**season.book["season"], "score": "points"}}
    season.save()

    sheet = stranger.get(f"/tables/{season.pk}/sheet.pdf").content

    printed = " ".join(
        " ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(sheet)).pages
    ).replace("\xa0", " ")
    assert printed.count("Pennyfold: 2 points penalty. No card.") == 1
    assert printed.count("Dave Scrimshire: 1 point penalty. Late to the scales.") == 1


def test_a_lifted_decision_is_gone_from_the_next_version_and_stays_in_the_one_before(
    match, stranger, secretary
):
    made = Decision.objects.get(kind=DecisionKind.DISQUALIFIED)
    lift(made, why="It was a rod rest.", by=secretary.user)
    publish(match, by=secretary.user, correcting=1, why="The objection was upheld.")

    now, before = (read(stranger.get(address(match, file))).words for file in ("", "1/"))

    assert "Jo Ormesher: disqualified." not in now
    assert "Jo Ormesher: disqualified. Two rods." in before


def test_what_a_sheet_says_was_decided_is_not_put_into_anybodys_mouth(match):
    Decision.objects.update(by=None)
    publish(match, by=None, correcting=1, why="Loaded.")

    newest = match.results.get(version=2).document["decisions"]
    assert [(each["by"], each["at"]) for each in newest] == [(None, None)] * len(newest)
    assert "Decided by" not in json.dumps(newest)


def test_the_season_sheet_carries_every_decision(match, club):
    files = dict(unload(club))

    sheet = next(text for path, text in files.items() if path.endswith("season.csv"))
    rows = {row["angler"]: row for row in csv.DictReader(io.StringIO(sheet))}
    for name, said in zip(EVERY_KIND, SAID, strict=True):
        assert rows[name]["decision"] == f"{said} {BY}"
