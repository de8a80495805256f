"""The strip said in words, for whoever cannot see it: the drawing never carries a figure alone."""

from __future__ import annotations

from collections.abc import Sequence

from league.rules.figures import so_many
from league.rules.weights import Unit, spoken
from league.strip.pegs import WITH_BAR, WITH_LETTERS, State, StripPeg

# In the order they are said; each with its words for one peg and for more.
SAID = (
    (State.NOW, "Being weighed: peg", "Being weighed: pegs"),
    (State.UNSENT, "Weighed and not sent yet: peg", "Weighed and not sent yet: pegs"),
    (State.BLANK, "Blank: peg", "Blanks: pegs"),
    (State.NOT_WEIGHED, "Did not weigh: peg", "Did not weigh: pegs"),
    (State.ABSENT, "Absent: peg", "Absent: pegs"),
    (State.DISQUALIFIED, "Disqualified: peg", "Disqualified: pegs"),
    (State.EMPTY, "Nobody on peg", "Nobody on pegs"),
    (State.WAITING, "Still to come: peg", "Still to come: pegs"),
)


def describe(
    pegs: Sequence[StripPeg], unit: Unit, *, left_out_after: Sequence[str] = (), closing: str = ""
) -> str:
    """Say what the strip shows: heaviest, section winners, who has no bar, what is left out."""
    sections = list(dict.fromkeys(peg.section for peg in pegs if peg.section))
    count = f"{so_many(len(pegs), 'peg')} in bank order"
    if len(sections) > 1:
        count += f", in {len(sections)} sections"
    sentences = [count]
    if best := [peg for peg in pegs if peg.best]:
        sentences.append("Heaviest: " + "; ".join(_caught(peg, unit) for peg in best))
    winners = [
        f"{section}, {_caught(peg, unit)}"
        for section in sections
        for peg in pegs
        if peg.section == section and peg.wins_section
    ]
    if winners:
        sentences.append("Section winners: " + "; ".join(winners))
    if latest := [peg for peg in pegs if peg.state is State.LATEST]:
        sentences.append("Drawn last: " + "; ".join(_who(peg) for peg in latest))
    for state, one, more in SAID:
        if numbers := [peg.number for peg in pegs if peg.state is state]:
            sentences.append(f"{one if len(numbers) == 1 else more} {', '.join(numbers)}")
    left_out = [number for peg in pegs for number in peg.left_out] + list(left_out_after)
    if left_out:
        pegs_word = "peg" if len(left_out) == 1 else "pegs"
        sentences.append(f"Left out: {pegs_word} {', '.join(left_out)}")
    if not closing and any(peg.state in WITH_BAR for peg in pegs):
        closing = "Every weight is in the tables"
    if not closing and any(peg.state in WITH_LETTERS for peg in pegs):
        closing = "Every name is in the lists"
    if closing:
        sentences.append(closing.rstrip("."))
    return ". ".join(sentences) + "."


def _who(peg: StripPeg) -> str:
    return ", ".join(part for part in (f"peg {peg.number}", peg.name or peg.label) if part)


def _caught(peg: StripPeg, unit: Unit) -> str:
    return f"{_who(peg)}, {spoken(peg.weight, unit)}"
