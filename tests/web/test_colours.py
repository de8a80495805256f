"""Contrast of both themes, by the formula of WCAG 2.2: 4.5 for words, 3 for what must be seen."""

from __future__ import annotations

import re

import pytest
from django.conf import settings

TOKENS = (settings.BASE_DIR / "league/web/static/league/tokens.css").read_text()
WORDS_ON_PAPER = [
    (words, paper)
    for words in ("ink", "ink-2", "deep", "tip-ink")
    for paper in ("paper", "sheet", "wash")
]
LABELS = [("on-tip", "tip"), ("on-plate", "plate"), ("on-stop", "stop")]
SHAPES = [
    (shape, paper) for shape in ("edge", "water", "stop", "plate") for paper in ("paper", "sheet")
] + [("tip", "paper")]


def tokens(block: str) -> dict[str, str]:
    return dict(re.findall(r"--([a-z0-9-]+): (#[0-9A-F]{6})", block))


PAPER = tokens(re.search(r":root \{(.*?)\n\}", TOKENS, re.S)[1])
DUSK = tokens(re.search(r':root\[data-theme="dusk"\] \{(.*?)\n\}', TOKENS, re.S)[1])
DUSK_BY_PHONE = tokens(re.search(r"prefers-color-scheme: dark\) \{(.*?)\n\}", TOKENS, re.S)[1])


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_black_on_white_is_twenty_one():
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)


@pytest.mark.parametrize("theme", [PAPER, DUSK], ids=["paper", "dusk"])
@pytest.mark.parametrize(("words", "ground"), WORDS_ON_PAPER + LABELS)
def test_words_can_be_read(theme, words, ground):
    assert contrast(theme[words], theme[ground]) >= 4.5


@pytest.mark.parametrize("theme", [PAPER, DUSK], ids=["paper", "dusk"])
@pytest.mark.parametrize(("shape", "ground"), SHAPES)
def test_shapes_can_be_seen(theme, shape, ground):
    assert contrast(theme[shape], theme[ground]) >= 3


def test_dusk_is_the_same_dusk_whether_chosen_or_by_the_phone():
    assert DUSK == DUSK_BY_PHONE
    assert DUSK.keys() <= PAPER.keys()
