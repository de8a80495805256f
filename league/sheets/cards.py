"""Cards to cut out: peg tickets for a real bag, team cards, and a captain's card to write on."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from league.sheets import cautions, faces
from league.sheets.frame import TOP, page_of
from league.sheets.page import A4, MM, Leaf, Page, Paper, plate_width, write_sheet

EDGE = 8 * MM  # round a page of cards: most printers reach no nearer
INSIDE = 5 * MM
SMALL, SMALL_LINE = 8.5, 10.6
BIG = (68.0, 54.0, 42.0, 32.0)
TITLES = (22.0, 18.0, 15.0, 12.0)
ROWS = (12 * MM, 6.0 * MM)

# Puts one card down: left edge, top, width and height.
Draw = Callable[[Leaf, float, float, float, float], None]


@dataclass(frozen=True, slots=True)
class Ticket:
    """A peg in the bag."""

    peg: str
    section: str = ""
    easy_access: bool = False


@dataclass(frozen=True, slots=True)
class Member:
    """A line of a team's card: where, and who; before the draw the peg is empty."""

    section: str
    peg: str = ""
    angler: str = ""
    remark: str = ""  # "easy access", a hazard at the peg


@dataclass(frozen=True, slots=True)
class TeamCard:
    """A team and its members in the order of the sections."""

    team: str
    members: tuple[Member, ...]


def peg_tickets(tickets: Sequence[Ticket], *, club: str, match: str, paper: Paper = A4) -> bytes:
    """Print a ticket a peg, all of a size, so that none is told by touch from another."""
    said = [part for part in (match, club) if part]

    def one(ticket: Ticket) -> Draw:
        def draw(leaf: Leaf, x: float, y: float, wide: float, high: float) -> None:
            if ticket.section:
                leaf.plate(x + INSIDE, y + INSIDE, ticket.section, high=26)
            if ticket.easy_access:
                leaf.say_right(
                    x + wide - INSIDE, y + INSIDE + 9, "easy access", faces.BOARD_MID, 10
                )
            room = wide - 2 * INSIDE
            size, _ = faces.fitted(ticket.peg, faces.BOARD_BOLD, BIG, room)
            middle = y + high * 0.52 + size * 0.36
            leaf.say_middle(x + wide / 2, middle, ticket.peg, faces.BOARD_BOLD, size)
            foot = y + high - INSIDE + SMALL * 0.3 - (len(said) - 1) * SMALL_LINE
            for line in said:
                for part in faces.wrap(line, faces.BOARD, SMALL, room)[:1]:
                    leaf.say_middle(x + wide / 2, foot, part, faces.BOARD, SMALL)
                foot += SMALL_LINE

        return draw

    pages = _pages([one(ticket) for ticket in tickets], paper, columns=3, rows=6)
    return write_sheet(f"{match}: peg tickets", club, match, pages)


def team_cards(
    cards: Sequence[TeamCard], *, club: str, match: str, when: str = "", paper: Paper = A4
) -> bytes:
    """Print a card a team: every member's section and peg, and the cautions in short."""
    return _team_cards(cards, club, match, when, paper, foot=_reminders, kind="team cards")


def line_up_cards(
    cards: Sequence[TeamCard], *, club: str, match: str, when: str = "", paper: Paper = A4
) -> bytes:
    """Print a card a team to be written on: who fishes which section, a reserve, the captain."""
    return _team_cards(cards, club, match, when, paper, foot=_to_sign, kind="captains' cards")


def _team_cards(
    cards: Sequence[TeamCard],
    club: str,
    match: str,
    when: str,
    paper: Paper,
    *,
    foot: Callable[[Leaf, float, float, float], None],
    kind: str,
) -> bytes:
    faces.load_faces()

    def one(card: TeamCard) -> Draw:
        def draw(leaf: Leaf, x: float, y: float, wide: float, high: float) -> None:
            left, room = x + INSIDE, wide - 2 * INSIDE
            said = ", ".join(part for part in (match, when) if part)
            at = y + INSIDE + TOP * 0.6
            for line in faces.wrap(said, faces.BOARD_MID, TOP, room):
                leaf.say(left, at, line, faces.BOARD_MID, TOP)
                at += TOP * 1.2
            leaf.rule(left, at - TOP * 0.6, left + room, thick=2.25)
            size, lines = faces.fitted(card.team, faces.BOARD_BOLD, TITLES, room)
            for line in lines:
                at += size * 1.05
                leaf.say(left, at, line, faces.BOARD_BOLD, size)
            at += 3 * MM
            ends = y + high - INSIDE - 16 * MM
            step = max(ROWS[1], min(ROWS[0], (ends - at) / max(1, len(card.members))))
            for member in card.members:
                _draw_member(leaf, member, left, at, room, step)
                at += step
            foot(leaf, left, y + high - INSIDE, room)

        return draw

    tall = max((len(card.members) for card in cards), default=4)
    rows = 3 if tall <= 4 else 2
    pages = _pages([one(card) for card in cards], paper, columns=2, rows=rows)
    return write_sheet(f"{match}: {kind}", club, match, pages)


def _draw_member(
    leaf: Leaf, member: Member, left: float, top: float, room: float, step: float
) -> None:
    """A plate, the peg where it is drawn, and the name or a line to write it on."""
    high = min(18.0, step * 0.78)
    base = top + step - 3.4
    leaf.plate(left, top + (step - high) / 2 - 1, member.section, high=high)
    at = left + max(plate_width(member.section, high=high), 15) + 3 * MM
    if member.peg:
        size = min(17.0, step * 0.66)
        leaf.say(at, base, member.peg, faces.BOARD_BOLD, size)
        at += max(faces.width(member.peg, faces.BOARD_BOLD, size) + 3 * MM, 12 * MM)
    ends = left + room
    said = member.remark
    if said:
        _, lines = faces.fitted(said, faces.BOARD, (8.5, 7.5), ends - at)
        leaf.say_right(ends, base, lines[0], faces.BOARD, 8.5 if len(lines) == 1 else 7.5)
        ends -= faces.width(lines[0], faces.BOARD, 8.5) + 2 * MM
    if member.angler:
        size, lines = faces.fitted(member.angler, faces.WORDS, (11.0, 9.5, 8.0), ends - at)
        rise = (len(lines) - 1) * size
        for number, line in enumerate(lines):
            leaf.say(at, base - rise + number * size, line, faces.WORDS, size)
    leaf.rule(at if not member.angler else left, top + step, left + room, grey=0.45)


def _reminders(leaf: Leaf, left: float, foot: float, room: float) -> None:
    words = f"{cautions.FIRST} {cautions.SHORT}"
    lines = faces.wrap(words, faces.WORDS, 7.5, room)
    at = foot - (len(lines) - 1) * 9.2
    for line in lines:
        leaf.say(left, at, line, faces.WORDS, 7.5)
        at += 9.2


def _to_sign(leaf: Leaf, left: float, foot: float, room: float) -> None:
    half = (room - 5 * MM) / 2
    for x, words in ((left, "Reserve"), (left + half + 5 * MM, "Captain")):
        leaf.rule(x, foot - SMALL_LINE, x + half, thick=0.6)
        leaf.say(x, foot - 1.2, words, faces.WORDS, SMALL)


def _pages(cards: Sequence[Draw], paper: Paper, *, columns: int, rows: int) -> list[Page]:
    """Cards in rows and columns with dashed lines to cut along; one empty page for none."""
    faces.load_faces()
    wide = (paper.width - 2 * EDGE) / columns
    high = (paper.height - 2 * EDGE - 4 * MM) / rows
    a_page = columns * rows
    count = max(1, -(-len(cards) // a_page))

    def page(number: int) -> Callable[[Leaf], None]:
        mine = cards[number * a_page : (number + 1) * a_page]

        def draw(leaf: Leaf) -> None:
            used = -(-len(mine) // columns)
            for place, card in enumerate(mine):
                row, column = divmod(place, columns)
                card(leaf, EDGE + column * wide, EDGE + row * high, wide, high)
            leaf.canvas.setDash(2, 2)
            for column in range(columns + 1):
                x = EDGE + column * wide
                leaf.line(x, EDGE, x, EDGE + used * high, grey=0.35)
            for row in range(used + 1):
                y = EDGE + row * high
                leaf.line(EDGE, y, paper.width - EDGE, y, grey=0.35)
            leaf.canvas.setDash()
            if count > 1:
                said = page_of(number + 1, count)
                leaf.say_right(
                    paper.width - EDGE, paper.height - EDGE + 2, said, faces.BOARD, SMALL
                )

        return draw

    return [Page(paper, page(number)) for number in range(count)]
