"""From blocks to a bound PDF: the head on the first page, a foot on every one, no block cut."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from league.sheets.flow import draw_blocks, paragraph, share_out
from league.sheets.frame import (
    LEAD,
    LEAD_LINE,
    SLIM,
    Foot,
    draw_foot,
    draw_slim_foot,
    foot_height,
    lead_runs,
    page_of,
    plain_address,
    standing,
    title_block,
    top_block,
)
from league.sheets.page import MM, Block, Leaf, Page, SheetHead


def opening_of(head: SheetHead) -> list[Block]:
    """What a sheet begins with: its title, then when it was, the answer, and how firm it is."""
    opening = [title_block(head.title, head.paper.room)]
    if lead := lead_runs(head):
        opening.append(paragraph(lead, LEAD, LEAD_LINE, head.paper.room))
    return opening


def bind(
    head: SheetHead,
    *,
    corner: str,
    opening: Sequence[Block],
    blocks: Sequence[Block],
    foot: Foot,
) -> list[Page]:
    """
    Bind *blocks* under the *opening* of the first page into pages.

    *corner* stands top right. Later pages say at their head which sheet and which version they
    belong to, so that none hangs about unnamed.
    """
    paper = head.paper
    first_top = top_block(head.club, corner, paper.room)
    named = ". ".join(part for part in (head.title, standing(head, short=True)) if part)
    later_top = top_block(head.club, named, paper.room)
    opened = [first_top, *opening]
    room = paper.floor - paper.top
    opening_high = sum(block.height(0) for block in opened) + 3 * MM * len(opening) / 2 + 2 * MM
    later_high = later_top.height(0) + 4 * MM
    filled = share_out(
        blocks,
        first=room - opening_high,
        later=room - later_high,
        foot=lambda tight: foot_height(head, foot, paper, tight) + 2 * MM,
        slim=SLIM,
    )
    pages = len(filled)

    def page(number: int) -> Callable[[Leaf], None]:
        def draw(leaf: Leaf) -> None:
            y = paper.top
            if number == 1:
                for block in opened:
                    block.draw(leaf, paper.side, y, 0)
                    y += block.height(0) + 1.5 * MM
                y = paper.top + opening_high
            else:
                later_top.draw(leaf, paper.side, y, 0)
                y += later_high
            filling = filled[number - 1]
            draw_blocks(leaf, filling, paper.side, y)
            if number == pages:
                named = page_of(number, pages) if pages > 1 else ""
                draw_foot(leaf, head, foot, named, filling.tight)
            else:
                draw_slim_foot(leaf, plain_address(head.address), page_of(number, pages))

        return draw

    return [
        Page(paper, page(number), mark=head.title if number == 1 else "")
        for number in range(1, pages + 1)
    ]
