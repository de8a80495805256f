"""
How long a draw takes, as ratios to the bare SHA-256 it needs. Run it by hand:

    python -m tests.benchmarks.draw

Ours and the limit are measured in turn, 11 times each, in processor time; the median of the 11
ratios is printed with the least and the most. No ratio fails a test: a goal counts as missed
where even the least is over its bound.
"""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable
from hashlib import sha256
from statistics import median
from time import process_time

from league.rules import draw
from league.rules.draw_chain import Stream
from league.rules.draw_engine import Bag, draw_section
from tests.draws import LINKS

ROUNDS = 11
SAMPLE = 0.02  # seconds of processor time a sample


def timed(work: Callable[[], object]) -> float:
    """Seconds for one go, from a sample of about 20 ms."""
    started = process_time()
    work()
    times = max(1, int(SAMPLE / max(process_time() - started, 1e-6)))
    gc.collect()
    started = process_time()
    for _ in range(times):
        work()
    return (process_time() - started) / times


def ratio(
    name: str, ours: Callable[[], object], limit: Callable[[], object], bound: float = 0
) -> None:
    """Print the ratio of *ours* to *limit*, taken in pairs."""
    pairs = [(timed(limit), timed(ours)) for _ in range(ROUNDS)]
    ratios = sorted(mine / bare for bare, mine in pairs)
    goal = f"  <= {bound}" if bound else ""
    missed = "  MISSED" if bound and ratios[0] > bound else ""
    sys.stdout.write(
        f"{name:<44} {median(ratios):6.2f}  [{ratios[0]:.2f}-{ratios[-1]:.2f}]{goal}"
        f"  ours {median(mine for _, mine in pairs) * 1e6:.0f} us{missed}\n"
    )


def one_section(pegs: int) -> Callable[[], object]:
    """A draw of so many pegs, each step one SHA-256."""
    numbers = tuple(range(1, pegs + 1))
    bag = Bag("A", numbers, (), (), numbers)
    return lambda: draw_section(bag, Stream(LINKS[4], "A/1"))


def bare(texts: list[bytes]) -> Callable[[], object]:
    """The same SHA-256s and nothing else."""

    def hashing() -> None:
        for text in texts:
            sha256(text).digest()

    return hashing


def match(sections: int, teams: int) -> tuple[draw.Sheet, draw.Event]:
    """A whole match with the neighbour rule at every border."""
    letters = [chr(65 + n) for n in range(sections)]
    sheet = draw.Sheet(
        "bench",
        tuple(
            draw.Section(letter, tuple(range(n * teams + 1, (n + 1) * teams + 1)))
            for n, letter in enumerate(letters)
        ),
        tuple(
            draw.Entry(n * teams + team + 1, f"T{team}", letter)
            for n, letter in enumerate(letters)
            for team in range(teams)
        ),
        tuple((n * teams, n * teams + 1) for n in range(1, sections)),
        (1, 2),
    )
    calls = [(1, 4071), (2, 12)]
    return sheet, draw.make_event(sheet, number=1, prev=LINKS[5], calls=calls, reveal=LINKS[4])


def texts_of(event: draw.Event, sheet: draw.Sheet, attempts: int) -> list[bytes]:
    """What an event has to hash: a word a peg, a section, an attempt (the last peg needs none)."""
    return [
        f"{event.seed}:{section.letter}/{attempt}:{word}".encode()
        for attempt in range(1, attempts + 1)
        for section in sheet.sections
        for word in range(1, len(section.pegs))
    ]


def main() -> None:
    """Print every ratio of the draw."""
    small = [f"{LINKS[4]}:A/1:{word}".encode() for word in range(1, 201)]
    ratio("draw of 200 pegs / 200 SHA-256", one_section(200), bare(small), 2.5)
    ratio("draw of 2,000 pegs / draw of 200", one_section(2000), one_section(200), 13)

    for sections, teams in ((8, 20), (8, 24)):
        sheet, event = match(sections, teams)
        outcome = draw.run(sheet, event)
        texts = texts_of(event, sheet, outcome.attempt or 1)
        name = f"{sections} sections of {teams}, attempt {outcome.attempt}"
        ratio(
            f"{name} / its {len(texts)} SHA-256",
            lambda sheet=sheet, event=event: draw.run(sheet, event),  # type: ignore[misc]
            bare(texts),
        )


if __name__ == "__main__":
    main()
