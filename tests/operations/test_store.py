"""The write queue, and rows refused in words."""

from __future__ import annotations

import pytest
from django.contrib.auth.models import User
from django.db import IntegrityError

from league.models import Act, Club, Team
from league.operations.errors import RefusedError
from league.operations.journal import write_down
from league.operations.store import add, writing
from tests.builders import make_season


def test_what_fails_half_way_leaves_nothing(club: Club) -> None:
    def act() -> None:
        with writing():
            write_down("First half.", by=None, club=club)
            with writing():
                write_down("Second half.", by=None, club=club)
            raise OSError("the disk is full")

    with pytest.raises(OSError, match="disk is full"):
        act()

    assert not Act.objects.exists()


def test_a_row_that_somebody_else_wrote_meanwhile_is_refused_in_the_same_words(
    club: Club, monkeypatch: pytest.MonkeyPatch
) -> None:
    season = make_season(club, teams=["Old Quarry"])
    late = Team(season=season, name="Old Quarry", code="OLD")
    looked = Team.full_clean
    looks: list[str] = []

    def blind_once(team: Team) -> None:
        looks.append(team.name)
        if len(looks) > 1:
            looked(team)

    monkeypatch.setattr(Team, "full_clean", blind_once)

    with pytest.raises(RefusedError) as refusal:
        add(late)

    assert str(refusal.value) == "The season already has a team of this name."


def test_a_clash_nobody_can_name_is_told_all_the_same(
    club: Club, monkeypatch: pytest.MonkeyPatch
) -> None:
    season = make_season(club, teams=["Old Quarry"])
    monkeypatch.setattr(Team, "full_clean", lambda team: None)

    with pytest.raises(RefusedError) as refusal:
        add(Team(season=season, name="Old Quarry", code="OLD"))

    assert str(refusal.value) == "Somebody else changed this meanwhile; look again."
    assert isinstance(refusal.value.__cause__, IntegrityError)


def test_a_long_line_of_the_journal_is_cut_to_fit(club: Club, sam: User) -> None:
    act = write_down("x" * 400, by=sam, club=club)

    assert (len(act.what), act.what[-1]) == (300, "…")
