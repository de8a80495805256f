"""The guard without signal asks what the site asks, in the same words, on the same figures."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from league.rules.doubts import doubts_about
from league.rules.nets import OVERS, NetRules, counted_nets
from league.rules.slips import guess
from league.rules.usual import Usual, today
from league.rules.weights import Unit, spoken, written

ROOT = Path(__file__).resolve().parents[2]
STATIC = ROOT / "league" / "web" / "static" / "league"
VECTORS = json.loads((ROOT / "tests" / "vectors" / "guard.json").read_text())
SEED = 909


@pytest.fixture
def phone(chromium: Browser) -> Iterator[Page]:
    """An empty page with the phone's own scripts in it."""
    context = chromium.new_context()
    page = context.new_page()
    page.add_script_tag(path=str(STATIC / "scales_weights.js"))
    page.add_script_tag(path=str(STATIC / "scales_guard.js"))
    yield page
    context.close()


def test_the_worked_vectors(phone: Page):
    found = phone.evaluate(
        """({usual, seen, entries}) => {
          const day = Guard.today(usual, seen);
          const rules = {limit: null};
          return {nothing: Guard.today(usual, []), day, entries: entries.map(({net}) => ({
            z: Guard.offBy(day, net / 16), slip: Guard.guess(net, "lb-oz", day),
            asked: Guard.doubtsAbout([net], rules, "lb-oz", day).length > 0}))};
        }""",
        VECTORS,
    )

    assert found["nothing"]["spread"] == pytest.approx(0.884081, abs=1e-6)
    assert found["day"]["middle"] == pytest.approx(4.026418, abs=1e-6)
    assert found["day"]["spread"] == pytest.approx(0.778389, abs=1e-6)
    for entry, got in zip(VECTORS["entries"], found["entries"], strict=True):
        assert got["asked"] is entry["asked"]
        if "z" in entry:
            assert got["z"] == pytest.approx(entry["z"], abs=5e-5)
            assert got["slip"]["chance"] == pytest.approx(entry["slip"], abs=5e-6)


def some_nets(dice: random.Random, unit: Unit) -> list[int]:
    """One to three nets as they come, twins and heavy ones among them; a few with drams."""
    size, least = (256, 16) if unit is Unit.LB_OZ else (1000, 1)
    nets = [
        size * int(dice.lognormvariate(1.6, 1.3)) + least * dice.randrange(size // least)
        for _ in range(dice.choice((1, 1, 1, 2, 3)))
    ]
    if unit is Unit.LB_OZ and dice.random() < 0.1:
        nets[0] += dice.randrange(16)
    return nets + nets[:1] if dice.random() < 0.15 else nets


def cases(unit: Unit, count: int) -> list[dict[str, Any]]:
    dice = random.Random(SEED)
    limit = 40 * 256 if unit is Unit.LB_OZ else 20_000
    return [
        {
            "unit": unit.value,
            "nets": some_nets(dice, unit),
            "seen": [dice.lognormvariate(3.9, 0.9) for _ in range(dice.randrange(12))],
            "form": dice.gauss(0, 0.3),
            "usual": {
                "middle": dice.gauss(4.5, 1),
                "spread": dice.uniform(0.3, 1.2),
                "scatter": dice.uniform(0.7, 1.1),
            },
            "rules": {
                "limit": dice.choice((None, limit)),
                "over": dice.choice(sorted(OVERS)),
                "tolerance": dice.choice((0, limit // 8)),
            },
        }
        for _ in range(count)
    ]


ASK = """all => all.map(({unit, nets, seen, form, usual, rules}) => {
  const day = Guard.today(usual, seen, form);
  return {
    doubts: Guard.doubtsAbout(nets, rules, unit, day),
    guesses: nets.map((net) => Guard.guess(net, unit, day)),
    counted: nets.map((net) => Weights.counted(net, rules)),
    written: nets.map((net) => Weights.written(net, unit)),
    spoken: nets.map((net) => Weights.spoken(net, unit)),
  };
})"""


@pytest.mark.parametrize("unit", list(Unit))
def test_the_phone_and_the_site_ask_the_same_in_the_same_words(phone: Page, unit: Unit):
    asked = cases(unit, 1500)
    kinds = set()

    for case, on_phone in zip(asked, phone.evaluate(ASK, asked), strict=True):
        rules = NetRules(
            case["rules"]["limit"], OVERS[case["rules"]["over"]], case["rules"]["tolerance"]
        )
        day = today(Usual(**case["usual"]), case["seen"], case["form"])
        ours = doubts_about(case["nets"], rules, unit, day)

        said = ("key", "net", "headline", "words", "accept", "then", "offered")
        assert [[each[name] for name in said] for each in on_phone["doubts"]] == [
            [getattr(each, name) for name in said] for each in ours
        ]
        assert [tuple(each["offer"]) for each in on_phone["doubts"]] == [e.offer for e in ours]
        kinds |= {each.key.partition("-")[0] for each in ours}
        for net, got in zip(case["nets"], on_phone["guesses"], strict=True):
            expected = guess(net, unit, day)
            assert got["chance"] == pytest.approx(expected.chance, rel=1e-9)
            assert (got["kind"], got["meant"]) == (expected.kind, expected.meant)
        counted = counted_nets(case["nets"], rules)
        assert counted is None or list(counted) == on_phone["counted"]
        assert on_phone["written"] == [written(net, unit) for net in case["nets"]]
        assert on_phone["spoken"] == [spoken(net, unit) for net in case["nets"]]

    assert kinds == {"over", "same", "far"}
