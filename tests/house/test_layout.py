"""How the house is kept: short files, no towers of classes, floors, questions in the models."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent.parent
LEAGUE = ROOT / "league"

# One subject a file keeps it short. A test file follows the file it tests and is mostly cases.
LONGEST = {"league": 300, "templates": 300, "tests": 500}
# Longer for a reason.
MAY_BE_LONGER = {
    "league/web/static/league/check_draw.js": "one file, that anybody can read and keep by itself",
    "league/web/static/league/check_draw.py": "one file, that anybody can read and keep by itself",
}
TEXT = {".py", ".js", ".css", ".html", ".txt"}

QUERY = {
    "aggregate",
    "alias",
    "annotate",
    "distinct",
    "exclude",
    "extra",
    "filter",
    "order_by",
    "prefetch_related",
    "raw",
    "select_for_update",
    "select_related",
    "values",
    "values_list",
}
# These words also mean other things; only these of the above are never anything but a question.
ONLY_QUERIES = QUERY - {"filter", "values", "extra", "raw", "alias", "distinct"}


def _sources(*folders: str) -> list[Path]:
    found = [
        path
        for folder in folders
        for path in sorted((ROOT / folder).rglob("*"))
        if path.suffix in TEXT and "migrations" not in path.parts and "fonts" not in path.parts
    ]
    assert found
    return found


def _short(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def _modules() -> Iterator[tuple[str, ast.Module]]:
    for path in _sources("league"):
        if path.suffix == ".py":
            yield _short(path), ast.parse(path.read_text())


@pytest.mark.parametrize("folder", sorted(LONGEST))
def test_files_are_short(folder: str) -> None:
    too_long = {
        _short(path): lines
        for path in _sources(folder)
        if (lines := path.read_text().count("\n")) > LONGEST[folder]
        and _short(path) not in MAY_BE_LONGER
    }

    assert too_long == {}


def test_only_errors_inherit_from_a_class_of_ours() -> None:
    classes = [
        (where, node)
        for where, module in _modules()
        for node in ast.walk(module)
        if isinstance(node, ast.ClassDef) and node.name not in {"Meta", "Media"}
    ]
    ours = {node.name for _, node in classes if not node.name.endswith("Error")}

    towers = [
        f"{where}: {node.name}({ast.unparse(base)})"
        for where, node in classes
        for base in node.bases
        if _own_name(base) in ours
    ]

    assert towers == []


def _own_name(base: ast.expr) -> str:
    """`Policy` of `Policy[Rule]`; what comes from a package, `models.Model`, has no own name."""
    if isinstance(base, ast.Subscript):
        base = base.value
    return base.id if isinstance(base, ast.Name) else ""


def test_no_query_is_worded_above_the_models() -> None:
    worded = [
        f"{where}:{node.lineno} .{node.func.attr}("
        for where, module in _modules()
        if not where.startswith(("league/models/", "league/rules/", "league/files/"))
        for node in ast.walk(module)
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and (
            node.func.attr in ONLY_QUERIES
            or (node.func.attr in QUERY and _asks_a_table(node.func.value))
        )
    ]

    assert worded == []


def _asks_a_table(node: ast.expr) -> bool:
    """Whether what comes before the dot is a manager or a question of one."""
    return ".objects" in ast.unparse(node) or ast.unparse(node).endswith("_set")


def test_models_have_no_save_of_their_own() -> None:
    saves = [
        f"{where}: {node.name}"
        for where, module in _modules()
        if where.startswith("league/models/")
        for node in ast.walk(module)
        if isinstance(node, ast.FunctionDef) and node.name in {"save", "delete"}
    ]

    assert saves == []


def test_the_floors_hold() -> None:
    # A process of its own: import-linter loads what it checks.
    lint = Path(sys.executable).with_name("lint-imports")
    done = subprocess.run(
        [str(lint), "--no-cache"],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )

    assert done.returncode == 0, done.stdout + done.stderr


def test_the_lock_names_no_address() -> None:
    lines = (ROOT / "constraints.txt").read_text().splitlines()

    assert lines
    assert [line for line in lines if "://" in line or line.startswith("-")] == []
