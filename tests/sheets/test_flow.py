"""Blocks are shared out over pages: whole, in order, and never further down than there is room."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from league.sheets.flow import share_out, stack_height
from league.sheets.page import Block, between

FIRST, LATER, SLIM = 500.0, 700.0, 20.0
FOOT = (80.0, 60.0)


def block(high: float) -> Block:
    """Something so high, and three quarters of it on a full page."""
    return Block(lambda tight: between(high, 0.75 * high, tight), lambda leaf, x, y, tight: None)


@given(st.lists(st.floats(10, 880), min_size=1, max_size=20))
@settings(deadline=None)
def test_pages_hold_every_block_in_order_and_none_runs_into_its_foot(heights: list[float]) -> None:
    blocks = [block(high) for high in heights]
    pages = share_out(
        blocks, first=FIRST, later=LATER, foot=lambda tight: between(*FOOT, tight), slim=SLIM
    )
    assert [each for page in pages for each in page.blocks] == blocks
    for number, page in enumerate(pages, start=1):
        room = FIRST if number == 1 else LATER
        foot = between(*FOOT, page.tight) if number == len(pages) else SLIM
        assert stack_height(page.blocks, page.tight) <= room - foot


def test_a_page_is_no_tighter_than_it_must_be() -> None:
    (page,) = share_out([block(100)], first=FIRST, later=LATER, foot=lambda tight: 80, slim=SLIM)
    assert page.tight == 0
    (page,) = share_out([block(450)], first=FIRST, later=LATER, foot=lambda tight: 80, slim=SLIM)
    assert 0.2 <= page.tight <= 0.4
