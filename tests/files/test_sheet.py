"""Match sheets and season sheets: what is read, what comes out again, what is warned of."""

from __future__ import annotations

import unicodedata
from datetime import date
from fractions import Fraction
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.files.rulebook import from_dict
from league.files.sheet import SheetMatch, read_sheet
from league.files.sheet_write import write_match, write_season
from league.rules.lines import Row, Status
from league.rules.rulebook import Rulebook
from league.rules.weights import Unit
from tests.examples import tried
from tests.rows import drams

SHEETS = Path(__file__).parents[2] / "fixtures" / "sheets"
POUNDS = Rulebook()
KILOS = from_dict({"unit": "kg"})


def one(text: str | bytes, rules: Rulebook = POUNDS) -> tuple[Row, ...]:
    """The rows of a sheet with a single match."""
    (match,) = read_sheet(text, rules).matches
    return match.rows


def test_the_documented_match_sheet_is_read():
    text = (
        "section,peg,angler,team,weight\n"
        "A,1,Ana Ferradas,Lamplighters,6-0\n"
        "A,2,Keith Wraggley,Tannery Lane,14-9\n"
    )

    sheet = read_sheet(text, POUNDS)

    assert not sheet.is_season
    assert sheet.matches == (
        SheetMatch(
            rows=(
                Row("A", "1", "Ana Ferradas", "Lamplighters", nets=(6 * 256,)),
                Row("A", "2", "Keith Wraggley", "Tannery Lane", nets=(14 * 256 + 9 * 16,)),
            )
        ),
    )


def test_a_season_sheet_is_known_by_its_round_and_its_matches_come_in_order():
    sheet = read_sheet((SHEETS / "summer-pairs.csv").read_bytes(), POUNDS)

    assert sheet.is_season
    assert [(match.round, match.date, match.name) for match in sheet.matches] == [
        (1, date(2027, 7, 4), "Summer pairs 1"),
        (2, date(2027, 7, 18), "Summer pairs 2"),
        (3, date(2027, 8, 1), "Summer pairs 3"),
    ]
    assert sheet.matches[0].about == {
        "name": "Summer pairs 1",
        "date": "2027-07-04",
        "venue": "Heron",
        "water": "Heron Lake",
    }


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_any_usual_way_of_saving_csv_is_read(delimiter, mark, line_end):
    lines = [["Section", "Peg", " Angler ", "Weight"], ["A", "1", "Zoë Ünal", "6-0"]]
    text = line_end.join(delimiter.join(cells) for cells in lines)

    rows = one(mark + text.encode())

    assert rows == (Row("A", "1", "Zoë Ünal", nets=(1536,)),)


def test_a_file_is_read_the_same_from_bytes_text_or_a_stream():
    path = SHEETS / "heron-lake-round-6.csv"

    with path.open("rb") as stream:
        streamed = read_sheet(stream, POUNDS)

    assert streamed == read_sheet(path.read_bytes(), POUNDS) == read_sheet(path.read_text(), POUNDS)
    assert len(streamed.matches[0].rows) == 24


@pytest.mark.parametrize(
    ("cell", "status", "nets"),
    [
        ("6-0", Status.WEIGHED, ["6-0"]),
        ("48-12 + 31-4", Status.WEIGHED, ["48-12", "31-4"]),
        ("48-12+31-4+1-1", Status.WEIGHED, ["48-12", "31-4", "1-1"]),
        ("12lb 8oz", Status.WEIGHED, ["12-8"]),
        ("blank", Status.BLANK, []),
        ("BLANK", Status.BLANK, []),
        ("not weighed", Status.NOT_WEIGHED, []),
        ("absent", Status.ABSENT, []),
        ("withdrew", Status.WITHDREW, []),
        ("Disqualified", Status.DISQUALIFIED, []),
        ("5-4 withdrew", Status.WITHDREW, ["5-4"]),
        ("5-4 disqualified", Status.DISQUALIFIED, ["5-4"]),
    ],
)
def test_a_weight_cell_is_nets_or_a_status(cell, status, nets):
    (row,) = one(f"section,peg,angler,weight\nA,1,Ana,{cell}")

    assert (row.status, row.nets) == (status, tuple(drams(net) for net in nets))


def test_a_decimal_comma_is_read_between_semicolons():
    (row,) = one("section;peg;angler;weight\nA;1;Ana;5,64 + 1,2", KILOS)

    assert row.nets == (5640, 1200)


def test_optional_columns_carry_penalties_and_decisions():
    text = (
        "section,peg,angler,weight,penalty,weight_penalty,decided,decision,note\n"
        "A,1,Ana,6-0,2.5,1-0,7/2,Peg could not be fished.,Late start\n"
    )

    (row,) = one(text)

    assert (row.penalty, row.weight_penalty, row.decided) == (Fraction(5, 2), 256, Fraction(7, 2))
    assert (row.decision, row.note) == ("Peg could not be fished.", "Late start")


def test_a_vacant_place_needs_no_angler_and_an_absent_one_no_peg():
    rows = one("section,peg,angler,team,weight\nA,,,Millrace,vacant\nA,,Ana,Old Quarry,absent")

    assert [(row.angler, row.status) for row in rows] == [
        ("", Status.VACANT),
        ("Ana", Status.ABSENT),
    ]


def test_empty_lines_are_passed_over():
    assert len(one("section,peg,angler,weight\n\nA,1,Ana,6-0\n,,,\n\nA,2,Bo,blank\n")) == 2


def test_spaces_are_single_and_accents_composed():
    (row,) = one("section,peg,angler,weight\nA,1, Zoe\u0308   U\u0308nal ,6-0")

    assert row.angler == "Zo\u00eb \u00dcnal"


@pytest.mark.parametrize(
    ("text", "warning"),
    [
        (
            "section,peg,angler,weight,colour,lure\nA,1,Ana,6-0,red,\nA,2,Bo,5-0,,x",
            "No rule uses these columns, and they are left alone: colour, lure.",
        ),
        (
            "section,peg,angler,weight\nA,1,Ana,6-0",
            "section A has one angler, who is first and last in it.",
        ),
        (
            "section,peg,angler,weight\nA,1,Ana,0-0\nA,2,Bo,5-0",
            "Ana weighed nothing, which is scored as a blank.",
        ),
        (
            "section,peg,angler,team,weight\nA,1,Ana,X,6-0\nA,2,Bo,Y,5-0\nB,3,Cy,X,1-0\nB,4,Di,Y,5-0"
            "\nC,5,Ed,X,1-0\nC,6,Flo,Y,1-0\nD,7,Gus,X,1-0\nD,8,Hal,,1-0",
            "Y have three of four: absent in section D.",
        ),
        (
            "section,peg,angler,team,weight\nA,1,Ana,Old Quarry,6-0\nB,2,Bo,old quarry,5-0"
            "\nA,3,Cy,,1-0\nB,4,Di,,1-0",
            "One team or more? Old Quarry and old quarry differ in capitals only, and count apart.",
        ),
        (
            "round,date,section,peg,angler,weight\n1,2027-05-19,A,1,Ana,6-0\n1,2027-05-19,A,2,Bo,6-0"
            "\n2,2027-05-05,A,1,Ana,6-0\n2,2027-05-05,A,2,Bo,6-0",
            "Round 2 is dated 2027-05-05, before round 1 on 2027-05-19.",
        ),
    ],
)
def test_what_is_odd_is_warned_of_and_read_all_the_same(text, warning):
    assert warning in read_sheet(text, POUNDS).warnings


def test_points_by_teams_without_a_team_are_warned_of():
    rules = from_dict({"section": {"direction": "high", "top": "teams"}})
    text = "section,peg,angler,weight\nA,1,Ana,6-0\nA,2,Bo,5-0\n"

    assert read_sheet(text, rules).warnings == (
        "The rule book counts points by the number of teams, and no row names a team: points come "
        "out too low, or nought.",
    )


def test_a_penalty_in_a_weight_league_is_warned_of():
    rules = from_dict({"season": {"score": "weight"}})
    text = "section,peg,angler,weight,penalty\nA,1,Ana,6-0,2\nA,2,Bo,5-0,\n"

    assert read_sheet(text, rules).warnings == (
        "This league adds up weight, so penalty points change no table. Use weight_penalty to take "
        "weight off.",
    )


def test_a_whole_sheet_has_no_warning():
    for name in ("heron-lake-round-6", "fallow-mere-team-day"):
        assert read_sheet((SHEETS / f"{name}.csv").read_bytes(), POUNDS).warnings == ()


# Reading composes accents, so names are made composed.
NAMES = st.text(
    st.characters(categories=["L", "N", "P", "S"], exclude_characters="'"), min_size=1, max_size=12
).map(lambda name: unicodedata.normalize("NFC", name))
STATUS = st.sampled_from([each for each in Status if each not in (Status.WEIGHED, Status.VACANT)])
NETS = st.lists(st.integers(0, 999 * 256), min_size=1, max_size=3).map(tuple)


@st.composite
def matches(draw: st.DrawFn) -> SheetMatch:
    """Any match a sheet can hold."""
    anglers = draw(st.lists(NAMES, min_size=1, max_size=8, unique_by=lambda name: name.casefold()))
    rows = []
    for number, angler in enumerate(anglers):
        weighed = draw(st.booleans())
        penalty = draw(st.sampled_from([0, 0, 2, Fraction(1, 2), Fraction(1, 3)]))
        rows.append(
            Row(
                section=draw(st.sampled_from("AB")),
                peg=str(number + 1),
                angler=angler,
                team=draw(st.sampled_from(["", f"Team {number}"])),
                status=Status.WEIGHED if weighed else draw(STATUS),
                nets=draw(NETS) if weighed else (),
                penalty=penalty,
                decided=draw(st.sampled_from([None, None, 0, Fraction(9, 2)])),
                decision=draw(st.sampled_from(["", "=1+1", "A dash - here", '"quoted", yes'])),
                note=draw(st.sampled_from(["", "-", "@home", "two, nets"])),
            )
        )
    return SheetMatch(rows=tuple(rows), name=draw(st.sampled_from(["", "Spring cup"])))


@tried(40, 500)
@given(match=matches())
def test_what_is_written_is_read_back_the_same(match):
    assert read_sheet(write_match(match, Unit.LB_OZ), POUNDS).matches == (match,)


@pytest.mark.parametrize("name", ["summer-pairs", "marl-canal-evenings"])
def test_a_season_goes_out_and_comes_in_the_same(name):
    rules = KILOS if name == "marl-canal-evenings" else POUNDS
    season = read_sheet((SHEETS / f"{name}.csv").read_bytes(), rules).matches

    written = write_season(season, rules.unit)

    assert read_sheet(written, rules).matches == season
    assert written.splitlines()[0].startswith("round,date,")


def test_a_cell_that_a_spreadsheet_would_run_is_shielded_and_read_without_its_shield():
    match = SheetMatch(rows=(Row("A", "1", "Ana", nets=(16,), note="=HYPERLINK(1)"),))

    written = write_match(match, Unit.LB_OZ)

    assert ",'=HYPERLINK(1)" in written
    assert read_sheet(written, POUNDS).matches == (match,)


def test_lines_end_as_the_csv_standard_has_them():
    match = SheetMatch(rows=(Row("A", "1", "Ana", nets=(16,)),))

    assert write_match(match, Unit.LB_OZ) == ("section,peg,angler,team,weight\r\nA,1,Ana,,0-1\r\n")


def test_a_stream_may_come_in_small_pieces():
    class Dribble(BytesIO):
        def read(self, size: int | None = -1, /) -> bytes:
            return super().read(7)

    text = "section,peg,angler,weight\r\nA,1,Zoë,6-0\r\nA,2,Bo,blank\r\n".encode()

    assert one(Dribble(text)) == one(text)
