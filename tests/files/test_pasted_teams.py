"""Teams and squads as they are pasted."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.files.pasted_teams import PastedName, PastedTeam, read_squad, read_teams, write_team
from league.rules.errors import SheetError


def test_a_list_of_names_is_a_list_of_teams():
    teams = read_teams("Tannery Lane\n\n  2. Old   Quarry \n- Millrace\n")

    assert [team.name for team in teams] == ["Tannery Lane", "Old Quarry", "Millrace"]
    assert all(team.squad == () for team in teams)


@pytest.mark.parametrize(
    "line",
    [
        "Old Quarry: Dave Scrimshire (captain), Mick Oldacre",
        "Old Quarry\tDave Scrimshire (c)\tMick Oldacre",
        "Old Quarry: *Dave Scrimshire; Mick Oldacre;",
    ],
)
def test_a_squad_stands_behind_its_team(line):
    (team,) = read_teams(line)

    assert team.name == "Old Quarry"
    assert team.squad == (PastedName("Dave Scrimshire", captain=True), PastedName("Mick Oldacre"))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (": Jo Ormesher", "Row 1: The team has no name. Write it before the colon."),
        ("Millrace\nmillrace", "Row 2: millrace is in row 1 already."),
        ("A: Jo\nB: jo", "Row 2: jo is in A already; nobody fishes for two."),
        ("A: Jo, JO", "Row 1: JO is in the squad twice."),
        ("A: 12-8", "Row 1: '12-8' is no name. Write first name and surname."),
        ("A: Jo*, Ray (c)", "Row 1: Two captains are marked. A team has one."),
        ("A" * 61, "Row 1: AAAAAAAAAAAAAAAAAAAA… is too long; 60 letters fit."),
    ],
)
def test_what_cannot_be_is_said_with_its_row(text, words):
    with pytest.raises(SheetError) as refused:
        read_teams(text)

    assert str(refused.value) == words


def test_a_squad_is_pasted_alone_too():
    assert read_squad("Jo Ormesher (c)\nRay Tolliver\n")[0].captain
    with pytest.raises(SheetError) as refused:
        read_squad("Jo\nJo")
    assert str(refused.value) == "Row 2: Jo is there twice."


words = st.from_regex(r"[A-Z][a-z]{1,8}( [A-Z][a-z]{1,8})?", fullmatch=True)


@given(
    st.dictionaries(words, st.booleans(), min_size=1, max_size=8),
    words,
)
def test_a_team_written_down_is_read_back(squad, name):
    names = tuple(PastedName(each) for each in squad)
    if len({each.name.casefold() for each in names}) < len(names):
        return

    (team,) = read_teams(write_team(name, names))

    assert team == PastedTeam(name, names, 1)


@given(st.text(max_size=200))
def test_any_text_is_read_or_refused_in_words(text):
    teams, faults = _tried(text)

    assert all(fault.words.endswith(".") for fault in faults)
    assert all(team.name == " ".join(team.name.split()) for team in teams)


def _tried(text):
    try:
        return read_teams(text), ()
    except SheetError as refused:
        return (), refused.faults
