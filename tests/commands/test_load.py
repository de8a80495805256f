"""`load` and `unload`: a season in, everything out, nothing changed on a fault."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from league.models import Act, Angler, Club, Match, Peg, Result, Season, Stage
from tests.commands.conftest import ROOT

WINTER = ROOT / "fixtures" / "demo" / "winter-team-league-2026-27.csv"
BOOK = ROOT / "fixtures" / "demo" / "winter-team-league.toml"

TWO_ROUNDS = """\
round,date,water,section,peg,angler,team,weight
1,2026-10-04,Heron Lake,A,1,Ana Ferradas,Lamplighters,6-0
1,2026-10-04,Heron Lake,A,2,Jo Ormesher,Tannery Lane,14-9
1,2026-10-04,Heron Lake,B,3,Ron Tibbald,Lamplighters,not weighed
1,2026-10-04,Heron Lake,B,4,Ray Tolliver,Tannery Lane,2-2
2,2026-10-25,Marl Canal,A,1,Ana Ferradas,Lamplighters,blank
2,2026-10-25,Marl Canal,A,12a,Jo Ormesher,Tannery Lane,1-4
2,2026-10-25,Marl Canal,B,13,Ron Tibbald,Lamplighters,5-0
2,2026-10-25,Marl Canal,B,,Ray Tolliver,Tannery Lane,absent
"""

pytestmark = pytest.mark.django_db


def load(path: Path, *args: str, club: str = "Marlbrook & District AC") -> str:
    out = io.StringIO()
    options = ("--club", club, "--league", "Winter Team League")
    call_command("load", str(path), *options, *args, stdout=out, stderr=out)
    return out.getvalue()


def written(tmp_path: Path, text: str, name: str = "season.csv") -> Path:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return path


def counts() -> tuple[int, ...]:
    return tuple(model.objects.count() for model in (Club, Season, Match, Angler, Peg, Result, Act))


def test_a_season_comes_in_published_and_final(tmp_path: Path):
    said = load(written(tmp_path, TWO_ROUNDS))

    assert "Winter Team League 2026: rounds 1 and 2 loaded." in said
    assert [match.stage for match in Match.objects.all()] == [Stage.FINAL, Stage.FINAL]
    assert [str(match.water) for match in Match.objects.order_by("round")] == [
        "Heron Lake",
        "Marl Canal",
    ]
    # Low points, pegs in twos: Tannery Lane 1 + 1 beat Lamplighters 2 + 2.
    document = Result.objects.get(match__round=1).document
    assert [(row["team"], row["points"]) for row in document["teams"]] == [
        ("Tannery Lane", "2"),
        ("Lamplighters", "4"),
    ]


def test_an_absent_angler_without_a_peg_is_still_in_the_section(tmp_path: Path):
    load(written(tmp_path, TWO_ROUNDS))

    document = Result.objects.get(match__round=2).document
    section = next(each for each in document["sections"] if each["section"] == "B")
    # N counts both, so absent is N+1 = 3 and not 2.
    assert section["size"] == 2
    assert [(row["angler"], row["points"]) for row in section["anglers"]] == [
        ("Ron Tibbald", "1"),
        ("Ray Tolliver", "3"),
    ]


def test_loading_twice_changes_nothing(tmp_path: Path):
    path = written(tmp_path, TWO_ROUNDS)
    load(path)
    before = counts()

    said = load(path)

    assert "rounds 1 and 2 on record already" in said
    assert counts() == before


def test_every_fault_is_told_by_row_and_column_and_nothing_is_kept(tmp_path: Path):
    faulty = TWO_ROUNDS.replace("14-9", "14-19").replace("12a,Jo", "1,Jo").replace("5-0", "")

    with pytest.raises(CommandError) as refused:
        load(written(tmp_path, faulty))

    assert "Row 3, weight: '14-19': ounces go from 0 to 15." in str(refused.value)
    assert "Row 7, peg: Peg 1 is in row 6 already." in str(refused.value)
    assert "Row 8, weight: Nothing stands here." in str(refused.value)
    assert counts() == (0, 0, 0, 0, 0, 0, 0)


def test_what_the_records_cannot_hold_is_told_for_every_round(tmp_path: Path):
    faulty = TWO_ROUNDS.replace("12a,Jo", "123456789,Jo").replace("Lamplighters", "L" * 61)

    with pytest.raises(CommandError) as refused:
        load(written(tmp_path, faulty), "--season", "2026")

    assert f"Round 1, team of Ana Ferradas: {'L' * 20}… is too long; 60 letters fit." in str(
        refused.value
    )
    assert "Round 2, peg of Jo Ormesher: 123456789… is too long; 8 letters fit." in str(
        refused.value
    )
    assert counts() == (0, 0, 0, 0, 0, 0, 0)


def test_a_round_on_record_with_other_figures_is_refused(tmp_path: Path):
    load(written(tmp_path, TWO_ROUNDS))
    before = counts()

    with pytest.raises(CommandError, match="Round 1 is on record with other figures"):
        load(written(tmp_path, TWO_ROUNDS.replace("14-9", "14-8"), "other.csv"))

    assert counts() == before


def test_a_later_round_is_added_to_the_season(tmp_path: Path):
    first = "\n".join(TWO_ROUNDS.splitlines()[:5]) + "\n"
    load(written(tmp_path, first))

    said = load(written(tmp_path, TWO_ROUNDS, "both.csv"))

    assert "round 2 loaded" in said
    assert "round 1 on record already" in said
    assert Season.objects.count() == 1


def test_other_rules_for_a_season_on_record_are_refused(tmp_path: Path):
    path = written(tmp_path, TWO_ROUNDS)
    load(path)

    with pytest.raises(CommandError, match="has other rules on record"):
        load(path, "--rules", "high-by-section")


def test_a_match_sheet_is_no_season(tmp_path: Path):
    sheet = "section,peg,angler,weight\nA,1,Ana,6-0\nA,2,Jo,5-0\n"

    with pytest.raises(CommandError, match="no round column"):
        load(written(tmp_path, sheet), "--season", "2026")


def test_a_name_that_is_nearly_a_club_asks_which_was_meant(tmp_path: Path):
    path = written(tmp_path, TWO_ROUNDS)
    load(path)

    with pytest.raises(CommandError, match="Did you mean Marlbrook & District AC"):
        load(path, club="Marlbrok & District AC")


def test_disqualified_and_penalised_anglers_keep_their_decisions(tmp_path: Path):
    sheet = (
        "round,date,section,peg,angler,weight,penalty,note\n"
        "1,2026-10-04,A,1,Ana,6-0,,\n"
        "1,2026-10-04,A,2,Jo,5-0,2,Late at the scales.\n"
        "1,2026-10-04,A,3,Ron,7-0 disqualified,,Fished outside the times.\n"
    )
    load(written(tmp_path, sheet))

    anglers = Result.objects.get().document["sections"][0]["anglers"]
    # Ana 1; Jo second with two more; Ron N+1.
    assert [(row["angler"], row["points"]) for row in anglers] == [
        ("Ana", "1"),
        ("Jo", "4"),
        ("Ron", "4"),
    ]
    assert "Late at the scales." in anglers[1]["decision"]


def test_juniors_on_the_clubs_list_are_never_printed_in_full(tmp_path: Path):
    listed = written(tmp_path, "name,junior\nAna Ferradas,yes\n", "anglers.csv")

    load(written(tmp_path, TWO_ROUNDS), "--anglers", str(listed))

    text = json.dumps(list(Result.objects.values_list("document", flat=True)))
    assert "Ana F. (junior)" in text
    assert "Ana Ferradas" not in text


def test_without_a_list_of_anglers_juniors_are_asked_about(tmp_path: Path):
    said = load(written(tmp_path, TWO_ROUNDS))

    assert "4 anglers are new" in said
    assert "children are not named in full without consent" in said


def test_a_season_in_kilograms_keeps_its_unit(tmp_path: Path):
    book = written(tmp_path, 'unit = "kg"\n', "rules.toml")
    sheet = "round,date,section,peg,angler,weight\n1,2026-10-04,A,1,Ana,5.640\n"
    more = sheet + "2,2026-11-04,A,1,Ana,1.000\n"
    load(written(tmp_path, sheet), "--rules", str(book))

    said = load(written(tmp_path, more, "more.csv"))

    assert "round 2 loaded" in said
    assert Result.objects.get(match__round=2).document["match"]["unit"] == "kg"


def test_what_was_unloaded_loads_into_the_same_again(tmp_path: Path):
    load(WINTER, "--rules", str(BOOK))
    call_command("unload", str(tmp_path / "out"), stdout=io.StringIO(), stderr=io.StringIO())
    there = tmp_path / "out" / "marlbrook-district-ac" / "winter-team-league" / "2026-27"

    load(
        there / "season.csv",
        *("--rules", str(there / "rules.toml")),
        *("--anglers", str(tmp_path / "out" / "marlbrook-district-ac" / "anglers.csv")),
        club="Another Club",
    )
    call_command("unload", str(tmp_path / "again"), stdout=io.StringIO(), stderr=io.StringIO())
    back = tmp_path / "again" / "another-club" / "winter-team-league" / "2026-27"

    assert (back / "season.csv").read_bytes() == (there / "season.csv").read_bytes()
    first, second = (
        json.loads((folder / "season.json").read_text(encoding="utf-8"))["table"]
        for folder in (there, back)
    )
    told = [(row["team"], row["total"], row["weight"]) for row in first]
    assert [(row["team"], row["total"], row["weight"]) for row in second] == told
    assert told[0] == ("Old Quarry", "26", "246-3")


def test_unloading_a_club_that_is_not_there_names_those_that_are(tmp_path: Path):
    load(written(tmp_path, TWO_ROUNDS))

    with pytest.raises(CommandError, match="There is: Marlbrook & District AC"):
        call_command("unload", str(tmp_path / "out"), "--club", "Elsewhere")
