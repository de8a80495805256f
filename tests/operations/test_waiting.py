"""The waiting list of an open match: first come, first in, and who moves up is told."""

from __future__ import annotations

import datetime as dt

import pytest
from django.contrib.auth.models import User

from league.models import Act, Angler, Club, Entry, Match, Reserve, Stage
from league.operations.erase import erase
from league.operations.errors import RefusedError
from league.operations.lineup import book_in, bring_in, rang_in, withdraw
from league.operations.waiting import book_oneself, leave_list, set_places, wait_for_place
from tests.builders import make_match, make_season
from tests.factories import AnglerFactory, UserFactory

MONDAY = dt.datetime(2027, 1, 18, 20, tzinfo=dt.UTC)


@pytest.fixture
def match(club: Club) -> Match:
    """An open match with two places, both taken by Ivy and Len."""
    match = make_match(club, sections={"A": 2}, drawn=False, places=2)
    for name in ("Ivy Marsh", "Len Hathersage"):
        book_in(match, AnglerFactory(club=club, name=name), by=None)
    return match


def _named(club: Club, name: str) -> Angler:
    return AnglerFactory(club=club, name=name)


def test_a_full_match_takes_nobody_more_and_says_what_to_do(match: Match, club: Club) -> None:
    with pytest.raises(RefusedError, match=r"The match is full: 2 places. Put Maud Perrin on the"):
        book_in(match, _named(club, "Maud Perrin"), by=None)


def test_whoever_has_waited_longest_moves_up_when_somebody_withdraws(
    match: Match, club: Club
) -> None:
    late = wait_for_place(match, _named(club, "Ned Sparrow"), by=None, at=MONDAY)
    first = wait_for_place(
        match, _named(club, "Maud Perrin"), by=None, at=MONDAY - dt.timedelta(hours=1)
    )
    out = Entry.objects.of(match).get(angler__name="Ivy Marsh")

    withdraw(out, by=None)

    assert [entry.angler.name for entry in Entry.objects.of(match).in_booking_order()] == [
        "Len Hathersage",
        "Maud Perrin",
    ]
    assert Reserve.objects.in_place_of(out) == first
    assert list(Reserve.objects.on_the_list(match)) == [late]
    assert Act.objects.latest("pk").what == "Maud Perrin moves up from the waiting list, as 3."


def test_whoever_was_erased_waits_for_no_place(match: Match, club: Club) -> None:
    gone = _named(club, "Maud Perrin")
    wait_for_place(match, gone, by=None, at=MONDAY)
    wait_for_place(match, _named(club, "Ned Sparrow"), by=None, at=MONDAY + dt.timedelta(hours=1))
    erase(gone, by=None)

    withdraw(Entry.objects.of(match).get(angler__name="Ivy Marsh"), by=None)

    assert {entry.angler.name for entry in Entry.objects.of(match)} == {
        "Len Hathersage",
        "Ned Sparrow",
    }


def test_nobody_jumps_the_list_when_a_place_comes_free(match: Match, club: Club) -> None:
    wait_for_place(match, _named(club, "Maud Perrin"), by=None)
    match.places = 3
    match.save()

    with pytest.raises(RefusedError, match="Maud Perrin has waited longest"):
        book_in(match, _named(club, "Ned Sparrow"), by=None)


def test_more_places_let_as_many_move_up(match: Match, club: Club) -> None:
    for name in ("Maud Perrin", "Ned Sparrow", "Silas Underhay"):
        wait_for_place(match, _named(club, name), by=None)

    moved = set_places(match, 4, by=None)

    assert [entry.angler.name for entry in moved] == ["Maud Perrin", "Ned Sparrow"]
    assert Entry.objects.of(match).count() == 4


def test_while_there_is_a_place_nobody_is_put_on_the_list(match: Match, club: Club) -> None:
    set_places(match, 3, by=None)

    with pytest.raises(RefusedError, match="There is a place: book Maud Perrin in"):
        wait_for_place(match, _named(club, "Maud Perrin"), by=None)


def test_off_the_list_and_on_again_is_at_its_end(match: Match, club: Club) -> None:
    maud = _named(club, "Maud Perrin")
    waiting = wait_for_place(match, maud, by=None, at=MONDAY)
    wait_for_place(match, _named(club, "Ned Sparrow"), by=None, at=MONDAY + dt.timedelta(hours=1))
    leave_list(waiting, by=None)
    with pytest.raises(RefusedError, match="waits no longer"):
        leave_list(waiting, by=None)

    wait_for_place(match, maud, by=None, at=MONDAY + dt.timedelta(hours=2))

    names = [each.angler.name for each in Reserve.objects.on_the_list(match)]
    assert names == ["Ned Sparrow", "Maud Perrin"]


def test_after_the_draw_nobody_moves_up_by_itself(match: Match, club: Club) -> None:
    wait_for_place(match, _named(club, "Maud Perrin"), by=None)
    Match.objects.filter(pk=match.pk).update(stage=Stage.DRAWN)

    withdraw(Entry.objects.of(match).in_booking_order()[0], by=None)

    assert Entry.objects.of(match).count() == 1


def test_somebody_on_the_list_brought_in_waits_no_longer(match: Match, club: Club) -> None:
    maud = _named(club, "Maud Perrin")
    wait_for_place(match, maud, by=None)

    bring_in(Entry.objects.of(match).in_booking_order()[0], maud, by=None)

    assert not Reserve.objects.waiting(match).exists()


def test_a_member_books_in_alone_only_where_a_peg_is_left(match: Match, club: Club) -> None:
    user: User = UserFactory()
    set_places(match, None, by=None)  # as many as pegs: two

    with pytest.raises(RefusedError, match="Every place is taken"):
        book_oneself(match, _named(club, "Maud Perrin"), by=user)


def test_a_round_of_teams_is_named_by_captains(club: Club) -> None:
    match = make_match(
        season=make_season(club, teams=["Reds"], book={"unit": "lb-oz", "team": {"size": 4}}),
        drawn=False,
    )

    with pytest.raises(RefusedError, match="your captain names the line-up"):
        book_oneself(match, _named(club, "Maud Perrin"), by=UserFactory())


def test_what_was_rung_in_stands_with_the_entry_and_in_the_journal(match: Match) -> None:
    entry = Entry.objects.of(match).in_booking_order()[0]

    rang_in(entry, " late,  about 08:45 ", by=None)

    entry.refresh_from_db()
    assert entry.rang_in == "late, about 08:45"
    assert Act.objects.latest("pk").what == "Ivy Marsh rang in: late, about 08:45."
