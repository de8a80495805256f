"""The answer and the bank as a picture of 1200 by 630, for link previews in chats."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO

from PIL import Image, ImageColor, ImageDraw, ImageFont

from league.rules.weights import Unit, written
from league.sheets import faces
from league.strip import Mark, Purpose, State, Strip, StripPeg, draw_strip
from league.strip.lettering import Text, key_numbers, lift
from league.strip.pegs import WITH_BAR, stand

WIDE, HIGH = 1200, 630
FINE = 2  # drawn twice as large and brought down, so that slanted edges are smooth
MARGIN = 64.0
# The inks of the pages by day: a preview has no theme of its own.
PAPER, RULE = "#F1F3EA", "#BCC8BD"
INK, INK_2 = "#0D2328", "#3B5256"
DEEP, WATER, TIP = "#134650", "#5D888D", "#EC5717"
ON_PLATE = "#F7F8F2"
STEPS = 8  # of tone from one ink to another

BANK = Purpose(height=168.0, head=44.0, scale=True, names=True)
BANK_LEFT, BANK_FOOT = MARGIN + 44.0, 492.0
NUMBER, WEIGHT, KEY_WEIGHT, WHO = 17.0, 18.0, 22.0, 18.0
NUMBER_SLOT, WEIGHT_SLOT = 24.0, 42.0  # px a slot must have for every number, every weight
OVER = {"win": 40.0, "sec": 31.0, "": 8.0}  # px from bar to weight, past the tip


@dataclass(frozen=True, slots=True)
class Shown:
    """What the picture says."""

    club: str
    over: str
    headline: str
    state: str
    pegs: Sequence[StripPeg]
    unit: Unit
    lines: Sequence[str] = ()  # the first few, where no bank was kept


@dataclass(frozen=True, slots=True)
class _Brush:
    """A drawing in px of the finished picture."""

    draw: ImageDraw.ImageDraw

    def line(self, x1: float, y1: float, x2: float, y2: float, ink: str, thick: float) -> None:
        """A straight line with square ends."""
        self.draw.line([(x1 * FINE, y1 * FINE), (x2 * FINE, y2 * FINE)], ink, round(thick * FINE))

    def box(
        self, x: float, y: float, wide: float, high: float, fill: str, edge: str = "", r: float = 0
    ) -> None:
        """A bar, or with *r* a pill."""
        self.draw.rounded_rectangle(
            [x * FINE, y * FINE, (x + wide) * FINE, (y + high) * FINE],
            r * FINE,
            fill,
            edge or None,
            2 * FINE if edge else 0,
        )

    def say(
        self, x: float, y: float, text: str, face: str, size: float, ink: str, at: str = "ls"
    ) -> None:
        """*text* with its foot at *y*; *at* says which end of it stands at *x*."""
        font = _font(faces.face_for(text, face), round(size * FINE))
        self.draw.text((x * FINE, y * FINE), text, ink, font, at)


@lru_cache(maxsize=64)
def _font(face: str, size: int) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(
        str(faces.FONTS / faces.FILES[face]), size, layout_engine=ImageFont.Layout.BASIC
    )


@lru_cache(maxsize=1)
def _palette() -> Image.Image:
    """Every ink, and the steps from each to what it stands on."""
    pairs = [(PAPER, ink) for ink in (RULE, INK, INK_2, DEEP, WATER, TIP)]
    pairs += [(INK, TIP), (INK, WATER), (DEEP, ON_PLATE), (DEEP, RULE), (WATER, RULE)]
    tones: list[int] = []
    for one, other in pairs:
        first, last = ImageColor.getrgb(one), ImageColor.getrgb(other)
        for step in range(STEPS + 1):
            tones += [
                round(low + (high - low) * step / STEPS)
                for low, high in zip(first, last, strict=True)
            ]
    palette = Image.new("P", (1, 1))
    palette.putpalette(tones)
    return palette


def result_picture(shown: Shown) -> bytes:
    """The picture as a PNG; the same bytes for the same words."""
    faces.load_faces()
    image = Image.new("RGB", (WIDE * FINE, HIGH * FINE), PAPER)
    brush = _Brush(ImageDraw.Draw(image))
    _draw_head(brush, shown)
    if shown.pegs:
        _draw_bank(brush, shown)
    else:
        for row, line in enumerate(shown.lines):
            brush.say(MARGIN, 350 + 48 * row, line, faces.BOARD_MID, 32, INK)
    small = image.resize((WIDE, HIGH), Image.Resampling.LANCZOS)
    # A few inks on one paper and what they mix to at their edges: a third of the bytes.
    sent = small.quantize(palette=_palette(), dither=Image.Dither.NONE)
    file = BytesIO()
    sent.save(file, "PNG", optimize=True)
    return file.getvalue()


def _draw_head(brush: _Brush, shown: Shown) -> None:
    room = WIDE - 2 * MARGIN
    brush.box(0, 0, WIDE, 12, INK)
    state_room = faces.width(shown.state, faces.BOARD_MID, 24)
    size, lines = faces.fitted(shown.club, faces.WORDS_BOLD, (30, 24, 20), room - state_room - 32)
    brush.say(MARGIN, 66, lines[0], faces.WORDS_BOLD, size, INK)
    brush.say(WIDE - MARGIN, 66, shown.state, faces.BOARD_MID, 24, INK_2, "rs")
    brush.line(MARGIN, 84, WIDE - MARGIN, 84, INK, 2)
    size, lines = faces.fitted(shown.over, faces.BOARD, (27, 24, 21), room)
    brush.say(MARGIN, 124, lines[0], faces.BOARD, size, INK_2)
    size, lines = faces.fitted(shown.headline, faces.BOARD_BOLD, (84, 72, 60), room)
    if len(lines) > 1:
        size, lines = 52, faces.wrap(shown.headline, faces.BOARD_BOLD, 52, room)[:2]
    foot = 124 + size * 1.02
    for line in lines:
        brush.say(MARGIN, foot, line, faces.BOARD_BOLD, size, INK)
        foot += size * 1.04


def _draw_bank(brush: _Brush, shown: Shown) -> None:
    pegs = shown.pegs
    across = stand(pegs)
    wide = WIDE - MARGIN - BANK_LEFT
    slot = wide / across.width
    strip = draw_strip(pegs, BANK, unit=shown.unit)
    lift_by = BANK_FOOT - strip.baseline

    def at(per_cent: float) -> float:
        return BANK_LEFT + per_cent / 100 * wide

    for line in strip.scale:
        brush.line(BANK_LEFT, line.y + lift_by, WIDE - MARGIN, line.y + lift_by, RULE, 1)
        brush.say(BANK_LEFT - 10, line.y + lift_by + 6, line.text, faces.BOARD, NUMBER, INK_2, "rs")
    unit_y = BANK_FOOT - BANK.height - 12
    brush.say(BANK_LEFT - 10, unit_y, strip.unit, faces.BOARD, NUMBER, INK_2, "rs")
    for stake in strip.stakes:
        brush.line(at(stake), strip.stake_top + lift_by, at(stake), BANK_FOOT + 28, RULE, 1)
    numbered = (
        frozenset(range(len(pegs)))
        if slot >= NUMBER_SLOT
        else frozenset(key_numbers(pegs, across, wide * 13 / NUMBER))
    )
    for number, mark in enumerate(strip.marks):
        _draw_mark(brush, mark, at(mark.x), at(mark.left), mark.width / 100 * wide)
        if number in numbered:
            face = faces.BOARD_BOLD if mark.bold else faces.BOARD
            brush.say(at(mark.x), BANK_FOOT + 21, mark.number, face, NUMBER, INK, "ms")
    for run in strip.runs:
        brush.line(at(run.x1), BANK_FOOT, at(run.x2), BANK_FOOT, INK, 4)
    _draw_weights(brush, shown, strip, slot)
    for plate in strip.plates:
        _draw_plate(brush, plate.letter, at(plate.x), at(plate.brace.x1), at(plate.brace.x2))
        if plate.who:
            brush.say(at(plate.x), BANK_FOOT + 86, plate.who, faces.WORDS, WHO, INK, "ms")
            brush.say(at(plate.x), BANK_FOOT + 110, plate.weight, faces.BOARD_BOLD, WHO, INK, "ms")


def _draw_mark(brush: _Brush, mark: Mark, x: float, left: float, wide: float) -> None:
    if mark.has_bar:
        ink = {"win": TIP, "sec": DEEP}.get(mark.kind, WATER)
        top = BANK_FOOT - mark.height
        edge = INK if mark.kind == "win" else ""
        brush.box(left, top, wide, mark.height, ink, edge)
        if mark.kind:
            high, half = (22.0, 4.0) if mark.kind == "win" else (15.0, 3.0)
            brush.line(x, top, x, top - 9, INK, 2)
            brush.box(x - half, top - 8 - high, 2 * half, high, ink, edge, half)
        return
    foot = BANK_FOOT
    if mark.state is State.ABSENT:
        brush.draw.ellipse(
            [(x - 5) * FINE, (foot - 15) * FINE, (x + 5) * FINE, (foot - 5) * FINE],
            outline=INK_2,
            width=2 * FINE,
        )
    elif mark.state is State.EMPTY:
        return
    else:
        brush.line(x, foot, x, foot - 14, INK, 3)
        if mark.state is State.NOT_WEIGHED:
            brush.line(x - 6, foot - 14, x + 6, foot - 14, INK, 3)
        elif mark.state is State.DISQUALIFIED:
            brush.line(x - 6, foot - 3, x + 6, foot - 12, INK, 3)


def _draw_weights(brush: _Brush, shown: Shown, strip: Strip, slot: float) -> None:
    """The winners' weights, and everybody's where there is room; what would touch is lifted."""
    wide = WIDE - MARGIN - BANK_LEFT
    weighed = [
        (peg, mark)
        for peg, mark in zip(shown.pegs, strip.marks, strict=True)
        if peg.state in WITH_BAR and (mark.kind or slot >= WEIGHT_SLOT)
    ]

    def text(peg: StripPeg, mark: Mark) -> Text:
        size = KEY_WEIGHT if mark.kind else WEIGHT
        over = mark.height + OVER[mark.kind]
        return Text(mark.x / 100 * wide, over, written(peg.weight, shown.unit), size)

    first = lift([text(*each) for each in weighed if each[1].kind], 1.0)
    rest = lift([text(*each) for each in weighed if not each[1].kind], 1.0, first)
    for each, face in ((first, faces.BOARD_BOLD), (rest, faces.BOARD)):
        for placed in each:
            x, y = BANK_LEFT + placed.centre, BANK_FOOT - placed.y
            brush.say(x, y, placed.text, face, placed.size, INK, "ms")


def _draw_plate(brush: _Brush, letter: str, x: float, x1: float, x2: float) -> None:
    top = BANK_FOOT + 30
    brush.line(x1, top, x2, top, INK, 1.5)
    shape = [(-14, 0), (14, 0), (14, 20), (0, 32), (-14, 20)]
    brush.draw.polygon([((x + dx) * FINE, (top + dy) * FINE) for dx, dy in shape], DEEP)
    brush.say(x, top + 19, letter, faces.BOARD_BOLD, 18, ON_PLATE, "ms")
