"""`score` on every worked sheet with its rule book's file: the figures worked by hand come out."""

from __future__ import annotations

import io
import json
import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
from django.core.management import call_command

from tests.commands.conftest import ROOT

FIXTURES = ROOT / "fixtures"
WORKED = FIXTURES / "worked"


def cases() -> Iterator[Any]:
    """Each ready-made book that a worked file names."""
    for path in sorted(WORKED.glob("*.toml")):
        worked = tomllib.loads(path.read_text())
        for book in worked["book"]:
            if "name" in book:
                yield pytest.param(worked["sheet"], book, id=f"{path.stem}: {book['name']}")


def scored(*args: str) -> str:
    out = io.StringIO()
    call_command("score", *args, stdout=out, stderr=io.StringIO())
    return out.getvalue()


@pytest.mark.parametrize(("sheet", "worked"), list(cases()))
def test_the_command_agrees_with_pencil_and_paper(sheet: str, worked: dict[str, Any]) -> None:
    rules = str(WORKED / "rules" / f"{worked['name']}.toml")
    path = str(FIXTURES / "sheets" / sheet)

    document = json.loads(scored(path, "--rules", rules, "--json"))
    printed = scored(path, "--rules", rules)

    if "table" in worked:
        told = {
            row.get("team") or row["angler"]: {
                "place": row["place"],
                "scores": [each["score"] for each in row["rounds"]],
                "dropped": [each["round"] for each in row["rounds"] if each["dropped"]],
                "total": row["total"],
                "weight": row["weight"],
            }
            for row in document["table"]
        }
        assert told == worked["table"]
        assert [name for name in worked["table"] if name not in printed] == []
    else:
        rows = [row for section in document["sections"] for row in section["anglers"]]
        assert {row["angler"]: row["points"] for row in rows} == worked["points"]
        assert {row["team"]: row["points"] for row in document["teams"]} == {
            team: figures["points"] for team, figures in worked["teams"].items()
        }
    assert max(len(line) for line in printed.splitlines()) <= 80
