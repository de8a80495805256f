"""What stands where: blocks side by side, small print in columns, blocks over pages."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from league.sheets import faces
from league.sheets.page import MM, Block, Leaf, between

GAP = (4.5 * MM, 2.3 * MM)
GUTTER = 9 * MM
HALF_FULL = 0.5
WIDEST = 120 * MM  # of words under a heading, before they go into two columns
STEPS = 10  # of tightening tried, from as drawn to as close as can be read


@dataclass(frozen=True, slots=True)
class Print:
    """How small print is set: its faces, its size, and from line to line."""

    face: str
    bold: str
    size: float
    leading: float


LOOSE = Print(faces.WORDS, faces.WORDS_BOLD, 8.5, 11.2)
CLOSE = Print(faces.BOARD, faces.BOARD_BOLD, 8.0, 9.8)
BOX = Print(faces.WORDS, faces.WORDS_BOLD, 9.4, 12.6)
CLOSE_BOX = Print(faces.BOARD, faces.BOARD_BOLD, 9.0, 10.8)


def beside(blocks: Sequence[Block], lefts: Sequence[float]) -> Block:
    """Blocks side by side, their tops level, each so far from the left; as high as the highest."""

    def draw(leaf: Leaf, x: float, y: float, tight: float) -> None:
        for block, left in zip(blocks, lefts, strict=True):
            block.draw(leaf, x + left, y, tight)

    return Block(lambda tight: max(block.height(tight) for block in blocks), draw)


def in_pairs(blocks: Sequence[Block], room: float) -> list[Block]:
    """Blocks of half the width, two and two in reading order."""
    step = (room + GUTTER) / 2
    return [
        beside(blocks[at : at + 2], (0.0, step)[: len(blocks[at : at + 2])])
        for at in range(0, len(blocks), 2)
    ]


def under(heading: str, block: Block) -> Block:
    """A block under a heading of its own."""
    high = 18.0

    def draw(leaf: Leaf, x: float, y: float, tight: float) -> None:
        leaf.say(x, y + 12.0, heading, faces.BOARD_BOLD, 14.0)
        block.draw(leaf, x, y + high, tight)

    return Block(lambda tight: block.height(tight) + high, draw)


def half(room: float) -> float:
    """The width of one of two columns."""
    return (room - GUTTER) / 2


def paragraph(runs: Sequence[faces.Run], size: float, leading: float, room: float) -> Block:
    """Words in several faces, broken into lines of *room* points."""
    lines = faces.wrap_runs(runs, size, room)

    def draw(leaf: Leaf, x: float, y: float, tight: float) -> None:
        for number, line in enumerate(lines, start=1):
            leaf.say_runs(x, y + number * leading - leading * 0.28, line, size)

    return Block(lambda tight: len(lines) * leading, draw)


def headed(heading: str, paragraphs: Sequence[str], room: float, *, barred: bool = False) -> Block:
    """
    A heading with paragraphs under it; *barred*, a thick bar stands beside them.

    Wide enough, they stand in two columns; on a full page they are set in the narrow face.
    """
    if room > WIDEST and len(paragraphs) > 1:
        return _in_two(heading, paragraphs, room)
    return _either(
        _headed(heading, paragraphs, room, BOX, barred=barred),
        _headed(heading, paragraphs, room, CLOSE_BOX, barred=barred),
    )


def _headed(
    heading: str, paragraphs: Sequence[str], room: float, setting: Print, *, barred: bool
) -> Block:
    left = 4 * MM if barred else 0.0
    lines = [faces.wrap(text, setting.face, setting.size, room - left) for text in paragraphs]
    count = sum(len(each) for each in lines)
    high = 17.0 + count * setting.leading + 3.0 * max(0, len(lines) - 1)

    def draw(leaf: Leaf, x: float, y: float, tight: float) -> None:
        if barred:
            leaf.line(x + 1.1, y, x + 1.1, y + high, thick=2.25)
        leaf.say(x + left, y + 10.5, heading, faces.BOARD_BOLD, 12.0)
        foot = y + 17.0
        for each in lines:
            for line in each:
                foot += setting.leading
                leaf.say(x + left, foot - setting.leading * 0.28, line, setting.face, setting.size)
            foot += 3.0

    return Block(lambda tight: high, draw)


def _in_two(heading: str, paragraphs: Sequence[str], room: float) -> Block:
    """The paragraphs in two columns, beside a bar of their whole height."""
    middle = -(-len(paragraphs) // 2)
    wide = half(room)
    left = headed(heading, paragraphs[:middle], wide, barred=True)
    right = headed("", paragraphs[middle:], wide)
    return beside([left, right], (0.0, wide + GUTTER))


def small_print(
    parts: Sequence[tuple[str, Sequence[str]]], room: float, deep: float = 200 * MM
) -> list[Block]:
    """
    Headed paragraphs in two columns of even length, as one block, or several if they fill a page.

    *parts* are headings with their sentences; an empty part is left out. On a full page it is set
    in the narrow face.
    """
    loose, close = _small_lines(parts, LOOSE, half(room)), _small_lines(parts, CLOSE, half(room))
    most = 2 * int(min(deep, 200 * MM) / LOOSE.leading)
    if len(loose) <= most:
        return [_either(_columns(loose, LOOSE, room), _columns(close, CLOSE, room))]
    return [_columns(loose[at : at + most], LOOSE, room) for at in range(0, len(loose), most)]


def _small_lines(
    parts: Sequence[tuple[str, Sequence[str]]], setting: Print, wide: float
) -> list[faces.Line]:
    lines: list[faces.Line] = []
    for heading, sentences in parts:
        if sentences:
            runs = [(f"{heading}.", setting.bold), (" ".join(sentences), setting.face)]
            lines += faces.wrap_runs(runs, setting.size, wide)
    return lines


def _columns(lines: Sequence[faces.Line], setting: Print, room: float) -> Block:
    deep = -(-len(lines) // 2)

    def draw(leaf: Leaf, x: float, y: float, tight: float) -> None:
        for number, line in enumerate(lines):
            column, row = divmod(number, deep)
            foot = y + (row + 0.77) * setting.leading
            leaf.say_runs(x + column * (half(room) + GUTTER), foot, line, setting.size)

    return Block(lambda tight: deep * setting.leading, draw)


def _either(loose: Block, close: Block) -> Block:
    """The one while there is room, the other on a full page."""

    def fitting(tight: float) -> Block:
        return loose if tight <= HALF_FULL else close

    return Block(
        lambda tight: fitting(tight).height(tight),
        lambda leaf, x, y, tight: fitting(tight).draw(leaf, x, y, tight),
    )


@dataclass(frozen=True, slots=True)
class Filled:
    """A page: its blocks, and how tight they have to stand."""

    blocks: tuple[Block, ...]
    tight: float


def share_out(
    blocks: Sequence[Block],
    *,
    first: float,
    later: float,
    foot: Callable[[float], float],
    slim: float,
) -> list[Filled]:
    """
    Share *blocks* over as few pages as they need, each as loose as its blocks allow.

    No block is cut. *first* and *later* are the room on the first page and the others before any
    foot; the last page has the *foot*, which gives way too, the others a *slim* one.
    """
    pages: list[list[Block]] = [[]]
    for block in blocks:
        room = (later if len(pages) > 1 else first) - slim
        # What is too high for the first page, under its opening, has the next one to itself.
        if stack_height([*pages[-1], block], 1.0) > room and (pages[-1] or len(pages) == 1):
            pages.append([])
        pages[-1].append(block)
    room = (later if len(pages) > 1 else first) - foot(1.0)
    if stack_height(pages[-1], 1.0) > room:
        pages.append([pages[-1].pop()] if len(pages[-1]) > 1 else [])
    feet = [lambda tight: slim] * (len(pages) - 1) + [foot]
    return [
        Filled(tuple(page), _loosest(page, later if number else first, feet[number]))
        for number, page in enumerate(pages)
    ]


def _loosest(blocks: Sequence[Block], room: float, foot: Callable[[float], float]) -> float:
    for step in range(STEPS):
        if stack_height(blocks, step / STEPS) + foot(step / STEPS) <= room:
            return step / STEPS
    return 1.0


def stack_height(blocks: Sequence[Block], tight: float) -> float:
    """How far down *blocks* reach, one under another."""
    gaps = between(*GAP, tight) * max(0, len(blocks) - 1)
    return sum(block.height(tight) for block in blocks) + gaps


def draw_blocks(leaf: Leaf, page: Filled, x: float, y: float) -> None:
    """Draw the blocks of a page one under another."""
    for block in page.blocks:
        block.draw(leaf, x, y, page.tight)
        y += block.height(page.tight) + between(*GAP, page.tight)
