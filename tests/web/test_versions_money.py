"""Whose money a version moved: told to those who keep it, and to nobody else."""

import pytest

from league.operations.payouts import fix_payouts, hand_over
from league.operations.publish import publish
from tests.factories import ClubFactory
from tests.money_scene import correct, key, match_with_pools, on_peg, pay
from tests.web.reading import read


@pytest.fixture
def corrected(club, secretary):
    """Peg 2's 9-4 was 13-4 and wins; peg 1 has had the £18 of the winner already."""
    by = secretary.user
    match = match_with_pools(club, by=by)
    pay(match, by=by)
    publish(match, by=by)
    fix_payouts(match, by=by)
    hand_over(match, key(match, 1), 1800, by=by)
    correct(match, 2, "13-4", by=by)
    publish(match, by=by, correcting=1, why="Misread.")
    return match


def moved(who, match, version=2):
    return who.get(f"/matches/{match.pk}/result/{version}/moved/")


def test_whoever_keeps_the_money_reads_what_a_version_moves_in_it(corrected, treasurer, secretary):
    first, second = (on_peg(corrected, number).angler for number in (1, 2))

    for who in (treasurer, secretary):
        answer = moved(who, corrected)
        words = read(answer).words
        assert f"{first}: £18 becomes £12. £18 was handed over, so £6 has to come back." in words
        assert f"{second}: £12 becomes £18. Nothing was handed over yet." in words
        assert answer["Cache-Control"] == "private, no-store"
        assert "ETag" not in answer


def test_nobody_else_reads_a_sum_before_or_after_it(
    corrected, treasurer, member, scalesman, stranger
):
    for _ in range(2):
        for who in (stranger, member, scalesman):
            assert "£" not in moved(who, corrected).content.decode()
        moved(treasurer, corrected)


def test_of_a_version_replaced_since_the_sums_alone_are_told(corrected, treasurer, secretary):
    correct(corrected, 3, "1-0", by=secretary.user)
    publish(corrected, by=secretary.user, correcting=2, why="Found a fish.")

    words = read(moved(treasurer, corrected)).words

    assert f"{on_peg(corrected, 1).angler}: £18 becomes £12." in words
    assert "has to come back" not in words


def test_a_treasurer_of_another_club_and_a_version_that_moves_no_money(corrected, treasurer):
    assert "£" not in moved(treasurer, corrected, 1).content.decode()
    treasurer.user.offices.update(club=ClubFactory())
    assert "£" not in moved(treasurer, corrected).content.decode()
