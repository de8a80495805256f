"""A page: paper, what is known about the sheet, and ink put down from the top left corner."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from io import BytesIO
from threading import Lock
from typing import Any

from reportlab.pdfgen.canvas import Canvas

from league.sheets import faces

MM = 72 / 25.4

# Thin enough to be quiet, dark enough to survive a copier.
GREY = 0.45
PART = "part-{}"  # a bookmark, by its page counted from 0

_saving = Lock()


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper and its margins, in points."""

    width: float
    height: float
    side: float = 13 * MM
    top: float = 10 * MM
    bottom: float = 9 * MM

    @property
    def room(self) -> float:
        """Points from margin to margin."""
        return self.width - 2 * self.side

    @property
    def floor(self) -> float:
        """How far down ink may go."""
        return self.height - self.bottom

    def turned(self) -> Paper:
        """The same paper on its side."""
        return Paper(self.height, self.width, self.side, self.top, self.bottom)


A4 = Paper(210 * MM, 297 * MM)
LETTER = Paper(612, 792)


@dataclass(frozen=True, slots=True)
class SheetHead:
    """What a sheet says about itself. Everything comes in as words: no clock, no database."""

    club: str
    title: str  # "Round 6, Heron Lake"
    series: str = ""  # "Winter Team League 2026–27"
    date: str = ""  # in words: "Sunday 24 January 2027"
    headline: str = ""  # the answer: "Tannery Lane win on total weight"
    state: str = ""  # "provisional" or "final"; empty for a result nobody has published
    version: int | None = None
    posted: str = ""  # when it was put up: "18:05"
    printed: str = ""  # "18:09"
    objections: str = ""  # "Objections until Monday 20:00"
    address: str = ""  # of the page, with its scheme; the QR code opens it
    draw: str = ""  # the draw's seed, and where its record is
    decisions: tuple[str, ...] = ()  # each with name and reason
    rules: tuple[str, ...] = ()  # the rule book, read out
    notes: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()  # of this water
    paper: Paper = field(default=A4)


@dataclass(slots=True)
class Leaf:
    """
    The page being written on; up is down: places are measured from the top left corner.

    Words are gathered and put down last, over all lines and shapes, in the order they were said:
    that is the order in which they are read out or copied.
    """

    canvas: Canvas
    paper: Paper
    words: Any = None
    at: tuple[float, float] = (0.0, 0.0)  # where the last words began
    # What was set last, so that it is not set again for every word and line.
    font: tuple[str, float] = ("", 0.0)
    pen: tuple[float, float] = (-1.0, -1.0)

    def say(self, x: float, y: float, text: str, face: str, size: float) -> None:
        """Write *text* with its foot at *y* and its left edge at *x*."""
        if not text:
            return
        if self.words is None:
            self.words = self.canvas.beginText(0, self.paper.height)
        font = (faces.face_for(text, face), size)
        if font != self.font:
            self.words.setFont(*font)
            self.font = font
        # From the last place on, in tenths of a point: rows alike are written alike and pack well.
        at = (round(x, 1), round(y, 1))
        self.words.moveCursor(round(at[0] - self.at[0], 1), round(at[1] - self.at[1], 1))
        self.at = at
        self.words.textOut(text)

    def finish(self) -> None:
        """Put the words down and turn the page."""
        if self.words is not None:
            self.canvas.drawText(self.words)
        self.canvas.showPage()

    def say_right(self, x: float, y: float, text: str, face: str, size: float) -> None:
        """Write *text* so that it ends at *x*."""
        self.say(x - faces.width(text, face, size), y, text, face, size)

    def say_middle(self, x: float, y: float, text: str, face: str, size: float) -> None:
        """Write *text* with its middle at *x*."""
        self.say(x - faces.width(text, face, size) / 2, y, text, face, size)

    def say_runs(self, x: float, y: float, line: faces.Line, size: float) -> None:
        """Write one line in several faces."""
        for number, (text, face) in enumerate(line, start=1):
            # The space is written too, so that words copied from the sheet stand apart.
            said = text if number == len(line) else f"{text} "
            self.say(x, y, said, face, size)
            x += faces.width(said, face, size)

    def draw_with(self, thick: float, grey: float = 0) -> None:
        """Take a pen in hand."""
        if (thick, grey) != self.pen:
            self.canvas.setLineWidth(thick)
            self.canvas.setStrokeGray(grey)
            self.pen = (thick, grey)

    def rule(self, x: float, y: float, to: float, *, thick: float = 0.45, grey: float = 0) -> None:
        """Draw a level line from *x* to *to*."""
        self.line(x, y, to, y, thick=thick, grey=grey)

    def line(
        self, x: float, y: float, to_x: float, to_y: float, *, thick: float = 0.45, grey: float = 0
    ) -> None:
        """Draw a line from one place to another."""
        self.draw_with(thick, grey)
        high = self.paper.height
        self.canvas.line(round(x, 1), round(high - y, 1), round(to_x, 1), round(high - to_y, 1))

    def dashes(self, x: float, y: float, to_y: float) -> None:
        """Draw a thin dashed line straight down."""
        self.canvas.setDash(2, 1.5)
        self.line(x, y, x, to_y, grey=0.35)
        self.canvas.setDash()

    def box(self, x: float, y: float, wide: float, high: float, *, thick: float = 0.6) -> None:
        """Draw an empty box; *y* is its top."""
        self.draw_with(thick)
        self.canvas.rect(x, self.paper.height - y - high, wide, high, stroke=1, fill=0)

    def bars(
        self, boxes: Sequence[tuple[float, float, float, float]], *, thick: float, ink: bool
    ) -> None:
        """Draw boxes of white, or of solid *ink*: left edge, top, width and height of each."""
        if not boxes:
            return
        self.draw_with(thick)
        self.canvas.setFillGray(0 if ink else 1)
        path = self.canvas.beginPath()
        for x, y, wide, high in boxes:
            foot = round(self.paper.height - y - high, 1)
            path.rect(round(x, 2), foot, round(wide, 2), round(high, 1))
        self.canvas.drawPath(path, stroke=1, fill=1)
        self.canvas.setFillGray(0)

    def blank(self, x: float, y: float, wide: float, high: float) -> None:
        """Take the ink away from under a figure."""
        self.canvas.setFillGray(1)
        self.canvas.rect(x, self.paper.height - y - high, wide, high, stroke=0, fill=1)
        self.canvas.setFillGray(0)

    def pill(self, x: float, y: float, wide: float, high: float, *, ink: bool) -> None:
        """Draw a float's tip, hollow or of solid *ink*; *y* is its top."""
        self.draw_with(1.0)
        self.canvas.setFillGray(0 if ink else 1)
        self.canvas.roundRect(
            x, self.paper.height - y - high, wide, high, wide / 2, stroke=1, fill=1
        )
        self.canvas.setFillGray(0)

    def ring(self, x: float, y: float, radius: float) -> None:
        """Draw an open ring round *x*, *y*."""
        self.draw_with(1.2)
        self.canvas.circle(x, self.paper.height - y, radius, stroke=1, fill=0)

    def shape(
        self, points: Sequence[tuple[float, float]], *, thick: float = 0.9, ink: bool = False
    ) -> None:
        """Draw a closed shape, hollow or of solid *ink*."""
        self.draw_with(thick)
        self.canvas.setFillGray(0)
        path = self.canvas.beginPath()
        path.moveTo(points[0][0], self.paper.height - points[0][1])
        for x, y in points[1:]:
            path.lineTo(x, self.paper.height - y)
        path.close()
        self.canvas.drawPath(path, stroke=1, fill=int(ink))

    def plate(self, x: float, y: float, letter: str, *, high: float = 18) -> None:
        """Draw a section's plate with its letter; *x* is its left edge, *y* its top."""
        wide = plate_width(letter, high=high)
        self.shape(
            [
                (x, y),
                (x + wide, y),
                (x + wide, y + high * 0.62),
                (x + wide / 2, y + high),
                (x, y + high * 0.62),
            ],
            thick=0.055 * high,
        )
        self.say_middle(x + wide / 2, y + high * 0.60, letter, faces.BOARD_BOLD, high * 0.54)

    def lead_to(self, page: int, x: float, y: float, wide: float, high: float) -> None:
        """Let a press on this box open the bookmarked *page*, counted from 0; *y* is its top."""
        foot = self.paper.height - y - high
        self.canvas.linkRect("", PART.format(page), (x, foot, x + wide, foot + high), relative=0)

    def plate_under(self, x: float, y: float, letter: str, *, high: float = 18) -> None:
        """Draw a section's plate hanging from *y*, its middle at *x*."""
        self.plate(x - plate_width(letter, high=high) / 2, y, letter, high=high)


def plate_width(letter: str, *, high: float = 18) -> float:
    """How wide the plate of a section stands; it grows with a long name."""
    return max(high * 0.84, faces.width(letter, faces.BOARD_BOLD, high * 0.54) + high * 0.36)


@dataclass(frozen=True, slots=True)
class Block:
    """
    Something that stands on a page whole.

    `height` and `draw` are told how tight the page is, from 0 (as drawn) to 1 (as close as can be
    read), so that a sheet can be set once and fitted to its page afterwards.
    """

    height: Callable[[float], float]
    draw: Callable[[Leaf, float, float, float], None]


def between(loose: float, close: float, tight: float) -> float:
    """A measure that gives way as the page fills."""
    return loose + (close - loose) * tight


@dataclass(frozen=True, slots=True)
class Page:
    """A page to be written: its paper, what is on it, and its bookmark where a part begins here."""

    paper: Paper
    draw: Callable[[Leaf], None]
    mark: str = ""


# What a printer is asked for unless somebody says otherwise: nobody can turn a notice on a wall.
ONE_SIDED, TWO_SIDED = "Simplex", "DuplexFlipLongEdge"


def write_sheet(
    title: str, club: str, subject: str, pages: Sequence[Page], *, sides: str = ONE_SIDED
) -> bytes:
    """
    Write *pages* into one PDF and return it.

    The same pages give the same bytes: no clock and no chance gets in.
    """
    faces.load_faces()
    out = BytesIO()
    canvas = Canvas(out, invariant=1, pageCompression=1, initialFontName=faces.WORDS, lang="en-GB")
    canvas.setTitle(title)
    canvas.setAuthor(club)
    canvas.setSubject(subject)
    canvas.setCreator("Drawbag")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    canvas.setViewerPreference("Duplex", sides)
    for number, page in enumerate(pages):
        canvas.setPageSize((page.paper.width, page.paper.height))
        if page.mark:
            canvas.bookmarkPage(PART.format(number))
            canvas.addOutlineEntry(page.mark, PART.format(number))
        leaf = Leaf(canvas, page.paper)
        page.draw(leaf)
        leaf.finish()
    # Cutting a font down to the letters used reads its file through one shared place.
    with _saving:
        canvas.save()
    return out.getvalue()
