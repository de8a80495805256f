"""The cautions that go with a peg plan; venue rules, local codes and the law come first."""

from __future__ import annotations

# Figures from the electricity networks' advice to anglers (30 m), the 30/30 lightning rule, and the
# Angling Trust's advice on leptospirosis.
OVERHEAD = (
    "Overhead power lines",
    "Keep rods, poles and lines at least 30\u00a0m away. Look up, behind you and over paths and "
    "car parks before you unpack; carry poles level. Carbon and wet line conduct, and electricity "
    "jumps gaps.",
)
LIGHTNING = (
    "Lightning",
    "Thunder within 30 seconds of the flash: stop, put rods and poles down, leave umbrellas and "
    "the water, shelter in a building or a car. Wait 30 minutes after the last thunder.",
)
BANKS = (
    "Banks",
    "Edges may be steep, wet, icy or undercut: mind your step, and carry tackle one load at a "
    "time. Know where the throw line is.",
)
DISEASE = (
    "Water-borne disease",
    "Cover cuts with waterproof plasters, wash your hands before you eat, never put line or bait "
    "in your mouth, leave no bait or food behind. A flu-like illness within three weeks: tell the "
    "doctor that you have been by the water.",
)
FISH = (
    "Fish welfare",
    "Keepnets two thirds under water, nets dry or dipped as the venue says, carp apart from silver "
    "fish. Weigh quickly on a wet mat; lower fish back, never tip or roll them.",
)
FIRST = "Venue rules, local codes and the law come first."
ADVICE = "No sheet takes the place of a qualified person's advice."

ALL = (OVERHEAD, LIGHTNING, BANKS, DISEASE, FISH)

# For a sheet with little room: one line each is enough to be reminded by.
SHORT = (
    "Keep 30\u00a0m from overhead power lines; thunder: rods down, take shelter. Mind the bank. "
    "Cover cuts, wash hands. Fish back at once, lowered, never tipped."
)
