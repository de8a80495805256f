"""The payout sheet: every sum with its line to sign on, both sides adding up, any number paid."""

from __future__ import annotations

import pytest

from league.rules.pools_pence import pence, pounds
from league.rules.pools_plan import Plan
from league.rules.pools_words import LAW, read_out
from league.sheets import cautions
from league.sheets.payout import PaidLine, SumLine, payout_sheet
from tests.sheets.reading import codes_of, pages_of, words_of
from tests.sheets.scenes import round_six

HEAD = round_six(
    headline="£39.00 to anglers",
    address="https://marlbrook.example/matches/6/money/payouts/",
    objections="Payouts 1, fixed Sunday 24 January, 17:40 from version 2 of the result.",
)
PAID = [
    PaidLine("Winston Arberry", "Frame £18", "£18.00"),
    PaidLine("Jo Ormesher", "Frame £12, Section B £9", "£21.00", had="had £21.00"),
]
CAME = [SumLine("Stakes", "6 paid", "£60.00")]
OTHERS = [SumLine("Peg fees", "6 at £2.", "£12.00"), SumLine("Club fund", "", "£9.00")]


def printed(paid=PAID, **changes) -> bytes:
    facts = {
        "came": CAME,
        "others": OTHERS,
        "totals": ("£60.00", "£39.00"),
        "reasons": ["Winston Arberry, Frame: First. 60 of 100 shares of £30, £18."],
        "pools": read_out(Plan(stake=1000, frame=1000)),
    }
    return payout_sheet(HEAD, paid, **(facts | changes))


def test_every_payee_has_a_line_to_sign_on_and_who_had_it_is_marked() -> None:
    words = words_of(printed())

    assert "Winston Arberry Frame £18 £18.00 ...." in words
    assert "Jo Ormesher Frame £12, Section B £9 £21.00 had £21.00" in words
    assert "To anglers in all £39.00" in words
    assert "Treasurer" in words
    assert "Match secretary" in words


def test_both_sides_stand_on_the_sheet_and_end_in_one_sum() -> None:
    words = words_of(printed())

    came, went = words.split("What came in")[1].split("What goes out")
    assert "Stakes 6 paid £60.00 In all £60.00" in came
    assert "To anglers, as signed for above £39.00" in went
    assert "Peg fees 6 at £2. £12.00 Club fund £9.00 In all £60.00" in went


def test_the_sheet_says_why_what_was_announced_and_what_comes_first() -> None:
    words = words_of(printed())

    assert "First. 60 of 100 shares of £30, £18." in words
    assert "Who has not paid is in no pool." in words
    assert LAW.replace("'", "’") in words.replace("'", "’")
    assert cautions.FIRST in words
    assert codes_of(printed()) == [HEAD.address]


@pytest.mark.parametrize("count", [0, 1, 31, 96])
def test_any_number_is_paid_and_nobody_is_left_off(count: int) -> None:
    paid = [PaidLine(f"Angler {n:02}", "Frame £1", pounds(100)) for n in range(1, count + 1)]

    words = " ".join(pages_of(printed(paid, totals=("£60.00", pounds(100 * count)))))

    assert [words.count(f"{line.name} Frame") for line in paid] == [1] * count
    if count:
        assert f"To anglers in all {pounds(100 * count)}" in words
    else:
        assert "Nobody is paid." in words
    assert pence(pounds(100 * count)) == 100 * count


def test_the_same_payouts_give_the_same_bytes() -> None:
    assert printed() == printed()
