"""The last look over the bank, on the page before the result is published."""

from __future__ import annotations

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
