"""A result is published, corrected, made final: versions, gaps, two secretaries at once."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from typing import Any

import pytest
from django.contrib.auth.models import User

from league.files import rulebook
from league.models import Club, DecisionKind, Entry, Match, Result, Stage
from league.operations import publish as acts
from league.operations.decide import decide
from league.operations.errors import RefusedError
from league.operations.publish import make_final, publish
from league.operations.score import changed_since, gaps_in, moved, read, score
from league.operations.weigh import set_aside, settle
from league.rules.rulebook import Rulebook
from tests.builders import make_entry, make_fished_match, make_match, make_season, make_weigh_in

NOW = dt.datetime(2027, 1, 24, 17, tzinfo=dt.UTC)
LATER = NOW + dt.timedelta(hours=28)
WEIGHTS = {"A": ["12-8", "9-4", "blank"], "B": ["3-2", "3-2", "1-0"]}


@pytest.fixture
def match(club: Club) -> Match:
    return make_fished_match(club, weights=WEIGHTS)


def _correct(entry: Entry, figure: str, by: User) -> None:
    settle(make_weigh_in(entry, figure), why="Misread.", by=by)


def test_the_first_version_is_numbered_dated_and_written_down(
    match: Match, sam: User, journal: Callable[[], list[str]]
) -> None:
    result = publish(match, by=sam, at=NOW)

    assert (result.version, result.published_by, result.published_at) == (1, sam, NOW)
    assert (result.state, result.why) == ("provisional", "")
    # The club hears objections for 27 hours.
    assert result.objections_until == NOW + dt.timedelta(hours=27)
    assert Match.objects.get(pk=match.pk).stage == Stage.PUBLISHED
    assert journal() == ["Version 1 published."]


def test_objections_are_heard_until_the_time_that_was_announced(match: Match, sam: User) -> None:
    match.objections_until = NOW + dt.timedelta(hours=3)
    match.save()

    assert publish(match, by=sam, at=NOW).objections_until == NOW + dt.timedelta(hours=3)


def test_the_document_is_read_back_as_it_was_worked_out(match: Match, sam: User) -> None:
    result = publish(match, by=sam)

    assert read(Result.objects.get()) == score(match)
    assert result.document["version"] == 1
    assert gaps_in(result) == []


def test_the_document_says_what_page_and_sheet_print(club: Club, sam: User) -> None:
    season = make_season(club, book=rulebook.as_dict(Rulebook()), planned_rounds=7)
    match = make_fished_match(season=season, round=6, weights=WEIGHTS)

    about = publish(match, by=sam).document["match"]

    assert about == {
        "name": "Round 6",
        "date": "2027-01-24",
        "club": "Marlbrook & District AC",
        "league": season.league.name,
        "season": "2026–27",
        "round": 6,
        "rounds": 7,
        "water": match.water.name,
        "venue": match.water.venue.name,
        "match_id": match.pk,
        "unit": "lb-oz",
    }


def test_a_published_version_stays_as_it_was_whatever_changes_after(
    match: Match, sam: User
) -> None:
    result = publish(match, by=sam)
    before = read(result)
    entry = match.entries.get(number=1)
    entry.angler.name = "Somebody Else"
    entry.angler.save()
    match.book = rulebook.as_dict(rulebook.changed(Rulebook(), {"section": {"equal": "worse"}}))
    match.save()
    _correct(entry, "1-0", sam)

    assert read(Result.objects.get(version=1)) == before


def test_a_peg_not_weighed_or_in_question_is_refused_with_the_list(match: Match, sam: User) -> None:
    waiting, doubtful = match.entries.get(number=2), match.entries.get(number=5)
    set_aside(waiting.weigh_ins.get(), why="Wrong peg.", by=sam)
    make_weigh_in(doubtful, "3-3")

    with pytest.raises(RefusedError) as refusal:
        publish(match, by=sam)

    assert str(refusal.value).splitlines() == [
        "Not everybody is weighed. Weigh or settle these, or confirm that the result goes out "
        "with them shown as open:",
        f"Peg 2, {waiting.angler}: not weighed yet.",
        f"Peg 5, {doubtful.angler}: in question, 3 lb 2 oz or 3 lb 3 oz.",
    ]
    assert not Result.objects.exists()


def test_confirmed_the_gap_is_published_and_shown(match: Match, sam: User) -> None:
    entry = match.entries.get(number=2)
    set_aside(entry.weigh_ins.get(), why="Wrong peg.", by=sam)

    result = publish(match, by=sam, gaps_confirmed=True)

    assert gaps_in(result) == [f"Peg 2, {entry.angler}: not weighed yet."]
    line = next(
        line for section in read(result).sections for line in section.lines if line.row.peg == "2"
    )
    assert line.row.note == "Not weighed yet."
    with pytest.raises(RefusedError) as final:
        make_final(match, by=sam, at=result.objections_until)
    assert str(final.value).splitlines()[1:] == [f"Peg 2, {entry.angler}: not weighed yet."]


def test_nothing_is_published_before_the_draw_or_of_a_cancelled_match(
    club: Club, sam: User
) -> None:
    planned = make_match(club, drawn=False)
    cancelled = make_fished_match(club)
    cancelled.stage = Stage.CANCELLED
    cancelled.save()
    empty = make_match(club)

    said = []
    for match in (planned, cancelled, empty):
        with pytest.raises(RefusedError) as refusal:
            publish(match, by=sam)
        said.append(str(refusal.value))

    assert said == [
        "The pegs are not drawn yet, so there is nothing to publish.",
        "The match is cancelled, so it has no result.",
        "Nobody has a peg, so there is nothing to publish.",
    ]


def test_a_correction_is_the_next_version_with_its_reason(
    match: Match, sam: User, journal: Callable[[], list[str]]
) -> None:
    first = publish(match, by=sam, at=NOW)
    entry = match.entries.get(number=1)
    _correct(entry, "9-8", sam)

    second = publish(match, by=sam, correcting=1, why=" Peg 1 misread. ", at=LATER)

    assert (second.version, second.why) == (2, "Peg 1 misread.")
    assert second.objections_until == LATER + dt.timedelta(hours=27)
    assert moved(first, second) == [
        f"Peg 1, {entry.angler}: 12 lb 8 oz becomes 9 lb 8 oz.",
        "Nobody changes place.",
    ]
    assert [each.version for each in Result.objects.of(match)] == [2, 1]
    assert journal()[-1] == "Version 2 published. Peg 1 misread."


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({}, "Version 1 was published meanwhile; look again."),
        ({"correcting": 2, "why": "x"}, "Version 1 was published meanwhile; look again."),
        (
            {"correcting": 1, "why": " "},
            "Say why the result is corrected: it is printed with it.",
        ),
        (
            {"correcting": 1, "why": "x"},
            "Nothing has changed since version 1: there is nothing to correct.",
        ),
    ],
)
def test_a_correction_knows_what_it_corrects_and_why(
    match: Match, sam: User, values: dict[str, Any], words: str
) -> None:
    publish(match, by=sam)

    with pytest.raises(RefusedError) as refusal:
        publish(match, by=sam, **values)

    assert str(refusal.value) == words
    assert Result.objects.count() == 1


def test_what_was_never_published_cannot_be_corrected(match: Match, sam: User) -> None:
    with pytest.raises(RefusedError) as refusal:
        publish(match, by=sam, correcting=1, why="x")

    assert str(refusal.value) == "No version is published yet, so there is none to correct."


def test_of_two_secretaries_the_second_is_told_and_nothing_is_doubled(
    match: Match, sam: User
) -> None:
    publish(match, by=sam)
    _correct(match.entries.get(number=1), "9-8", sam)
    publish(match, by=sam, correcting=1, why="Misread.")
    _correct(match.entries.get(number=2), "9-0", sam)

    with pytest.raises(RefusedError) as refusal:
        publish(match, by=sam, correcting=1, why="Misread.")

    assert str(refusal.value) == "Version 2 was published meanwhile; look again."


def test_a_weight_that_comes_in_while_the_result_is_worked_out_is_in_it(
    match: Match, sam: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    worked_out = acts._work_out
    came_in: list[str] = []

    def slowly(*args: Any) -> dict[str, Any]:
        document = worked_out(*args)
        if not came_in:
            came_in.append("9-8")
            _correct(match.entries.get(number=1), "9-8", sam)
        return document

    monkeypatch.setattr(acts, "_work_out", slowly)

    result = publish(match, by=sam)

    line = read(result).sections[0].lines[0]
    assert (line.row.peg, line.weight) == ("1", 9 * 256 + 8 * 16)


def test_while_weights_keep_coming_the_secretary_is_asked_to_wait(
    match: Match, sam: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    worked_out = acts._work_out

    def slowly(*args: Any) -> dict[str, Any]:
        document = worked_out(*args)
        make_weigh_in(match.entries.get(number=3), "blank")
        return document

    monkeypatch.setattr(acts, "_work_out", slowly)

    with pytest.raises(RefusedError) as refusal:
        publish(match, by=sam)

    assert str(refusal.value).startswith("Weights are still coming in faster")
    assert not Result.objects.exists()


def test_rules_that_contradict_themselves_are_said(match: Match, sam: User) -> None:
    match.book = {"section": {"top": "teams"}}
    match.save()

    with pytest.raises(RefusedError) as refusal:
        publish(match, by=sam)

    assert "top is for high points only" in str(refusal.value)


def test_made_final_the_same_document_only_gains_when_and_by_whom(
    match: Match, sam: User, journal: Callable[[], list[str]]
) -> None:
    published = publish(match, by=sam, at=NOW)

    final = make_final(match, by=sam, at=LATER)

    assert final.pk == published.pk
    assert (final.state, final.final_at, final.final_by) == ("final", LATER, sam)
    assert Result.objects.get().document == published.document
    assert Match.objects.get(pk=match.pk).stage == Stage.FINAL
    assert journal()[-1] == "Version 1 made final."


def test_a_result_is_not_final_while_objections_are_heard(match: Match, sam: User) -> None:
    publish(match, by=sam, at=NOW)

    with pytest.raises(RefusedError) as refusal:
        make_final(match, by=sam, at=NOW + dt.timedelta(hours=26, minutes=59))

    # Published on Sunday at 17:00; 27 hours later it is Monday, 20:00.
    assert str(refusal.value) == (
        "Objections are heard until Monday 25 January, 20:00. Make the result final after that."
    )


def test_a_result_with_something_changed_is_corrected_before_it_is_final(
    match: Match, sam: User
) -> None:
    publish(match, by=sam, at=NOW)
    entry = match.entries.get(number=6)
    _correct(entry, "1-1", sam)

    with pytest.raises(RefusedError) as refusal:
        make_final(match, by=sam, at=LATER)

    assert str(refusal.value) == (
        "Something has changed since version 1, so a correction comes first. "
        f"Peg 6, {entry.angler}: 1 lb 0 oz becomes 1 lb 1 oz. Nobody changes place."
    )


def test_a_second_figure_after_publication_is_settled_before_it_is_final(
    match: Match, sam: User
) -> None:
    publish(match, by=sam, at=NOW)
    entry = match.entries.get(number=6)
    make_weigh_in(entry, "1-1")

    with pytest.raises(RefusedError) as refusal:
        make_final(match, by=sam, at=LATER)

    assert f"Peg 6, {entry.angler}: in question, 1 lb 0 oz or 1 lb 1 oz." in str(refusal.value)


def test_what_is_not_published_or_is_final_already_cannot_be_made_final(
    match: Match, sam: User
) -> None:
    with pytest.raises(RefusedError) as early:
        make_final(match, by=sam)
    publish(match, by=sam, at=NOW)
    make_final(match, by=sam, at=LATER)
    with pytest.raises(RefusedError) as twice:
        make_final(match, by=sam, at=LATER)

    assert str(early.value) == "No result is published yet, so none can be made final."
    assert str(twice.value) == "Version 1 is final already."


def test_a_final_result_can_still_be_corrected_and_is_provisional_again(
    match: Match, sam: User
) -> None:
    publish(match, by=sam, at=NOW)
    make_final(match, by=sam, at=LATER)
    _correct(match.entries.get(number=1), "9-8", sam)

    second = publish(match, by=sam, correcting=1, why="Misread.", at=LATER)

    assert second.state == "provisional"
    assert Result.objects.get(version=1).state == "final"
    assert Match.objects.get(pk=match.pk).stage == Stage.PUBLISHED


def test_a_decision_after_publication_is_a_change(match: Match, sam: User) -> None:
    result = publish(match, by=sam)
    entry = match.entries.get(number=1)
    assert changed_since(result) == []

    decide(match, kind=DecisionKind.POINTS, entry=entry, points=2, why="Rule 9.", by=sam)

    assert changed_since(result) == [
        f"Section A, {entry.angler}: from 1 point to 3 points.",
        "Nobody changes place.",
    ]


def test_a_name_written_otherwise_changes_nothing(match: Match, sam: User) -> None:
    result = publish(match, by=sam)
    angler = match.entries.get(number=1).angler
    angler.name = "Winston Arberry"
    angler.save()

    assert changed_since(result) == []


def test_what_can_change_the_table_is_counted(club: Club, sam: User) -> None:
    season = make_season(club)
    match = make_fished_match(season=season)
    publish(match, by=sam, at=NOW)
    make_final(match, by=sam, at=LATER)

    season.refresh_from_db()
    assert season.table_version == 2


def test_a_late_angler_without_a_peg_holds_the_result_up(match: Match, sam: User) -> None:
    make_entry(match, name="Hugh Amblerton")

    with pytest.raises(RefusedError) as refusal:
        publish(match, by=sam)

    assert str(refusal.value).endswith("\nHugh Amblerton has no peg.")


def test_a_penalty_for_a_team_after_publication_is_a_change(club: Club, sam: User) -> None:
    season = make_season(club, teams=["Old Quarry"])
    match = make_match(season=season, sections={"A": 1})
    make_weigh_in(make_entry(match, peg=1, team=season.teams.get()))
    result = publish(match, by=sam)

    decide(match, kind=DecisionKind.POINTS, team=season.teams.get(), points=2, why="Late.", by=sam)

    assert changed_since(result) == ["No team changes place.", "The decisions have changed."]
