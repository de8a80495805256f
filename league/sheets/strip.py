"""The bank strip in one ink: hollow bars, solid winners, a hollow tip for the best of the day."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from league.rules.lines import MatchResult
from league.rules.weights import Unit, spoken, written
from league.sheets import faces
from league.sheets.page import MM, Block, Leaf, between
from league.strip import PAPER, BankPeg, Mark, State, Strip, StripPeg, draw_strip, pegs_of
from league.strip.lettering import Text, key_numbers, lift
from league.strip.pegs import WITH_BAR, Across, Stretch, stand

PX = 0.75  # points to a pixel of the drawing
MARGIN = 7 * MM  # left of the bank, for the figures of the scale
BARS = (66.0, 30.0)  # points of the tallest bar, as drawn and as low as can be read
NUMBER = 8.25
WEIGHT, KEY_WEIGHT = 7.6, 9.4
WHO, WHO_WEIGHT = 9.0, 8.6
WHO_LINE = 10.4
OVER = {"win": 19.5, "sec": 15.5, "": 3.2}  # points from bar to weight, past the tip
NUMBER_SLOT, WEIGHT_SLOT = 12.0, 15.5  # points a slot must have for every number, every weight
NAMED_UNTIL = 0.75  # fuller than this, the winners' names are left to the tables
# More pegs than this and the bank is folded, so that a bar is never a hair.
MOST_IN_ROW = 110


def bank_blocks(result: MatchResult, layout: Sequence[BankPeg], room: float) -> list[Block]:
    """The bank of *result* as a strip, in as many rows as it needs; nothing without a layout."""
    pegs = pegs_of(result, layout)
    top = max((peg.weight for peg in pegs if peg.state in WITH_BAR), default=0)
    return [_strip_block(row, result.unit, top, room) for row in _rows(pegs)]


def _rows(pegs: Sequence[StripPeg]) -> list[list[StripPeg]]:
    """Fold at the ends of sections, into rows of about one length."""
    count = -(-len(pegs) // MOST_IN_ROW)
    rows: list[list[StripPeg]] = []
    for number, peg in enumerate(pegs):
        starts = number == 0 or peg.section != pegs[number - 1].section
        if starts and len(rows) < count and number >= len(rows) * len(pegs) / count - 2:
            rows.append([])
        rows[-1].append(peg)
    return rows


@dataclass(frozen=True, slots=True)
class _Setting:
    """A strip and what is written on it, before it is known how tall its bars may be."""

    strip: Strip
    across: Across
    unit: Unit
    wide: float  # points, from the first slot to the last
    figures: tuple[tuple[int, Text], ...]  # by the peg's index; heights over full bars
    numbered: frozenset[int]
    named: tuple[tuple[str, ...], ...]  # a winner's name in lines, by stretch
    head: float

    def at(self, per_cent: float) -> float:
        """Points from the first slot's left edge."""
        return per_cent / 100 * self.wide


def _strip_block(pegs: Sequence[StripPeg], unit: Unit, top: int, room: float) -> Block:
    across = stand(pegs)
    wide = room - MARGIN
    # Where figures go on paper is worked out below, from the room that paper has.
    strip = draw_strip(pegs, replace(PAPER, weights=False), unit=unit, top=top)
    slot = wide / across.width
    shown = [
        index
        for index, peg in enumerate(pegs)
        if peg.state in WITH_BAR and (peg.kind or slot >= WEIGHT_SLOT)
    ]
    named = tuple(_winner(stretch, across, wide) for stretch in across.stretches)
    setting = _Setting(
        strip=strip,
        across=across,
        unit=unit,
        wide=wide,
        figures=tuple(
            (index, Text(across.starts[index] + 0.5, 0.0, written(pegs[index].weight, unit), 0.0))
            for index in shown
        ),
        numbered=frozenset(range(len(pegs)))
        if slot >= NUMBER_SLOT
        else _apart(pegs, across, key_numbers(pegs, across, wide / PX), slot),
        named=named,
        head=22.0,
    )
    tall_names = max((len(lines) for lines in named), default=0)

    def height(tight: float) -> float:
        under = 37.0 if strip.plates else 13.0
        names = tall_names * WHO_LINE + 14.0 if tall_names and tight <= NAMED_UNTIL else 0.0
        return _head(setting, tight) + between(*BARS, tight) + under + names

    def draw(leaf: Leaf, x: float, y: float, tight: float) -> None:
        bank = y + _head(setting, tight) + between(*BARS, tight)
        _draw_bank(leaf, setting, x + MARGIN, y, bank, tight)
        _draw_figures(leaf, setting, x + MARGIN, bank, tight)
        if strip.plates:
            _draw_plates(leaf, setting, x + MARGIN, bank + 18.0, tight)

    return Block(height, draw)


def _apart(
    pegs: Sequence[StripPeg], across: Across, wanted: Iterable[int], slot: float
) -> frozenset[int]:
    """The *wanted* numbers, less those that would touch the one before: many can win a section."""
    kept: list[int] = []
    reached = 0.0
    for index in sorted(wanted):
        middle = (across.starts[index] + 0.5) * slot
        wide = faces.width(pegs[index].number, faces.BOARD_BOLD, NUMBER)
        if not kept or middle - wide / 2 >= reached + 1.0:
            kept.append(index)
            reached = middle + wide / 2
    return frozenset(kept)


def _winner(stretch: Stretch, across: Across, wide: float) -> tuple[str, ...]:
    """The winner's name in lines that fit under the section, and the weight as the last."""
    winners = [peg for peg in stretch.pegs if peg.wins_section and peg.state in WITH_BAR]
    if not winners or not stretch.section:
        return ()
    who = winners[0].name if len(winners) == 1 else f"{len(winners)} level"
    room = (stretch.end - stretch.start) / across.width * wide
    return faces.wrap(who, faces.WORDS, WHO, max(room, 40.0))


def _placed(setting: _Setting, tight: float) -> list[tuple[Mark, Text]]:
    """The weights with their places over the bank, in points; what would touch is lifted."""
    scale = between(*BARS, tight) / PAPER.height
    marks = setting.strip.marks
    sizes = {"win": 1.12, "sec": 1.0}

    def text(index: int, was: Text) -> Text:
        mark = marks[index]
        size = KEY_WEIGHT * sizes[mark.kind] if mark.kind else WEIGHT
        return Text(setting.at(mark.x), mark.height * scale + OVER[mark.kind], was.text, size)

    winners = [pair for pair in setting.figures if marks[pair[0]].kind]
    others = [pair for pair in setting.figures if not marks[pair[0]].kind]
    first = lift([text(*pair) for pair in winners], 1.0)
    rest = lift([text(*pair) for pair in others], 1.0, first)
    return [
        (marks[index], placed)
        for (index, _), placed in zip([*winners, *others], [*first, *rest], strict=True)
    ]


def _head(setting: _Setting, tight: float) -> float:
    """The room over the tallest bar, for tips and weights."""
    highest = max((text.y + text.size for _, text in _placed(setting, tight)), default=0.0)
    return max(6.0, highest - between(*BARS, tight))


def _draw_bank(
    leaf: Leaf, setting: _Setting, x: float, y: float, bank: float, tight: float
) -> None:
    strip = setting.strip
    scale = between(*BARS, tight) / PAPER.height
    right = x + setting.wide
    for line in strip.scale:
        at = bank - (strip.baseline - line.y) * scale
        leaf.rule(x, at, right, thick=0.45, grey=0.55)
        leaf.say_right(x - 1.6 * MM, at + 2.8, line.text, faces.BOARD, NUMBER)
    if strip.unit and strip.scale:
        leaf.say_right(x - 1.6 * MM, y + 8.0, strip.unit, faces.BOARD, NUMBER)
    stake_foot = bank + (18.0 if strip.plates else 13.0)
    stake_top = bank - between(*BARS, tight) - 3.0
    for stake in strip.stakes:
        at = x + setting.at(stake)
        leaf.line(at, stake_top, at, stake_foot, thick=0.45)
    _draw_bars(leaf, setting, x, bank, scale)
    for number, mark in enumerate(strip.marks):
        _draw_mark(leaf, setting, mark, x, bank, scale)
        if number in setting.numbered:
            face = faces.BOARD_BOLD if mark.bold else faces.BOARD
            leaf.say_middle(x + setting.at(mark.x), bank + 12.0, mark.number, face, NUMBER)
    for run in strip.runs:
        leaf.rule(x + setting.at(run.x1), bank, x + setting.at(run.x2), thick=1.6)


def _bar_height(mark: Mark, scale: float) -> float:
    return max(1.5, mark.height * scale)


def _draw_bars(leaf: Leaf, setting: _Setting, x: float, bank: float, scale: float) -> None:
    """Hollow bars, which keep the scale's lines out, then the winners' of solid ink."""
    wide = setting.at(setting.strip.marks[0].width)
    for ink in (False, True):
        boxes = [
            (x + setting.at(mark.left), bank - high, wide, high)
            for mark in setting.strip.marks
            if mark.has_bar and bool(mark.kind) is ink
            for high in (_bar_height(mark, scale),)
        ]
        leaf.bars(boxes, thick=min(0.7, wide / 4), ink=ink)


def _draw_mark(
    leaf: Leaf, setting: _Setting, mark: Mark, x: float, bank: float, scale: float
) -> None:
    at = x + setting.at(mark.x)
    if mark.has_bar:
        if mark.kind:
            _draw_tip(leaf, at, bank - _bar_height(mark, scale), mark.kind)
    elif mark.state is State.BLANK:
        leaf.line(at, bank, at, bank - 7.5, thick=1.4)
    elif mark.state is State.NOT_WEIGHED:
        leaf.line(at, bank, at, bank - 7.5, thick=1.4)
        leaf.line(at - 3, bank - 7.5, at + 3, bank - 7.5, thick=1.4)
    elif mark.state is State.DISQUALIFIED:
        leaf.line(at, bank, at, bank - 7.5, thick=1.4)
        leaf.line(at - 3, bank - 1.5, at + 3, bank - 6.0, thick=1.4)
    elif mark.state is State.ABSENT:
        leaf.ring(at, bank - 4.5, 2.25)
    elif mark.state is not State.EMPTY:
        leaf.line(at, bank, at, bank - 4.5, thick=1.4, grey=0.45)


def _draw_tip(leaf: Leaf, at: float, top: float, kind: str) -> None:
    """A float's aerial and tip, standing on a winner's bar."""
    if kind == "win":
        leaf.line(at, top, at, top - 6.0, thick=1.0)
        leaf.pill(at - 2.0, top - 16.5, 4.0, 11.0, ink=False)
    else:
        leaf.line(at, top, at, top - 4.5, thick=1.0)
        leaf.pill(at - 1.5, top - 12.0, 3.0, 8.0, ink=True)


def _draw_figures(leaf: Leaf, setting: _Setting, x: float, bank: float, tight: float) -> None:
    for mark, text in _placed(setting, tight):
        face = faces.BOARD_BOLD if mark.kind else faces.BOARD
        at, foot = x + text.centre, bank - text.y
        wide = faces.width(text.text, face, text.size)
        leaf.blank(at - wide / 2 - 0.6, foot - text.size * 0.72, wide + 1.2, text.size * 0.76)
        leaf.say_middle(at, foot, text.text, face, text.size)


def _draw_plates(leaf: Leaf, setting: _Setting, x: float, y: float, tight: float) -> None:
    winners = {stretch.section: stretch for stretch in setting.across.stretches}
    for plate, lines in zip(setting.strip.plates, _lined(setting), strict=True):
        at = x + setting.at(plate.x)
        leaf.rule(x + setting.at(plate.brace.x1), y, x + setting.at(plate.brace.x2), thick=0.6)
        leaf.plate_under(at, y, plate.letter, high=18.0)
        if not lines or tight > NAMED_UNTIL:
            continue
        foot = y + 30.0
        for line in lines:
            leaf.say_middle(at, foot, line, faces.WORDS, WHO)
            foot += WHO_LINE
        best = next(peg for peg in winners[plate.letter].pegs if peg.wins_section)
        weight = spoken(best.weight, setting.unit)
        leaf.say_middle(at, foot + 1.0, weight, faces.BOARD_BOLD, WHO_WEIGHT)


def _lined(setting: _Setting) -> list[tuple[str, ...]]:
    """The winners' lines, of the stretches that have a plate."""
    return [
        lines
        for stretch, lines in zip(setting.across.stretches, setting.named, strict=True)
        if stretch.section
    ]
