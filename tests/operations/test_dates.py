"""Moving a match: what is refused, what is counted, what is written down."""

from __future__ import annotations

import datetime as dt

import pytest

from league.models import Act, Club, Match, Stage
from league.operations.dates import When, move_match
from league.operations.errors import RefusedError
from league.operations.season import cancel_match
from tests.builders import make_match, make_season
from tests.factories import VenueFactory, WaterFactory

SUNDAY = dt.date(2027, 2, 14)
LATER = When(SUNDAY, draw_at=dt.time(8, 30), all_in=dt.time(10), all_out=dt.time(15))


def test_a_match_moves_to_another_day_and_the_journal_says_from_where(club: Club) -> None:
    match = make_match(club, drawn=False, date=dt.date(2027, 1, 24))

    moved = move_match(match, when=LATER, why="The lake is frozen.", by=None)

    assert (moved.date, moved.draw_at, moved.moves) == (SUNDAY, dt.time(8, 30), 1)
    said = Act.objects.get(match=match).what
    water = match.water.name
    assert said == (
        f"Match moved from Sun 24 Jan 2027 at {water}, all in 10:00, all out 15:00 to "
        f"Sun 14 Feb 2027 at {water}, draw 08:30, all in 10:00, all out 15:00: The lake is frozen."
    )


def test_what_moves_nothing_is_not_counted(club: Club) -> None:
    match = make_match(club, drawn=False)
    move_match(match, when=LATER, by=None)

    again = move_match(match, when=LATER, by=None)

    assert again.moves == 1
    assert Act.objects.filter(match=match).count() == 1


def test_every_move_counts_one_and_so_does_calling_off(club: Club) -> None:
    match = make_match(club, drawn=False)
    first = match.moved_at
    move_match(match, when=LATER, by=None)
    move_match(match, when=When(SUNDAY + dt.timedelta(days=7)), by=None)

    cancel_match(match, why="No ice will melt.", by=None)

    match.refresh_from_db()
    assert match.moves == 3
    assert match.moved_at > first


@pytest.mark.parametrize(
    ("stage", "words"),
    [
        (Stage.CANCELLED, "The match is cancelled; plan a new one instead."),
        (Stage.PUBLISHED, "The result is published, so the match cannot be moved."),
        (Stage.FINAL, "The result is published, so the match cannot be moved."),
    ],
)
def test_what_is_over_is_not_moved(club: Club, stage: Stage, words: str) -> None:
    match = make_match(club)
    Match.objects.filter(pk=match.pk).update(stage=stage)

    with pytest.raises(RefusedError) as refused:
        move_match(match, when=LATER, by=None)

    assert str(refused.value) == words


def test_the_whistles_keep_their_order(club: Club) -> None:
    match = make_match(club, drawn=False)

    with pytest.raises(RefusedError, match="All out at 09:00 is not after all in at 10:00"):
        move_match(match, when=When(SUNDAY, all_in=dt.time(10), all_out=dt.time(9)), by=None)


def test_a_match_moves_to_another_water_while_no_peg_is_chosen(club: Club) -> None:
    season = make_season(club)
    other = WaterFactory(name="Fallow Mere", venue=VenueFactory(club=club))
    bare = make_match(season=season, drawn=False, sections={})
    chosen = make_match(season=season, drawn=False)

    moved = move_match(Match.objects.get(pk=_without_pegs(bare)), when=LATER, water=other, by=None)

    assert moved.water == other
    with pytest.raises(RefusedError, match="Take its sections away first"):
        move_match(chosen, when=LATER, water=other, by=None)


def test_a_water_of_another_club_is_refused(club: Club) -> None:
    match = make_match(club, drawn=False)
    match.match_pegs.all().delete()

    with pytest.raises(RefusedError, match="is not a water of the club"):
        move_match(match, when=LATER, water=WaterFactory(), by=None)


def _without_pegs(match: Match) -> int:
    match.match_pegs.all().delete()
    return match.pk
