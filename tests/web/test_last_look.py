"""The last look over the bank, on the page before the result is published."""

from __future__ import annotations

from league.operations.passes import let_in, make_pass
from league.operations.receive import heard_from
from league.rules.walks import Walk
from tests.builders import make_fished_match

EVEN = ["2-8", "3-0", "2-12", "3-4", "2-0", "3-8", "2-4", "3-12"]


def said(answer) -> str:
    return " ".join(answer.content.decode().split())


def test_a_figure_that_stands_out_is_named_with_a_way_to_correct_it(secretary, club):
    match = make_fished_match(club, weights={"A": [*EVEN, "33-8"]})
    entry = match.entries.get(match_peg__peg__number="9")

    shown = said(secretary.get(f"/matches/{match.pk}/run/publish/"))

    assert "Look at the paper once more" in shown
    assert f"Peg 9, {entry.angler}: 33 lb 8 oz is a long way over the usual." in shown
    assert f'href="/matches/{match.pk}/run/correct/{entry.pk}/"' in shown
    assert "Publish the result" in shown


def test_an_even_bank_is_not_asked_about(secretary, club):
    match = make_fished_match(club, weights={"A": EVEN})

    assert "Look at the paper once more" not in said(
        secretary.get(f"/matches/{match.pk}/run/publish/")
    )


def test_a_phone_that_still_holds_weights_is_named(secretary, club):
    match = make_fished_match(club, weights={"A": EVEN})
    _, secret = make_pass(match, name="Len", walk=Walk(), by=None)
    phone, _ = let_in(match.pk, secret, name="Ivy’s phone")
    heard_from(phone, waiting=3, skew=0, last_seq=8)

    shown = said(secretary.get(f"/matches/{match.pk}/run/publish/"))
    heard_from(phone, waiting=0, skew=0, last_seq=8)
    after = said(secretary.get(f"/matches/{match.pk}/run/publish/"))

    assert "Ivy’s phone had 3 still to send" in shown
    assert "still to send" not in after
