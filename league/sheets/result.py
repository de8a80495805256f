"""The results sheet: bank, teams, ties, sections, rules and notes, for the wall."""

from __future__ import annotations

from collections.abc import Sequence

from league.rules.lines import MatchResult
from league.sheets import cautions, faces
from league.sheets.binding import bind, opening_of
from league.sheets.cutting import cut, deepest, headed_parts
from league.sheets.flow import GUTTER, beside, half, headed, in_pairs, small_print
from league.sheets.frame import AS_A_PAGE, Foot
from league.sheets.ledger import ledger_block, name_room
from league.sheets.page import MM, Block, Page, SheetHead, write_sheet
from league.sheets.result_notes import decisions_of, notes_of, ties
from league.sheets.result_tables import TeamColumn, best_ledger, section_ledgers, team_ledgers
from league.sheets.strip import bank_blocks
from league.strip import BankPeg

__all__ = ["TeamColumn", "result_sheet"]

SIDE, WIDEST_SIDE = 52 * MM, 70 * MM  # of the box beside the team table
TEAM_NAME = 38 * MM  # room enough for a team's name
NARROWEST_TEAM = 24 * MM  # it keeps this much, or nothing stands beside the table
FIRST_FEW = 10  # best weights shown where there are no teams


def result_sheet(
    head: SheetHead,
    result: MatchResult,
    *,
    bank: Sequence[BankPeg] = (),
    season: Sequence[TeamColumn] = (),
) -> bytes:
    """
    Print *result* as a PDF.

    One page holds four sections of twelve; beyond that no section is cut by the end of a page.
    The same arguments give the same bytes. Without *bank* there is no strip.
    """
    pages = result_pages(head, result, bank=bank, season=season)
    return write_sheet(f"{head.title}: results", head.club, head.series, pages)


def result_pages(
    head: SheetHead,
    result: MatchResult,
    *,
    bank: Sequence[BankPeg] = (),
    season: Sequence[TeamColumn] = (),
) -> list[Page]:
    """The pages of the results sheet, to be printed alone or bound into a book."""
    faces.load_faces()
    room, deep = head.paper.room, deepest(head.paper)
    sections = [
        ledger_block(part)
        for ledger in section_ledgers(result, half(room))
        for part in cut(ledger, deep)
    ]
    blocks = [
        *bank_blocks(result, bank, room),
        *_top_of_the_day(result, season, room, deep),
        *in_pairs(sections, room),
        *small_print(
            (
                ("Notes", [*notes_of(result, bank, with_unit=not head.rules), *head.notes]),
                ("Decisions", head.decisions or decisions_of(result)),
                ("Rules", head.rules),
                ("Draw", [head.draw] if head.draw else []),
                ("On the bank", [cautions.SHORT, cautions.FIRST]),
            ),
            room,
            deep,
        ),
    ]
    reasons = (AS_A_PAGE,) if head.address else ()
    return bind(
        head,
        corner=head.series,
        opening=opening_of(head),
        blocks=blocks,
        foot=Foot(reasons, ("Match secretary", "Scales")),
    )


def _top_of_the_day(
    result: MatchResult, season: Sequence[TeamColumn], room: float, deep: float
) -> list[Block]:
    """The teams with how their ties were split; without teams, the best weights."""
    if not result.teams:
        if len(result.sections) < 2 or not any(line.weight for line in result.anglers):
            return []
        return [ledger_block(best_ledger(result, half(room), FIRST_FEW))]
    told = ties((line.split for line in result.teams), result.unit)
    heading = "How the tie was split" if len(told) == 1 else "How the ties were split"
    whole = team_ledgers(result, room, season)
    spare = name_room(whole[0]) - TEAM_NAME - GUTTER
    side = min(max(spare, SIDE), WIDEST_SIDE)
    narrow = team_ledgers(result, room - side - GUTTER, season)
    box = headed_parts(heading, told, room, deep) if told else []
    if len(narrow) > 1 or name_room(narrow[0]) < NARROWEST_TEAM or len(cut(narrow[0], deep)) > 1:
        return [*(ledger_block(part) for each in whole for part in cut(each, deep)), *box]
    table = ledger_block(narrow[0])
    if told:
        slim = headed(heading, told, side, barred=True)
        if slim.height(1.0) <= table.height(1.0) + 12 * MM:
            return [beside([table, slim], (0.0, room - side))]
    best = ledger_block(best_ledger(result, side, 3))
    return [beside([table, best], (0.0, room - side)), *box]
