"""The weigh sheet: the walk in the screen's order, to be written on with a wet pencil."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from league.rules.weights import Unit
from league.sheets import cautions, faces
from league.sheets.flow import paragraph
from league.sheets.frame import Foot, draw_foot, foot_height, page_of, title_block, top_block
from league.sheets.page import MM, Leaf, Page, Paper, SheetHead, between, write_sheet

PEG, ANGLER, NET, TOTAL, TICK = 13 * MM, 42 * MM, 21 * MM, 23 * MM, 10.5 * MM
ROW = (14.4 * MM, 12.0 * MM)
BAR, BEFORE_LINE, HEAD = 7.4 * MM, 11.6, 8.6 * MM
NAME, NAME_LINE, TEAM, TEAM_LINE = 10.1, 12.0, 8.25, 10.0
BIG = (19.0, 15.0, 12.0, 9.0)
STEPS = 6

WRITE = {
    Unit.LB_OZ: "Write pounds, then ounces. Read it out; the angler signs for it.",
    Unit.KG: "Write kilograms, then grams. Read it out; the angler signs for it.",
}
PARTS = {Unit.LB_OZ: ("lb", "oz"), Unit.KG: ("kg", "g")}


@dataclass(frozen=True, slots=True)
class Stop:
    """One peg of the walk."""

    peg: str
    angler: str
    team: str = ""
    section: str = ""
    before: tuple[str, ...] = ()  # what is said on the way: "Peg 61 left out: overhead power line."
    address: str = ""  # of the scales at this peg


@dataclass(frozen=True, slots=True)
class _Line:
    """A stop with its words broken into lines, and its section where that begins here."""

    stop: Stop
    name: tuple[str, ...]
    team: tuple[str, ...]
    before: tuple[str, ...]
    begins: bool

    def high(self, tight: float) -> float:
        """Of the box alone."""
        words = len(self.name) * NAME_LINE + len(self.team) * TEAM_LINE + 6
        return max(between(*ROW, tight), words)

    def whole(self, tight: float, *, first: bool) -> float:
        """With what is said before it; the *first* of a page names its section again."""
        bar = BAR if self.stop.section and (self.begins or first) else 0.0
        return bar + len(self.before) * BEFORE_LINE + self.high(tight)


def weigh_sheet(
    head: SheetHead, stops: Sequence[Stop], *, unit: Unit, nets: int = 3, who: str = ""
) -> bytes:
    """
    Print the walk along *stops* with boxes for so many *nets*.

    *who* is the pair of scales that walks it. The notes of the *head* (when all out is called, the
    net limit) stand under the title, its hazards at the foot with the cautions.
    """
    faces.load_faces()
    paper = head.paper
    title = ", ".join(part for part in (head.title, head.date) if part)
    intro = " ".join([*head.notes, WRITE[unit]])
    opening = [
        title_block(title, paper.room, largest=20.25),
        paragraph([(intro, faces.WORDS)], 9.4, 13.0, paper.room),
    ]
    opened = sum(block.height(0) for block in opening) + 6 * MM
    said = " ".join([*head.hazards, cautions.SHORT, cautions.FIRST])
    foot = Foot((said,), ("Scales", "Sheets ticked off by"))
    feet = foot_height(head, _scan(foot, stops[0] if stops else None, head), paper)
    top = top_block(head.club, _corner(who, stops), paper.room).height(0)
    room = paper.floor - paper.top - top - opened - HEAD - feet - 3 * MM
    tight, pages = _share(_lines(stops), room)

    def page(number: int) -> Callable[[Leaf], None]:
        lines = pages[number - 1]

        def draw(leaf: Leaf) -> None:
            walked = [line.stop for line in lines]
            y = paper.top
            block = top_block(head.club, _corner(who, walked), paper.room)
            block.draw(leaf, paper.side, y, 0)
            y += block.height(0) + 2 * MM
            for block in opening:
                block.draw(leaf, paper.side, y, 0)
                y += block.height(0) + 0.5 * MM
            y = _draw_heads(leaf, paper, y + 2 * MM, unit, nets)
            for place, line in enumerate(lines):
                y = _draw_line(leaf, paper, line, y, tight, nets, first=place == 0)
            first = walked[0] if walked else None
            address = first.address if first and first.address else head.address
            numbered = page_of(number, len(pages)) if len(pages) > 1 else ""
            draw_foot(leaf, replace(head, address=address), _scan(foot, first, head), numbered)

        return draw

    return write_sheet(
        f"{title}: weigh sheet",
        head.club,
        head.series,
        [Page(paper, page(number + 1)) for number in range(len(pages))],
    )


def _corner(who: str, stops: Sequence[Stop]) -> str:
    pegs = [stop.peg for stop in stops]
    walk = f"pegs {pegs[0]} to {pegs[-1]}" if len(pegs) > 1 else f"peg {pegs[0]}" if pegs else ""
    named = f"Weigh sheet, {who}" if who else "Weigh sheet"
    return f"{named}: {walk}" if walk else named


def _scan(foot: Foot, stop: Stop | None, head: SheetHead) -> Foot:
    if stop is None or not (stop.address or head.address):
        return foot
    return Foot((f"Scan to open the scales at peg {stop.peg}.", *foot.words), foot.signed)


def _lines(stops: Sequence[Stop]) -> list[_Line]:
    room = ANGLER - 3 * MM
    return [
        _Line(
            stop,
            faces.wrap(stop.angler, faces.WORDS, NAME, room),
            faces.wrap(stop.team, faces.WORDS, TEAM, room) if stop.team else (),
            tuple(
                line
                for said in stop.before
                for line in faces.wrap(said, faces.WORDS, TEAM, 180 * MM)
            ),
            number == 0 or stop.section != stops[number - 1].section,
        )
        for number, stop in enumerate(stops)
    ]


def _share(lines: Sequence[_Line], room: float) -> tuple[float, list[list[_Line]]]:
    """Over as few pages as the lowest rows need, with rows as high as that many pages allow."""

    def at(tight: float) -> list[list[_Line]]:
        pages: list[list[_Line]] = [[]]
        used = 0.0
        for line in lines:
            high = line.whole(tight, first=not pages[-1])
            if pages[-1] and used + high > room:
                pages.append([])
                used, high = 0.0, line.whole(tight, first=True)
            pages[-1].append(line)
            used += high
        return pages

    fewest = len(at(1.0))
    tight = next((step / STEPS for step in range(STEPS) if len(at(step / STEPS)) == fewest), 1.0)
    return tight, at(tight)


def _edges(paper: Paper, nets: int) -> list[float]:
    """Where the upright lines stand: peg, angler, nets, total, two ticks, signature."""
    fixed = PEG + ANGLER + TOTAL + 2 * TICK
    # The signature keeps 20 mm; many nets share what is left.
    net = min(NET, (paper.room - fixed - 20 * MM) / max(1, nets))
    wide = [PEG, ANGLER, *[net] * nets, TOTAL, TICK, TICK]
    edges = [paper.side]
    for each in wide:
        edges.append(edges[-1] + each)
    return [*edges, paper.side + paper.room]


def _draw_heads(leaf: Leaf, paper: Paper, y: float, unit: Unit, nets: int) -> float:
    edges = _edges(paper, nets)
    headings = [
        "Peg", "Angler", *(f"Net {number + 1}" for number in range(nets)),
        "Total", "Blank", "D.n.w.", "Signed",
    ]  # fmt: skip
    base = y + HEAD
    for number, heading in enumerate(headings):
        left = edges[number]
        if 2 <= number <= nets + 2:
            inner = edges[number + 1] - left
            leaf.say(left + 1.6 * MM, y + 10.0, heading, faces.BOARD_MID, 8.6)
            leaf.say(left + 1.6 * MM, base - 3.2, PARTS[unit][0], faces.BOARD, 8.0)
            leaf.say(left + inner * 0.54 + 1.2 * MM, base - 3.2, PARTS[unit][1], faces.BOARD, 8.0)
        else:
            inset = 0.8 * MM if heading in ("Blank", "D.n.w.") else 1.6 * MM
            leaf.say(left + inset, base - 3.2, heading, faces.BOARD_MID, 8.6)
    leaf.rule(edges[0], y, edges[-1], thick=0.6)
    leaf.rule(edges[0], base, edges[-1], thick=1.5)
    _uprights(leaf, edges, y, base, nets)
    return base


def _uprights(leaf: Leaf, edges: Sequence[float], top: float, base: float, nets: int) -> None:
    for number, edge in enumerate(edges):
        leaf.line(edge, top, edge, base, thick=1.5 if number in (nets + 2, nets + 3) else 0.6)


def _draw_line(
    leaf: Leaf, paper: Paper, line: _Line, y: float, tight: float, nets: int, *, first: bool
) -> float:
    edges = _edges(paper, nets)
    if line.stop.section and (line.begins or first):
        leaf.plate(edges[0] + 0.8, y + 1.2 * MM, line.stop.section, high=16.5)
        leaf.say(edges[0] + 9 * MM, y + 14.2, f"Section {line.stop.section}", faces.BOARD_MID, 10.1)
        y += BAR
    for said in line.before:
        leaf.say(edges[0], y + 8.4, said, faces.WORDS, TEAM)
        y += BEFORE_LINE
    high = line.high(tight)
    leaf.rule(edges[0], y, edges[-1], thick=0.6)
    leaf.rule(edges[0], y + high, edges[-1], thick=0.6)
    _uprights(leaf, edges, y, y + high, nets)
    size, peg = faces.fitted(line.stop.peg, faces.BOARD_BOLD, BIG, PEG - 1.5 * MM)
    middle = y + high / 2
    foot = middle - (len(peg) - 1) * size / 2 + size * 0.34
    for part in peg:
        leaf.say_middle((edges[0] + edges[1]) / 2, foot, part, faces.BOARD_BOLD, size)
        foot += size
    words = len(line.name) * NAME_LINE + len(line.team) * TEAM_LINE
    foot = middle - words / 2 + NAME_LINE * 0.76
    for part in line.name:
        leaf.say(edges[1] + 1.6 * MM, foot, part, faces.WORDS, NAME)
        foot += NAME_LINE
    foot -= NAME_LINE - TEAM_LINE
    for part in line.team:
        leaf.say(edges[1] + 1.6 * MM, foot, part, faces.WORDS, TEAM)
        foot += TEAM_LINE
    for number in range(2, nets + 3):
        across = edges[number] + (edges[number + 1] - edges[number]) * 0.54
        leaf.dashes(across, y + 3 * MM, y + high)
    for number in (nets + 3, nets + 4):
        side = 5.5 * MM
        leaf.box(
            (edges[number] + edges[number + 1] - side) / 2, middle - side / 2, side, side, thick=0.9
        )
    return y + high
