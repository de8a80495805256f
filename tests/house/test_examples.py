"""What a docstring gives as an example is so."""

from __future__ import annotations

import doctest
import importlib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
WITH_EXAMPLES = sorted(
    path.relative_to(ROOT).with_suffix("").as_posix().replace("/", ".")
    for path in (ROOT / "league").rglob("*.py")
    if ">>> " in path.read_text(encoding="utf-8")
)


@pytest.mark.parametrize("name", WITH_EXAMPLES)
def test_the_examples_of_a_module_give_what_they_say(name: str) -> None:
    tried = doctest.testmod(importlib.import_module(name))

    assert tried.attempted > 0
    assert tried.failed == 0
