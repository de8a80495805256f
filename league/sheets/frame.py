"""What stands round a sheet: club and league above; address, code and signatures below."""

from __future__ import annotations

from dataclasses import dataclass

from league.sheets import faces
from league.sheets.code import draw_code
from league.sheets.page import MM, Block, Leaf, Paper, SheetHead, between

TOP = 9.75  # points: the line at the head of the page
TITLES = (24.75, 21.0, 18.0, 15.0)
LEAD = 10.5
LEAD_LINE = 15.2
CODE = (23 * MM, 18 * MM)
FOOT = 8.5
FOOT_LINE = 11.2
SLIM = 7 * MM
# The page behind the code is the sheet's accessible version.
AS_A_PAGE = "As a page, for screen readers too, every figure with its reason:"
SIGN = 39 * MM  # a line to sign on, and the white before it


@dataclass(frozen=True, slots=True)
class Foot:
    """What the last page ends with."""

    words: tuple[str, ...]  # paragraphs beside the code
    signed: tuple[str, ...]  # who signs: "Match secretary", "Scales"


def top_block(left: str, right: str, room: float) -> Block:
    """The line at the head of a page: the club, and what this sheet belongs to."""
    # Each takes half of the line, or what the other leaves of it.
    wide = [faces.width(words, faces.BOARD_MID, TOP) for words in (left, right)]
    space = room - 6 * MM
    left_lines = faces.wrap(left, faces.BOARD_MID, TOP, max(space / 2, space - wide[1]))
    right_lines = faces.wrap(right, faces.BOARD_MID, TOP, max(space / 2, space - wide[0]))
    tall = max(len(left_lines), len(right_lines)) * TOP * 1.2 + 1.5 * MM

    def draw(leaf: Leaf, x: float, y: float, tight: float) -> None:
        for number, line in enumerate(left_lines, start=1):
            leaf.say(x, y + number * TOP * 1.2 - 2.4, line, faces.BOARD_MID, TOP)
        for number, line in enumerate(right_lines, start=1):
            leaf.say_right(x + room, y + number * TOP * 1.2 - 2.4, line, faces.BOARD_MID, TOP)
        leaf.rule(x, y + tall, x + room, thick=2.25)

    return Block(lambda tight: tall + 1.1, draw)


def title_block(title: str, room: float, *, largest: float = TITLES[0]) -> Block:
    """The title, as large as it can stand on one line, or smaller on several."""
    sizes = [size for size in TITLES if size <= largest] or [largest]
    if sizes[0] != largest:
        sizes.insert(0, largest)
    size, lines = faces.fitted(title, faces.BOARD_BOLD, sizes, room)

    def draw(leaf: Leaf, x: float, y: float, tight: float) -> None:
        for number, line in enumerate(lines, start=1):
            leaf.say(x, y + number * size * 1.08 - size * 0.2, line, faces.BOARD_BOLD, size)

    return Block(lambda tight: len(lines) * size * 1.08, draw)


def lead_runs(head: SheetHead) -> list[faces.Run]:
    """The first sentences: when, the answer, and how firm it is."""
    runs: list[faces.Run] = []
    if head.date:
        runs.append((_sentence(head.date), faces.WORDS))
    if head.headline:
        runs.append((_sentence(head.headline), faces.WORDS_BOLD))
    runs += [
        (_sentence(words), faces.WORDS) for words in (standing(head), head.objections) if words
    ]
    return runs


def standing(head: SheetHead, *, short: bool = False) -> str:
    """How firm the sheet is: its state and its version; unless *short*, when it was put up too."""
    said = [f"{head.state} result"] if head.state else []
    if head.version is not None:
        said.append(f"version {head.version}")
    if not short:
        times = (("posted", head.posted), ("printed", head.printed))
        said += [f"{word} {when}" for word, when in times if when]
    words = ", ".join(said)
    return words[:1].upper() + words[1:]


def _sentence(words: str) -> str:
    return words if words.endswith((".", "!", "?")) else f"{words}."


def plain_address(address: str) -> str:
    """An address as people type it."""
    return address.removeprefix("https://").removeprefix("http://").rstrip("/")


def foot_height(head: SheetHead, foot: Foot, paper: Paper, tight: float = 0.0) -> float:
    """How much of the last page the foot takes."""
    return _Set.of(head, foot, paper, tight).high


@dataclass(frozen=True, slots=True)
class _Set:
    """The foot with its lines broken."""

    address: tuple[str, ...]
    words: tuple[str, ...]
    code: float
    high: float

    @classmethod
    def of(cls, head: SheetHead, foot: Foot, paper: Paper, tight: float) -> _Set:
        code = between(*CODE, tight) if head.address else 0.0
        signs = len(foot.signed) * SIGN
        words_wide = paper.room - code - signs - 8 * MM
        words = tuple(
            line for text in foot.words for line in faces.wrap(text, faces.WORDS, FOOT, words_wide)
        )
        address = (
            faces.wrap(plain_address(head.address), faces.BOARD_BOLD, TOP, words_wide)
            if head.address
            else ()
        )
        lines = len(words) * FOOT_LINE + len(address) * TOP * 1.2
        return cls(address, words, code, 3 * MM + max(lines, code or 12 * MM))


def draw_foot(leaf: Leaf, head: SheetHead, foot: Foot, page: str, tight: float = 0.0) -> None:
    """Draw the foot of the last page: code, address, words, and lines to sign on."""
    paper = leaf.paper
    broken = _Set.of(head, foot, paper, tight)
    top = paper.floor - broken.high
    leaf.rule(paper.side, top, paper.side + paper.room, thick=1.05)
    x = paper.side
    if head.address:
        # The code's white border stands in the margin, so that its ink lines up with the page's.
        draw_code(
            leaf, x - 2.2 * MM, paper.floor - broken.code + 1.6 * MM, broken.code, head.address
        )
        x += broken.code + 1.5 * MM
    lines = len(broken.words) * FOOT_LINE + len(broken.address) * TOP * 1.2
    y = paper.floor - lines + FOOT_LINE * 0.72
    for line in broken.words:
        leaf.say(x, y, line, faces.WORDS, FOOT)
        y += FOOT_LINE
    for line in broken.address:
        leaf.say(x, y, line, faces.BOARD_BOLD, TOP)
        y += TOP * 1.2
    right = paper.side + paper.room
    leaf.say_right(right, top + 4 * MM, page, faces.BOARD_MID, FOOT)
    for number, who in enumerate(foot.signed):
        ends = right - (len(foot.signed) - 1 - number) * SIGN
        leaf.rule(ends - SIGN + 5 * MM, paper.floor - FOOT_LINE, ends, thick=0.6)
        leaf.say(ends - SIGN + 5 * MM, paper.floor - 1.6, who, faces.WORDS, FOOT)


def draw_slim_foot(leaf: Leaf, address: str, page: str) -> None:
    """Draw the foot of a page that another one follows."""
    paper = leaf.paper
    right = paper.side + paper.room
    leaf.rule(paper.side, paper.floor - SLIM + 2 * MM, right, thick=0.45)
    leaf.say(paper.side, paper.floor - 2, address, faces.BOARD_MID, FOOT)
    leaf.say_right(right, paper.floor - 2, page, faces.BOARD_MID, FOOT)


def page_of(number: int, pages: int) -> str:
    """Which page of how many."""
    return f"Page {number} of {pages}"
