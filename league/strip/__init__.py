"""The bank strip: pegs in the order of the bank, a bar of weight at each. No ink, only where."""

from league.strip.drawing import BEFORE, DRAW, PAPER, RESULT, SCALES, Purpose, draw_strip
from league.strip.pegs import State, StripPeg
from league.strip.results import BankPeg, layout_of, pegs_of, strip_of
from league.strip.shapes import Mark, Plate, Run, ScaleLine, Strip
from league.strip.words import describe

__all__ = [
    "BEFORE",
    "DRAW",
    "PAPER",
    "RESULT",
    "SCALES",
    "BankPeg",
    "Mark",
    "Plate",
    "Purpose",
    "Run",
    "ScaleLine",
    "State",
    "Strip",
    "StripPeg",
    "describe",
    "draw_strip",
    "layout_of",
    "pegs_of",
    "strip_of",
]
